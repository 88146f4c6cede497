"""Bytes from a file, a pipe or standard input: never more than a bound, never waited for without
end.
"""

from __future__ import annotations

import os
import select
import stat
import sys
from pathlib import Path

PATIENCE = 10  # s in which nobody writes to a named pipe


def read_file(path: str | Path, most: int) -> bytes:
    """At most `most` bytes and one more, which tells that there are more; raises OSError, or
    ValueError of a name with a zero byte.
    """
    handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    try:
        if stat.S_ISFIFO(os.fstat(handle).st_mode):
            return _from_pipe(handle, most + 1)
        with os.fdopen(handle, "rb", closefd=False) as file:
            return file.read(most + 1)
    finally:
        os.close(handle)


def read_input(most: int) -> bytes:
    """As much of standard input."""
    return sys.stdin.buffer.read(most + 1)


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
