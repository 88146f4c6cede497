"""How sure: thresholds against stepping through every value, and against the whole program on both
sides.
"""

import random

import pytest
from depth import case_numbers, not_quick, sweep, told_number
from hypothesis import given
from hypothesis import strategies as st
from small_base import case_named, case_of, outcomes, program, ran, shipped, small

from advisor.advise import Advisor
from advisor.explain.bounds import Scale
from advisor.explain.how_sure import how_sure
from advisor.explain.targets import Target, read_target
from advisor.explain.thresholds import Piece, pieces, reaches, told_pieces
from advisor.explain.variants import change_of, with_changes


@given(st.lists(st.integers(1, 199), unique=True, max_size=6).map(sorted), st.data())
def test_pieces_are_what_stepping_through_every_value_gives(cuts, data):
    """Where a point lies in each run, the runs and their ends are exact."""

    def outcome(value):
        return sum(value >= c for c in cuts)

    ends = [0, *cuts, 200]
    points = sorted(
        {0, 200, *(data.draw(st.integers(a, b - 1)) for a, b in zip(ends, ends[1:]) if b > a)}
    )
    found = pieces(outcome, points)
    assert [v for p in found for v in range(p.low, p.high + 1)] == list(range(201))
    assert [p.state for p in found for v in range(p.low, p.high + 1)] == [
        outcome(v) for v in range(201)
    ]


@given(st.integers(1, 1000))
def test_times_of_day_turn_on_whole_minutes(cut):
    found = pieces(lambda value: value >= 60 * cut, [0, 60 * 1001], 60)
    assert [(p.low, p.high) for p in found] == [(0, 60 * (cut - 1)), (60 * cut, 60 * 1001)]


def test_small_rules_turn_where_they_say():
    """Depths of the small rules: above 20 m a stop; in spray above 10 m another; the tether turns
    at 6 m and at 12 m.
    """
    advisor = small()
    case = case_of(advisor, "{pitch: {depth: 8 m, water: spray}, anchor one: {moves: no}}")
    (stops,) = reaches(advisor.answer(case), Target("stops", "", ""))
    assert [(p.low, p.high) for p in stops.pieces] == [
        (0, 100000),
        (100001, 200000),
        (200001, 300000),
    ]
    case = case_of(advisor, "{pitch: {depth: 8 m, water: drips}, anchor one: {moves: no}}")
    (tether,) = reaches(advisor.answer(case), Target("decision", "tether", ""))
    assert [(p.low, p.high, p.state) for p in tether.pieces] == [
        (0, 59999, ("hitch", "cord")),
        (60000, 300000, ("hitch",)),
    ]


@not_quick
@sweep("number", lambda: case_numbers(1, 3), told_number)
def test_both_sides_of_every_turn_and_values_between_on_the_whole_program(number):
    """Every end of every piece of up to six numbers, and one value inside each: the stops are
    those the piece tells.
    """
    advisor, case, rng = program(), shipped()[number], random.Random(number)
    target = Target("stops", "", "")
    found = reaches(ran(number), target)
    for reach in rng.sample(found, min(6, len(found))):
        attribute = advisor.base.vocabulary.attribute(reach.key)
        step = 60 if attribute.type == "time" else 1
        for piece in reach.pieces:
            for value in {piece.low, piece.high, rng.randrange(piece.low, piece.high + 1, step)}:
                now = outcomes(
                    advisor,
                    with_changes(
                        case,
                        advisor.base,
                        (change_of(advisor.base, attribute, reach.entity, (value, value)),),
                    ),
                )
                assert now["stops"] == piece.state, (reach.entity, reach.key, value)


def test_the_rounder_side_of_a_turn_is_told():
    def told(key, last):
        scale = Scale(program().base.vocabulary.attribute(key))
        first = last + scale.least
        return told_pieces(scale, [Piece(0, last, "one"), Piece(first, 10**9, "other")])

    assert told("pitch.depth", 180000) == ["up to 18 m", "above 18 m"]
    assert told("pitch.depth", 179999) == ["below 18 m", "at least 18 m"]
    assert told("group.size", 4) == ["up to 4", "at least 5"]
    assert told("plan.turn time", 53340) == ["before 14:50", "at 14:50 or later"]
    assert told("plan.turn time", 54000) == ["at 15:00 or earlier", "after 15:00"]


@not_quick
@pytest.mark.parametrize(
    "name, line",
    [
        (
            "method",
            "depth of the pitch, 12 m: below 0.5 m: another way or no pitch; above 18 m: another"
            " way or no pitch",
        ),
        (
            "stops",
            (
                "angle of the pitch head, 53°: at least 120°: stop: Two legs at 120 degrees or"
                " more are re-rigged before use [belay.angle-120]"
            ),
        ),
        ("tether", "Standing: firm."),
    ],
)
def test_what_is_told_of_a_worked_case(name, line):
    """The figures are the rules' own: they are in rules/pitch/method.yaml,
    rules/contradictions/place-and-rig.yaml and rules/anchors/belay-geometry.yaml.
    """
    case = case_named("Four bolts at Quarry Shaft, people arriving from the left")
    lines = how_sure(ran(shipped().index(case)), name)
    assert line in [text.removeprefix("  - ") for text in lines]


def test_an_estimate_over_a_turn_tells_both_outcomes():
    advisor = small()
    case = case_of(advisor, "{pitch: {depth: 5-7 m, water: drips}, anchor one: {moves: no}}")
    lines = how_sure(advisor.answer(case), "tether")
    assert any(
        "depth of the pitch, 5 m to 7 m" in line and "hitch or cord" in line for line in lines
    )


@not_quick
def test_a_verdict_can_be_asked_about():
    advisor, case = program(), case_named("A glazed bridle at Thorn Shaft")
    run = advisor.answer(case)
    assert read_target(run, "ladder main, cord").kind == "verdict"
    lines = how_sure(run, "ladder main")
    assert lines[0] == "Now the verdict on ladder main is: keep." and any(
        "last examined of ladder main" in line for line in lines
    )


def test_no_time_is_tried_that_cannot_be_stated():
    from advisor.explain.values import Values
    from advisor.facts.times import read_time, show_time

    values = Values(Advisor().base)
    for attribute in values.base.vocabulary.by_key.values():
        if attribute.type == "time" and not attribute.derived:
            values.compared.add(attribute.key)
            found = values.numbers(attribute, (read_time("13:30"),) * 2)
            assert found and [read_time(show_time(v)) for v in found] == found
