"""The terminal: how wide it is, whether it wants colour, and lines made to fit it."""

from __future__ import annotations

import os
import sys
import textwrap


def rows(text, width, first="", then="") -> list:
    """A text in rows; rule ids stay whole."""
    found = textwrap.wrap(
        clean(text), width, initial_indent=first, subsequent_indent=then, break_on_hyphens=False
    )
    return [row.rstrip() for row in found]


def wrapped(lines, width: int | None = None) -> str:
    """Lines wrapped to the terminal, each continued two columns further in."""
    width, out = fitting(width), []
    for line in lines:
        indent = " " * (len(line) - len(line.lstrip()) + 4)
        out += rows(line.strip(), width, indent[4:], indent)
    return "\n".join(out) + "\n"


def page(lines) -> str:
    """Lines wrapped to the terminal, blank lines kept."""
    return "".join(wrapped([line]) if line else "\n" for line in lines)


def narrowed(lines) -> str:
    """Lines as they are, but for those too long for the terminal, which are wrapped."""
    width = fitting()
    return "".join(f"{line}\n" if len(line) <= width else wrapped([line]) for line in lines)


def terminal_width() -> int:
    """Columns of the terminal: COLUMNS where set, else what the terminal says, else 80."""
    try:
        return int(os.environ.get("COLUMNS") or os.get_terminal_size(sys.stdout.fileno()).columns)
    except (ValueError, OSError):
        return 80


def fitting(width: int | None = None) -> int:
    """The width to write in: as asked or as the terminal has it, between 20 and 100 columns."""
    return max(20, min(width or terminal_width(), 100))


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
