"""The advice on what is known and the one that looks ahead, laid together part by part."""

import pytest
from msgspec.structs import replace
from worked import program

from advisor.decide.assumed import looked_ahead
from advisor.model.advice import CLEAR, IF_CHECKED, NOT_YET, STOPPED

TOLD = {"pitch.depth": "9 m"}
ELSEWHERE = "another way or no pitch"


@pytest.fixture(scope="module")
def advice():
    """A plan of which nothing is asked that could forbid it."""
    advisor = program()
    case = advisor.read("cases/group/two-leaders-sound.yaml")
    made = advisor.advise(case)
    assert made.decisions["go"].choice == CLEAR and made.open_questions
    return made


def decided(advice, name, **changed):
    decision = replace(advice.decisions[name], **changed)
    return replace(advice, decisions={**advice.decisions, name: decision})


@pytest.mark.parametrize(
    "known, ahead, comes_to",
    [
        ("firm", "firm", "firm"),
        (IF_CHECKED, "firm", IF_CHECKED),
        ("firm", IF_CHECKED, IF_CHECKED),
        ("provisional", "firm", "provisional"),
        ("provisional", IF_CHECKED, "provisional"),
        ("refer", "firm", "refer"),
        ("refer", "stop", "stop"),
        ("stop", "refer", "stop"),
        ("stop", "firm", "stop"),
        ("firm", "refer", "refer"),
    ],
)
def test_a_decision_stands_as_the_more_cautious_of_the_two(advice, known, ahead, comes_to):
    before, after = (decided(advice, "tether", standing=s) for s in (known, ahead))
    assert looked_ahead(before, after, TOLD).decisions["tether"].standing == comes_to


def test_a_decision_that_comes_out_otherwise_is_open_and_names_what_is_assumed(advice):
    other = decided(advice, "tether", choice="lowering device")
    made = looked_ahead(advice, other, TOLD).decisions["tether"]
    assert (made.choice, made.standing) == ("lowering device", "provisional")
    assert "pitch.depth" in made.open


def test_a_question_is_as_grave_as_the_graver_of_the_two(advice):
    asked = advice.open_questions[0]
    graver = replace(asked, gravity="stop", could=("Do not go down.",))
    for before, after in ((asked, graver), (graver, asked)):
        known, ahead = (replace(advice, open_questions=(q,)) for q in (before, after))
        made = looked_ahead(known, ahead, TOLD)
        assert [q.gravity for q in made.open_questions] == ["stop"]
        assert "Do not go down." in made.open_questions[0].could
    assert made.decisions["go"].choice == NOT_YET


@pytest.mark.parametrize(
    "known, ahead, comes_to",
    [
        (CLEAR, CLEAR, CLEAR),
        (NOT_YET, CLEAR, NOT_YET),
        (CLEAR, NOT_YET, NOT_YET),
        (ELSEWHERE, CLEAR, ELSEWHERE),
        (ELSEWHERE, NOT_YET, ELSEWHERE),
    ],
)
def test_go_is_the_more_cautious_of_the_two(advice, known, ahead, comes_to):
    before, after = (decided(advice, "go", choice=c) for c in (known, ahead))
    assert looked_ahead(before, after, TOLD).decisions["go"].choice == comes_to


def test_a_stop_on_either_side_stands(advice):
    stopping = program().advise(
        program().read("cases/plan/arrival-left.yaml", ["pitch.water=stream"])
    )
    assert stopping.stops
    for known, ahead in ((advice, stopping), (stopping, advice)):
        made = looked_ahead(known, ahead, TOLD)
        assert {s.id for s in made.stops} == {s.id for s in stopping.stops}
        assert made.decisions["go"].choice == STOPPED
