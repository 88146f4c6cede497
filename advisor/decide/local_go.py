"""Whether to go on, under local guidance: as built in, with its reasons, or more cautious for what
local guidance adds.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec.structs import replace

from advisor.decide.decisions import in_the_way
from advisor.decide.local_choices import STANDINGS
from advisor.facts.vocabulary import AT_HOME
from advisor.model.advice import CAUTIOUS, NOT_YET, STOPPED, Advice, Decision, Item, Question


def go(built_in: Advice, advice: Advice, held: Advice) -> dict[str, Decision]:
    """'go' of an advice `held` in which all is laid that the built-in advice and the one under
    local guidance say; nothing where there is no plan.
    """
    old, new = built_in.decisions.get("go"), advice.decisions.get("go")
    if old is None or new is None:
        return {"go": new} if new else {}
    choice = more_cautious(old.choice or "", new.choice or "", held)
    added = in_the_way(tuple(_added(built_in, held)))
    if choice == old.choice:
        reasons = (*old.reasons, *added)
        standings = [d.standing for d in (old, new) if d.choice == choice]
    else:
        reasons, standings = (*added, *old.reasons), [standing_of(choice)]
    return {
        "go": replace(
            old,
            choice=choice,
            standing=max(standings, key=STANDINGS.index),
            reasons=reasons,
            open=tuple(dict.fromkeys((*old.open, *new.open))),
        )
    }


def more_cautious(old: str, new: str, held: Advice) -> str:
    """What it comes to: a stop, else what is built in to send the plan another way, else the more
    cautious.
    """
    if held.stops:
        return STOPPED
    if old not in CAUTIOUS:
        return old
    if _open(held):
        return NOT_YET
    if new not in CAUTIOUS:
        return new if any(new in d.chosen for d in held.choices.values()) else old
    return max(old, new, key=CAUTIOUS.index)


def _open(held: Advice) -> bool:
    checks = held.checks if held.moment != AT_HOME else ()
    return bool(held.first or held.contradictions or held.blocking or checks)


def standing_of(choice: str) -> str:
    return "stop" if choice == STOPPED else "provisional"


def _added(built_in: Advice, held: Advice) -> Iterator[Item | Question]:
    """What local guidance puts in the way."""
    known = {reason.id for reason in built_in.decisions["go"].reasons}
    checks = held.checks if held.moment != AT_HOME else ()
    asked = {question.fact for question in held.blocking}
    yield from (item for item in held.stops if item.local)
    if held.stops:
        return
    grave: tuple[Item | Question, ...] = (*held.contradictions, *held.first, *held.blocking)
    yield from (item for item in grave if item.local and item.id not in known)
    yield from (c for c in checks if c.local and c.fact not in asked)
