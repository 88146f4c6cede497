"""Advice as plain lines for a terminal or a pipe.

The same words everywhere; colour, where it is welcome, only adds.
"""

from __future__ import annotations

import os
import sys
import textwrap

from advisor.model.advice import Advice
from advisor.report.outline import outline

BOLD, PLAIN = "\x1b[1m", "\x1b[0m"


def render(
    advice: Advice, everything: bool = False, width: int | None = None, colour: bool | None = None
) -> str:
    """The advice as text, wrapped to the width of the terminal (60 to 100 columns)."""
    width = max(60, min(width or terminal_width(), 100))
    colour = welcome_colour() if colour is None else colour
    headline, sections = outline(advice, everything)
    lines = _wrap(advice.case, width)
    lines += [_strong(part, colour) for part in _wrap(headline, width)]
    for section in sections:
        if section.title:
            lines += ["", _strong(section.title, colour)]
        for number, line in enumerate(section.lines, 1):
            mark = f"  {number}. " if section.numbered and not line.text.startswith("…") else "  - "
            lines += _wrap(line.text, width, mark, " " * len(mark))
            for below in line.below:
                indent = " " * (len(mark) + 2)
                lines += _wrap(below, width, indent, indent)
    return "\n".join(lines) + "\n"


def _wrap(text, width, first="", then="") -> list:
    """Rows of a text; rule ids stay whole."""
    return textwrap.wrap(
        clean(text), width, initial_indent=first, subsequent_indent=then, break_on_hyphens=False
    )


def wrapped(lines, width: int | None = None) -> str:
    """Lines wrapped to the terminal, each continued two columns further in."""
    width, out = max(60, min(width or terminal_width(), 100)), []
    for line in lines:
        indent = " " * (len(line) - len(line.lstrip()) + 4)
        out += _wrap(line.strip(), width, indent[4:], indent)
    return "\n".join(out) + "\n"


def terminal_width() -> int:
    """Columns of the terminal: COLUMNS where set, else what the terminal says, else 80."""
    try:
        return int(os.environ.get("COLUMNS") or os.get_terminal_size(sys.stdout.fileno()).columns)
    except (ValueError, OSError):
        return 80


def _strong(text, colour):
    return f"{BOLD}{text}{PLAIN}" if colour else text


def clean(text: str) -> str:
    """Text without control characters, so that no name in a file can move the cursor or change
    colours.
    """
    return "".join(c if c.isprintable() else "?" for c in text)


def welcome_colour() -> bool:
    """Colour only on a terminal that wants it."""
    return (
        sys.stdout.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
    )
