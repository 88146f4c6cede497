"""Response sequences: the steps whose conditions hold, in an order that keeps every 'after' and
'before'; the rest as branches.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Sequence
from graphlib import CycleError, TopologicalSorter

from advisor.decide.firing import Found, given
from advisor.facts.world import World
from advisor.model.effects import CallNow, DoNot, Step
from advisor.model.names import INCIDENT_KIND
from advisor.model.outcome import Firing


class Contradiction(Exception):
    """Steps that must each come before the other; `ids` names them."""

    def __init__(self, ids: Sequence[str]) -> None:
        self.ids = ids
        super().__init__(", ".join(ids))


def in_order(steps: Iterable[tuple[Firing, Step]]) -> list[Firing]:
    """Sort firings of 'step' by their constraints; ties keep the order of the rule files. Raises
    Contradiction.
    """
    steps = list(steps)
    position: dict[str, int] = {}
    after: dict[str, set[str]] = {}
    for number, (firing, _) in enumerate(steps):
        position.setdefault(firing.rule.id, number)
    for firing, step in steps:
        mine = after.setdefault(firing.rule.id, set())
        mine |= {other for other in step.after if other in position}
        for other in step.before:
            if other in position:
                after.setdefault(other, set()).add(firing.rule.id)
    sorter, order = TopologicalSorter(after), []
    ready: list[tuple[int, str]] = []
    try:
        sorter.prepare()
    except CycleError as error:
        raise Contradiction(sorted(set(error.args[1]))) from None
    while sorter.is_active():
        for identity in sorter.get_ready():
            heapq.heappush(ready, (position[identity], identity))
        _, identity = heapq.heappop(ready)
        order.append(identity)
        sorter.done(identity)
    place = {identity: n for n, identity in enumerate(order)}
    return sorted((firing for firing, _ in steps), key=lambda f: place[f.rule.id])


def response(world: World, found: Found) -> tuple[list[Firing], list[Firing], list[Firing]]:
    """(steps, do-nots, calls) as firings; open ones are branches. Empty while it is not known what
    happened.
    """
    what = world.columns.get(INCIDENT_KIND.key, {}).get(INCIDENT_KIND.entity)
    if what is None or what & (what - 1):
        return [], [], []
    replaced = {other for _, step in given(found, Step, 2) for other in step.instead_of}
    return (
        in_order(s for s in given(found, Step) if s[0].rule.id not in replaced),
        list(found.get(DoNot.kind, ())),
        list(found.get(CallNow.kind, ())),
    )
