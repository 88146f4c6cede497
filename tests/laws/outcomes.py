"""What a case came to, in the form the laws compare: by rule, the entities it speaks of and how
sure it is.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, cached_property

from facts_strategy import advisor

from advisor.decide.derivations import Derivations
from advisor.decide.firing import Unknowns, firings
from advisor.decide.questions import Open, noted, question_list
from advisor.decide.verdicts import VERDICTS, out_of_use, verdicts
from advisor.model.advice import BLOCKING
from advisor.model.conditions import looks_at_choice


@dataclass
class Result:
    """sure, open: {(effect kind, rule id, entities, strength)}; verdicts: {(item, part): grade};
    choices by decision.
    """

    sure: frozenset
    open: frozenset
    verdicts: dict
    choices: dict
    parts: tuple

    @property
    def stops(self):
        judged = self.parts[2]
        return (
            {s for s in self.sure if s[0] == "stop"}
            | {
                ("stop", f"no option left: {n}", ())
                for n, c in self.choices.items()
                if c.standing == "stop"
            }
            | {("stop", "out of use", (v.entity,)) for v in out_of_use(advisor().base, judged)}
        )

    def lost_stops(self, after) -> set:
        """Stops that stand here and not in another result; an item stays out of use when a rule's
        own stop speaks of it instead.
        """
        return {
            s
            for s in self.stops - after.stops
            if s[1] != "out of use" or not any(s[2][0] in other[2] for other in after.stops)
        }

    @cached_property
    def blocked(self) -> bool:
        """Whether an open question of gravity 'stop' keeps the advice from permitting."""
        outcome, found, judged = self.parts
        base = advisor().base
        left = Open(
            base,
            outcome.world,
            found,
            self.choices,
            judged,
            Unknowns(base, outcome),
            lambda firing: firing.effect.text,
            plan=False,
            named=frozenset(),
        )
        asked = question_list(left, noted(left), Derivations(base, outcome))
        return any(q.gravity in BLOCKING for q in asked)


@cache
def rests_on_calculation() -> frozenset:
    """Ids of the rules that look, themselves or through derived facts, at something that a
    calculation gives.
    """
    base = advisor().base
    given, rules = {key for calculation in base.calculations for key in calculation.outputs}, set()
    while True:
        more = {
            r.id for r in base.rules if any(ref.key in given for ref in r.condition.references())
        }
        given |= {r.derives for r in base.rules if r.id in more and r.derives}
        if more == rules:
            return frozenset(rules)
        rules = more


def grade(effect) -> str:
    """The strength or severity an effect carries."""
    return getattr(effect, "strength", "") or getattr(effect, "severity", "")


def result(case) -> Result:
    """Run the compiled engine alone."""
    program = advisor()
    outcome, choices = program.run(case, [program.plain])
    found = firings(program.base, outcome.instances)
    sure, open_ = (
        frozenset(
            (kind, f.rule.id, tuple(f.bound.values()), grade(f.effect))
            for kind in ("stop", "first", "require", "warn")
            for f in found.get(kind, ())
            if f.truth == truth and not looks_at_choice(f.rule.condition)
        )
        for truth in (2, 1)
    )
    judged = verdicts(program.base, outcome.world, found)
    return Result(
        sure,
        open_,
        {(v.entity, v.part): VERDICTS.index(v.verdict) for v in judged},
        choices,
        (outcome, found, judged),
    )
