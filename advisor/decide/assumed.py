"""Assumed values: told to look ahead, and not known. The rig and its numbers are those with them;
whether anything is clear, firm or fit for use is told as without them, and they are asked all the
same.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, TypeVar

from msgspec.structs import replace

from advisor.decide.derivations import fact_id
from advisor.decide.local_choices import STANDINGS
from advisor.decide.local_go import more_cautious, standing_of
from advisor.decide.local_laid import OF_CHECKS
from advisor.decide.questions import GRAVITY
from advisor.facts.values import ASSUMED
from advisor.model.advice import (
    SEVERITY,
    Advice,
    Check,
    Decision,
    Derivation,
    FactTold,
    Item,
    Number,
    Question,
)

if TYPE_CHECKING:
    from advisor.load.case import Case

FIRM = "firm"  # how standings begin that no open fact can change
AS_KNOWN = "assumption"  # who says what is taken as known, to tell what it would come to
I = TypeVar("I", bound="Item | Question | Number | Derivation")  # noqa: E741


def assumed(case: Case) -> dict[str, str]:
    """{fact: its value in words} of what a case, as it was stated, assumes."""
    told = {fact_id(*ref): f.text for ref, f in case.facts.items() if f.said_by == ASSUMED}
    return dict(sorted(told.items()))


def without_assumed(case: Case) -> Case:
    """The case without what is assumed, and without the things that are named only by that."""
    known = {ref: fact for ref, fact in case.facts.items() if fact.said_by != ASSUMED}
    of_values = {
        name
        for fact in known.values()
        if isinstance(fact.value, tuple)
        for name in fact.value
        if isinstance(name, str)
    }
    stay = {entity for entity, _ in known} | of_values | case.named
    only_ahead = {entity for entity, _ in case.facts} - stay
    names = {kind: ids - only_ahead for kind, ids in case.names.items()}
    return replace(case, facts=known, names={kind: ids for kind, ids in names.items() if ids})


def taken_as_known(case: Case) -> Case:
    """The case with what is assumed as if it were given; only for what tells so."""
    facts = {
        ref: f._replace(said_by=AS_KNOWN) if f.said_by == ASSUMED else f
        for ref, f in case.facts.items()
    }
    return replace(case, facts=facts)


def looked_ahead(known: Advice, ahead: Advice, told: Mapping[str, str]) -> Advice:
    """The advice `ahead`, with the facts `told` taken as given, so that it is never more
    permissive than the one on what is `known`.
    """
    warnings = _both(known.warnings, ahead.warnings)
    made = replace(
        ahead,
        assumed=tuple(told),
        facts=tuple(_as_assumed(ahead.facts, told)),
        calculations=_both(ahead.calculations, known.calculations),
        stops=_both(known.stops, ahead.stops),
        first=_both(known.first, ahead.first),
        contradictions=_both(known.contradictions, ahead.contradictions),
        requirements=_both(known.requirements, ahead.requirements),
        warnings=tuple(sorted(warnings, key=lambda warned: SEVERITY.index(warned.severity))),
        hazards=_both(known.hazards, ahead.hazards),
        refer=_both(known.refer, ahead.refer),
        open_questions=_questions(known.open_questions, ahead.open_questions),
        checks=_checks(known.checks, ahead.checks),
        # Where only what is assumed has happened nothing else says what to do then.
        response=known.response or ahead.response,
        items=known.items,
        derivations=_derivations(known, ahead),
    )
    decisions = {
        name: _decided(known.decisions.get(name), decision, tuple(told))
        for name, decision in {**known.decisions, **ahead.decisions}.items()
        if name != "go"
    }
    made = replace(made, decisions=decisions)
    return replace(made, decisions={**decisions, **_go(known, ahead, made)})


def _both(first: Sequence[I], second: Sequence[I]) -> tuple[I, ...]:
    """What is said in the first, and what is said only in the second."""
    told = {item.id for item in first}
    return (*first, *(item for item in second if item.id not in told))


def _derivations(known: Advice, ahead: Advice) -> tuple[Derivation, ...]:
    """Those of facts and numbers as ahead, where these come from; of the rest those of what is
    known, so that a rule which holds only with what is assumed is told as one that may.
    """
    own = {
        *(i for f in ahead.facts for i in f.derivations),
        *(n.derivation for n in ahead.calculations),
    }
    behind = [d for d in ahead.derivations if d.id in own]
    every = _both(behind, _both(known.derivations, ahead.derivations))
    return tuple(sorted(every, key=lambda derivation: derivation.id))


def _as_assumed(facts: Iterable[FactTold], told: Mapping[str, str]) -> Iterable[FactTold]:
    """The facts, the assumed ones as they were said: local guidance may have laid its own there."""
    for fact in facts:
        text = told.get(fact.id)
        yield fact if text is None else replace(fact, value=text, said_by=ASSUMED)


def _questions(known: Sequence[Question], ahead: Sequence[Question]) -> tuple[Question, ...]:
    """Each question on what is known, as grave as in the graver of the two; and what is asked only
    ahead.
    """
    others = {question.id: question for question in ahead}
    stand = [_graver(q, others.get(q.id, q)) for q in known]
    return tuple(sorted(_both(stand, ahead), key=lambda q: GRAVITY.index(q.gravity)))


def _graver(known: Question, ahead: Question) -> Question:
    if GRAVITY.index(ahead.gravity) >= GRAVITY.index(known.gravity):
        return known
    could = tuple(dict.fromkeys((*ahead.could, *known.could)))
    return replace(ahead, could=could, rules=tuple(sorted({*known.rules, *ahead.rules})))


def _checks(known: Sequence[Check], ahead: Sequence[Check]) -> tuple[Check, ...]:
    """Each check on what is known, the graver of the two; and what is checked only ahead."""
    others = {check.id: check for check in ahead}
    stand = [min(c, others.get(c.id, c), key=lambda c: OF_CHECKS.index(c.gravity)) for c in known]
    return _both(stand, ahead)


def _decided(known: Decision | None, ahead: Decision, names: tuple[str, ...]) -> Decision:
    """A decision with what is assumed: firm only where it is so without, and the same; of two that
    are stopped or for others to decide the more cautious.
    """
    if known and not _firm(known) and known.standing != "provisional":
        return max(known, ahead, key=_caution)
    if not _firm(ahead):
        return ahead
    if known and _firm(known) and set(known.chosen) == set(ahead.chosen):
        return max(known, ahead, key=_caution)
    return replace(ahead, standing="provisional", open=tuple(dict.fromkeys((*ahead.open, *names))))


def _caution(decision: Decision) -> int:
    return STANDINGS.index(decision.standing)


def _firm(decision: Decision) -> bool:
    return decision.standing.startswith(FIRM)


def _go(known: Advice, ahead: Advice, made: Advice) -> dict[str, Decision]:
    """Whether to go on, with all that stands in the way of either: 'go' of what is known, or more
    cautious.
    """
    old, new = known.decisions.get("go"), ahead.decisions.get("go")
    if old is None or new is None:
        return {"go": decision for decision in (old, new) if decision}
    stands = more_cautious(old.choice or "", new.choice or "", made)
    alike = [decision for decision in (old, new) if decision.choice == stands]
    before, after = (new, old) if alike == [new] else (old, new)
    reasons = {reason.id: reason for reason in (*before.reasons, *after.reasons)}
    return {
        "go": replace(
            before,
            choice=stands,
            standing=max((d.standing for d in alike), key=STANDINGS.index)
            if alike
            else standing_of(stands),
            reasons=tuple(reasons.values()),
            open=tuple(dict.fromkeys((*old.open, *new.open))),
        )
    }
