"""The plan on two pages: the verdict and what stands in its way, the rig, people, times; then the
pictures, and who decides.
"""

from __future__ import annotations

from collections.abc import Iterator

from advisor.model import names
from advisor.papers.blocks import Bullets, Heading, Page, Para, Picture, Sign, Table, cell, lines
from advisor.papers.checks import check_lines
from advisor.papers.one_screen.filling import Filling
from advisor.papers.one_screen.plan import Plan
from advisor.papers.outline import assumed_first, built_in
from advisor.papers.plan import CAPTIONS
from advisor.pictures.all import apart
from advisor.words import ONE_ENGINE, SCREEN, SECTIONS, Doors

MOST, MOST_CHECKS, MOST_DUTIES = 6, 6, 8
PEOPLE = (
    ("Group", names.GROUP_TOLD),
    ("Leaders", names.LEADERS_TOLD),
    ("Call-out", names.CALL_OUT_TOLD),
)
GROUND = {"lip", ""}
NOT_DRAWN = "The pitch head is not drawn."
TALL = {"pitch-head": 92, "pitch-section": 92, "load-chain": 60, "queue": 60}  # mm
WHO = "Who goes, and who is told"
NOWHERE = Doors("", "", "", "", "")  # a paper leads to no command


class Rig:
    """The rows of the answer on one screen, for papers. Under local guidance they are those that
    are built in: what it rules out is told beside them, never taken out of them.
    """

    def __init__(self, s) -> None:
        self.s, self.base = s, s.view.base
        self.advice = s.advice.local.built_in if s.advice.local else s.advice
        self.plan = Plan(self.base, s.advice, NOWHERE)
        self.filling = Filling(self.base, self.advice)

    @property
    def stands(self) -> bool:
        """Whether a ladder is to be rigged at all."""
        return bool(self.plan.rigged)

    def rows(self, part: str) -> list[tuple[str, str]]:
        """(name, what is said) of a part of the layout: rig, people, drill, times."""
        advice = self.advice
        lists = (advice.requirements, advice.warnings, advice.first, advice.stops)
        given = {item.rule for items in lists for item in items}
        found: dict[str, str] = {}
        for row in getattr(self.base.screen, part):
            if row.name not in found and given.issuperset(row.given):
                found[row.name] = self.filling.said(row.say)
        return [(name, said) for name, said in found.items() if said]

    def title(self) -> str:
        """A rig told beside what must be put right, or found out, is not yet the rig to build."""
        advice = self.s.advice
        open_yet = advice.first or advice.contradictions or advice.blocking
        name = "rig then" if advice.stops else "rig so far" if open_yet else "rig"
        return SCREEN[name].capitalize()

    def told(self, *parts: str) -> dict[str, str]:
        """The rows of some parts by their names; nothing where no ladder is to be rigged."""
        return dict(row for part in parts for row in self.rows(part)) if self.stands else {}


def plan(s) -> list:
    """Both pages."""
    if "plan" not in s.advice.about:
        return []
    rig = Rig(s)
    blocks: list[object] = [Heading(2, s.lists["titles"]["plan"]), Para(s.headline(), True)]
    blocks += assumed_first(s.advice)
    blocks += [Para(ONE_ENGINE, True)] if len(s.advice.checked_by) < 2 else []
    for n, (name, found) in enumerate(_in_the_way(s)):
        blocks += [Heading(3, name), found] if n else [found]  # the headline leads to the first
    rows = [*rig.told("rig", "people", "drill", "times").items(), *_who(s)]
    if rows:
        table = tuple((cell(name.capitalize()), cell(text)) for name, text in rows)
        title = rig.title() if rig.stands else WHO
        blocks.append(Table(title, ("What", "How"), table, (12, 88)))
    blocks += [Heading(3, SECTIONS["must"]), _duties(s)] if s.advice.must("must") else []
    return [
        *blocks,
        Page(),
        Heading(3, "Pictures"),
        *drawn(s),
        *_local(s),
        Heading(3, "Decision and signature"),
        Para(s.advice.cautions[-1], True),
        Sign(s.lists["signature"], tuple(s.lists["signature fields"])),
    ]


def _who(s) -> Iterator[tuple[str, str]]:
    """How many people, of whom how many lead; what is not known is said."""
    for name, told in PEOPLE:
        yield name, "; ".join(f"{ref.attribute}: {s.view.told(*ref)}" for ref in told)


def drawn(s) -> list:
    """The pictures of the pitch, two side by side; of one that shows nothing but the ground, only
    its words.
    """
    found = {name: made for name, made in apart(s.view).items() if name in CAPTIONS}
    words = [made.legend for made in found.values() if _bare(made.canvas)]
    shown = {name: made for name, made in found.items() if not _bare(made.canvas)}
    return [
        *(Para(f"{NOT_DRAWN} {Picture(None, '', legend=legend).key}") for legend in words),
        *(
            Picture(made.canvas, CAPTIONS[name], True, TALL[name], legend=made.legend)
            for name, made in shown.items()
        ),
    ]


def _bare(canvas) -> bool:
    """Whether nothing is drawn of what hangs or stands at the pitch head."""
    parts = {part for part, _ in canvas.parts}
    return canvas.name == "pitch-head" and parts <= GROUND


def _in_the_way(s) -> Iterator[tuple[str, Bullets]]:
    """Stops, contradictions, what is to be done first; else the first questions; then the checks.
    What local guidance brings costs nothing built in its place.
    """
    advice = s.advice
    for name, items in (
        ("stops", advice.stops),
        ("contradictions", advice.contradictions),
        ("first", advice.first),
    ):
        if items:
            yield SECTIONS.get(name, name), _first(items)
    if advice.blocking and not built_in(advice.stops):
        yield SECTIONS["find first"], _some([q.text for q in advice.blocking], MOST)
    if advice.checks:
        found = [line.text for line in check_lines(advice.checks)]
        yield SECTIONS["checks"], _some(found, MOST_CHECKS)


def _first(items) -> Bullets:
    own = [item.text for item in items if item.local]
    found = _some([item.text for item in built_in(items)], MOST)
    return found._replace(items=(*found.items, *lines(*own)))


def _some(texts, most: int) -> Bullets:
    texts = list(dict.fromkeys(texts))
    rest = len(texts) - most
    more = f"\u2026 and {rest} more in the evidence annex." if rest > 0 else ""
    return Bullets(lines(*texts[:most]), True, more)


def _duties(s) -> Bullets:
    musts = s.advice.must("must")
    own = [r.text for r in musts if r.local]
    found = _some([r.text for r in built_in(musts)], MOST_DUTIES)
    return found._replace(items=(*found.items, *lines(*own)), numbered=False)


def _local(s) -> list:
    """Where local guidance departs from the built-in rules."""
    if not s.guidance:
        return []
    departs = (
        [f"{d.text} [{d.built_in}]" for d in s.advice.local.departures] if s.advice.local else []
    )
    said = Para(f"Local guidance laid over the built-in rules: {s.guidance}.")
    return [Heading(3, "Local guidance"), said, *([_some(departs, MOST)] if departs else [])]
