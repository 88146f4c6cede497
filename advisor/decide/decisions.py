"""The decisions as records of the advice: what each came to, why, and why not otherwise."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from advisor.decide.calculations import calculation_text
from advisor.decide.derivations import fact_id
from advisor.decide.firing import name_of
from advisor.decide.items import Teller
from advisor.decide.names import listed
from advisor.decide.options import of_itself
from advisor.facts.vocabulary import AT_HOME
from advisor.model.advice import (
    BLOCKING,
    CLEAR,
    CLEAR_AT_HOME,
    NOT_YET,
    STOPPED,
    Alternative,
    Check,
    Decision,
    Item,
    Question,
    Reason,
    Stop,
)
from advisor.model.base import Base
from advisor.model.effects import OnOption, Weigh
from advisor.model.outcome import Beaten, Choice, Firing, Worked


def decisions(
    teller: Teller, choices: Mapping[str, Choice], worked: Sequence[Worked]
) -> dict[str, Decision]:
    """Every decision of the topics at hand, in the order of decisions.yaml."""
    found: dict[str, Decision] = {}
    for name, spec in teller.base.decisions.items():
        if name in choices:
            found[name] = _chosen(teller, choices[name])
        elif "by" in spec:
            for done in worked:
                if done.calculation.id == spec["by"]:
                    found[name] = _worked_out(teller, done)
    return found


def _worked_out(teller: Teller, done: Worked) -> Decision:
    """A decision that a calculation makes: firm when every number it rests on is exact."""
    base, calculation = teller.base, done.calculation
    derivation = teller.derivations.calculation(done)
    open_ = tuple(sorted(fact_id(*ref) for ref in teller.unknowns.settle(done.looked_at)))
    reason = Reason(
        id=derivation,
        rule=calculation.id,
        text=calculation_text(base, teller.world, done),
        because=calculation.because,
        sources=tuple(calculation.sources),
        status=calculation.status,
        derivation=derivation,
    )
    return Decision(
        choice=" + ".join(name_of(base, n) for n in done.named) or None,
        standing="provisional" if open_ or done.low is None else "firm",
        reasons=(reason,),
        open=open_,
    )


def _chosen(teller: Teller, choice: Choice) -> Decision:
    """A decision that was made between options."""
    if choice.standing == "stop":
        reasons = tuple(_against(teller, f) for f in choice.ruled_out)
    else:
        reasons = tuple(teller.reason(f) for f in choice.reasons)
    return Decision(
        choice=teller.option(choice.option) if choice.option else None,
        equal=tuple(teller.option(o) for o in choice.equal),
        standing=choice.standing,
        reasons=reasons,
        alternatives=tuple(_lost(teller, choice.decision, b) for b in choice.alternatives),
        open=teller.open_facts(choice.open),
        of_itself=(
            of_itself(teller.base, choice.decision, choice.option)["for"]
            if choice.option and not reasons
            else ""
        ),
    )


def _against(teller: Teller, firing: Firing) -> Reason:
    """What ruled an option out, when none is left."""
    effect = firing.effect
    option = effect.of(firing.bound) if isinstance(effect, OnOption) else ""
    return teller.reason(firing, teller.option(option))


def _lost(teller: Teller, decision: str, beaten: Beaten) -> Alternative:
    return Alternative(
        option=teller.option(beaten.option),
        lost_because=_how(teller, decision, beaten),
        derivations=tuple(
            teller.derivations.of(f.instance) for f in (*beaten.against, *beaten.others)
        ),
    )


def _how(teller: Teller, decision: str, beaten: Beaten) -> str:
    """What ruled it out, or at which concern it lost by what weighed most against it there. Where
    it lost only because another is preferred, its own drawback is told: a reason for the other is
    none against it.
    """
    if not beaten.against:
        own = of_itself(teller.base, decision, beaten.option)["against"].rstrip(".")
        others = listed((teller.option(o) for o in beaten.to), "or")
        where = f" for {beaten.concern}" if beaten.concern else ""
        return f"{own}; {others} comes first{where}"
    first = max(beaten.against, key=_weight)
    out = "not yet shown to be allowed" if first.truth == 1 else "ruled out"
    return f"{beaten.concern or out}: {teller.fill(first.rule.because, first).rstrip('.')}"


def _weight(firing: Firing) -> bool:
    return isinstance(firing.effect, Weigh) and firing.effect.strength == "should"


def go(
    base: Base,
    choices: Mapping[str, Choice],
    stops: tuple[Stop, ...],
    first: tuple[Item, ...],
    questions: tuple[Question, ...],
    checks: tuple[Check, ...],
    moment: str,
) -> Decision:
    """Whether to go on, by the stops, by what is to be put right first, and by the questions that
    could each bring one. At home the checks remain; at the head none may be open.
    """
    asked = tuple(q for q in questions if q.gravity in BLOCKING)
    known = {q.fact for q in asked}
    seen = () if moment == AT_HOME else tuple(c for c in checks if c.fact not in known)
    grave: tuple[Item | Question, ...] = (*first, *asked, *seen)
    if stops:
        return Decision(choice=STOPPED, standing="stop", reasons=in_the_way(stops))
    if grave:
        blocked = (*(q.fact for q in asked), *(c.fact for c in seen))
        reasons = in_the_way(grave)
        return Decision(choice=NOT_YET, standing="provisional", reasons=reasons, open=blocked)
    clear = CLEAR_AT_HOME if moment == AT_HOME else CLEAR
    return Decision(
        choice=_elsewhere(base, choices) or clear,
        standing="provisional" if checks else "firm",
        open=tuple(check.fact for check in checks),
    )


def in_the_way(items: Sequence[Item | Question]) -> tuple[Reason, ...]:
    """What keeps a plan back, as reasons."""
    return tuple(
        Reason(id=r.id, text=r.text, because=r.because, sources=r.sources, derivation=r.derivation)
        for r in items
    )


def _elsewhere(base: Base, choices: Mapping[str, Choice]) -> str:
    """The option chosen that leaves the pitch alone; '' where none is."""
    for name, choice in choices.items():
        if choice.option and choice.option == base.decisions[name].get("means no pitch"):
            return choice.option
    return ""
