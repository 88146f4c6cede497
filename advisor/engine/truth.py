"""A tree walk over one condition: 0 false, 1 possible, 2 sure, and which facts that rests on. What
the second engine leaves to be tested.
"""

from __future__ import annotations

from advisor.facts.world import STATES
from advisor.model.conditions import (
    AllOf,
    AnyOf,
    Chosen,
    Compare,
    CompareRefs,
    Group,
    InValues,
    Leaf,
    Not,
    PointsAt,
    SameWord,
    Some,
    State,
)

FALSE, POSSIBLE, SURE = 0, 1, 2


def judge(node, bound: dict, world):
    """(truth, set of Refs looked at) of a condition for the entities bound to its variables."""
    if isinstance(node, Leaf):
        return _LEAF[type(node)](node, bound, world), {ref.at(bound) for ref in node.own}
    return _COMBINE[type(node)](node, bound, world)


def everything(node, bound, world):
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


def _others(node, bound, world):
    return [entity for entity in world.kinds[node.kind] if entity not in bound.values()]


def _all(node, bound, world):
    truth, looked = SURE, set()
    for child in node.parts:
        mine, seen = judge(child, bound, world)
        truth, looked = min(truth, mine), looked | seen
    return truth, looked


def _any(node, bound, world):
    judged = [judge(child, bound, world) for child in node.parts]
    truth = max((t for t, _ in judged), default=FALSE)
    return truth, set().union(*(seen for t, seen in judged if t == truth))


def _not(node, bound, world):
    return SURE - judge(node.part, bound, world)[0], everything(node.part, bound, world)


def _some(node, bound, world):
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


_COMBINE = {AllOf: _all, AnyOf: _any, Not: _not, Some: _some}


def _possible_values(ref, bound, world):
    """A choice's or named attribute's possible values as a set of bit numbers."""
    mask, found, bit = world.columns[ref.key][bound.get(ref.entity, ref.entity)], set(), 0
    while mask >> bit:
        if mask >> bit & 1:
            found.add(bit)
        bit += 1
    return found


def _within(possible, allowed):
    if not possible & allowed:
        return FALSE
    return SURE if possible <= allowed else POSSIBLE


def _in(node, bound, world):
    return _within(
        _possible_values(node.ref, bound, world),
        {bit for bit in range(node.mask.bit_length()) if node.mask >> bit & 1},
    )


def _points_at(node, bound, world):
    target = world.bits[bound.get(node.target, node.target)].bit_length() - 1
    truth = _within(_possible_values(node.ref, bound, world), {target})
    return truth if node.same else SURE - truth


def _same(node, bound, world):
    first = {node.pairs[i] for i in _possible_values(node.ref, bound, world)}
    second = _possible_values(node.other, bound, world)
    shared = first & second
    truth = FALSE if not shared else SURE if len(first) == len(second) == 1 else POSSIBLE
    return truth if node.same else SURE - truth


def _interval(ref, bound, world):
    return world.columns[ref.key][bound.get(ref.entity, ref.entity)]


def _chosen(node, bound, world):
    option = bound[node.option] if node.is_variable else node.option
    return SURE if world.choices.get(node.decision) == option else FALSE


def _compare(op, first, second):
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
    beats = (lambda x, y: x > y) if op == ">" else (lambda x, y: x >= y)
    return SURE if beats(low, high2) else POSSIBLE if beats(high, low2) else FALSE


def _number(node, bound, world):
    return _compare(node.op, _interval(node.ref, bound, world), (node.steps, node.steps))


def _numbers(node, bound, world):
    first, second = _interval(node.ref, bound, world), _interval(node.other, bound, world)
    return _compare(
        node.op, tuple(v * node.per for v in first), tuple(v * node.times for v in second)
    )


def _state(node, bound, world):
    return SURE if STATES[world.states.get(node.ref.at(bound), 0)] == node.word else FALSE


_LEAF = {
    InValues: _in,
    Compare: _number,
    CompareRefs: _numbers,
    SameWord: _same,
    PointsAt: _points_at,
    State: _state,
    Chosen: _chosen,
}
