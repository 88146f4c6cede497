"""What the talk is written on."""
from __future__ import annotations

import shutil
import sys


def say(text):
    """Write at once."""
    sys.stdout.write(text)
    sys.stdout.flush()


def rows():
    """Rows of the terminal, or None in a pipe."""
    return shutil.get_terminal_size().lines if sys.stdout.isatty() else None
