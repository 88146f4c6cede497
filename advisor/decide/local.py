"""Local guidance over an advice: built-in musts that it would drop stay in force, and every
departure is shown with both sources.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any, TypeVar

from advisor.decide.verdicts import VERDICTS
from advisor.facts.vocabulary import AT_HOME
from advisor.load.local import more_cautious
from advisor.model.advice import (
    NOT_YET,
    STOPPED,
    Advice,
    Departure,
    Derivation,
    Item,
    KitVerdict,
    LocalUsed,
    Referral,
)
from advisor.model.base import Base

if TYPE_CHECKING:
    from advisor.load.case import Case
    from advisor.load.local import Local

I = TypeVar("I", bound=Item)  # noqa: E741


def hold(built_in: Advice, advice: Advice, local: Local, base: Base, case: Case) -> Advice:
    """The advice under local guidance, with every stop, must and verdict of the built-in base
    kept, and with what was used of it.
    """
    stops = _dropped(built_in.stops, advice.stops)
    firsts = _dropped(built_in.first, advice.first)
    contradictions = _dropped(built_in.contradictions, advice.contradictions)
    checks = _dropped(built_in.checks, advice.checks)
    musts = _dropped(built_in.must("must"), advice.requirements)
    departures = (
        *(_told(base, row) for row in local.departures),
        *(_stays(f"The built-in stop stays: {s.text}", s.rule, s.sources, local) for s in stops),
        *(
            _stays(f"To be done first, as built in: {f.text}", f.rule, f.sources, local)
            for f in firsts
        ),
        *(_stays(f"The built-in must stays: {m.text}", m.rule, m.sources, local) for m in musts),
        *_milder(built_in, advice, local),
        *_facts(case, local, base),
    )
    stops, decisions = (*advice.stops, *stops), dict(advice.decisions)
    if stops and "go" in decisions:
        decisions["go"] = replace(decisions["go"], choice=STOPPED, standing="stop", open=())
    elif "go" in decisions and (firsts or contradictions or (checks and advice.moment != AT_HOME)):
        decisions["go"] = replace(decisions["go"], choice=NOT_YET, standing="provisional")
    return replace(
        advice,
        stops=stops,
        first=(*advice.first, *firsts),
        contradictions=(*advice.contradictions, *contradictions),
        decisions=decisions,
        checks=(*advice.checks, *checks),
        requirements=(*advice.requirements, *musts),
        items=_verdicts(built_in, advice),
        refer=tuple(_asked(item, local) for item in advice.refer),
        derivations=_derivations(built_in, advice),
        local=LocalUsed(
            title=local.title, issued_by=local.issuer, date=local.date, departures=departures
        ),
    )


def _dropped(held: Sequence[I], kept: Sequence[I]) -> tuple[I, ...]:
    """What is built in and no longer there."""
    known = {item.id for item in kept}
    return tuple(item for item in held if item.id not in known)


def _stays(text: str, rule: str, sources: Iterable[str], local: Local) -> Departure:
    return Departure(text=text, built_in=rule, sources=tuple(sources), local=local.title)


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
    """A referral to the person whom local guidance names for it."""
    name = local.ask.get(item.to)
    return (
        replace(item, text=item.text.replace(f"Ask {item.to}", f"Ask {name}", 1)) if name else item
    )


def _facts(case: Case, local: Local, base: Base) -> Iterator[Departure]:
    """Facts of the case that stay beside other ones of local guidance, since no order of caution
    tells which is the safer.
    """
    for reference, fact in local.facts.items():
        held, attribute = case.facts[reference], base.vocabulary.by_key[fact.key]
        if held.value != fact.value and not more_cautious(attribute, held.value, fact.value):
            yield _stays(
                f"The fact of the case stays: {fact.key.replace('.', ' ')}: {held.text}. Local"
                f" guidance has {fact.text}; settle which is so.",
                f"{fact.entity}.{attribute.name}",
                (),
                local,
            )


def _worse(held: Mapping[str, KitVerdict], item: KitVerdict) -> KitVerdict | None:
    """The built-in verdict on the same thing, where it is worse."""
    first = held.get(item.id)
    worse = first and VERDICTS.index(first.verdict) > VERDICTS.index(item.verdict)
    return first if worse else None


def _verdicts(built_in: Advice, advice: Advice) -> tuple[KitVerdict, ...]:
    held = {item.id: item for item in built_in.items}
    return tuple(_worse(held, item) or item for item in advice.items)


def _milder(built_in: Advice, advice: Advice, local: Local) -> Iterator[Departure]:
    """A departure for every verdict that local guidance would make milder."""
    held = {item.id: item for item in built_in.items}
    for first in filter(None, (_worse(held, item) for item in advice.items)):
        yield _stays(
            f"The built-in verdict stays: {first.item}: {first.verdict}",
            first.reasons[0].rule if first.reasons else "",
            sorted({s for r in first.reasons for s in r.sources}),
            local,
        )


def _derivations(built_in: Advice, advice: Advice) -> tuple[Derivation, ...]:
    """Derivations of what was kept come along."""
    known = {d.id for d in advice.derivations}
    added = (d for d in built_in.derivations if d.id not in known)
    return tuple(sorted((*advice.derivations, *added), key=lambda d: d.id))
