"""Runs the strata in order on one world, with every engine at hand, and refuses to go on when they
differ.
"""

from __future__ import annotations

from advisor.faults import Disagreement
from advisor.model.outcome import Instance, Outcome


def run_stratum(engines, number, name, world, topics):
    """The instances of one stratum, the same from every engine; raises Disagreement otherwise."""
    first = sorted(engines[0].run(number, world, topics))
    for engine in engines[1:]:
        other = sorted(engine.run(number, world, topics))
        if other != first:
            raise Disagreement(
                name, [i for i in first if i not in other], [i for i in other if i not in first]
            )
    return [Instance(*item) for item in first]


def evaluate(base, engines, world, topics, decide, held=()) -> Outcome:
    """Run classify strata with their calculations, weigh, decide, arrange.

    `decide(base, world, instances)` fills world.choices; `held`: instances that are sure besides.
    """
    instances, worked = [], []
    for number, (name, _) in enumerate(base.strata):
        if name == "arrange":
            decide(base, world, instances)
        fired = run_stratum(engines, number, name, world, topics)
        if name == "weigh":
            fired = with_held(fired, held)
        instances += fired
        if name.startswith("classify"):
            conclude(base, number, world, fired)
            worked += calculate(base, number, world, topics)
    return Outcome(world, tuple(instances), tuple(worked))


def with_held(fired, held) -> list:
    """Instances with those that are sure besides."""
    kept = {(item.rule, item.bound): item for item in fired}
    kept.update({(item.rule, item.bound): item for item in held})
    return [kept[key] for key in sorted(kept)]


def calculate(base, number, world, topics):
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


def conclude(base, number, world, fired):
    """Set the attributes derived in one stratum.

    When rules conclude different values the worst one stands.
    """
    by_target = {}
    for item in fired:
        rule = base.rules[item.rule]
        concluded = rule.conclusion
        target = concluded.ref.at(rule.bind(item.bound))
        by_target.setdefault(target, []).append((item.truth, concluded.value))
    for key in sorted({base.rules[i].derives for i in base.strata[number][1]}):
        attribute = base.vocabulary.attribute(key)
        world.derived(
            attribute,
            {e: combine(attribute, by_target.get((e, key), ())) for e in world.columns[key]},
        )


def combine(attribute, concluded) -> int:
    """Mask of the values a derived attribute may have, from [(truth, value index)].

    Surely concluded values set a floor of badness; possibly concluded values may lie above it;
    the value for
    'no rule concluded anything' stays possible until something is sure.
    """
    sure = [value for truth, value in concluded if truth == 2]
    floor = max((attribute.ranks[value] for value in sure), default=-1)
    mask = sum(1 << v for v in {value for _, value in concluded} if attribute.ranks[v] >= floor)
    return mask if sure else mask | 1 << attribute.otherwise
