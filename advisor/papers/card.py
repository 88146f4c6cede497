"""The field card: one sheet of half the size of the others, two sides, in large letters."""

from __future__ import annotations

import textwrap
from copy import copy

from advisor.model.layout import Part
from advisor.papers.blocks import Heading, Page, Para, Picture, Table, cell, ticked
from advisor.papers.outline import assumed_first, built_in, sequence
from advisor.papers.sheet import Rig
from advisor.pictures.all import pictures

SIDES = "{title}: {case}. {date}, {version}. Side {n} of 2."
PICTURE = "pitch-head"
# Of one side, in letters of 11 points: lines below its head, mm a line, a cell against the width.
LINES, LINE, CELL = 40, 4.2, 0.94
TALLEST, LEAST = 60, 24  # mm
MOST_LOCAL = 2
TIMES_OPEN = "Not known: turn, latest start up, call-out."
NOT_TO_RIG = "No ladder is to be rigged on these facts; see the plan."


def card(s) -> list:
    """Both sides."""
    if "plan" not in s.advice.about:
        return []
    return [*_front(s), *_back(s)]


def _side(s, n: int) -> Heading:
    title = s.lists["titles"]["card"]
    text = SIDES.format(title=title, case=s.title[:60], date=s.date, version=s.version, n=n)
    return Heading(2, text)


def _front(s) -> list:
    """The verdict, the rig, the people, the calls, the times, when to stop, what to tick."""
    lists, rig = s.lists["card"], Rig(s)
    told = rig.told("rig", "people", "drill", "times")
    rows = [(name.capitalize(), told[name]) for name in lists["rows"] if name in told]
    times = [Part(part["say"], part["not told"], ()) for part in lists["times"]]
    rows += [("Times", rig.filling.said(times) or TIMES_OPEN)]
    rows += [] if rig.stands else [("Rig", NOT_TO_RIG)]
    change = [r.text for r in s.advice.requirements if r.rule in lists["change-over"]]
    rows += list(zip(("Out", "Back"), change))
    rows += [("Calls", f"{lists['calls']} {lists['local calls']}"), ("Stop if", lists["stop if"])]
    rows.append(("Tick", "  ".join(map(ticked, lists["ticks"]))))
    own = [r.text for r in s.advice.must("must") if r.local]
    rows += [("Local", text) for text in own[:MOST_LOCAL]]  # the others stand on the plan
    table = tuple((cell(name), cell(text)) for name, text in rows)
    drawn, title = pictures(s.view).get(PICTURE), s.lists["titles"]["card"]
    verdict = ("", _verdict(s))
    tall = _room([verdict, *rows], lists["letters"])
    return [
        Page(card=True),
        _side(s, 1),
        Para(_verdict(s), True),
        *assumed_first(s.advice),
        *([Picture(_own(drawn), title, tall=tall)] if drawn and rig.stands and tall else []),
        Table(title, ("What", "How"), table, (14, 86)),
    ]


def _own(drawn):
    """The picture under a name of its own, as it stands on the plan too."""
    made = copy(drawn)
    made.name = f"card-{drawn.name}"
    return made


def _room(rows, letters: int) -> int:
    """The height in mm that the lines of a side leave to a picture; 0 where it is too little."""
    used = sum(len(textwrap.wrap(text, round(letters * CELL))) for _, text in rows)
    left = int((LINES - used) * LINE)
    return min(left, TALLEST) if left >= LEAST else 0


def _verdict(s) -> str:
    """The first word, and the gravest thing that stands behind it."""
    items = (*s.advice.stops, *s.advice.contradictions, *s.advice.first)
    told = [item.text for item in built_in(items) or items] or [q.text for q in s.advice.blocking]
    return " ".join([s.headline(), *told[:1]])


def _back(s) -> list:
    """The incidents, each in so many lines."""
    lists = s.lists["card"]
    blocks: list[object] = [Page(card=True), _side(s, 2)]
    for response, own in s.responses:
        rules = lists["incidents"].get(response.incident)
        if rules and not own:
            steps = fitting(response, rules, lists["letters"], lists["lines"])
            name = response.incident[:1].upper() + response.incident[1:]
            blocks += [Heading(3, name), Para(steps)]
    return blocks


def fitting(response, rules, letters: int, most: int) -> str:
    """As many steps as fit so many lines: taken by the order of `rules`, told in that of the
    response, with what not to do and the calls at the end.
    """
    calls = (step for part in sequence(response) if "call" in part.name for step in part.steps)
    lines = (*response.steps, *response.do_not, *calls)
    chosen: list = []
    for rule in rules:
        found = [step for step in lines if step.rule == rule][:1]
        more = sorted([*chosen, *found], key=lines.index)
        if found and len(textwrap.wrap(_numbered(more), letters)) <= most:
            chosen = more
    return _numbered(chosen)


def _numbered(steps) -> str:
    return " ".join(f"{n}. {step.words}" for n, step in enumerate(steps, 1))
