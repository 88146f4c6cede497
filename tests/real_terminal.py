"""The program on the screen of a real pseudo-terminal: what a user sees, and the keys
they press.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pexpect
import pyte

ROOT = Path(__file__).resolve().parent.parent


class _Screen(pyte.HistoryScreen):
    """A screen that answers the terminal's own questions, as real ones do."""

    send = None

    def write_process_input(self, data):
        self.send(data)


class Screen:
    """The command with its arguments at so many columns and rows; of the environment NO_COLOR,
    COLUMNS and the pager's own settings are left out unless given.
    """

    def __init__(self, *arguments, columns=80, rows=24, **environment):
        left_out = ("NO_COLOR", "COLUMNS", "LINES", "PAGER", "LESS")
        self.child = pexpect.spawn(
            sys.executable,
            ["-m", "advisor", *arguments],
            dimensions=(rows, columns),
            cwd=str(ROOT),
            timeout=120,
            env={
                **{k: v for k, v in os.environ.items() if k not in left_out},
                "TERM": "xterm-256color",
                **environment,
            },
        )
        self.screen = _Screen(columns, rows, history=1000)
        self.screen.send = self.child.send
        self.stream, self.bytes = pyte.ByteStream(self.screen), b""

    @property
    def lines(self):
        """The rows that are seen."""
        return [line.rstrip() for line in self.screen.display]

    @property
    def text(self):
        return "\n".join(self.lines)

    @property
    def words(self):
        """What is seen, wherever its lines are broken."""
        return " ".join(self.text.split())

    @property
    def scrolled(self):
        """The rows that left the screen at its top."""
        return [
            "".join(row[n].data for n in range(self.screen.columns)).rstrip()
            for row in self.screen.history.top
        ]

    def until(self, holds):
        """Read what the program writes until the screen is as wanted."""
        while not holds():
            data = self.child.read_nonblocking(65536, timeout=120)
            self.bytes += data
            self.stream.feed(data)
        return self

    def type(self, keys):
        self.child.send(keys)
        return self

    def ended(self):
        """The exit code, once the program has shown all and ended."""
        while True:
            try:
                self.until(lambda: False)
            except pexpect.EOF:
                break
        self.child.wait()
        return self.child.exitstatus

    def close(self):
        self.child.close(force=True)
