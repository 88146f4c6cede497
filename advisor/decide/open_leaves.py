"""Which simple conditions keep an open rule open: the facts behind them are what is worth finding
out.
"""

from __future__ import annotations

from collections.abc import Iterator

from advisor.engine.truth import POSSIBLE, truth_alone
from advisor.facts.world import World
from advisor.model.conditions import Condition, Leaf, Some
from advisor.model.ref import Ref


def open_leaves(node: Condition, bound: dict[str, str], world: World) -> Iterator[Ref]:
    """Yield the Ref of every simple condition that is neither sure nor false and decides its
    neighbours.
    """
    if isinstance(node, Leaf):
        for ref in node.own:
            yield ref.at(bound)
        return
    children: list[tuple[Condition, dict[str, str]]]
    if isinstance(node, Some):
        children = [
            (node.where, {**bound, node.variable: e})
            for e in world.kinds[node.kind]
            if e not in bound.values()
        ]
    else:
        children = [(child, bound) for child in node.children]
    for child, inner in children:
        if truth_alone(child, inner, world) == POSSIBLE:
            yield from open_leaves(child, inner, world)
