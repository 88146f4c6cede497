"""Questions that bring their own facts: answered on what they suppose, the plan left as it was."""

from __future__ import annotations

import pytest

from advisor.advise import Advisor
from advisor.chat.session import Session
from advisor.chat.turn import take

PLAN = "12 m pitch dry, 15 m ladder, 30 m rope, 8 novices, 2 leaders"


@pytest.fixture(scope="module")
def advisor():
    return Advisor()


@pytest.fixture
def session(advisor):
    session = Session(advisor)
    take(session, PLAN, asking=False)
    return session


@pytest.mark.parametrize(
    "line, supposed",
    [
        ("is 40 m rope long enough for a 14 m pitch", {"lifeline length: 40 m", "depth: 14 m"}),
        ("is a 12 m ladder enough for an 11 m pitch", {"main length: 12 m", "depth: 11 m"}),
        ("are 3 leaders enough for 15", {"leader number: 3", "group size: 15"}),
        ("how many leaders do we need for 12 kids", {"group children: 12"}),
        ("how many leaders do we need for 12 people", {"group size: 12"}),
        (
            "is a 25m rope enough for a 12m pitch if we want to lower someone",
            {"lifeline length: 25 m", "pitch depth: 12 m"},
        ),
        ("how much rope do i need for an 18 m pitch", {"pitch depth: 18 m"}),
    ],
)
def test_what_a_question_tells_is_supposed_and_answered(session, line, supposed):
    before = dict(session.said)
    reply = take(session, line, asking=False)
    told = next(text for text in reply.answer if text.startswith("Supposing"))
    assert all(part in told for part in supposed)
    assert session.said == before and not reply.heard


def test_figures_are_worked_out_on_what_the_question_supposes(session):
    own = take(session, "how much rope", asking=False).answer
    other = take(session, "how much rope do i need for an 18 m pitch", asking=False).answer
    needed = [
        [line for line in lines if line.startswith("Lifeline needed from the top:")]
        for lines in (own, other)
    ]
    assert needed[0] and needed[1] and needed[0] != needed[1]
    assert take(session, "how much rope", asking=False).answer == own


def test_when_to_call_is_told_of_what_the_question_supposes(session):
    line = "when do I call rescue if someones hanging and not answering"
    answer = take(session, line, asking=False).answer
    assert any(text.startswith("CALL NOW") for text in answer)
    assert not any(entity == "incident" for entity, _ in session.said)


def test_how_long_one_may_hang_is_answered_by_when_to_call(session):
    answer = take(session, "how long can she hang in the harness", asking=False).answer
    assert any("ten minutes" in text for text in answer)


def test_a_figure_that_has_no_place_in_a_question_is_said(session):
    reply = take(session, "how long will it take to get 9 down and back", asking=False)
    assert any("9" in words for words, _ in reply.unclear)
    assert "undo" not in reply.intents
    assert session.said


def test_a_question_of_the_group_is_no_fact_about_it(session):
    before = dict(session.said)
    take(session, "do kids need a chest harness", asking=False)
    assert session.said == before
