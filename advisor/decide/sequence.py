"""Response sequences: the steps whose conditions hold, in an order that keeps every 'after' and
'before'; the rest as branches. Of two troubles at once both are seen to, the graver first.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Sequence
from graphlib import CycleError, TopologicalSorter

from advisor.decide.firing import Found, given
from advisor.facts.world import World
from advisor.model.base import Base
from advisor.model.conditions import InValues
from advisor.model.effects import CallNow, DoNot, Say, Step
from advisor.model.names import INCIDENT_KIND
from advisor.model.outcome import Firing
from advisor.model.ref import Ref
from advisor.model.rule import Rule

PHASES = ("at once", "then", "", "when over")


class Contradiction(Exception):
    """Steps that must each come before the other; `ids` names them."""

    def __init__(self, ids: Sequence[str]) -> None:
        self.ids = ids
        super().__init__(", ".join(ids))


def in_order(steps: Iterable[tuple[Firing, Step]], gravest: Sequence[int] = ()) -> list[Firing]:
    """Sort firings of 'step' by their constraints; ties by phase, then by the trouble they are
    for, the graver first (`gravest`: bits of its kinds in that order), then in the order of the
    rule files. Raises Contradiction.
    """
    steps = list(steps)
    position: dict[str, tuple[int, int, int]] = {}
    after: dict[str, set[str]] = {}
    for number, (firing, step) in enumerate(steps):
        place = (PHASES.index(step.phase), _rank(firing.rule, gravest), number)
        position.setdefault(firing.rule.id, place)
    for firing, step in steps:
        mine = after.setdefault(firing.rule.id, set())
        mine |= {other for other in step.after if other in position}
        for other in step.before:
            if other in position:
                after.setdefault(other, set()).add(firing.rule.id)
    sorter, order = TopologicalSorter(after), []
    ready: list[tuple[tuple[int, int, int], str]] = []
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
    rank = {identity: n for n, identity in enumerate(order)}
    return sorted((firing for firing, _ in steps), key=lambda f: rank[f.rule.id])


def _rank(rule: Rule, gravest: Sequence[int]) -> int:
    """Which of the troubles a rule is for; a rule for any trouble stands with the gravest."""
    nodes = (n for n in rule.condition.walk() if isinstance(n, InValues))
    mask = next((n.mask for n in nodes if n.ref == INCIDENT_KIND), None)
    return next((n for n, bit in enumerate(gravest) if mask is None or mask & bit), 0)


def _bits(base: Base, world: World) -> list[int]:
    """The bits of what has happened, the gravest first; empty while that is not known."""
    attribute = base.vocabulary.attribute(INCIDENT_KIND.key)
    if attribute is None or _several(world.columns[INCIDENT_KIND.key][INCIDENT_KIND.entity]):
        return []
    bits = [world.columns[INCIDENT_KIND.key][INCIDENT_KIND.entity]]
    second = Ref(INCIDENT_KIND.entity, f"{INCIDENT_KIND.entity}.{attribute.second}")
    if second in world.states:
        value = world.columns[second.key][second.entity]
        bits += [] if _several(value) or value in bits else [value]
    names = attribute.gravest or attribute.values
    return sorted(bits, key=lambda b: names.index(attribute.values[b.bit_length() - 1]))


def _several(mask: int) -> bool:
    return bool(mask & (mask - 1))


def happening(base: Base, world: World) -> list[str]:
    """What has happened, in words, the gravest first."""
    values = base.vocabulary.by_key[INCIDENT_KIND.key].values
    return [values[bit.bit_length() - 1] for bit in _bits(base, world)]


def response(base: Base, world: World, found: Found) -> dict[str, list[Firing]]:
    """{part: firings} of 'call_now', 'say', 'do_not' and 'steps'; open ones are branches. Empty
    while it is not known what happened.
    """
    bits = _bits(base, world)
    if not bits:
        return {}
    replaced = {other for _, step in given(found, Step, 2) for other in step.instead_of}
    steps = (s for s in given(found, Step) if s[0].rule.id not in replaced)
    parts = {
        part: sorted(found.get(form.kind, ()), key=lambda f: _rank(f.rule, bits))
        for part, form in (("call_now", CallNow), ("say", Say), ("do_not", DoNot))
    }
    return {**parts, "steps": in_order(steps, bits)}
