"""The answer fitted to one screen: its title, the verdict, the sections of what it is about, and
the foot.
"""

from __future__ import annotations

from collections.abc import Iterator

from advisor.model.advice import LOCAL_MARK, Advice, LocalUsed
from advisor.model.base import Base
from advisor.papers.blocks import Heading, Para
from advisor.papers.one_screen import incident, kit
from advisor.papers.one_screen.fit import GRAVE, PEOPLE, Fitted, Piece, Section, fitted
from advisor.papers.one_screen.plan import Plan
from advisor.papers.outline import UNTITLED, from_cards, headline, looking_ahead
from advisor.screen import clean, fitting, welcome_colour
from advisor.words import DOORS, ONE_ENGINE, SCREEN, Doors

NAMED_EXPIRED = 3  # of the facts of cards that no longer stand
NUMBERS = 7  # that local guidance makes others, named on the screen


def shown(base: Base, advice: Advice, width: int | None = None, colour: bool | None = None) -> str:
    """The answer on one screen of the terminal."""
    colour = welcome_colour() if colour is None else colour
    return screen(base, advice, width).written(width, colour)


def screen(base: Base, advice: Advice, width: int | None = None, doors: Doors = DOORS) -> Fitted:
    """The answer fitted to a screen."""
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
    """What local guidance turned, and the numbers that it makes others. Where something has
    happened it is told, as is that it was used, only as there is room.
    """
    if not advice.local:
        return
    spare = advice.response is not None
    own = _own_numbers(advice)
    numbers = LOCAL_MARK + "; ".join(text.removeprefix(LOCAL_MARK) for text in own[:NUMBERS])
    if own[NUMBERS:]:
        numbers += SCREEN["more numbers"].format(n=len(own) - NUMBERS, all=doors.all)
    pieces = (
        *(Piece(departure.text, GRAVE, local=spare) for departure in advice.local.turned),
        *((Piece(numbers, PEOPLE, local=spare),) if own else ()),
        *((Piece(_used(advice, advice.local, doors), local=True),) if spare else ()),
    )
    yield Section(SCREEN["by local"], pieces)


def _used(advice: Advice, local: LocalUsed, doors: Doors) -> str:
    """That local guidance was used, and how often it differs."""
    own = len(_own_numbers(advice))
    more = SCREEN["local numbers"].format(n=own) if own else ""
    number = len(local.departures)
    return SCREEN["local"].format(title=local.title, n=number, more=more, all=doors.all)


def _own_numbers(advice: Advice) -> list[str]:
    """The key numbers that local guidance makes others."""
    return [n.text for n in advice.calculations if n.key and n.text.startswith(LOCAL_MARK)]


def _foot(base: Base, advice: Advice, doors: Doors) -> tuple[Para, ...]:
    """The cautions in short, and the ways to what was left out."""
    lines = [ONE_ENGINE] if len(advice.checked_by) < 2 else []
    lines += [_used(advice, advice.local, doors)] if advice.local and not advice.response else []
    layout = base.screen
    last = (layout.caution, doors.more)
    if advice.response:
        last = (layout.caution_in_need, doors.more_in_need)
    return tuple(map(Para, (*lines, " ".join(last))))
