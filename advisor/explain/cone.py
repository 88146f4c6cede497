"""The cone of a question (a Target of targets.py): the rules and calculations that bear on it,
compiled once and run on changed facts.

A search asks the same question of many nearly equal cases. Here nothing is rebuilt between them:
columns that no change
touches are shared.
"""

from __future__ import annotations

from advisor.decide.run import run
from advisor.engine.plain import PlainEngine
from advisor.facts.settle import settle
from advisor.facts.world import KNOWN, World
from advisor.model.behind import Behind, behind, narrowed
from advisor.model.effects import OnOption, RuleOut, Stop, Verdict


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
    """All that could bear on the target."""
    speaking = {
        n for n, rule in enumerate(base.rules) if rule.about in topics and bears(rule, target)
    }
    return behind(base, speaking, lambda calculation: calculation.about in topics)


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
        self.start = advisor.world(case)
        self.fresh = {base.rules[n].derives for n in part.rules} - {""} | {
            key for n in part.calculations for key in base.calculations[n].outputs
        }

    def run(self, changes=()):
        """(outcome, choices) as far as they bear on the question."""
        return run(self.base, (self.engine,), self._world(changes), self.topics)

    def _world(self, changes):
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
        for change in changes:
            names = isinstance(change.value, tuple) and isinstance(change.value[0], str)
            value = sum(world.bits[n] for n in change.value) if names else change.value
            world.columns[change.key] = {**world.columns[change.key], change.entity: value}
            world.states[change.fact] = KNOWN
            world.settled.pop(change.fact, None)
        settle(self.base.vocabulary, world)
        return world
