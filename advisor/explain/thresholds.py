"""How sure: how far each number may move before the outcome turns, to the exact step."""

from __future__ import annotations

from typing import NamedTuple

from advisor.decide.names import fact_name
from advisor.explain.cone import Cone
from advisor.explain.nearest import confirm
from advisor.explain.targets import state_of
from advisor.explain.values import Values
from advisor.explain.variants import change_of
from advisor.facts.times import show_time
from advisor.facts.units import TIME, UNITS, show
from advisor.progress import Watch


class Piece(NamedTuple):
    """A run of values of one number, in steps, over which the outcome is the same at every value
    tried.
    """

    low: int
    high: int
    state: object


class Reach(NamedTuple):
    """One number given: the fact, its value (low, high) in steps, and the outcome along its whole
    range.
    """

    entity: str
    key: str
    given: tuple
    pieces: tuple

    @property
    def around(self) -> tuple:
        """(piece before, pieces that hold what was given, piece after); None where the
        range ends.
        """
        held = [
            n
            for n, p in enumerate(self.pieces)
            if p.low <= self.given[1] and p.high >= self.given[0]
        ]
        return (
            self.pieces[held[0] - 1] if held[0] else None,
            tuple(self.pieces[n] for n in held),
            self.pieces[held[-1] + 1] if held[-1] + 1 < len(self.pieces) else None,
        )


def pieces(outcome, points, least: int = 1) -> tuple:
    """The runs of equal outcome over sorted points; between two neighbours of different outcome
    the turn is found by halving.

    `outcome(value)` gives a comparable outcome; `least` is the smallest step. Complete as far as
    the outcome turns no
    more than once and back between two neighbouring points.
    """
    states = {p: outcome(p) for p in points}
    ends = [points[0]]
    for low, high in zip(points, points[1:]):
        for left, right in _turns(outcome, states, low, high, least):
            ends += [left, right]
    ends.append(points[-1])
    return tuple(Piece(a, b, states[a]) for a, b in zip(ends[::2], ends[1::2]))


def _turns(outcome, states, low, high, least):
    """[(last value before a turn, first after it)] between two values."""
    if states[low] == states[high]:
        return []
    if high - low <= least:
        return [(low, high)]
    middle = low + max(1, (high - low) // least // 2) * least
    states[middle] = outcome(middle)
    return _turns(outcome, states, low, middle, least) + _turns(
        outcome, states, middle, high, least
    )


def least_step(attribute) -> int:
    """The smallest step that can be written: a minute for times of day."""
    return 60 if attribute.type == "time" else 1


def along(base, cone, target, entity, attribute, points) -> tuple:
    """The outcome along one number, as pieces."""

    def outcome(value):
        return state_of(
            base, target, *cone.run((change_of(base, attribute, entity, (value, value)),))
        )

    return pieces(outcome, points, least_step(attribute))


def reaches(run, target, watch=None) -> list:
    """A Reach for every number given that bears on the target; both sides of each nearest turn are
    run again with both engines. KeyboardInterrupt ends it early with those done so far.
    """
    watch, cone, found = watch or Watch(), Cone(run.advisor, run.case, target), []
    numbers = [
        fact
        for (_, key), fact in sorted(run.case.facts.items())
        if key in cone.keys and run.base.vocabulary.attribute(key).is_number
    ]
    try:
        for done, fact in enumerate(numbers):
            watch(done, len(numbers), "numbers")
            found.append(_reach(run, cone, target, fact))
    except KeyboardInterrupt:
        watch.stop()
    return found


def _reach(run, cone, target, fact) -> Reach:
    base, attribute = run.base, run.base.vocabulary.attribute(fact.key)
    points = Values(base).along(attribute, fact.value)
    turns = along(base, cone, target, fact.entity, attribute, points)
    reach = Reach(fact.entity, fact.key, fact.value, turns)
    for value, state in _sides(reach):
        changes = (change_of(base, attribute, fact.entity, (value, value)),)
        confirm(run, target, changes, state)
    return reach


def _sides(reach):
    """(value, outcome) on both sides of the nearest turns below and above what was given."""
    before, held, after = reach.around
    if before:
        yield from ((before.high, before.state), (held[0].low, held[0].state))
    if after:
        yield from ((held[-1].high, held[-1].state), (after.low, after.state))


def shown(attribute, steps: int) -> str:
    """One number in words, to three decimals of a unit people use."""
    if attribute.type == "time":
        return show_time(steps)
    if UNITS[attribute.unit][0] is TIME and steps % 60 and steps > 60:
        return f"{steps / 60:.3f}".rstrip("0") + " min"
    return show(steps, attribute.unit)


def turn(attribute, last: int, first: int) -> str:
    """Where the outcome turns, in the rounder of the two numbers: 'above 18 m' or 'at 20 m or
    more' going up, 'below' or '… or less' going down.
    """
    clock, up = attribute.type == "time", first > last
    if _round(last) > _round(first):
        return (
            f"{('after' if up else 'before') if clock else ('above' if up else 'below')}"
            f" {shown(attribute, last)}"
        )
    return (
        f"at {shown(attribute, first)} or"
        f" {('later' if up else 'earlier') if clock else ('more' if up else 'less')}"
    )


def piece_words(attribute, run, number: int) -> str:
    """One piece of a run in words: 'at 0.5 m or less', '2 m to 5 m', 'above 5 m'."""
    piece = run[number]
    if len(run) > 1 and number == 0:
        return turn(attribute, run[1].low, piece.high)
    if len(run) > 1 and number == len(run) - 1:
        return turn(attribute, run[-2].high, piece.low)
    low, high = shown(attribute, piece.low), shown(attribute, piece.high)
    return low if low == high else f"{low} to {high}"


def _round(steps: int) -> int:
    """How many noughts a number of steps ends in; nought itself is the roundest."""
    if steps == 0:
        return 99
    text = str(steps)
    return len(text) - len(text.rstrip("0"))


def told_reach(base, reach, tell) -> str:
    """One number in a line: what holds it and where it turns; `tell(state)` puts an outcome in
    words.
    """
    attribute = base.vocabulary.attribute(reach.key)
    before, held, after = reach.around
    low, high = (shown(attribute, v) for v in reach.given)
    head = (
        f"{fact_name(base, reach.entity, reach.key)},"
        f" {low if low == high else f'{low} to {high}'}: "
    )
    if len(held) > 1:
        return head + "; ".join(
            f"{shown(attribute, p.low)} to {shown(attribute, p.high)}: {tell(p.state)}"
            for p in held
        )
    turns = [f"{turn(attribute, held[0].low, before.high)}: {tell(before.state)}"] if before else []
    turns += [f"{turn(attribute, held[0].high, after.low)}: {tell(after.state)}"] if after else []
    return head + ("; ".join(turns) if turns else "any value leaves it as it is")
