"""The field card: one sheet of half the size of the others, two sides, in large letters."""

from __future__ import annotations

import textwrap
from math import ceil

from advisor.model.layout import Part
from advisor.papers.blocks import Heading, Page, Para, Picture, Table, cell, ticked
from advisor.papers.outline import assumed_first, built_in, headline, sequence
from advisor.papers.sheet import Rig
from advisor.pictures.head import close_up

SIDES = "{title}: {case}. {date}, {version}. Side {n} of 2."
# Of one side, in letters of 11 points: lines below its head, mm a line, a cell against the width.
LINES, LINE, CELL = 42, 4.2, 0.94
WIDE, TALLEST = 134, 62  # mm, of a picture
READ = 0.265  # mm to a drawing unit, at which the letters of a picture are of 9 points
MOST_LOCAL = 2
LOCAL_MORE = "local: {n} more"  # on the plan; a letter more would cost a line
PITCH_OPEN = "Not known: depth, lengths, people in all."
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
    rows.insert(0, ("Pitch", rig.filling.said(_parts(lists["pitch"])) or PITCH_OPEN))
    rows += [("Times", rig.filling.said(_parts(lists["times"])) or TIMES_OPEN)]
    rows += [] if rig.stands else [("Rig", NOT_TO_RIG)]
    change = [r.text for r in s.advice.requirements if r.rule in lists["change-over"]]
    rows += list(zip(("Out", "Back"), change))
    rows.append(("Calls", f"{lists['calls']} {lists['local calls']}"))
    own = [r.text for r in (*s.advice.stops, *s.advice.first, *s.advice.must("must")) if r.local]
    picture, rows = _beside_local(s, rows, own) if rig.stands else ([], _with_local(s, rows, own))
    table = tuple((cell(name), cell(text)) for name, text in rows)
    return [
        Page(card=True),
        _side(s, 1),
        Para(_verdict(s), True),
        *assumed_first(s.advice),
        *picture,
        Table(s.lists["titles"]["card"], ("What", "How"), table, (14, 86)),
    ]


def _beside_local(s, rows, own) -> tuple[list, list]:
    """The picture with the rows; no local line costs the picture its place."""
    for most in range(MOST_LOCAL, -1, -1):
        told = _with_local(s, rows, own, most)
        if picture := _picture(s, s.lists["titles"]["card"], [("", _verdict(s)), *told]):
            return picture, told
    return [], _with_local(s, rows, own)


def _with_local(s, rows, own, most: int = MOST_LOCAL) -> list:
    """The rows with what is ticked, and as many local lines; how many more there are is a tick."""
    rest = len(own[most:])
    more = [LOCAL_MORE.format(n=min(rest, 9))] if rest else []
    tick = ("Tick", "  ".join(map(ticked, (*s.lists["card"]["ticks"], *more))))
    return [*rows, tick, *(("Local", text) for text in own[:most])]


def _parts(listed) -> list[Part]:
    return [Part(part["say"], part["not told"], ()) for part in listed]


def _picture(s, title: str, rows) -> list:
    """The rig from above with the names of the anchors, where the rows leave it room enough to be
    read.
    """
    found = close_up(s.view)
    if found is None:
        return []
    canvas, names = found
    units = canvas.height - canvas.top
    tall = min(
        _room([*rows, ("", names)], s.lists["card"]["letters"]), round(units * WIDE / canvas.width)
    )
    least = ceil(units * READ)
    if tall < least:
        return []
    return [Picture(canvas, title, tall=tall, least=least), Para(names)]


def _room(rows, letters: int) -> int:
    """The height in mm that the lines of a side leave to a picture."""
    used = sum(len(textwrap.wrap(text, round(letters * CELL))) for _, text in rows)
    return min(int((LINES - used) * LINE), TALLEST)


def _verdict(s) -> str:
    """The first word, and the gravest thing that stands behind it; what is asked by the built-in
    rules keeps its place before what only local guidance puts in the way.
    """
    items = (*s.advice.stops, *s.advice.contradictions, *s.advice.first)
    told = [item.text for item in built_in(items) or items] or [q.text for q in s.advice.blocking]
    words = " ".join([s.headline(), *told[:1]])
    local = s.advice.local
    if local and items and not built_in(items) and local.built_in.blocking:
        return " ".join([headline(local.built_in), local.built_in.blocking[0].text, words])
    return words


def _back(s) -> list:
    """The incidents, each in so many lines."""
    lists = s.lists["card"]
    warned = Para(f"STOP IF {lists['stop if']} {lists['help']}", True)
    blocks: list[object] = [Page(card=True), _side(s, 2), warned]
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
