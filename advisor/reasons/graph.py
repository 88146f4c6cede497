"""The reasons of one decision rule by rule, for a graph: each rule once, with the facts it looks
at.
"""

from __future__ import annotations

from msgspec import Struct

from advisor.model.advice import Decision
from advisor.reasons.tree import Applied, Fact, Tree


class Group(Struct, frozen=True):
    """One rule or calculation, as often as it was applied; `against`: it speaks only against
    options.
    """

    applied: tuple[Applied, ...]
    against: bool

    @property
    def facts(self) -> tuple[Fact, ...]:
        """All facts it looked at, each once."""
        return tuple({fact.id: fact for one in self.applied for fact in one.facts}.values())


def groups_of(tree: Tree, decision: Decision) -> tuple[Group, ...]:
    """What chose first, then what ruled out or beat other options."""
    chose = {reason.derivation for reason in decision.reasons}
    grouped: dict[str, list[Applied]] = {}
    for applied in map(tree.of, decision.behind):
        grouped.setdefault(applied.rule.id if applied.rule else applied.id, []).append(applied)
    return tuple(
        Group(tuple(group), chose.isdisjoint(one.id for one in group)) for group in grouped.values()
    )
