"""Response sequences: the steps whose conditions hold, in an order that keeps every 'after' and
'before'; the rest as branches.
"""

from __future__ import annotations

import heapq
from graphlib import CycleError, TopologicalSorter

from advisor.model.names import INCIDENT_KIND


class Contradiction(Exception):
    """Steps that must each come before the other; `ids` names them."""

    def __init__(self, ids):
        self.ids = ids
        super().__init__(", ".join(ids))


def in_order(steps):
    """Sort firings of 'step' by their constraints; ties keep the order of the rule files. Raises
    Contradiction.
    """
    position, after = {}, {}
    for number, firing in enumerate(steps):
        position.setdefault(firing.rule.id, number)
    for firing in steps:
        mine = after.setdefault(firing.rule.id, set())
        mine |= {other for other in firing.effect.after if other in position}
        for other in firing.effect.before:
            if other in position:
                after.setdefault(other, set()).add(firing.rule.id)
    sorter, order, ready = TopologicalSorter(after), [], []
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
    return sorted(steps, key=lambda f: place[f.rule.id])


def response(base, world, found):
    """(steps, do-nots, calls) as firings; open ones are branches. Empty while it is not known what
    happened.
    """
    what = world.columns.get(INCIDENT_KIND.key, {}).get(INCIDENT_KIND.entity)
    if what is None or what & (what - 1):
        return [], [], []
    steps = found.get("step", ())
    replaced = {other for f in steps if f.truth == 2 for other in f.effect.instead_of}
    return (
        in_order([f for f in steps if f.rule.id not in replaced]),
        list(found.get("do not", ())),
        list(found.get("call now", ())),
    )
