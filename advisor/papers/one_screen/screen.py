"""The answer fitted to one screen: its title, the verdict, the sections of what it is about, and
the foot.
"""

from __future__ import annotations

from advisor.model.advice import Advice
from advisor.model.base import Base
from advisor.papers.blocks import Heading, Para
from advisor.papers.one_screen import incident, kit
from advisor.papers.one_screen.fit import Fitted, fitted
from advisor.papers.one_screen.plan import Plan
from advisor.papers.outline import UNTITLED, headline
from advisor.screen import clean, fitting, welcome_colour
from advisor.words import DOORS, ONE_ENGINE, SCREEN, Doors


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
    title = Heading(1, _one_row(advice.case or UNTITLED, width))
    return fitted((title, Para(verdict, True)), sections, width, _foot(base, advice, doors))


def _one_row(text: str, width: int) -> str:
    """A text cut to one row."""
    text = clean(text)
    return text if len(text) <= width else f"{text[: width - 1].rstrip()}…"


def _foot(base: Base, advice: Advice, doors: Doors) -> tuple[Para, ...]:
    """The cautions in short, and the ways to what was left out."""
    lines = [ONE_ENGINE] if len(advice.checked_by) < 2 else []
    if advice.local:
        number = len(advice.local.departures)
        lines.append(SCREEN["local"].format(title=advice.local.title, n=number))
    layout = base.screen
    last = (layout.caution, doors.more)
    if advice.response:
        last = (layout.caution_in_need, doors.more_in_need)
    return tuple(map(Para, (*lines, " ".join(last))))
