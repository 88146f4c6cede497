"""A tree walk over one condition: 0 false, 1 possible, 2 sure, and which facts that rests on. What
the second engine leaves to be tested.
"""

from __future__ import annotations

import operator
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any, Protocol, TypeAlias

from advisor.facts.vocabulary import Value
from advisor.facts.world import STATES
from advisor.model.conditions import (
    AllOf,
    AnyOf,
    Chosen,
    Compare,
    CompareRefs,
    Condition,
    Group,
    InValues,
    Leaf,
    Not,
    PointsAt,
    SameWord,
    Some,
    State,
)
from advisor.model.ref import Bound, Ref

FALSE, POSSIBLE, SURE = 0, 1, 2


class Facts(Protocol):
    """As much of a world as conditions look at."""

    @property
    def kinds(self) -> Mapping[str, Sequence[str]]: ...
    @property
    def columns(self) -> Mapping[str, Mapping[str, Value]]: ...
    @property
    def states(self) -> Mapping[tuple[str, str], int]: ...
    @property
    def bits(self) -> Mapping[str, int]: ...
    @property
    def choices(self) -> Mapping[str, str | None]: ...


Judged: TypeAlias = tuple[int, set[Ref]]  # the truth of a condition, and what it rests on
Range: TypeAlias = tuple[int, int]


def judge(node: Condition, bound: Bound, world: Facts) -> Judged:
    """(truth, set of Refs looked at) of a condition for the entities bound to its variables."""
    if isinstance(node, Leaf):
        return _LEAF[type(node)](node, bound, world), {ref.at(bound) for ref in node.own}
    return _COMBINE[type(node)](node, bound, world)


def truth_alone(node: Condition, bound: Bound, world: Facts) -> int:
    """The truth of a condition alone, which stops at the first part that settles it."""
    return _TRUTH[type(node)](node, bound, world)


def everything(node: Condition, bound: Bound, world: Facts) -> set[Ref]:
    """Every fact a condition could look at, whatever its truth."""
    if isinstance(node, Group):
        return set().union(*(everything(child, bound, world) for child in node.parts))
    if isinstance(node, Not):
        return everything(node.part, bound, world)
    if isinstance(node, Some):
        return set().union(
            *(
                everything(node.where, {**bound, node.variable: e}, world)
                for e in _others(node, bound, world)
            )
        )
    return {ref.at(bound) for ref in node.own}


def _others(node: Some, bound: Bound, world: Facts) -> list[str]:
    return [entity for entity in world.kinds[node.kind] if entity not in bound.values()]


def _all(node: AllOf, bound: Bound, world: Facts) -> Judged:
    truth, looked = SURE, set[Ref]()
    for child in node.parts:
        mine, seen = judge(child, bound, world)
        truth = min(truth, mine)
        looked |= seen
    return truth, looked


def _any(node: AnyOf, bound: Bound, world: Facts) -> Judged:
    judged = [judge(child, bound, world) for child in node.parts]
    truth = max((t for t, _ in judged), default=FALSE)
    return truth, set().union(*(seen for t, seen in judged if t == truth))


def _not(node: Not, bound: Bound, world: Facts) -> Judged:
    return SURE - truth_alone(node.part, bound, world), everything(node.part, bound, world)


def _some(node: Some, bound: Bound, world: Facts) -> Judged:
    judged = [
        judge(node.where, {**bound, node.variable: e}, world) for e in _others(node, bound, world)
    ]
    sure = [seen for t, seen in judged if t == SURE]
    may = [seen for t, seen in judged if t]
    if len(sure) >= node.number:
        return SURE, set().union(*sure)
    if len(may) >= node.number:
        return POSSIBLE, set().union(*may)
    return FALSE, everything(node, bound, world)


_COMBINE: dict[type[Condition], Callable[[Any, Bound, Facts], Judged]] = {
    AllOf: _all,
    AnyOf: _any,
    Not: _not,
    Some: _some,
}


def _truth_of_all(node: AllOf, bound: Bound, world: Facts) -> int:
    truth = SURE
    for child in node.parts:
        truth = min(truth, _TRUTH[type(child)](child, bound, world))
        if not truth:
            break
    return truth


def _truth_of_any(node: AnyOf, bound: Bound, world: Facts) -> int:
    truth = FALSE
    for child in node.parts:
        truth = max(truth, _TRUTH[type(child)](child, bound, world))
        if truth == SURE:
            break
    return truth


def _truth_of_not(node: Not, bound: Bound, world: Facts) -> int:
    return SURE - truth_alone(node.part, bound, world)


def _truth_of_some(node: Some, bound: Bound, world: Facts) -> int:
    judged = [
        truth_alone(node.where, {**bound, node.variable: e}, world)
        for e in _others(node, bound, world)
    ]
    if judged.count(SURE) >= node.number:
        return SURE
    return POSSIBLE if len(judged) - judged.count(FALSE) >= node.number else FALSE


def _mask(ref: Ref, bound: Bound, world: Facts) -> int:
    """A choice's or named attribute's possible values, a bit each."""
    value = world.columns[ref.key][bound.get(ref.entity, ref.entity)]
    assert isinstance(value, int)
    return value


def _within(possible: int, allowed: int) -> int:
    if not possible & allowed:
        return FALSE
    return POSSIBLE if possible & ~allowed else SURE


def _in(node: InValues, bound: Bound, world: Facts) -> int:
    return _within(_mask(node.ref, bound, world), node.mask)


def _points_at(node: PointsAt, bound: Bound, world: Facts) -> int:
    target = world.bits[bound.get(node.target, node.target)]
    truth = _within(_mask(node.ref, bound, world), target)
    return truth if node.same else SURE - truth


def _same(node: SameWord, bound: Bound, world: Facts) -> int:
    first = {node.pairs[i] for i in _bits(_mask(node.ref, bound, world))}
    second = set(_bits(_mask(node.other, bound, world)))
    single = len(first) == len(second) == 1
    truth = FALSE if not first & second else SURE if single else POSSIBLE
    return truth if node.same else SURE - truth


def _bits(mask: int) -> Iterator[int]:
    return (bit for bit in range(mask.bit_length()) if mask >> bit & 1)


def _interval(ref: Ref, bound: Bound, world: Facts) -> Range:
    low, high = world.columns[ref.key][bound.get(ref.entity, ref.entity)]
    return low, high


def _chosen(node: Chosen, bound: Bound, world: Facts) -> int:
    option = bound[node.option] if node.is_variable else node.option
    return SURE if world.choices.get(node.decision) == option else FALSE


def _compare(op: str, first: Range, second: Range) -> int:
    (low, high), (low2, high2) = first, second
    if op == "==":
        return (
            SURE
            if low == high == low2 == high2
            else POSSIBLE
            if max(low, low2) <= min(high, high2)
            else FALSE
        )
    if op == "!=":
        return SURE - _compare("==", first, second)
    if op in ("<", "<="):
        return _compare({"<": ">", "<=": ">="}[op], second, first)
    beats = operator.gt if op == ">" else operator.ge
    return SURE if beats(low, high2) else POSSIBLE if beats(high, low2) else FALSE


def _number(node: Compare, bound: Bound, world: Facts) -> int:
    return _compare(node.op, _interval(node.ref, bound, world), (node.steps, node.steps))


def _numbers(node: CompareRefs, bound: Bound, world: Facts) -> int:
    first, second = _interval(node.ref, bound, world), _interval(node.other, bound, world)
    return _compare(
        node.op,
        (first[0] * node.per, first[1] * node.per),
        (second[0] * node.times, second[1] * node.times),
    )


def _state(node: State, bound: Bound, world: Facts) -> int:
    return SURE if STATES[world.states.get(node.ref.at(bound), 0)] == node.word else FALSE


_LEAF: dict[type[Condition], Callable[[Any, Bound, Facts], int]] = {
    InValues: _in,
    Compare: _number,
    CompareRefs: _numbers,
    SameWord: _same,
    PointsAt: _points_at,
    State: _state,
    Chosen: _chosen,
}
_TRUTH: dict[type[Condition], Callable[[Any, Bound, Facts], int]] = {
    **_LEAF,
    AllOf: _truth_of_all,
    AnyOf: _truth_of_any,
    Not: _truth_of_not,
    Some: _truth_of_some,
}
