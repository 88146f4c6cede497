"""Whatever is typed: nothing raised, nothing said that the line has no words for; what is rendered
is understood back.
"""

from __future__ import annotations

from types import SimpleNamespace

import pytest
from depth import examples, not_quick, sampled
from hypothesis import given, settings
from hypothesis import strategies as st
from talk import FIXTURES, context, names_of, split, the_base

from advisor.facts.values import read_fact
from advisor.faults import Place
from advisor.language.echo import echo, render
from advisor.language.index import index_of
from advisor.language.parts import Intent, Said, Unclear
from advisor.language.stating import negated_at
from advisor.language.tokens import tokenise
from advisor.language.understand import LONGEST, Context, understand

WORDS = st.sampled_from(
    sorted({w for w in index_of(the_base()).words if w.isalpha()})
    + ["not", "no", "12", "14 m", "?", ",", "and", "sorry", "the other one", "what if", "maybe"]
)


def facts_in(heard):
    return [p for p in heard.parts if isinstance(p, Said)] + [
        a for p in heard.parts if isinstance(p, Intent) for a in p.arguments if isinstance(a, Said)
    ]


def sound(line, setting):
    """Every fact can be taken, and its words stand in the line."""
    base = setting.base
    heard = understand(line, setting)
    names = {k: set(v) for k, v in setting.names.items()}
    for kind, entity in base.vocabulary.entities.items():
        if not entity.many:  # there is one in every talk, named or not
            names.setdefault(kind, {kind})
    for said in facts_in(heard):
        names.setdefault(base.vocabulary.split(said.entity)[0].name, set()).add(said.entity)
    for said in facts_in(heard):
        assert said.words in line and said.words.strip()
        attribute = base.vocabulary.attribute(said.key)
        _, message = read_fact(attribute, said.entity, said.raw, names, "test", Place("test"))
        assert not message or "outside what is accepted" in message, (line, said, message)
        assert echo(said, base)
    return heard


@settings(max_examples=examples(300), deadline=None)
@given(st.text(max_size=200), st.sampled_from(sorted(FIXTURES)))
def test_any_text_is_survived(line, fixture):
    sound(line, context(fixture))


@settings(max_examples=examples(300), deadline=None)
@given(st.lists(WORDS, max_size=14).map(" ".join), st.sampled_from(sorted(FIXTURES)))
def test_any_words_of_the_trade_are_survived(line, fixture):
    sound(line, context(fixture, "pitch.water", "pitch.depth"))


@settings(max_examples=examples(200), deadline=None)
@given(st.text(alphabet=st.characters(blacklist_categories=("Cs",)), max_size=60))
def test_text_without_a_known_word_or_figure_says_nothing(line):
    known = index_of(the_base()).words
    if not any(t.text in known or t.is_number or len(t.text) > 3 for t in tokenise(line)):
        assert facts_in(understand(line, context())) == []


@pytest.mark.parametrize(
    "line",
    [
        "a" * 1_000_000,
        "14 m " * 200_000,
        "not " * 250_000,
        "((((" * 250_000,
        "é½ " * 300_000,
        "the left bolt is loose and " * 40_000,
        "\n" * 1_000_000,
    ],
)
def test_a_line_of_a_megabyte_is_cut_and_that_is_said(line):
    heard = understand(line, context())
    assert all(p.words in line for p in heard.parts if isinstance(p, Said))
    last = heard.parts[-1] if heard.parts else None
    assert (isinstance(last, Unclear) and "characters" in last.words) or not line[LONGEST:].strip()


@pytest.mark.parametrize(
    "line",
    [
        "",
        " ",
        "\x00",
        "‮14 m",
        "👩‍🚒 14 m shaft",
        "ﬁve metres",
        "14 m shaft",
        "'",
        "?",
        "½",
        "—",
        "'s",
        "፩",
        "٣ m shaft",
        "²",
    ],
)
def test_odd_characters(line):
    sound(line, context())


def all_values():
    base = the_base()
    for attribute in base.vocabulary.by_key.values():
        if attribute.derived:
            continue
        many = base.vocabulary.entities[attribute.entity].many
        entity = f"{attribute.entity} left one" if many else attribute.entity
        values = (
            list(attribute.values)
            if attribute.is_choice
            else (
                ["14:30"]
                if attribute.type == "time"
                else ["old ladder"]
                if attribute.type == "named"
                else ["by the third rung"]
            )
        )
        if attribute.type == "number":
            unit = "" if attribute.unit in ("count", "ratio") else f" {attribute.unit}"
            values = [
                f"{low}{unit}"
                for low in (1, 2, 5, 100, 500, 3000)
                if not read_fact(attribute, entity, f"{low}{unit}", {}, "", Place(""))[1]
            ][:2]
        for value in values:
            yield attribute, entity, "ladder old" if attribute.type == "named" else value


@pytest.mark.parametrize("doubt", ["", "?"])
def test_what_is_rendered_is_understood_back(doubt):
    base = the_base()
    count = 0
    for attribute, entity, value in all_values():
        if doubt and attribute.type == "text":
            continue
        names = {"ladder": {"ladder old"}}
        fact, message = read_fact(attribute, entity, value + doubt, names, "test", Place("test"))
        assert fact, (attribute.key, value, message)
        parts = understand(render(fact), Context(base, names, {})).parts
        assert [(p.entity, p.key) for p in parts] == [(entity, attribute.key)], render(fact)
        again, _ = read_fact(attribute, entity, parts[0].raw, names, "test", Place("test"))
        assert (again.state, again.value) == (fact.state, fact.value)
        count += 1
    assert count > 500


def test_every_reading_offered_is_understood():
    """What 'not understood' offers can be typed as it stands."""
    for line in (
        "munter",
        "stiff",
        "clean",
        "not dry",
        "half past six call-out",
        "loose",
        "30 m",
        "on the left",
    ):
        for part in understand(line, context("two bolts")).parts:
            for reading in part.readings if isinstance(part, Unclear) else ():
                if ":" in reading and "…" not in reading:
                    found = understand(reading, context("two bolts")).parts
                    assert len(found) == 1 and isinstance(found[0], Said), (line, reading, found)


@not_quick
def test_every_phrase_of_a_value_is_itself_or_questioned():
    """A phrase said of its own thing never comes out as another value of the same attribute."""
    base = the_base()
    for attribute in base.vocabulary.by_key.values():
        if attribute.type != "choice" or attribute.derived:
            continue
        many = base.vocabulary.entities[attribute.entity].many
        entity = f"{attribute.entity} main" if many else attribute.entity
        for value, phrases in attribute.value_phrases.items():
            for phrase in (value, *phrases):
                setting = Context(
                    base, names_of(base, [entity]), {}, (entity, attribute.key), None, None
                )
                for said in facts_in(understand(phrase, setting)):
                    if said.key == attribute.key and said.raw != "unknown":
                        fact, _ = read_fact(attribute, entity, said.raw, {}, "test", Place("test"))
                        assert fact.value >> attribute.values.index(value) & 1, (
                            attribute.key,
                            phrase,
                            said.raw,
                        )


def best_phrases():
    """Every phrase that states the best value of an ordered attribute."""
    base = the_base()
    for attribute in base.vocabulary.by_key.values():
        if attribute.derived or attribute.type not in ("yes/no", "choice") or not attribute.ranks:
            continue
        best = {v for v, rank in zip(attribute.values, attribute.ranks) if rank == 0}
        said = [
            (v, p)
            for v in attribute.values
            if attribute.type == "choice"
            for p in (v, *attribute.value_phrases.get(v, ()))
        ]
        if attribute.type == "yes/no":
            said = [
                ("no" if p.endswith("(no)") else "yes", p.partition(" (")[0])
                for p in attribute.phrases
            ]
        for value, phrase in said:
            if value in best:
                yield attribute, value, phrase


@not_quick
@pytest.mark.parametrize(
    "frame",
    sampled(
        ["half of them {}", "I wish {}", "once we had {}", "I doubt {}", "{} apart from one bit"],
        1,
        None,
    ),
)
def test_what_is_wished_doubted_or_said_of_some_is_never_surely_good(frame):
    base, count = the_base(), 0
    for attribute, value, phrase in best_phrases():
        many = base.vocabulary.entities[attribute.entity].many
        entity = f"{attribute.entity} main" if many else attribute.entity
        setting = Context(
            base,
            {attribute.entity: {entity}} if many else {},
            {},
            None,
            entity if many else None,
            None,
        )
        heard = understand(frame.format(phrase), setting).parts
        assert not [
            p for p in heard if isinstance(p, Said) and (p.key, p.raw) == (attribute.key, value)
        ], frame.format(phrase)
        count += 1
    assert count > 500


def test_echo_spells_doubt_and_units_out():
    base = the_base()

    def told(line, fixture="nothing"):
        return [
            echo(p, base) for p in understand(line, context(fixture)).parts if isinstance(p, Said)
        ]

    assert told("25 foot shaft") == ["pitch depth: 25 ft = 7.62 m"]
    assert told("14 m shaft") == ["pitch depth: 14 m"]
    assert told("the pitch looks dry") == ["pitch water: dry, doubtful: counted as that or worse"]
    assert told("left bolt is loose", "two bolts") == ["left bolt moves: yes"]
    assert split(base, "anchor left bolt.moves") == ("anchor left bolt", "anchor.moves")


@pytest.mark.parametrize("negators, denied", [((0,), True), ((0, 1), False), ((0, 1, 2), True)])
def test_two_denials_before_a_phrase_do_not_deny_it(negators, denied):
    clause, match = SimpleNamespace(negators=negators, end=9), SimpleNamespace(start=4, denied=0)
    assert negated_at(clause, match) == denied
