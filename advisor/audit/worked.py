"""The worked cases as judges of a mutant: does what a case expects still come out?"""

from __future__ import annotations

from itertools import permutations

from advisor.audit.answer import rules_replaced
from advisor.decide.firing import firings
from advisor.decide.options import decide_all
from advisor.decide.run import run
from advisor.decide.sequence import Contradiction, response
from advisor.decide.verdicts import item_id, verdicts
from advisor.engine.truth import everything, truth_alone
from advisor.facts.settle import settle
from advisor.facts.world import World
from advisor.load.case import read_case
from advisor.load.folder import files_of, find_folder
from advisor.model.outcome import Instance, Outcome

LISTS = {"requires": "require", "warns": "warn", "refers": "refer"}
TOLD = ("step", "do not", "call now")


class WorkedCase:
    """One case with its finished world and instances."""

    def __init__(self, bench, case):
        self.bench, self.case, self.topics = bench, case, frozenset(case.topics)
        self.outcome, self.choices = self._run(bench.base)
        self.expected = self.kept(bench.base, self.outcome, self.choices)

    def _run(self, base):
        world = World(base.vocabulary, self.case.names)
        for fact in self.case.facts.values():
            world.state(fact)
        settle(base.vocabulary, world)
        return run(base, [self.bench.plain], world, self.topics)

    def notices(self, rule, mutated) -> bool:
        """Whether what the case expects no longer comes out with a mutant.

        Facts concluded with a changed condition are not worked again.
        """
        if rule.about not in self.topics or rule.derives and rule.condition != mutated.condition:
            return False
        base = rules_replaced(self.bench.base, rule, mutated)
        if rule.derives:
            outcome, choices = self._run(base)
        else:
            instances = self._instances(base, rule, mutated)
            if instances is None:
                return False
            outcome, choices = (
                Outcome(self.outcome.world, instances, self.outcome.worked),
                decide_all(base, self.outcome.world, instances, self.topics),
            )
        try:
            return self.kept(base, outcome, choices) != self.expected
        except Contradiction:
            return True

    def _instances(self, base, rule, mutated):
        """The case's instances with the mutant's own; None when they are the same and no effect
        was changed.
        """
        index = self.bench.base.rules.index(rule)
        kept = [i for i in self.outcome.instances if i.rule != index]
        old = sorted((i.bound, i.truth) for i in self.outcome.instances if i.rule == index)
        mine = list(self._firing(index, mutated))
        if old == sorted((i.bound, i.truth) for i in mine) and (
            rule.effects == mutated.effects or not old
        ):
            return None
        return tuple(kept + mine)

    def _firing(self, index, rule):
        world = self.outcome.world
        there = [e for kind in {k for _, k in rule.variables} for e in world.kinds[kind]]
        for chosen in permutations(there, len(rule.variables)):
            bound = dict(zip((v for v, _ in rule.variables), chosen))
            if all(e in world.kinds[kind] for e, (_, kind) in zip(chosen, rule.variables)):
                truth = truth_alone(rule.condition, bound, world)
                if truth:
                    yield Instance(
                        index,
                        chosen,
                        truth,
                        tuple(sorted(everything(rule.condition, bound, world))),
                    )

    def kept(self, base, outcome, choices):
        """What the case expects, as it comes out."""
        expect, found = self.case.expect, firings(base, outcome.instances)
        sure = {kind: {f.rule.id for f in group if f.truth == 2} for kind, group in found.items()}
        result = [
            sorted(sure.get("stop", ()))
            + sorted(n for n, c in choices.items() if c.standing == "stop")
        ]
        result += [
            sorted(set(expect.get(name, ())) & sure.get(kind, set()))
            for name, kind in LISTS.items()
        ]
        result += [
            sorted(
                (n, str(c.option), c.standing)
                for n, c in choices.items()
                if n in expect.get("decisions", ())
            )
        ]
        judged = {
            name: v.verdict
            for v in verdicts(base, outcome.world, found)
            for name in (item_id(v), item_id(v).removeprefix("kit "))
        }
        result += [sorted((item, judged.get(item, "")) for item in expect.get("items", ()))]
        told = set[str]().union(*(sure.get(kind, set()) for kind in TOLD))
        result += [sorted(set(expect.get("response", ())) & told)]
        steps = response(base, outcome.world, found).get("steps", ()) if "steps" in expect else ()
        return result + [[f.rule.id for f in steps if f.truth == 2]]


def worked_cases(bench, folder=None) -> list:
    """Every case that comes with the program, worked once."""
    return [
        WorkedCase(bench, read_case(path, bench.base))
        for path in files_of(folder or find_folder("cases"))
    ]
