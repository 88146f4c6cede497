"""The vocabulary: every fact can be asked for, explained, said and read back."""

from functools import cache

import pytest
from depth import examples, not_quick, sweep
from hypothesis import given, settings
from hypothesis import strategies as st
from worked import program

from advisor.facts.units import UNITS
from advisor.facts.values import read_fact, show_value
from advisor.faults import Place


@cache
def vocabulary():
    return program().base.vocabulary


ATTRIBUTES = [a for e in vocabulary().entities.values() for a in e.attributes.values()]
STATED = [a for a in ATTRIBUTES if not a.derived and a.type != "text"]
every_attribute = sweep("attribute", lambda: ATTRIBUTES, lambda a: a.key)
every_stated = sweep("attribute", lambda: STATED, lambda a: a.key)
every_entity = sweep("entity", lambda: vocabulary().entities.values(), lambda e: e.name)


@every_stated
def test_stated_attribute_can_be_asked_for(attribute):
    assert attribute.asks.endswith("?") and attribute.asks[:1].isupper()
    assert len(attribute.help) >= 5 and attribute.help[0].isupper() and attribute.help.endswith(".")
    assert attribute.change in ("can be changed", "can only be found out")
    assert attribute.asks.count("{") == attribute.asks.count("{it}")


@every_entity
def test_questions_of_a_kind_of_which_there_are_many_name_which(entity):
    if entity.many:
        assert not [
            a.key for a in entity.attributes.values() if a in STATED and "{it}" not in a.asks
        ]


def words_of(attribute, value):
    return {value.lower(), *(p.lower() for p in attribute.value_phrases.get(value, ()))}


ASKED = {"rusty", "touch of rust", "bit of rust"}  # light or deep: whoever says so is asked


@every_attribute
def test_no_two_values_share_a_phrase(attribute):
    seen = {}
    for value in attribute.values:
        for word in words_of(attribute, value) - ASKED:
            assert seen.setdefault(word, value) == value, (
                f"'{word}' is said for both {seen[word]} and {value}"
            )


@every_entity
def test_no_two_attributes_of_an_entity_share_a_phrase(entity):
    seen = {}
    for attribute in entity.attributes.values():
        for word in {attribute.name.lower(), *(p.lower() for p in attribute.phrases)}:
            assert seen.setdefault(word, attribute.name) == attribute.name, (
                f"'{word}' is said for both {seen[word]} and {attribute.name}"
            )


# They follow from what has happened, which says so or is asked: an incident that names neither has
# nobody on the rope whose steps could be missed.
FROM_WHAT_HAPPENED = {
    f"incident.{name}"
    for name in ("on the pitch", "may hang", "held fast", "line in doubt", "no time to rest")
}


@not_quick
@every_attribute
def test_sentences_and_orderings(attribute):
    assert not attribute.ranks or (
        len(attribute.ranks) == len(attribute.values)
        and list(attribute.ranks) == sorted(attribute.ranks)
        and len(set(attribute.ranks)) > 1
    )
    assert set(attribute.says) <= set(attribute.values)
    if attribute.type == "yes/no":
        assert (
            set(attribute.says) == {"yes", "no"} and attribute.says["yes"] != attribute.says["no"]
        )
    if attribute.is_number:
        assert attribute.low < attribute.high
    if (
        attribute.derived
        and attribute.is_choice
        and attribute.otherwise >= 0
        and attribute.key not in FROM_WHAT_HAPPENED
    ):  # else a calculation gives it
        assert attribute.ranks[attribute.otherwise] == max(attribute.ranks), (
            "what no rule concludes must be the worst"
        )


def read(attribute, raw):
    fact, message = read_fact(attribute, "one", raw, {}, "test", Place("test"))
    assert message == ""
    return fact


@every_stated
def test_what_is_shown_reads_back(attribute):
    """Every value of a choice; the ends of a number's range."""
    if attribute.is_choice:
        for value in attribute.values:
            assert (
                read(attribute, read(attribute, value).text).value == read(attribute, value).value
            )
    elif attribute.type == "number":
        for steps in (attribute.low, attribute.high):
            assert read(attribute, show_value(attribute, (steps, steps))).value == (steps, steps)
    elif attribute.type == "time":
        assert read(attribute, show_value(attribute, (34200, 34200))).value == (34200, 34200)


NUMBERS = [a for a in STATED if a.type == "number"]


@settings(max_examples=examples(300), deadline=None, derandomize=True)
@given(st.sampled_from(NUMBERS), st.data())
def test_a_shown_number_reads_back(attribute, data):
    """Drawn on a grid that three decimals of the shown unit can tell apart, so that the round trip
    is exact.
    """
    size = UNITS[attribute.unit][1] * UNITS[attribute.unit][0].steps
    step = max(1, int(size / 100))
    steps = data.draw(st.integers(-(-attribute.low // step), attribute.high // step)) * step
    shown = show_value(attribute, (steps, steps))
    assert read(attribute, shown).value == (steps, steps), shown


@every_stated
def test_doubt_never_makes_a_value_better(attribute):
    """'Said with a question mark' leaves the value and every worse one possible; without an
    ordering, every value.
    """
    if attribute.is_choice:
        for index, value in enumerate(attribute.values):
            mask = read(attribute, value + "?").value
            assert mask >> index & 1
            better = [i for i, rank in enumerate(attribute.ranks) if rank < attribute.ranks[index]]
            assert not any(mask >> i & 1 for i in better)
            worst = attribute.ranks and attribute.ranks[index] == max(attribute.ranks)
            # A second trouble that is doubted is answered as if it had happened.
            assert bin(mask).count("1") > 1 or worst or attribute.values_of


def test_one_of_two_values_is_doubtful():
    attribute = next(a for a in STATED if a.is_choice and len(a.values) > 2)
    fact = read(attribute, list(attribute.values[:2]))
    assert fact.value == 3 and fact.text == " or ".join(attribute.values[:2]) and fact.state == 1


@pytest.mark.parametrize(
    "word", ["unknown", "not known", "not sure", "no idea", "don't know", "?", " Unknown "]
)
def test_unknown_says_nothing(word):
    assert read(STATED[0], word) is None
