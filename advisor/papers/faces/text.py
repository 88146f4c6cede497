"""A paper as plain lines, for a terminal, a pipe or a plain file.

The same words everywhere; colour, where it is welcome, only adds. A table is told row by row, each
cell after its head; a picture in words.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from advisor.papers.blocks import Bullets, Heading, Page, Para, Picture, Sign, Table
from advisor.papers.outline import outline
from advisor.screen import fitting, rows, welcome_colour

BOLD, PLAIN = "\x1b[1m", "\x1b[0m"
POINT = "  - "
NAME = 8  # columns for a name, so that lists stand in line below each other


class Told(NamedTuple):
    """One line before it is wrapped: the mark it begins with, its words."""

    mark: str
    text: str


def render(paper) -> str:
    """A whole paper as a plain file."""
    return written(paper.blocks, 80, False)


def advised(advice, width: int | None = None, colour: bool | None = None) -> str:
    """A whole advice for the terminal."""
    colour = welcome_colour() if colour is None else colour
    return written((Heading(1, advice.case), *outline(advice)), width, colour)


def written(blocks, width: int | None, colour: bool, airy: bool = True) -> str:
    """Blocks as text, wrapped to the width of the terminal; `airy`: with blank rows between."""
    width, out, before = fitting(width), list[str](), None
    for block in blocks:
        if airy and out and not isinstance(before, Heading) and not isinstance(block, Bullets):
            out.append("")
        strong = colour and _strong(block)
        for mark, text in told(block):
            found = rows(text, width, mark, " " * len(mark))
            out += [f"{BOLD}{row}{PLAIN}" if strong else row for row in found]
        before = block
    return "\n".join(out) + "\n"


def unwrapped(blocks) -> list[str]:
    """Blocks as lines that are still to be wrapped."""
    return [mark + text for block in blocks for mark, text in told(block)]


def told(block) -> Iterator[Told]:
    """The lines of one block."""
    return _FORMS[type(block)](block)


def _strong(block) -> bool:
    return (
        isinstance(block, Heading) and block.level > 1 or isinstance(block, Para) and block.strong
    )


def _bullets(block):
    named = max((len(line.name) for line in block.items if line.name), default=0)
    named = max(named, NAME) if named else 0
    for number, line in enumerate(block.items, 1):
        mark = f"  {number}. " if block.numbered else POINT
        mark = f" {line.name:{named}}  " if named else mark
        yield Told(mark, line.text)
        for below in line.below:
            yield Told(" " * (len(mark) + 2), below)
    if block.rest:
        yield Told(POINT, block.rest)


def _table(block):
    yield Told("", block.caption)
    for row in block.rows:
        first = True
        for head, cell in zip(block.heads, row):
            for number, line in enumerate(cell):
                yield Told(POINT if first else "    ", line if number else f"{head}: {line}")
                first = False
    empty = [h for n, h in enumerate(block.heads) if not any(row[n] for row in block.rows)]
    if empty:
        yield Told("", f"To be filled in by hand: {', '.join(empty)}.")


def _picture(block):
    yield Told("", block.caption)
    yield Told("", block.canvas.description)


def _sign(block):
    yield Told("", block.text)
    for field in block.fields:
        yield Told(POINT, f"{field}: ______________________________")


_FORMS = {
    Heading: lambda b: iter((Told("", b.text),)),
    Para: lambda b: iter((Told("", b.text),)),
    Bullets: _bullets,
    Table: _table,
    Picture: _picture,
    Sign: _sign,
    Page: lambda b: iter(()),
}
