"""The pitch as a sketch in plain characters, at most 80 columns wide, for a terminal, a braille
line or a field note. It shows the same places as the drawings: it is made from what they drew.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from math import hypot

from advisor.model import names
from advisor.pictures import head, section
from advisor.pictures.canvas import Canvas, Point, clean
from advisor.pictures.legend import Notes, in_order
from advisor.pictures.view import View
from advisor.words import ASSUMING, ONLY_ASSUMED

WIDTH, ART, MOST_STOPS = 80, 42, 4
CELL, ROW = 10.0, 21.0  # units of a drawing to a column and to a row
GAP = 2  # columns between art and words
MARKS = {  # in the order in which they are drawn over each other
    "wall": "#",
    "ground": "#",
    "slab": "#",
    "landing": "#",
    "landing-level": "-",
    "ledge": "#",
    "lip": "#",
    "pool": "~",
    "stream": "%",
    "spray": "'",
    "drips": "'",
    "waiting": "=",
    "way": ".",
    "leg": "/",
    "leg-from-above": "/",
    "slip-least": "!",
    "slip-most": "?",
    "lifeline-second": ":",
    "lifeline": ":",
    "tether": "|",
    "ladder": "H",
    "ladder-maybe": "h",
    "coil": "H",
    "line-end": "_",
    "climber": "&",
    "belayer": "&",
    "anchor": "@",
    "master": "^",
}
SIDES = ("LEFT", "RIGHT")  # the words at the rims of the pitch head

KEY = (
    "H ladder, h where it may end, | tether, : lifeline, / its legs, ^ master point, @ anchor,"
    " # rock and lip, . people's way, = waiting line, & person, ! least and ? greatest reach of"
    " a slip."
)


def sketch(view: View) -> str:
    """Pitch head and section with their words, then what is not known."""
    lines = list(_top(view))
    lacking: list[str] = []
    for title, (canvas, notes) in (
        ("PITCH HEAD from above, the drop below", head.compose(view)),
        ("SECTION", section.compose(view)),
    ):
        lines += ["", title, *_side_by_side(_art(canvas), _words(view, canvas, notes))]
        lacking += [words for words in notes.unknown if words not in lacking]
    lines += ["", *textwrap.wrap(KEY, WIDTH)]
    if lacking:
        lines += ["", "NOT KNOWN, so not drawn:"]
        for words in lacking:
            lines += textwrap.wrap(
                _plain(words), WIDTH, initial_indent="- ", subsequent_indent="  "
            )
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _plain(text: str) -> str:
    """Words without signs that a plain terminal may lack."""
    return clean(text).replace("°", " deg").replace("…", "...")


def _top(view: View) -> Iterator[str]:
    """What stands above the drawings: title, what is only assumed, the stops."""
    said = [view.case.title or "A ladder pitch"]
    told = view.advice.assumed_words
    said += [f"{ONLY_ASSUMED}: {ASSUMING.format(told=told)}"] if told else []
    stops = view.advice.stops
    said += [f"STOP: {stop.text}" for stop in stops[:MOST_STOPS]]
    said += [f"... and {len(stops) - MOST_STOPS} more STOPs"] if len(stops) > MOST_STOPS else []
    if not view.decided(names.LADDER_ANCHOR):
        said.append("Ladder: no anchor chosen")
    for text in said:
        yield from textwrap.wrap(clean(text), WIDTH) or [""]


def _words(view: View, canvas: Canvas, notes: Notes) -> list[str]:
    """The legend of a drawing as lines for the column beside it."""
    room = WIDTH - ART - GAP
    said = [f"{mark} {words}".strip() for mark, words in in_order(notes)]
    said += ["; ".join(notes.place)] if notes.place else []
    lines = []
    for text in said:
        lines += textwrap.wrap(_plain(text), room, subsequent_indent="  ")
    return lines


def _side_by_side(art: list[str], words: list[str]) -> Iterator[str]:
    for row in range(max(len(art), len(words))):
        left = art[row] if row < len(art) else ""
        right = words[row] if row < len(words) else ""
        yield f"{left:<{ART}}{' ' * GAP if right else ''}{right}"


def _art(canvas: Canvas) -> list[str]:
    """What a canvas drew by name, as characters in its places."""
    grid: dict[tuple[int, int], str] = {}
    for name, mark in MARKS.items():
        for part, points in canvas.parts:
            if part == name:
                grid |= _drawn(name, mark, points)
    for box in canvas.boxes:
        word = box.text.partition(",")[0]
        row, column = _cell(((box.left + box.right) / 2, (box.top + box.bottom) / 2))
        if word in SIDES:
            first = 0 if column < ART / 2 else ART - len(word)
            grid |= {(row, first + n): letter for n, letter in enumerate(word)}
        elif len(word) == 1 and word.isalnum():
            grid[row, column] = word
    if not grid:
        return []
    rows = [row for row, _ in grid]
    return [
        "".join(grid.get((row, column), " ") for column in range(ART)).rstrip()
        for row in range(min(rows), max(rows) + 1)
    ]


def _drawn(name: str, mark: str, points: list[Point]) -> dict[tuple[int, int], str]:
    """The cells of one thing: a symbol in its middle, a leg by the way it leans."""
    if name == "master":
        points = [
            (sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points))
        ]
    if mark == "/" and (points[0][0] - points[-1][0]) * (points[0][1] - points[-1][1]) > 0:
        mark = "\\"
    return {_cell(point): mark for point in _along(points)}


def _cell(point: Point) -> tuple[int, int]:
    return int(point[1] // ROW), max(0, min(ART - 1, int(point[0] // CELL)))


def _along(points: list[Point]) -> Iterator[Point]:
    """Points close together along a path."""
    yield from points[:1]
    for (x1, y1), (x2, y2) in zip(points, points[1:]):
        steps = max(1, int(hypot(x2 - x1, y2 - y1) // 5))
        for step in range(1, steps + 1):
            yield x1 + (x2 - x1) * step / steps, y1 + (y2 - y1) * step / steps
