"""Bytes from a file, a pipe or standard input: never more than a bound, never waited for without
end.
"""

from __future__ import annotations

import os
import select
import stat
import sys
from pathlib import Path

MOST_TYPED = 100_000  # characters of a line
PATIENCE = 10  # s in which nobody writes to a named pipe


def read_file(path: str | Path, most: int) -> bytes:
    """At most `most` bytes and one more, which tells that there are more; raises OSError, or
    ValueError of a name with a zero byte.
    """
    handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    try:
        if stat.S_ISFIFO(os.fstat(handle).st_mode):
            return _from_pipe(handle, most + 1)
        if hasattr(os, "O_NONBLOCK"):
            os.set_blocking(handle, True)  # a terminal has nothing to read until somebody types
        with os.fdopen(handle, "rb", closefd=False) as file:
            return file.read(most + 1)
    finally:
        os.close(handle)


def read_input(most: int) -> bytes:
    """As much of standard input."""
    return sys.stdin.buffer.read(most + 1)


def read_line(most: int = MOST_TYPED) -> str:
    """A line of standard input, '' at its end. Of a longer one the beginning, without the rest:
    what comes next is the next line.
    """
    line = sys.stdin.readline(most)
    rest = line
    while len(rest) == most and not rest.endswith("\n"):
        rest = sys.stdin.readline(most)
    return line


def _from_pipe(handle: int, most: int) -> bytes:
    """What is written to a named pipe until its writer has done."""
    found = b""
    while len(found) < most:
        if not select.select([handle], [], [], PATIENCE)[0]:
            raise TimeoutError(0, f"nobody wrote to this pipe within {PATIENCE} s")
        more = os.read(handle, most - len(found))
        if not more:
            break
        found += more
    return found
