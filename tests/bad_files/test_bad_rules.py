"""Broken rule bases are refused: every fault at its place, exit code 2, nothing written, no
advice.
"""

import pytest
from broken_rules import BROKEN, GOOD, R
from depth import not_quick
from in_process import files_below, places, run
from small_rules import write

from advisor import kept
from advisor.advise import Advisor

CASE = b"given: {pitch: {water: spray}, anchor left: {moves: no}}\n"


@pytest.fixture
def rules(folder):
    """The small good rule base, written out."""
    return write(folder, GOOD)


def advise(folder):
    return run(["advise", "-"], CASE, load=lambda local_file=None: Advisor(folder))


def test_the_small_base_is_good(rules):
    code, out, error = advise(rules)
    assert (code, error) == (3, "") and "Wait for less water." in out


@pytest.mark.parametrize(
    "name, old, new, wanted", [pytest.param(f, o, n, w, id=i) for i, f, o, n, w in BROKEN if w]
)
def test_every_fault_of_a_broken_rule_base_is_told_at_its_place(rules, name, old, new, wanted):
    text = (rules / name).read_text()
    assert text.count(old) == 1, "the part to break must stand once"
    (rules / name).write_text(text.replace(old, new))
    before = files_below(rules)
    code, out, error = advise(rules)
    assert (code, out) == (2, "")
    found = places(error, wanted[0][0] if len(wanted[0]) == 4 else name)
    wanted = [w[-3:] for w in wanted]
    assert [f[:2] for f in found] == [w[:2] for w in wanted], found
    assert all(words in message for (_, _, message), (_, _, words) in zip(found, wanted)), found
    assert files_below(rules) == before


def test_derived_facts_that_need_each_other_are_named(rules):
    text = (
        GOOD[R].replace("if: {a.moves: no}", "if: {a.good: yes}")
        + """  - id: small.good
    title: What is sound is good
    for: {a: anchor}
    if: {a.sound: yes}
    then: {derive: {a.good: yes}}
    because: It is sound.
    source: practice
    status: common practice
"""
    )
    (rules / R).write_text(text)
    code, out, error = advise(rules)
    assert (code, out) == (2, "")
    ((line, column, message),) = places(error, R)
    assert (line, column) == (
        4,
        9,
    ) and "anchor.good needs anchor.sound needs anchor.good" in message


@pytest.mark.parametrize("name", ["decisions.yaml", "sources.yaml"])
def test_a_missing_file_is_named(rules, name):
    (rules / name).unlink()
    code, out, error = advise(rules)
    assert (code, out) == (2, "") and name in error and "missing" in error


def test_faults_of_several_files_are_told_together(rules):
    (rules / R).write_text(GOOD[R].replace("about: plan", "about: plan\nabout: plan"))
    (rules / "other.yaml").write_bytes(b"\xff")
    code, _, error = advise(rules)
    assert (
        code == 2
        and error.count("\n") == 2
        and "other.yaml:1:1: " in error
        and f"{R}:3:1: " in error
    )


@pytest.mark.parametrize(
    "text", ["", "- a\n", "topic: 3\n", "rules:\n", "figures: {}\n", "a: &b [*b]\n"]
)
def test_any_other_file_in_the_rule_base_is_refused(rules, text):
    (rules / "small" / "more.yaml").write_text(text)
    code, out, error = advise(rules)
    assert (code, out) == (2, "")
    places(error, "small/more.yaml")


@not_quick
def test_one_flipped_bit_anywhere_in_the_cache_changes_nothing(rules, tmp_path):
    good = advise(rules)
    name = kept.short(rules.resolve())
    (path,) = (tmp_path / "elsewhere").rglob(f"*-rules-{name}-*")
    length = len(path.read_bytes())
    for place in range(0, length, max(1, length // 60)):
        data = bytearray(path.read_bytes())
        data[place % len(data)] ^= 1 << place % 8
        path.write_bytes(data)
        assert advise(rules) == good
        assert path.read_bytes() != data, "a spoilt cache is made anew"


def test_a_spoilt_cache_is_done_without(rules, tmp_path):
    assert advise(rules)[0] == 3
    kept = [path for path in (tmp_path / "elsewhere").rglob("*") if path.is_file()]
    assert kept, "a good rule base is kept for the next start"
    for path in kept:
        path.write_bytes(b"\x00spoilt")
    code, out, error = advise(rules)
    assert (code, error) == (3, "") and "Wait for less water." in out


MORE = (
    "more of: {of}\nattributes:\n  {name}: {{type: yes/no, worse: yes, asks: Is it icy?, help: Ice"
    " on it., says: {{yes: it is icy, no: it is not icy}}, change: can only be"
    " found out, serves: [plan]}}\n"
)


def test_a_second_file_goes_on_with_an_entity(rules):
    (rules / "vocabulary/a-more.yaml").write_text(MORE.format(of="pitch", name="icy"))
    assert Advisor(rules).base.vocabulary.attribute("pitch.icy").type == "yes/no"


@pytest.mark.parametrize(
    "of, name, line, words",
    [
        ("pich", "icy", 1, "Did you mean 'pitch'?"),
        ("pitch", "water", 3, "pitch has the attribute 'water' already"),
    ],
)
def test_what_cannot_be_gone_on_with_is_told(rules, of, name, line, words):
    (rules / "vocabulary/a-more.yaml").write_text(MORE.format(of=of, name=name))
    code, out, error = advise(rules)
    assert (code, out) == (2, "") and f"a-more.yaml:{line}:" in error and words in error


def test_phrases_lie_over_the_entity_they_are_of(rules):
    vocabulary = Advisor(rules).base.vocabulary
    assert vocabulary.entities["pitch"].phrases == ("drop", "shaft")
    assert vocabulary.attribute("pitch.depth").phrases == ("deep",)
    assert vocabulary.attribute("pitch.water").value_phrases["spray"] == ("wet through",)


@pytest.mark.parametrize(
    "text, line, words",
    [
        ("phrases of: pitch\nphrases: [hole]\n", 2, "'pitch' has phrases in another file"),
        (
            "phrases of: pitch\nattributes:\n  depth: {phrases: [down]}\n",
            3,
            "pitch.depth has phrases in another file",
        ),
    ],
)
def test_phrases_of_one_thing_stand_in_one_file(rules, text, line, words):
    (rules / "phrases/z.yaml").write_text(text)
    code, out, error = advise(rules)
    assert (code, out) == (2, "") and f"z.yaml:{line}:" in error and words in error
