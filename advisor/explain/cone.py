"""The cone of a question (a Target of targets.py): the rules and calculations that bear on it,
compiled once and run on changed facts.

A search asks the same question of many nearly equal cases. Here nothing is rebuilt between them:
columns that no change
touches are shared.
"""

from __future__ import annotations

from advisor.decide.doubt import as_said, contradicted, doubted, grave
from advisor.decide.from_plan import with_plan
from advisor.decide.run import run
from advisor.engine.plain import PlainEngine
from advisor.explain.variants import with_changes
from advisor.facts.settle import settle
from advisor.facts.world import KNOWN, World
from advisor.model.behind import Behind, behind, narrowed
from advisor.model.effects import Contradiction, OnOption, RuleOut, Stop, Verdict


def bears(rule, target) -> bool:
    """Whether a rule speaks on the target itself."""
    match target.kind:
        case "decision":
            return any(effect.decision == target.name for effect in rule.gives(OnOption))
        case "stop":
            return rule.id == target.name and bool(rule.gives(Stop))
        case "verdict":
            return bool(rule.gives(Verdict))
        case "stops":
            return bool(rule.gives(Stop, RuleOut, Verdict))
        case "all":
            return bool(rule.gives(Stop, Verdict, OnOption))
    return False


def bearing(base, topics, target) -> Behind:
    """All that could bear on the target, also by making a fact that does doubtful."""
    speaking = {
        n for n, rule in enumerate(base.rules) if rule.about in topics and bears(rule, target)
    }

    def worked(calculation):
        return calculation.about in topics

    keys = behind(base, speaking, worked).keys
    against = {
        n
        for n, rule in enumerate(base.rules)
        if rule.about in topics
        and any(ref.key in keys for c in rule.gives(Contradiction) for ref in c.between)
    }
    return behind(base, speaking | against, worked)


class Cone:
    """Runs one question about one case under changes; `keys` are the stated attributes that bear
    on it.
    """

    def __init__(self, advisor, case, target):
        base, self.topics = advisor.base, frozenset(case.topics)
        part = bearing(base, self.topics, target)
        self.keys = {key for key in part.keys if not base.vocabulary.attribute(key).derived}
        decisions = base.decisions if target.kind in ("stops", "all") else (target.name,)
        self.base = narrowed(base, part, decisions)
        self.engine = PlainEngine(base.rules, self.base.strata)
        self.case, self.start = with_plan(base.vocabulary, case), advisor.world(case)
        taken = as_said(self.case.facts) or {}
        self.said = {
            ref: taken[ref] for ref, fact in self.case.facts.items() if fact.said is not None
        }
        self.fresh = {base.rules[n].derives for n in part.rules} - {""} | {
            key for n in part.calculations for key in base.calculations[n].outputs
        }

    def run(self, changes=()):
        """(outcome, choices) as far as they bear on the question; a second run where there is
        doubt, as for a whole case (Advisor.run).
        """
        changed = {change.fact for change in changes}
        said = [fact for ref, fact in self.said.items() if ref not in changed]
        outcome, choices = self._once(changes, said)
        against = contradicted(self.base, outcome)
        if not said and not against:
            return outcome, choices
        facts = with_changes(self.case, self.base, changes).facts
        spoken = {ref: facts[ref] for ref in against if ref in facts}
        doubts = doubted(self.base.vocabulary, spoken, against).values()
        return self._once(changes, doubts, grave(self.base, outcome.instances))

    def _once(self, changes, facts, held=()):
        world = self._world(changes, facts)
        return run(self.base, (self.engine,), world, self.topics, held)

    def _world(self, changes, facts=()):
        """The world as changed; `facts` stand instead of what is there."""
        world = World.__new__(World)
        world.kinds, world.bits, world.choices, world.states = (
            self.start.kinds,
            self.start.bits,
            {},
            self.start.states,
        )
        world.columns, world.settled = dict(self.start.columns), dict(self.start.settled)
        for key in self.fresh:
            world.columns[key] = dict(world.columns[key])
        world.states = dict(world.states)
        for ref, value, state in (
            *((c.fact, c.value, KNOWN) for c in changes),
            *(((f.entity, f.key), f.value, f.state) for f in facts),
        ):
            names = isinstance(value, tuple) and isinstance(value[0], str)
            value = sum(world.bits[n] for n in value) if names else value
            entity, key = ref
            world.columns[key] = {**world.columns[key], entity: value}
            world.states[ref] = state
            world.settled.pop(ref, None)
        settle(self.base.vocabulary, world)
        return world
