"""What an engine is to the driver: it says which rules of a stratum fired."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import Protocol, TypeAlias

from advisor.facts.world import World

# (index of the rule, entities bound, truth, facts looked at): what Instance names, bare, since both
# engines make them by the thousand and they are compared as they are.
Fired: TypeAlias = tuple[int, tuple[str, ...], int, tuple[tuple[str, str], ...]]


class Engine(Protocol):
    """Either engine."""

    @property
    def name(self) -> str: ...

    def run(self, number: int, world: World, topics: Collection[str]) -> Sequence[Fired]:
        """The fired instances of one stratum (by its number), in a fixed order."""
