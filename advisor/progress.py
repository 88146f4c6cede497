"""How far a long search is, shown on one line of a terminal's error stream; and whether it was
broken off.
"""

from __future__ import annotations

import sys
from time import monotonic

from advisor.screen import terminal_width

AT_ONCE, OFTEN = 0.3, 0.2  # seconds before the first word, and between two
STOPPED = "The search was stopped early"


class Watch:
    """Looks on at a search without a word; `stopped` once Ctrl-C broke one off."""

    stopped = False

    def __call__(self, done: int, total: int, what: str) -> None:
        """So many of all were looked at; `what` they are."""

    def stop(self) -> None:
        """The search was broken off; what was found is told."""
        self.stopped = True

    def clear(self) -> None:
        """Nothing was written, so nothing is taken away."""


class Progress(Watch):
    """Says it on the error stream where that is a terminal; `clear` before the answer."""

    def __init__(self) -> None:
        self.began = self.last = monotonic()
        self.written = 0

    def __call__(self, done: int, total: int, what: str) -> None:
        now = monotonic()
        if not sys.stderr.isatty() or now - self.began < AT_ONCE or now - self.last < OFTEN:
            return
        self.last = now
        self._write(f"{done:,} of {total:,} {what} tried; Ctrl-C shows what was found")

    def clear(self) -> None:
        """Take the line away again, and be ready for another search."""
        if self.written:
            self._write("")
            sys.stderr.write("\r")
            sys.stderr.flush()
        self.began, self.written = monotonic(), 0

    def _write(self, text: str) -> None:
        text = text[: terminal_width() - 1]
        sys.stderr.write(f"\r{text.ljust(self.written)}")
        sys.stderr.flush()
        self.written = len(text)
