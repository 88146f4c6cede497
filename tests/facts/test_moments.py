"""When a fact is known, and what must be seen on the spot: said of every stated fact, checked when
the rules are read.
"""

import pytest
from depth import not_quick
from small_rules import ANCHOR, DECISIONS, PITCH, SOUND, base_files, write
from test_vocabulary import every_entity, every_stated

from advisor.facts.vocabulary import MOMENTS, ON_THE_SPOT
from advisor.faults import Faults
from advisor.load.base import read_base

A, P = "vocabulary/anchor.yaml", "vocabulary/pitch.yaml"
SEEN = """    known: at the head
    stands: this trip
    see: "See that {it} stands."
    well: [no]
    eyes: anchors
"""
MEASURED = """    known: each person
    stands: this trip
    see: "See no more than 5 m."
    well: {above: 1 m, at most: 5 m}
    eyes: place
"""


def good():
    """The small rule base, each stated fact with its moment."""
    head, tail = PITCH.split("  water:\n")
    note = tail.replace("  note: {", "    known: on file\n    stands: always\n  note: {")
    note = note.replace("type: text,", "type: text, known: on file, stands: 12 months,")
    files = base_files(SOUND, ANCHOR.replace("  sound:\n", SEEN + "  sound:\n"))
    files[P] = head + MEASURED + "  water:\n" + note
    files["decisions.yaml"] = DECISIONS + "eyes: [place, anchors]\n"
    return files


def test_bounds_and_values_become_what_the_engines_see(tmp_path):
    base = read_base(write(tmp_path, good()))
    depth, moves = (base.vocabulary.by_key[key] for key in ("pitch.depth", "anchor.moves"))
    assert base.eyes == ("place", "anchors")
    assert (depth.known, depth.well, depth.eyes) == ("each person", (10_001, 50_000), "place")
    assert moves.well == 1 << moves.values.index("no") and moves.stands == "this trip"


@pytest.mark.parametrize(
    "file, old, new, words",
    [
        (A, SEEN, "", "say when people know it"),
        (A, "    stands: this trip\n", "", "go together"),
        (A, "stands: this trip", "stands: a while", "a while"),
        (A, "known: at the head", "known: some day", "some day"),
        (A, "    well: [no]\n", "", "go together"),
        (A, "well: [no]", "well: [never]", "'never' is not one of its values"),
        (A, "well: [no]", "well: [no, yes]", "leave the bad ones out"),
        (A, "well: [no]", "well: {at most: 3 m}", "as a list"),
        (A, "known: at the head", "known: at home", "is for what is known at the head"),
        (A, "    eyes: anchors\n", "", "needs 'eyes'"),
        (A, "eyes: anchors", "eyes: anchor", "Did you mean 'anchors'"),
        (A, "{it} stands.", "{it} stands, " + "and stands " * 5 + "yet.", "at most 12 words"),
        (A, "    derived: yes\n", "    derived: yes\n    known: on file\n", "never seen"),
        (P, "at most: 5 m}", "at most: 5 kg}", "5 kg"),
        (P, "at most: 5 m}", "at most: 1 m}", "leave no value"),
        (P, "{above: 1 m, at most: 5 m}", "{at least: 0 m}", "leave out none"),
        (P, "{above: 1 m, at most: 5 m}", "[1 m]", "as a list"),
    ],
)
def test_a_moment_that_cannot_be_is_a_fault_at_its_line(tmp_path, file, old, new, words):
    files = good()
    files[file] = files[file].replace(old, new, 1)
    assert files != good(), "the part to break must stand in the file"
    with pytest.raises(Faults) as caught:
        read_base(write(tmp_path, files))
    assert [words in str(fault) for fault in caught.value.faults] == [True], caught.value.faults
    assert file in str(caught.value.faults[0])


def test_a_base_that_tells_of_no_moments_reads_as_before(tmp_path):
    base = read_base(write(tmp_path, base_files(SOUND)))
    assert base.eyes == () and base.vocabulary.by_key["anchor.moves"].known == ""


@not_quick
@every_stated
def test_every_stated_fact_says_when_it_is_known(attribute):
    assert attribute.known in MOMENTS and attribute.stands
    if attribute.see:
        assert attribute.known in ON_THE_SPOT and attribute.see.endswith(".")
        assert attribute.see.count("{") == attribute.see.count("{it}")


@every_entity
def test_what_must_be_seen_of_one_of_many_names_which(entity):
    seen = [a for a in entity.attributes.values() if a.see]
    assert not [a.key for a in seen if entity.many and "{it}" not in a.see]
