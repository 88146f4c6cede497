"""What of a world is as it was when last looked at, so that what rests on it need not be judged
again.
"""

from __future__ import annotations

from collections.abc import Mapping

from advisor.facts.vocabulary import Value
from advisor.facts.world import World
from advisor.model.conditions import Chosen, Condition


def looked_at(condition: Condition) -> frozenset[str]:
    """All that the truth of a condition can turn on, beside which things there are: keys of
    attributes, and decisions.
    """
    chosen = {_choice(node.decision) for node in condition.walk() if isinstance(node, Chosen)}
    return frozenset({ref.key for ref in condition.references()} | chosen)


class LastWorld:
    """The world that was last looked at, as it was then: worlds go on being filled."""

    def __init__(self) -> None:
        self.kinds: Mapping[str, tuple[str, ...]] = {}
        self.columns: dict[str, Mapping[str, Value]] = {}
        self.states: dict[tuple[str, str], int] = {}
        self.choices: dict[str, str | None] = {}

    def changed(self, world: World) -> set[str] | None:
        """What is otherwise than in the last world, named as in `looked_at`; None where there are
        other things. The world becomes the last one.
        """
        same_things = self.kinds == world.kinds
        found = {key for key, column in world.columns.items() if self.columns.get(key) != column}
        found |= {key for (_, key), _ in self.states.items() ^ world.states.items()}
        found |= {_choice(name) for name, _ in self.choices.items() ^ world.choices.items()}
        self.kinds, self.states, self.choices = world.kinds, {**world.states}, {**world.choices}
        self.columns.update((key, {**world.columns[key]}) for key in found & world.columns.keys())
        return found if same_things else None


def _choice(decision: str) -> str:
    return f"choice of {decision}"
