"""The whole answer on a scene in a comparable form, and a base with one rule replaced."""

from __future__ import annotations

from msgspec.structs import replace

from advisor.audit.scene import CHOICE
from advisor.decide.firing import firings
from advisor.decide.options import decide_all
from advisor.decide.verdicts import verdicts
from advisor.engine.driver import evaluate


def rules_replaced(base, rule, new):
    """The base with one rule in the place of another of the same condition and place in
    the order.
    """
    return replace(base, rules=tuple(new if r is rule else r for r in base.rules))


def answer(bench, base, scene, topic):
    """What is concluded on a scene: effects, choices with their reasons, verdicts. A choice that
    the scene names is taken as made.
    """
    choices, named = (
        {},
        {
            entity[len(CHOICE) :]: name
            for (entity, _), name in scene.named.items()
            if entity.startswith(CHOICE)
        },
    )

    def decide(base_, world, instances):
        choices.update(decide_all(base_, world, instances, {topic}))
        world.choices.update(named)

    outcome = evaluate(base, [bench.plain], scene.world(bench.space), frozenset({topic}), decide)
    return summary(base, outcome, choices)


def summary(base, outcome, choices):
    """An outcome in a comparable form."""
    found = firings(base, outcome.instances)
    given = sorted(
        (
            kind,
            f.rule.id,
            tuple(f.bound.values()),
            f.truth,
            getattr(f.effect, "strength", ""),
            getattr(f.effect, "severity", ""),
        )
        for kind, group in found.items()
        for f in group
        if kind not in ("prefer", "disfavour", "rule out", "verdict", "derive")
    )
    decided = sorted(
        (
            name,
            str(c.option),
            c.equal,
            c.standing,
            tuple(f.rule.id for f in c.reasons),
            tuple((beaten.option, beaten.concern) for beaten in c.alternatives),
        )
        for name, c in choices.items()
    )
    judged = [
        (v.entity, v.part, v.verdict, v.standing, tuple(f.rule.id for f in v.reasons))
        for v in verdicts(base, outcome.world, found)
    ]
    concluded = sorted(
        (key, tuple(sorted(outcome.world.columns[key].items())))
        for key in {r.derives for r in base.rules} - {""}
    )
    return given, decided, judged, concluded
