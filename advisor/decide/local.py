"""Local guidance over an advice: built-in musts that it would drop stay in force, and every
departure is shown with both sources.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any, TypeVar

from advisor.decide.local_choices import STANDINGS, decided
from advisor.decide.verdicts import VERDICTS
from advisor.facts.vocabulary import AT_HOME
from advisor.model.advice import (
    CLEAR,
    CLEAR_AT_HOME,
    NOT_YET,
    SEVERITY,
    STOPPED,
    Advice,
    Decision,
    Departure,
    Derivation,
    Item,
    KitVerdict,
    LocalUsed,
    Question,
    Referral,
    Response,
)
from advisor.model.base import Base
from advisor.model.calculation import Figure

if TYPE_CHECKING:
    from advisor.load.case import Case
    from advisor.load.local import Local

I = TypeVar("I", bound=Item)  # noqa: E741
J = TypeVar("J", bound="Item | Question")


def hold(built_in: Advice, advice: Advice, local: Local, base: Base, case: Case) -> Advice:
    """The advice on a case under local guidance, with all that the built-in `base` says on it as it
    was stated kept, and with what was used of it.
    """
    kept = _Kept(local)
    stops = kept.with_("The built-in stop stays", built_in.stops, advice.stops)
    first = kept.with_("To be done first, as built in", built_in.first, advice.first)
    against = kept.with_(
        "The built-in contradiction stays", built_in.contradictions, advice.contradictions
    )
    musts = _dropped(built_in.must("must"), advice.must("must"))
    kept.tell("The built-in must stays", musts)
    grave = [w for w in built_in.warnings if w.severity != SEVERITY[-1]]
    asked = _dropped(built_in.blocking, advice.blocking)
    kept.tell("Still to be answered, as built in", asked)
    held = replace(
        advice,
        stops=stops,
        first=first,
        contradictions=against,
        requirements=(*advice.requirements, *musts),
        warnings=kept.with_("The built-in warning stays", grave, advice.warnings),
        refer=kept.with_("It stays referred, as built in", built_in.refer, advice.refer),
        hazards=kept.with_("The built-in hazard stays", built_in.hazards, advice.hazards),
        open_questions=(*advice.blocking, *asked, *_others(advice, asked)),
        checks=kept.with_("Still to be seen, as built in", built_in.checks, advice.checks),
        response=_response(built_in.response, advice.response),
        items=_verdicts(built_in, advice),
        derivations=_derivations(built_in, advice),
    )
    decisions, changed = decided(built_in, advice, local)
    told = (
        *(_told(base, row) for row in local.departures),
        *kept.departures,
        *_milder(built_in, advice, local),
        *changed,
        *_facts(case, local),
        *_figures(local, base.figures),
    )
    return replace(
        held,
        decisions={**decisions, **_go(built_in, held)},
        refer=tuple(_asked(item, local) for item in held.refer),
        local=LocalUsed(
            title=local.title, issued_by=local.issuer, date=local.date, departures=told
        ),
    )


class _Kept:
    """Gathers a departure for everything built in that local guidance would drop."""

    def __init__(self, local: Local) -> None:
        self.local, self.departures = local, list[Departure]()

    def with_(self, head: str, held: Sequence[I], kept: tuple[I, ...]) -> tuple[I, ...]:
        """What is said, and after it what is built in and no longer there."""
        dropped = _dropped(held, kept)
        self.tell(head, dropped)
        return (*kept, *dropped)

    def tell(self, head: str, dropped: Iterable[Item | Question]) -> None:
        """A departure for each of these."""
        for item in dropped:
            rule = item.rule if isinstance(item, Item) else item.rules[0]
            self.departures.append(_stays(f"{head}: {item.text}", rule, item.sources, self.local))


def _others(advice: Advice, asked: Sequence[Question]) -> Iterator[Question]:
    """The open questions that block nothing."""
    return (q for q in _dropped(advice.open_questions, asked) if q not in advice.blocking)


CAUTIOUS = (CLEAR, CLEAR_AT_HOME, NOT_YET, STOPPED)  # all else leaves the pitch alone


def _go(built_in: Advice, advice: Advice) -> dict[str, Decision]:
    """Whether to go on: the more cautious of the two, and of what was kept."""
    if "go" not in advice.decisions:
        return {}
    both = [advice.decisions["go"], built_in.decisions["go"]]
    choice = _comes_to(advice, [go.choice for go in both if go.choice])
    found = [go for go in both if go.choice == choice]
    if found:
        return {"go": max(found, key=lambda go: STANDINGS.index(go.standing))}
    standing = "stop" if choice == STOPPED else "provisional"
    return {"go": replace(both[0], choice=choice, standing=standing)}


def _comes_to(advice: Advice, choices: Sequence[str]) -> str:
    if advice.stops:
        return STOPPED
    at_home = advice.moment == AT_HOME
    if advice.first or advice.contradictions or advice.blocking or (advice.checks and not at_home):
        return NOT_YET
    elsewhere = (choice for choice in choices if choice not in CAUTIOUS)
    return next(elsewhere, CLEAR_AT_HOME if at_home else CLEAR)


def _response(built_in: Response | None, response: Response | None) -> Response | None:
    """The response with every built-in line of it, in the built-in order where one is lost."""
    if built_in is None or response is None:
        return response or built_in
    ids = [line.id for line in response.lines]
    if all(line.id in ids for line in built_in.lines):
        return response
    return replace(
        built_in,
        steps=(*built_in.steps, *_dropped(response.steps, built_in.steps)),
        do_not=(*built_in.do_not, *_dropped(response.do_not, built_in.do_not)),
        call_now=(*built_in.call_now, *_dropped(response.call_now, built_in.call_now)),
        say=(*built_in.say, *_dropped(response.say, built_in.say)),
    )


def _dropped(held: Sequence[J], kept: Sequence[J]) -> tuple[J, ...]:
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
    """A referral with the name that local guidance has for whoever is to be asked."""
    name = local.ask.get(item.to)
    text = item.text.replace(f"Ask {item.to}", f"Ask {item.to} ({name})", 1)
    return replace(item, text=text) if name else item


def _facts(case: Case, local: Local) -> Iterator[Departure]:
    """Facts of the case that stay beside other ones of local guidance, as the more cautious or
    since no order of caution tells which is the safer.
    """
    for reference, fact in local.facts.items():
        stands = case.facts[reference]
        if stands.value != fact.value:
            stated = stands.over or stands
            yield _stays(
                f"The fact of the case stays: {fact.key.replace('.', ' ')}: {stated.text}. Local"
                f" guidance has {fact.text}; settle which is so.",
                fact.key,
                (),
                local,
            )


def _figures(local: Local, figures: Mapping[str, Figure]) -> Iterator[Departure]:
    """Figures that local guidance sets otherwise."""
    for name, figure in local.figures.items():
        was = figures[name]
        if was.value != figure.value:
            yield _stays(
                f"Worked with {figure.shown} for the figure '{name}'; built in is {was.shown}.",
                name,
                was.sources,
                local,
            )


def _worse(held: Mapping[str, KitVerdict], item: KitVerdict) -> KitVerdict | None:
    """The built-in verdict on the same thing, where it is worse."""
    first = held.get(item.id)
    worse = first and VERDICTS.index(first.verdict) > VERDICTS.index(item.verdict)
    return first if worse else None


def _verdicts(built_in: Advice, advice: Advice) -> tuple[KitVerdict, ...]:
    held, known = {item.id: item for item in built_in.items}, {item.id for item in advice.items}
    return (
        *(_worse(held, item) or item for item in advice.items),
        *(item for item in built_in.items if item.id not in known),
    )


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
