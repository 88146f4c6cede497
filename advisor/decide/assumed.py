"""Assumed values: told to look ahead, and not known. The rig and its numbers are those with them;
whether anything is clear, firm or fit for use is told as without them, and they are asked all the
same.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, TypeVar

from advisor.decide.derivations import fact_id
from advisor.facts.values import ASSUMED
from advisor.model.advice import CAUTIOUS, SEVERITY, Advice, Decision, Item, Question

if TYPE_CHECKING:
    from advisor.load.case import Case

FIRM = "firm"  # how standings begin that no open fact can change
I = TypeVar("I", bound="Item | Question")  # noqa: E741


def assumed(case: Case) -> tuple[str, ...]:
    """Ids of the facts of a case that are assumed."""
    return tuple(sorted(fact_id(*ref) for ref, f in case.facts.items() if f.said_by == ASSUMED))


def without_assumed(case: Case) -> Case:
    """The case without what is assumed; what is named stays named."""
    known = {ref: fact for ref, fact in case.facts.items() if fact.said_by != ASSUMED}
    return replace(case, facts=known)


def looked_ahead(known: Advice, ahead: Advice, names: tuple[str, ...]) -> Advice:
    """The advice `ahead`, with the facts called `names` taken as given, so that it is never more
    permissive than the one on what is `known`.
    """
    warnings = _both(known.warnings, ahead.warnings)
    made = replace(
        ahead,
        assumed=names,
        stops=_both(known.stops, ahead.stops),
        first=_both(known.first, ahead.first),
        contradictions=_both(known.contradictions, ahead.contradictions),
        requirements=_both(known.requirements, ahead.requirements),
        warnings=tuple(sorted(warnings, key=lambda warned: SEVERITY.index(warned.severity))),
        refer=_both(known.refer, ahead.refer),
        open_questions=_both(known.open_questions, ahead.open_questions),
        checks=_both(known.checks, ahead.checks),
        response=known.response,
        items=known.items,
        derivations=tuple(
            {d.id: d for d in (*known.derivations, *ahead.derivations)}.values(),
        ),
    )
    decisions = {
        name: _decided(known.decisions.get(name), decision, names)
        for name, decision in ahead.decisions.items()
        if name != "go"
    }
    return replace(made, decisions={**decisions, **_go(known, ahead)})


def _both(known: Sequence[I], ahead: Sequence[I]) -> tuple[I, ...]:
    """What is said on what is known, and what is said only with what is assumed."""
    told = {item.id for item in known}
    return (*known, *(item for item in ahead if item.id not in told))


def _decided(known: Decision | None, ahead: Decision, names: tuple[str, ...]) -> Decision:
    """A decision with what is assumed: firm only where it is so without, and the same."""
    if known and known.standing not in ("provisional", ahead.standing) and not _firm(known):
        return known  # stopped, or for others to decide
    if not _firm(ahead) or (known and _firm(known) and known.chosen == ahead.chosen):
        return ahead
    return replace(ahead, standing="provisional", open=tuple(dict.fromkeys((*ahead.open, *names))))


def _firm(decision: Decision) -> bool:
    return decision.standing.startswith(FIRM)


def _go(known: Advice, ahead: Advice) -> dict[str, Decision]:
    """Whether to go on: the more cautious of the two, with the reasons of both."""
    if "go" not in ahead.decisions or "go" not in known.decisions:
        return {name: d for name, d in ahead.decisions.items() if name == "go"}
    either = (known.decisions["go"], ahead.decisions["go"])
    stands = max(either, key=_caution)
    reasons = {reason.id: reason for decision in either for reason in decision.reasons}
    open_yet = dict.fromkeys(name for decision in either for name in decision.open)
    return {"go": replace(stands, reasons=tuple(reasons.values()), open=tuple(open_yet))}


def _caution(decision: Decision) -> int:
    """How cautious a 'go' is; another way than the ladder before 'not yet', a stop before all."""
    order = (*CAUTIOUS[:-1], "another way", CAUTIOUS[-1])
    choice = decision.choice if decision.choice in CAUTIOUS else "another way"
    return order.index(choice or "another way")
