"""Words that nothing was made of can be kept as they were typed, weighed by no rule."""

from pathlib import Path

import pytest
from worked import program

from advisor.chat.noting import HINT, NOTHING
from advisor.chat.session import Session
from advisor.chat.store import export
from advisor.chat.turn import take
from advisor.load.case import read_case

LOST = "the wibble is sprogged"


def talked(*lines):
    session = Session(program())
    return session, [take(session, line) for line in lines]


def test_the_line_before_is_kept_with_the_plan_and_its_advice_stays():
    session, (first, _, noted) = talked("the pitch is 12 m deep", f"{LOST} at the lip", "note it")
    assert session.said["plan", "plan.remarks"] == f"{LOST} at the lip"
    assert noted.answer == (
        f'Noted, weighed by no rule: "{LOST} at the lip". It stands among the facts of the plan.'
        " It is printed on the assessment too.",
    )
    assert [s.rule for s in noted.advice.stops] == [s.rule for s in first.advice.stops]


def test_words_behind_a_colon_are_kept_and_more_of_them_join():
    session, _ = talked("the pitch is 12 m deep", "note: bring the old map", "Note : gate key 3")
    assert session.said["plan", "plan.remarks"] == "bring the old map; gate key 3"
    take(session, "undo")
    assert session.said["plan", "plan.remarks"] == "bring the old map"


def test_what_was_heard_whole_is_not_noted_again():
    session, replies = talked("the pitch is 12 m deep", "note it")
    assert replies[-1].answer == (NOTHING,)
    assert ("plan", "plan.remarks") not in session.said


def test_that_it_can_be_noted_is_said_once():
    _, replies = talked("the pitch is 12 m deep", LOST, f"{LOST} again")
    assert [HINT in reply.answer for reply in replies] == [False, True, False]


@pytest.mark.parametrize(
    ("line", "fact"),
    [
        ("someone has a leg trapped in the ladder", ("incident", "incident.remarks")),
        ("the rope is chafed", ("kit rope", "kit.remarks")),
    ],
)
def test_it_stands_with_what_is_spoken_of(line, fact):
    session, _ = talked(line, "note: number 7 on its tag")
    assert session.said[fact] == "number 7 on its tag"


def test_a_remark_is_written_with_the_plan_and_comes_back(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    session, _ = talked("the pitch is 12 m deep", "note: bring the old map")
    export(session, "plan.yaml")
    case = read_case(Path("plan.yaml"), program().base)
    assert case.facts["plan", "plan.remarks"].text == "bring the old map"
