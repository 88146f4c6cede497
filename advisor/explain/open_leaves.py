"""Which simple conditions keep an open rule open: the facts behind them are what is worth finding
out.
"""

from __future__ import annotations

from advisor.engine.truth import POSSIBLE, judge
from advisor.knowledge.rule import LEAVES, references


def open_leaves(node, bound: dict, world):
    """Yield (entity, key) of every simple condition that is neither sure nor false and decides its
    neighbours.
    """
    if node[0] in LEAVES:
        for variable, key in references(node):
            yield bound.get(variable, variable), key
        return
    if node[0] == "some":
        children = [
            (node[4], {**bound, node[2]: e})
            for e in world.kinds[node[3]]
            if e not in bound.values()
        ]
    else:
        children = [
            (child, bound) for child in (node[1] if node[0] in ("all", "any") else (node[1],))
        ]
    for child, inner in children:
        if judge(child, inner, world)[0] == POSSIBLE:
            yield from open_leaves(child, inner, world)
