"""The command in this process, with the real rule base loaded once and every place a file could
appear in watched.
"""

import io
import os
import re
import sys
from functools import cache
from types import SimpleNamespace

import advisor.advise
from advisor.cli import main

ONE_LINE = re.compile(r"[^\n]+?:(\d+):(\d+): (.+[.?])\Z")
_ADVISOR = advisor.advise.Advisor


@cache
def _once():
    return _ADVISOR()


def loaded(local_file=None):
    """The real rule base, the same however it is asked for."""
    return _once()


def run(arguments, standard_input=b"", load=loaded):
    """Run the command; (exit code, standard output, standard error)."""
    out, error, before = io.StringIO(), io.StringIO(), (sys.stdout, sys.stderr, sys.stdin)
    advisor.advise.Advisor, kept = load, advisor.advise.Advisor
    sys.stdout, sys.stderr, sys.stdin = (
        out,
        error,
        SimpleNamespace(buffer=io.BytesIO(standard_input)),
    )
    try:
        code = main(arguments)
    except SystemExit as end:
        code = end.code
    finally:
        sys.stdout, sys.stderr, sys.stdin = before
        advisor.advise.Advisor = kept
    return code, out.getvalue(), error.getvalue()


def places(error: str, file: str) -> list:
    """[(line, column, message)] of the errors; fails on any line that is not one clear sentence
    with its place.
    """
    found = []
    for line in error.splitlines():
        match = ONE_LINE.match(line)
        assert match and line.startswith(file), f"not FILE:LINE:COLUMN: sentence -> {line!r}"
        assert all(c.isprintable() for c in line), f"holds what cannot be shown: {line!r}"
        found.append((int(match.group(1)), int(match.group(2)), match.group(3)))
    assert found and "Traceback" not in error
    return found


def files_below(folder) -> dict:
    """{path: bytes} of everything below the folder that holds the working folder."""
    return {
        os.path.join(at, name): open(os.path.join(at, name), "rb").read()
        for at, _, names in os.walk(folder.parent)
        for name in names
    }
