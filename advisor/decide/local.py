"""Local guidance under an advice: the built-in advice on the case as it was stated is laid over the
one with local guidance, and every departure is told with both sources.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from typing import TYPE_CHECKING, Any

from msgspec.structs import replace

from advisor.decide.local_choices import decided, planned_anew
from advisor.decide.local_go import go
from advisor.decide.local_kit import verdicts
from advisor.decide.local_laid import Laid
from advisor.decide.local_steps import response
from advisor.model.advice import (
    LOCAL_MARK,
    SEVERITY,
    Advice,
    Departure,
    Derivation,
    FactTold,
    LocalUsed,
    Number,
    Referral,
)
from advisor.model.base import Base
from advisor.model.calculation import Figure

if TYPE_CHECKING:
    from advisor.load.case import Case
    from advisor.load.local import Local

OTHER = "local: "  # how the ids of numbers begin that local guidance makes others


def hold(built_in: Advice, advice: Advice, local: Local, base: Base, case: Case) -> Advice:
    """The advice on a case under local guidance, with all that the built-in `base` says on it as it
    was stated kept word for word, and with what was used of local guidance.
    """
    laid = Laid(local)
    rules = {rule.id: rule for rule in (*base.rules, *local.rules)}
    no_pitch = {name: spec.get("means no pitch", "") for name, spec in base.decisions.items()}
    decisions = decided(laid, base, built_in, advice, no_pitch)
    anew = planned_anew(base, built_in, advice, no_pitch, {rule.id: rule for rule in local.rules})
    warnings = laid.over("warning", built_in.warnings, advice.warnings)
    referred = laid.over("referral", built_in.refer, advice.refer)
    held = replace(
        advice,
        facts=_facts(built_in, advice, local),
        calculations=_numbers(built_in, advice),
        decisions=decisions,
        stops=laid.over("stop", built_in.stops, advice.stops),
        first=laid.over("thing to be done first", built_in.first, (*advice.first, *anew)),
        contradictions=laid.over("contradiction", built_in.contradictions, advice.contradictions),
        requirements=laid.over("requirement", built_in.requirements, advice.requirements),
        warnings=tuple(sorted(warnings, key=lambda w: SEVERITY.index(w.severity))),
        refer=tuple(_asked(item, local) for item in referred),
        hazards=laid.hazards(built_in.hazards, advice.hazards),
        open_questions=laid.questions(built_in.open_questions, advice.open_questions),
        checks=laid.checks(built_in.checks, advice.checks),
        response=response(laid, built_in.response, advice.response, rules),
        items=verdicts(laid, built_in, advice),
        derivations=_derivations(built_in, advice),
    )
    _tell_facts(laid, case, local)
    _tell_figures(laid, local, base.figures)
    _tell_asked(laid, referred, local)
    told = (*(_told(base, row) for row in local.departures), *laid.departures)
    return replace(
        held,
        decisions={**decisions, **go(built_in, advice, held)},
        local=LocalUsed(
            title=local.title,
            issued_by=local.issuer,
            date=local.date,
            departures=told,
            built_in=built_in,
        ),
    )


def also_departs(known: Advice, ahead: Advice) -> Advice:
    """The advice with what is assumed, with every difference that local guidance makes without."""
    assert known.local and ahead.local
    departures = dict.fromkeys((*known.local.departures, *ahead.local.departures))
    return replace(ahead, local=replace(ahead.local, departures=tuple(departures)))


def _told(base: Base, row: Mapping[str, Any]) -> Departure:
    rule = next(r for r in base.rules if r.id == row["from"])
    return Departure(
        text=(
            f"Local guidance says: {row['says']} The built-in rule stays in force: {rule.title}."
        ),
        built_in=rule.id,
        sources=tuple(rule.sources),
        local=row["says"],
    )


def _asked(item: Referral, local: Local) -> Referral:
    """A referral with the name that local guidance has for whoever is to be asked, behind it."""
    name = local.ask.get(item.to)
    return replace(item, text=f"{item.text} {LOCAL_MARK}{item.to} is {name}.") if name else item


def _facts(built_in: Advice, advice: Advice, local: Local) -> tuple[FactTold, ...]:
    """The facts with those that local guidance lays down; of what the built-in rules conclude,
    with what would be concluded otherwise.
    """
    held, laid_down = {f.id: f for f in built_in.facts}, {f.key for f in local.facts.values()}
    told = dict(held)
    for fact in advice.facts:
        old = held.get(fact.id)
        if old is None and fact.concluded and (local.figures or local.facts):
            told[fact.id] = replace(fact, value=LOCAL_MARK + fact.value)  # by its own numbers
        elif old is None or f"{fact.entity}.{fact.attribute}" in laid_down:
            told[fact.id] = fact
        elif fact.value != old.value and fact.concluded:
            behind = tuple(dict.fromkeys((*old.derivations, *fact.derivations)))
            told[fact.id] = replace(old, by_local=fact.value or "not known", derivations=behind)
    return tuple(told[identity] for identity in sorted(told))


def _numbers(built_in: Advice, advice: Advice) -> tuple[Number, ...]:
    """The built-in numbers, then those that come out otherwise with local guidance."""
    known = {number.id: number.text for number in built_in.calculations}
    other = (n for n in advice.calculations if n.result and known.get(n.id) != n.text)
    return (
        *built_in.calculations,
        *(replace(n, id=OTHER + n.id, text=LOCAL_MARK + n.text) for n in other),
    )


def _tell_facts(laid: Laid, case: Case, local: Local) -> None:
    """Facts that local guidance lays down, and those of the case that stay beside them, as the
    more cautious or since no order of caution tells which is the safer.
    """
    for reference, fact in local.facts.items():
        stands, name = case.facts[reference], fact.key.replace(".", " ")
        stated = stands if stands.said_by != fact.said_by else stands.over
        if stands.value != fact.value:
            stays = stated or stands
            text = f"The fact of the case stays: {name}: {stays.text}. Local guidance has"
            laid.tell(f"{text} {fact.text}; settle which is so.", fact.key)
        elif stated is None or stated.value != fact.value:
            was = f"the case has {stated.text}" if stated else "the case does not say"
            laid.tell(f"Local guidance lays down {name}: {fact.text}; {was}.", fact.key)


def _tell_figures(laid: Laid, local: Local, figures: Mapping[str, Figure]) -> None:
    """Figures that local guidance sets otherwise."""
    for name, figure in local.figures.items():
        was = figures[name]
        if was.value != figure.value:
            text = f"Local guidance has {figure.shown} for the figure '{name}'"
            laid.tell(f"{text}; built in is {was.shown}.", name, was.sources)


def _tell_asked(laid: Laid, referred: Iterable[Referral], local: Local) -> None:
    """Whom local guidance names for those to be asked."""
    first = {item.to: item for item in reversed(tuple(referred))}
    for to, name in local.ask.items():
        if to in first:
            laid.of(f"Local guidance names, for {to}: {name}; built in names nobody.", first[to])


def _derivations(built_in: Advice, advice: Advice) -> tuple[Derivation, ...]:
    """The built-in derivations, and those of what local guidance adds, on its own numbers."""
    known = {d.id for d in built_in.derivations}
    texts = {n.id: n.text for n in built_in.calculations}
    other = {n.id for n in advice.calculations if n.result and texts.get(n.id) != n.text}
    more = (_on_own(d, other) for d in advice.derivations if d.id not in known)
    return tuple(sorted((*built_in.derivations, *more), key=lambda d: d.id))


def _on_own(derivation: Derivation, other: Collection[str]) -> Derivation:
    numbers = (OTHER + n if n in other else n for n in derivation.calculations)
    return replace(derivation, calculations=tuple(numbers))
