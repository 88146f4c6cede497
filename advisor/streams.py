"""Standard input and output as they may be: closed, full, a pipe that nobody reads, bytes that are
no text.
"""

from __future__ import annotations

import os
import shutil
import sys


class NotShown(Exception):
    """What was to be shown could not be written; `code`: the exit code of the advice,
    `closed_pipe`: whether the reader only had enough.
    """

    def __init__(self, error: OSError, code: int):
        self.code, self.closed_pipe = code, isinstance(error, BrokenPipeError)
        super().__init__(error.strerror or str(error))


class _Closed:
    """A standard output that was closed before the start."""

    encoding, closed = "utf-8", False

    def write(self, text):
        raise OSError("it is closed")

    def flush(self):
        pass

    def isatty(self) -> bool:
        return False

    def fileno(self):
        raise OSError("it is closed")


class _Errors:
    """A standard error whose fullness is no fault: what cannot be told there is let go."""

    def __init__(self, stream):
        self._stream = stream

    def write(self, text):
        try:
            return self._stream.write(text)
        except OSError:
            _let_go(self._stream)
            return len(text)

    def flush(self):
        try:
            self._stream.flush()
        except OSError:
            _let_go(self._stream)

    def __getattr__(self, name):
        return getattr(self._stream, name)


def ready():
    """Make the three streams fit for use; called once, before anything is read or shown."""
    if sys.stdin is None:  # started with its input closed
        sys.stdin = open(os.devnull, encoding="utf-8")
    sys.stdout = _Closed() if sys.stdout is None else sys.stdout
    if sys.stderr is None:
        sys.stderr = open(os.devnull, "w", encoding="utf-8")
    for stream in (
        sys.stdin,
        sys.stdout,
        sys.stderr,
    ):  # a byte that is no text is shown as such, and ends nothing
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")
    sys.stderr = sys.stderr if isinstance(sys.stderr, _Errors) else _Errors(sys.stderr)


def give(text: str, code: int = 0) -> int:
    """Show a text at once and return the exit code; raises NotShown with that code."""
    try:
        sys.stdout.write(text)
        sys.stdout.flush()
    except OSError as error:
        if not _let_go(sys.stdout):
            sys.stdout = open(os.devnull, "w", encoding="utf-8")
        raise NotShown(error, code) from None
    return code


def give_pages(text: str, code: int = 0) -> int:
    """Show a text as `give` does; at a terminal, what is longer than it a page at a time."""
    terminal = sys.stdout.isatty() and sys.stdin.isatty()
    if not terminal or text.count("\n") < shutil.get_terminal_size().lines:
        return give(text, code)
    import pydoc  # only where it is needed

    os.environ.setdefault("LESS", "FRX")  # colour as colour, and the text stays when one leaves
    pydoc.pager(text)
    return code


def _let_go(stream) -> bool:
    """Send what a stream still holds back nowhere, so that the end of the program does not fail on
    it again; whether that was possible.
    """
    try:
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, stream.fileno())
        os.close(nowhere)
    except (OSError, ValueError, AttributeError):
        return False
    return True
