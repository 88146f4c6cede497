"""Limits of numbers: what is told is held against stepping through every value on the whole
program, and no told value lies outside the range it stands for.
"""

import re

import pytest
from depth import case_numbers, most, not_quick, sweep, told_number
from hypothesis import given
from hypothesis import strategies as st
from small_base import case_named, case_of, outcomes, program, ran, shipped, small

from advisor.explain.bounds import Scale, easier
from advisor.explain.limits import limits_of
from advisor.explain.nearest import search
from advisor.explain.targets import Target, read_target
from advisor.explain.thresholds import Piece, told_pieces
from advisor.explain.variants import change_of, with_changes
from advisor.explain.what_would import what_would
from advisor.facts.quantity import read_quantity, unit_written
from advisor.facts.times import read_time

DEPTH = program().base.vocabulary.attribute("pitch.depth")
NUMBERS = [
    program().base.vocabulary.attribute(key)
    for key in (
        "pitch.depth",
        "anchor.rating",
        "lifeline.diameter",
        "group.size",
        "group.heaviest",
        "plan.walk out",
        "plan.turn time",
    )
]


def told_range(attribute, words):
    """(lowest, highest) step that the words name, read without the program's own reader of words
    but with its reader of quantities.
    """
    low, high = attribute.low, attribute.high

    def steps(text):
        return (
            read_time(text)
            if attribute.type == "time"
            else read_quantity(text, attribute.unit, (attribute.low, attribute.high)).low
        )

    least = 60 if attribute.type == "time" else 1
    for part in words.split(" and "):
        clock = re.fullmatch(r"(at|before|after) (\S+)(?: or (later|earlier))?", part)
        ends = re.fullmatch(r"(.+) to (.+)", part)
        if clock:
            bound = steps(clock.group(2))
            low = bound if clock.group(3) == "later" else low
            low = bound + least if clock.group(1) == "after" else low
            high = bound if clock.group(3) == "earlier" else high
            high = bound - least if clock.group(1) == "before" else high
        elif part.startswith("at least "):
            low = steps(part.removeprefix("at least "))
        elif part.startswith("above "):
            low = steps(part.removeprefix("above ")) + 1
        elif part.startswith("up to "):
            high = steps(part.removeprefix("up to "))
        elif part.startswith("below "):
            high = steps(part.removeprefix("below ")) - 1
        elif ends:
            low, high = steps(ends.group(1)), steps(ends.group(2))
        elif part != "any value":
            low = high = steps(part)
    return low, high


@given(st.sampled_from(NUMBERS), st.data())
def test_every_value_of_a_told_span_is_in_it_and_little_is_left_out(attribute, data):
    """The span is narrowed by at most what is said of the number: 0.1 m, 0.1 kN, a minute, …"""
    grain = {"m": 1000, "kN": 100, "mm": 1, "kg": 1000, "min": 60, "": 60}.get(attribute.unit, 1)
    step = 60 if attribute.type == "time" else 1
    top = 86340 if attribute.type == "time" else attribute.high
    numbers = st.integers(attribute.low // step, top // step).map(lambda n: n * step)
    low, high = sorted((data.draw(numbers), data.draw(numbers)))
    words = Scale(attribute).span(low, high, attribute.low, top)
    first, last = told_range(attribute, words)
    assert low <= first <= low + grain and high - grain <= min(last, top) <= high, words


@given(st.integers(1, 10**6), st.integers(0, 2))
def test_the_easier_side_of_a_turn_is_told_no_wider_than_it_is(cut, kind):
    """No stop is told to come later than it does, whichever side is the easier one."""
    cut %= DEPTH.high
    free, stop = frozenset(), frozenset(["deep"])
    states = (free, stop) if kind else (stop, free)
    run = [Piece(0, cut, states[0]), Piece(cut + 1, DEPTH.high, states[1])]
    words = told_pieces(Scale(DEPTH), run)
    for piece, told in zip(run, words):
        low, high = told_range(DEPTH, told)
        assert piece.low <= low <= high <= piece.high or piece.state == stop
        assert low <= piece.low <= piece.high <= high or piece.state == free


@pytest.mark.parametrize(
    "written, words",
    [("40 ft", "up to 46.6 ft"), ("12 m", "up to 14.2 m"), (None, "up to 14.2 m")],
)
def test_a_limit_is_told_in_the_unit_that_was_written(written, words):
    """14.2238 m; a foot is 0.3048 m, so that 46.6 ft are 14.2037 m and 46.7 ft 14.2342 m."""
    assert Scale(DEPTH, (), written).span(0, 142238, 0, DEPTH.high) == words


@pytest.mark.parametrize(
    "text, wanted, unit",
    [
        ("6 ft 9 in", "m", "ft"),
        ("about 12", "m", "m"),
        ("5' 3\"", "m", "ft"),
        ("90 m", "min", "min"),
    ],
)
def test_the_unit_that_was_written(text, wanted, unit):
    assert unit_written(text, wanted) == unit


def test_a_figure_of_a_rule_is_told_as_it_is():
    thin = program().base.vocabulary.attribute("lifeline.diameter")
    scale = Scale(thin, (85,))
    assert scale.span(0, 84, 0, thin.high) == "below 8.5 mm"
    assert Scale(DEPTH).span(180001, DEPTH.high, 0, DEPTH.high) == "above 18 m"
    assert Scale(DEPTH).span(180000, DEPTH.high, 0, DEPTH.high) == "at least 18 m"
    assert Scale(DEPTH).span(123456, 123458, 0, DEPTH.high) == "12.3456 m to 12.3458 m"


def test_what_is_easier():
    assert easier(frozenset(), frozenset("a")) and not easier(frozenset("b"), frozenset("a"))
    assert easier("keep", "retire") and not easier("retire", "keep") and easier("cleared", "stands")
    assert not easier(("hitch",), ("cord",))


def test_limits_are_what_stepping_through_every_decimetre_gives():
    """The tether of the small rules by depth, every 0.1 m of the range on the whole program."""
    advisor = small()
    case = case_of(advisor, "{pitch: {depth: 8 m, water: drips}, anchor one: {moves: no}}")
    run, attribute = advisor.answer(case), advisor.base.vocabulary.attribute("pitch.depth")
    for text in ("tether", "stops"):
        target = read_target(run, text)
        found = limits_of(run, target, search(run, target, 1))
        before = outcomes(advisor, case)
        told = [c.value for f in found for c in f.changes if c.key == "pitch.depth"]
        for steps in range(0, attribute.high + 1, 1000):
            change = change_of(advisor.base, attribute, "pitch", (steps, steps))
            now = outcomes(advisor, with_changes(case, advisor.base, (change,)))
            other = (
                now["decision", "tether"] != before["decision", "tether"]
                if text == "tether"
                else bool(before["stops"]) and not now["stops"]
            )
            assert any(low <= steps <= high for low, high in told) == other, (text, steps)


def test_two_numbers_at_once_hold_at_all_corners():
    """Spray above 10 m stops and above 20 m everything does; two facts at once clear both."""
    advisor = small()
    case = case_of(advisor, "{pitch: {depth: 25 m, water: spray}, anchor one: {moves: no}}")
    run = advisor.answer(case)
    target = read_target(run, "stops")
    found = limits_of(run, target, search(run, target, 2))
    told = {tuple((c.key, c.text) for c in f.changes) for f in found}
    assert (("pitch.depth", "up to 10 m"),) in told
    assert {(("pitch.depth", "up to 20 m"), ("pitch.water", w)) for w in ("dry", "drips")} <= told


def decided(number):
    """The decisions of a worked case that are chosen, not worked out."""
    return [n for n in ran(number).choices if "by" not in program().base.decisions[n]]


@not_quick
@sweep(
    "number", lambda: [n for n in case_numbers(4, 20) if decided(n)][: most(2, 2) or 4], told_number
)
def test_both_sides_of_every_told_limit_on_the_whole_program(number):
    """Inside each told span the verdict, decision or clearing of stops comes; just outside not."""
    advisor, case = program(), shipped()[number]
    run = ran(number)
    before = outcomes(advisor, case)
    names = decided(number)
    target = Target("stops", "", "cleared") if before["stops"] else Target("decision", names[0], "")
    for finding in limits_of(run, target, search(run, target, 1)):
        (change,) = finding.changes
        attribute = advisor.base.vocabulary.attribute(change.key)
        if not attribute.is_number:
            continue
        (low, high), step = change.value, 60 if attribute.type == "time" else 1
        for value in (low, high, low - step, high + step):
            if not attribute.low <= value <= min(attribute.high, 86340 if step > 1 else 10**12):
                continue
            other = change_of(advisor.base, attribute, change.entity, (value, value))
            now = outcomes(advisor, with_changes(case, advisor.base, (other,)))
            state = now["stops"] if before["stops"] else now["decision", target.name]
            same = state == (finding.state if before["stops"] else told_of(advisor, finding.state))
            assert same == (low <= value <= high), (change, value)


def told_of(advisor, state):
    """An outcome as the advice tells it."""
    from advisor.decide.names import option_name

    names = tuple(option_name(advisor.base, o) for o in state)
    return {("none left",): "stop", ("nothing yet",): "nothing yet"}.get(names) or (
        names[0] if len(names) == 1 else names
    )


@not_quick
def test_what_would_change_it_tells_limits_and_sets():
    """The figures are the rules' own, in rules/pitch, rules/contradictions and rules/anchors."""
    run = ran(
        shipped().index(case_named("Four bolts at Quarry Shaft, people arriving from the left"))
    )
    lines = [line.strip(" -") for line in what_would(run, "method", 1)]
    assert "depth of the pitch: below 0.5 m or above 18 m -> another way or no pitch" in lines
    assert not [line for line in lines if "tried)" in line or "…" in line]
    lines = [line.strip(" -") for line in what_would(run, "ladder anchor", 1)]
    assert any(
        line.startswith("kind of left ladder bolt: anything but resin bolt or expansion bolt")
        for line in lines
    )
    assert lines.index("You can change:") < lines.index(
        "Only if it is found so, or was said wrongly:"
    )
