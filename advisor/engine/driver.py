"""Runs the strata in order on one world, with every engine at hand, and refuses to go on when they
differ.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Sequence
from typing import TypeAlias

from advisor.engine.engine import Engine
from advisor.facts.vocabulary import Attribute
from advisor.facts.world import World
from advisor.faults import Disagreement
from advisor.model.base import Base
from advisor.model.outcome import Instance, Outcome, Worked
from advisor.model.ref import Ref

Decide: TypeAlias = Callable[[Base, World, Sequence[Instance]], object]


def run_stratum(
    engines: Sequence[Engine], number: int, name: str, world: World, topics: Collection[str]
) -> list[Instance]:
    """The instances of one stratum, the same from every engine; raises Disagreement otherwise."""
    first = sorted(engines[0].run(number, world, topics))
    for engine in engines[1:]:
        other = sorted(engine.run(number, world, topics))
        if other != first:
            raise Disagreement(
                name, [i for i in first if i not in other], [i for i in other if i not in first]
            )
    return [Instance(*item) for item in first]


def _with_held(fired: Sequence[Instance], held: Sequence[Instance]) -> list[Instance]:
    """Instances with those that are sure besides."""
    kept = {(item.rule, item.bound): item for item in (*fired, *held)}
    return [kept[key] for key in sorted(kept)]


def evaluate(
    base: Base,
    engines: Sequence[Engine],
    world: World,
    topics: Collection[str],
    decide: Decide,
    held: Sequence[Instance] = (),
) -> Outcome:
    """Run classify strata with their calculations, weigh, decide, arrange.

    `decide(base, world, instances)` fills world.choices; `held`: instances that are sure besides.
    """
    instances: list[Instance] = []
    worked: list[Worked] = []
    for number, (name, _) in enumerate(base.strata):
        if name == "arrange":
            decide(base, world, instances)
        fired = run_stratum(engines, number, name, world, topics)
        if name == "weigh":
            fired = _with_held(fired, held)
        instances += fired
        if name.startswith("classify"):
            conclude(base, number, world, fired)
            worked += calculate(base, number, world, topics)
    return Outcome(world, tuple(instances), tuple(worked))


def calculate(base: Base, number: int, world: World, topics: Collection[str]) -> list[Worked]:
    """Work the calculations of one stratum, for the topics at hand."""
    wanted = [
        base.calculations[i]
        for i in base.calculation_order[number]
        if base.calculations[i].about in topics
    ]
    if not wanted:
        return []
    from advisor.engine.calculate import (
        Worker,
    )  # the formulas are loaded only when there is something to work out

    worker = Worker(base, world)
    return [done for calculation in wanted for done in worker.work(calculation)]


def conclude(base: Base, number: int, world: World, fired: Iterable[Instance]) -> None:
    """Set the attributes derived in one stratum.

    When rules conclude different values the worst one stands.
    """
    by_target: dict[Ref, list[tuple[int, int]]] = {}
    for item in fired:
        rule = base.rules[item.rule]
        concluded = rule.conclusion
        target = concluded.ref.at(rule.bind(item.bound))
        by_target.setdefault(target, []).append((item.truth, concluded.value))
    for key in sorted({base.rules[i].derives for i in base.strata[number][1]}):
        attribute = base.vocabulary.by_key[key]
        world.derived(
            attribute,
            {e: combine(attribute, by_target.get(Ref(e, key), ())) for e in world.columns[key]},
        )


def combine(attribute: Attribute, concluded: Iterable[tuple[int, int]]) -> int:
    """Mask of the values a derived attribute may have, from [(truth, value index)].

    Surely concluded values set a floor of badness; possibly concluded values may lie above it;
    the value for
    'no rule concluded anything' stays possible until something is sure.
    """
    sure = [value for truth, value in concluded if truth == 2]
    floor = max((attribute.ranks[value] for value in sure), default=-1)
    mask = sum(1 << v for v in {value for _, value in concluded} if attribute.ranks[v] >= floor)
    return mask if sure else mask | 1 << attribute.otherwise
