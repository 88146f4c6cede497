"""One way through the strata, for a whole base and for a part of one: rules and calculations, then
the decisions, then the rules that look at these.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from typing import Any

from advisor.decide.options import decide_all
from advisor.engine.driver import evaluate
from advisor.facts.world import World
from advisor.model.base import Base
from advisor.model.outcome import Choice, Instance, Outcome


def run(
    base: Base,
    engines: Sequence[Any],
    world: World,
    topics: Collection[str],
    held: Sequence[Instance] = (),
) -> tuple[Outcome, dict[str, Choice]]:
    """What the strata conclude and what each decision comes to; raises Disagreement when the
    engines differ. `held`: instances that are sure besides.
    """
    choices: dict[str, Choice] = {}

    def decide(base_: Base, world_: World, instances: Iterable[Instance]) -> None:
        choices.update(decide_all(base_, world_, instances, topics))

    return evaluate(base, engines, world, topics, decide, held), choices
