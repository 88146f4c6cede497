"""How sure: how far each number may move before the outcome turns, to the exact step."""

from __future__ import annotations

from typing import NamedTuple

from advisor.decide.names import fact_name
from advisor.explain.bounds import Scale, easier
from advisor.explain.cone import Cone
from advisor.explain.nearest import confirm
from advisor.explain.targets import state_of
from advisor.explain.values import Values
from advisor.explain.variants import change_of
from advisor.progress import Watch


class Piece(NamedTuple):
    """A run of values of one number, in steps, over which the outcome is the same at every value
    tried.
    """

    low: int
    high: int
    state: object


class Reach(NamedTuple):
    """One number given: the fact, its value (low, high) in steps, the outcome along its whole
    range, and how its bounds are said.
    """

    entity: str
    key: str
    given: tuple
    pieces: tuple
    scale: Scale

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
    values = Values(run.base)
    numbers = [
        fact
        for (_, key), fact in sorted(run.case.facts.items())
        if key in cone.keys and run.base.vocabulary.attribute(key).is_number
    ]
    try:
        for done, fact in enumerate(numbers):
            watch(done, len(numbers), "numbers")
            found.append(_reach(run, cone, target, fact, values))
    except KeyboardInterrupt:
        watch.stop()
    return found


def _reach(run, cone, target, fact, values) -> Reach:
    base, attribute = run.base, run.base.vocabulary.attribute(fact.key)
    points = values.along(attribute, fact.value)
    turns = along(base, cone, target, fact.entity, attribute, points)
    scale = values.scale(attribute, fact)
    reach = Reach(fact.entity, fact.key, fact.value, turns, scale)
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


def told_reach(base, reach, tell) -> str:
    """One number in a line: what holds it and where it turns; `tell(state)` puts an outcome in
    words.
    """
    before, held, after = reach.around
    low, high = (reach.scale.say(v) for v in reach.given)
    head = (
        f"{fact_name(base, reach.entity, reach.key)},"
        f" {low if low == high else f'{low} to {high}'}: "
    )
    if len(held) > 1:
        words = told_pieces(reach.scale, held)
        return head + "; ".join(f"{w}: {tell(p.state)}" for p, w in zip(held, words))
    around = [p for p in (before, *held, after) if p]
    words = told_pieces(reach.scale, around, reach.given)
    turns = [f"{w}: {tell(p.state)}" for p, w in zip(around, words) if p not in held]
    return head + ("; ".join(turns) if turns else "any value leaves it as it is")


def told_pieces(scale, run, given=None) -> list:
    """Neighbouring pieces in words: 'up to 0.5 m', 'above 0.5 m and below 5 m', 'at least 5 m'.
    Of two neighbours the easier is told no wider than it is; where neither is, the one that holds
    what is `given`, else the first.
    """
    edges = [
        None,
        *(scale.edge(a.high, b.low, *_careful(a, b, given)) for a, b in zip(run, run[1:])),
        None,
    ]
    return [
        scale.say(piece.low) if piece.low == piece.high else scale.between(*sides)
        for piece, sides in zip(run, zip(edges, edges[1:]))
    ]


def _careful(low, high, given):
    """(whether the low piece is the one told no wider, what it must still hold)."""
    inside = [p for p in (low, high) if given and p.low <= given[1] and p.high >= given[0]]
    if easier(low.state, high.state) or easier(high.state, low.state):
        inner = low if easier(low.state, high.state) else high
    else:
        inner = inside[0] if inside else low
    first, last = given if inner in inside else (inner.high, inner.low)
    return (True, last) if inner is low else (False, first)
