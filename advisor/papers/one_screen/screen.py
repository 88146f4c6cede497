"""The answer fitted to one screen: its title, the verdict, the sections of what it is about, and
the foot.
"""

from __future__ import annotations

from collections.abc import Iterator

from advisor.model.advice import Advice, LocalUsed
from advisor.model.base import Base
from advisor.papers.blocks import Heading, Para
from advisor.papers.one_screen import incident, kit
from advisor.papers.one_screen.fit import GRAVE, Fitted, Piece, Section, fitted
from advisor.papers.one_screen.plan import Plan
from advisor.papers.one_screen.with_local import blocks, own_numbers
from advisor.papers.outline import UNTITLED, from_cards, headline, looking_ahead
from advisor.screen import clean, fitting, welcome_colour
from advisor.words import DOORS, ONE_ENGINE, SCREEN, Doors, quoted

NAMED_EXPIRED = 3  # of the facts of cards that no longer stand


def shown(base: Base, advice: Advice, width: int | None = None, colour: bool | None = None) -> str:
    """The answer on one screen of the terminal."""
    colour = welcome_colour() if colour is None else colour
    return screen(base, advice, width).written(width, colour)


def screen(base: Base, advice: Advice, width: int | None = None, doors: Doors = DOORS) -> Fitted:
    """The answer fitted to a screen."""
    if advice.local and not advice.response:
        return _beside_local(base, advice, advice.local.built_in, width, doors)
    if advice.response:
        verdict, sections = headline(advice), incident.sections(base, advice, doors)
    elif "plan" in advice.about:
        plan = Plan(base, advice, doors)
        verdict, sections = plan.verdict(), plan.sections()
    else:
        verdict, sections = kit.verdict(advice), kit.sections(base, advice)
    width = fitting(width)
    # A title says so where no row can be spared for it.
    mark = SCREEN["with local"] if advice.local and advice.response else ""
    title = Heading(1, _one_row(advice.case or UNTITLED, width - len(mark)) + mark)
    first, *rest = sections
    assumed = _assumed(advice)
    told = (first, *rest, *assumed) if advice.response else (first, *assumed, *rest)
    every = (*told, *_by_local(advice, doors))
    return fitted((title, Para(verdict, True)), every, width, _foot(base, advice, doors))


def _beside_local(
    base: Base, advice: Advice, built_in: Advice, width: int | None, doors: Doors
) -> Fitted:
    """The screen without local guidance, with what that adds beside it."""
    plain = screen(base, built_in, width, doors)
    title, verdict, *rest = plain.blocks
    foot = len(_foot(base, built_in, doors))
    told = blocks(advice, verdict.text, tuple(rest[: len(rest) - foot]), doors, fitting(width))
    return Fitted((title, *told, *_foot(base, advice, doors)), plain.airy)


def _assumed(advice: Advice) -> Iterator[Section]:
    """What is only assumed, which is never left out, and what came from cards."""
    text = looking_ahead(advice)
    if text:
        yield Section("", (Piece(text, name=SCREEN["assumed"]),))
    cards = from_cards(advice, NAMED_EXPIRED)
    if cards:
        yield Section("", (Piece(cards, GRAVE, name=SCREEN["on file"]),))


def _one_row(text: str, width: int) -> str:
    """A text cut to one row."""
    text = clean(text)
    return text if len(text) <= width else f"{text[: width - 1].rstrip()}…"


def _by_local(advice: Advice, doors: Doors) -> Iterator[Section]:
    """Where something has happened: what local guidance turned, the numbers that it makes others,
    and that it was used, only as there is room.
    """
    if advice.local:
        told = (*(d.text for d in advice.local.turned), *own_numbers(advice))
        pieces = (*told, _used(advice, advice.local, doors))
        yield Section(SCREEN["by local"], tuple(Piece(text, local=True) for text in pieces))


def _used(advice: Advice, local: LocalUsed, doors: Doors) -> str:
    """That local guidance was used, how much it adds and how often it differs."""
    own = len(own_numbers(advice))
    more = SCREEN["local numbers"].format(n=own) if own else ""
    number = len(local.departures)
    return SCREEN["local"].format(
        title=quoted(local.title), added=advice.added, n=number, more=more, all=doors.all
    )


def _foot(base: Base, advice: Advice, doors: Doors) -> tuple[Para, ...]:
    """The cautions in short, and the ways to what was left out."""
    lines = [ONE_ENGINE] if len(advice.checked_by) < 2 else []
    lines += [_used(advice, advice.local, doors)] if advice.local and not advice.response else []
    layout = base.screen
    last = (layout.caution, doors.more)
    if advice.response:
        last = (layout.caution_in_need, doors.more_in_need)
    return tuple(map(Para, (*lines, " ".join(last))))
