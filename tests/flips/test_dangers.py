"""Dangers that must not pass: from a sound plan, one fact is made worse (or two fight each other),
and at least the grade listed answers. The grades were set with the answers in sight.
"""

from pathlib import Path

import pytest
import yaml
from worked import program

from advisor.load.case import read_case
from advisor.load.folder import find_folder
from advisor.model.advice import CLEAR

ROWS = yaml.safe_load((Path(__file__).parent / "dangers.yaml").read_text("utf-8"))
SOUND = find_folder("cases") / "plan/arrival-left.yaml"
PROGRAM = program()


def answers(*settings):
    """{grade: ids of what is said at it}; what stops says more than all below it."""
    advice = PROGRAM.advise(read_case(SOUND, PROGRAM.base, settings))
    return advice, {
        "stop": {s.id for s in advice.stops},
        "contradiction": {c.id for c in advice.contradictions},
        "first": {f.id for f in advice.first},
        "must": {r.id for r in advice.must("must")}
        | {w.id for w in advice.warnings if w.severity == "danger"},
    }


def test_the_plan_is_sound_before():
    advice, said = answers()
    assert advice.decisions["go"].choice == CLEAR
    assert not said["stop"] | said["first"] | said["contradiction"]


@pytest.mark.parametrize("row", ROWS, ids=lambda row: " & ".join(row[1:]))
def test_a_danger_is_answered(row):
    grade, *settings = row
    _, before = answers()
    advice, after = answers(*settings)
    enough = {"must": ("must", "first", "contradiction", "stop")}.get(grade, (grade, "stop"))
    new = {item for kind in enough for item in after[kind] - before[kind]}
    assert new, f"nothing answers {settings}"
    if grade in ("stop", "first", "contradiction"):
        assert advice.decisions["go"].choice != CLEAR
