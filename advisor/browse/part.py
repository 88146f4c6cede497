"""The part of a rule base that one rule rests on: what is outside it cannot change whether the
rule fires.

A search for examples asks about one rule many times, so only the rules, calculations and
decisions behind it are run. Both
engines are built for the part; an example is told only when they agree on it.
"""

from __future__ import annotations

from advisor.decide.run import run
from advisor.engine.plain import PlainEngine
from advisor.engine.rete import ReteEngine, available
from advisor.model.behind import behind, narrowed
from advisor.model.conditions import Chosen
from advisor.model.effects import OnOption


class Part:
    """Runs what one rule rests on; `truth` is that of the rule for the entities given."""

    def __init__(self, base, rule):
        decisions = {n.decision for n in rule.condition.walk() if isinstance(n, Chosen)}
        speaking = {
            n
            for n, r in enumerate(base.rules)
            if r is rule or any(effect.decision in decisions for effect in r.gives(OnOption))
        }
        self.index, self.topics = base.rules.index(rule), frozenset({rule.about})
        self.base = narrowed(base, behind(base, speaking), decisions)
        self.plain, self._both = PlainEngine(base.rules, self.base.strata), ()

    @property
    def both(self) -> tuple:
        """Both engines, or the one there is."""
        if not self._both:
            self._both = (
                self.plain,
                *(
                    [ReteEngine(self.base.rules, self.base.strata, self.base.vocabulary)]
                    if available()
                    else ()
                ),
            )
        return self._both

    def truth(self, world, bound, engines) -> int:
        """0, 1 or 2; raises Disagreement when the engines differ."""
        outcome, _ = run(self.base, engines, world, self.topics)
        return next(
            (i.truth for i in outcome.instances if i.rule == self.index and i.bound == bound), 0
        )
