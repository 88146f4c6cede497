"""How each control of a hazard stands, from the rules' own truth: broken by a rule that holds, met
by the facts that show it in place, not known, or asked for each time and so to be done.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable

from advisor.decide.derivations import fact_id
from advisor.decide.firing import Unknowns, name_of
from advisor.engine.truth import judge
from advisor.model import effects
from advisor.model.advice import Control
from advisor.model.base import Base
from advisor.model.outcome import Instance, Outcome
from advisor.model.ref import Ref

BROKEN, UNKNOWN, MET = "broken", "not known", "met"
TO_DO, REHEARSE, NOT_ASKED = "to do", "rehearse", "not asked for"


class Controls:
    """Tells the standing of the controls of one evaluated case."""

    def __init__(
        self, base: Base, outcome: Outcome, topics: Collection[str], unknowns: Unknowns
    ) -> None:
        self.base, self.world, self.unknowns = base, outcome.world, unknowns
        self.about = {rule.id: rule.about for rule in base.rules}
        self.topics = topics
        self.instances: dict[str, list[Instance]] = {}
        for item in outcome.instances:
            self.instances.setdefault(base.rules[item.rule].id, []).append(item)

    def told(self, controls: Iterable[effects.Control]) -> tuple[Control, ...]:
        """The controls of a hazard, each with its standing."""
        return tuple(self._one(control) for control in controls)

    def _one(self, control: effects.Control) -> Control:
        standing, facts = (
            (self._asked(control), set()) if control.asked_by else self._guarded(control)
        )
        ordered = self._nearest_first(control, facts)
        asked = ordered if standing == UNKNOWN else ()
        return Control(
            rule=control.rules[0],
            title=control.do,
            standing=standing,
            rules=control.rules,
            facts=tuple(fact_id(*fact) for fact in ordered),
            ask=tuple(self._question(fact) for fact in asked),
        )

    def _asked(self, control: effects.Control) -> str:
        """To be done whatever the facts; of an incident that has not happened, to be rehearsed."""
        if any(self.about[rule] not in self.topics for rule in control.rules):
            return REHEARSE
        return TO_DO if any(self.instances.get(rule) for rule in control.rules) else NOT_ASKED

    def _guarded(self, control: effects.Control) -> tuple[str, set[Ref]]:
        """The standing of what rules break or facts meet, and the facts it rests on."""
        found = [i for rule in control.broken_by for i in self.instances.get(rule, ())]
        broken = [i for i in found if i.truth == 2]
        if broken:
            return BROKEN, {Ref(*ref) for i in broken for ref in i.looked_at}
        if found:
            return UNKNOWN, {ref for i in found for ref in self.unknowns.behind(i)}
        if control.met is None:
            return NOT_ASKED, set()
        truth, looked = judge(control.met, {}, self.world)
        if truth == 1:
            return UNKNOWN, self.unknowns.settle(looked)
        return (MET, looked) if truth == 2 else (NOT_ASKED, set())

    def _nearest_first(self, control: effects.Control, facts: set[Ref]) -> list[Ref]:
        """Facts in their order, those first that the control itself asks for."""
        if len(facts) < 2:
            return list(facts)
        own = judge(control.met, {}, self.world)[1] if control.met is not None else set()
        return sorted(facts, key=lambda ref: (ref not in own, fact_id(*ref)))

    def _question(self, ref: Ref) -> str:
        asks = self.base.vocabulary.by_key[ref.key].asks
        return asks.replace("{it}", name_of(self.base, ref.entity))
