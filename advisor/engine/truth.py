"""A tree walk over one condition: 0 false, 1 possible, 2 sure, and which facts that rests on. What
the second engine leaves to be tested.
"""

from __future__ import annotations

FALSE, POSSIBLE, SURE = 0, 1, 2


def judge(node, bound: dict, world):
    """(truth, set of (entity, key) looked at) of a condition for the entities bound to its
    variables.
    """
    kind = node[0]
    if kind in _COMBINE:
        return _COMBINE[kind](node, bound, world)
    if kind == "chosen":
        option = bound[node[2]] if node[3] else node[2]
        return (SURE if world.choices.get(node[1]) == option else FALSE), set()
    looked = {(bound.get(node[1], node[1]), node[2])}
    if kind == "cmp":
        looked.add((bound.get(node[4], node[4]), node[5]))
    elif kind == "same":
        looked.add((bound.get(node[3], node[3]), node[4]))
    return _LEAF[kind](node, bound, world), looked


def everything(node, bound, world):
    """Every fact a condition could look at, whatever its truth."""
    kind = node[0]
    if kind in ("all", "any"):
        return set().union(*(everything(child, bound, world) for child in node[1]))
    if kind == "not":
        return everything(node[1], bound, world)
    if kind == "some":
        return set().union(
            *(
                everything(node[4], {**bound, node[2]: e}, world)
                for e in _others(node, bound, world)
            )
        )
    return judge(node, bound, world)[1]


def _others(node, bound, world):
    return [entity for entity in world.kinds[node[3]] if entity not in bound.values()]


def _all(node, bound, world):
    truth, looked = SURE, set()
    for child in node[1]:
        mine, seen = judge(child, bound, world)
        truth, looked = min(truth, mine), looked | seen
    return truth, looked


def _any(node, bound, world):
    judged = [judge(child, bound, world) for child in node[1]]
    truth = max((t for t, _ in judged), default=FALSE)
    return truth, set().union(*(seen for t, seen in judged if t == truth))


def _not(node, bound, world):
    return SURE - judge(node[1], bound, world)[0], everything(node[1], bound, world)


def _some(node, bound, world):
    judged = [judge(node[4], {**bound, node[2]: e}, world) for e in _others(node, bound, world)]
    sure = [seen for t, seen in judged if t == SURE]
    may = [seen for t, seen in judged if t]
    if len(sure) >= node[1]:
        return SURE, set().union(*sure)
    if len(may) >= node[1]:
        return POSSIBLE, set().union(*may)
    return FALSE, everything(node, bound, world)


_COMBINE = {"all": _all, "any": _any, "not": _not, "some": _some}


def _possible_values(node, bound, world, at=1):
    """A choice's or named attribute's possible values as a set of bit numbers."""
    mask, found, bit = world.columns[node[at + 1]][bound.get(node[at], node[at])], set(), 0
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
        _possible_values(node, bound, world),
        {bit for bit in range(node[3].bit_length()) if node[3] >> bit & 1},
    )


def _is(node, bound, world):
    target = world.bits[bound.get(node[3], node[3])].bit_length() - 1
    truth = _within(_possible_values(node, bound, world), {target})
    return truth if node[4] else SURE - truth


def _same(node, bound, world):
    first = {node[5][i] for i in _possible_values(node, bound, world)}
    second = _possible_values(node, bound, world, at=3)
    shared = first & second
    truth = FALSE if not shared else SURE if len(first) == len(second) == 1 else POSSIBLE
    return truth if node[6] else SURE - truth


def _interval(node, bound, world, at=1):
    return world.columns[node[at + 1]][bound.get(node[at], node[at])]


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


def _num(node, bound, world):
    return _compare(node[3], _interval(node, bound, world), (node[4], node[4]))


def _cmp(node, bound, world):
    first, second = _interval(node, bound, world), _interval(node, bound, world, at=4)
    return _compare(node[3], tuple(v * node[7] for v in first), tuple(v * node[6] for v in second))


def _state(node, bound, world):
    words = ("unknown", "doubtful", "known")
    return (
        SURE
        if words[world.states.get((bound.get(node[1], node[1]), node[2]), 0)] == node[3]
        else FALSE
    )


_LEAF = {"in": _in, "num": _num, "cmp": _cmp, "same": _same, "is": _is, "state": _state}
