"""What the talk is written on."""

from __future__ import annotations

import shutil
import sys

from advisor.streams import give


def say(text):
    """Write at once."""
    give(text)


def rows():
    """Rows of the terminal, or None in a pipe."""
    return shutil.get_terminal_size().lines if sys.stdout.isatty() else None
