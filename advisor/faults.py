"""Errors a person can act on: where, what, what to do. All faults of a file are gathered before
any is raised.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import NamedTuple

LONG_QUOTE = re.compile(r"'([^'\s]{100})[^'\s]{20,}'")


class Place(NamedTuple):
    """A spot in a file; line and column count from 1."""

    file: str
    line: int = 1
    column: int = 1

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


class Fault(NamedTuple):
    """One thing wrong in the input."""

    place: Place
    message: str

    def __str__(self) -> str:
        """One line; characters that could move the cursor or break the line show as '?', and what
        is quoted at great length is cut.
        """
        message = LONG_QUOTE.sub(r"'\1…'", self.message)
        return "".join(c if c.isprintable() else "?" for c in f"{self.place}: {message}")


class Faults(Exception):
    """Bad input. `faults` is never empty and is sorted by place."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = sorted(set(faults))
        super().__init__("\n".join(map(str, self.faults)))


class Disagreement(Exception):
    """The two engines gave different answers: an internal fault, so no advice is given."""

    def __init__(self, stratum: str, first: Sequence[object], second: Sequence[object]) -> None:
        self.stratum, self.first, self.second = stratum, first, second
        super().__init__(f"the two engines disagree in stratum '{stratum}'")


def did_you_mean(word: str, known: Iterable[str], limit: int = 3) -> str:
    """' Did you mean a, b?' for a misspelt name, '' when nothing is near."""
    import difflib  # only needed once something is wrong

    near = difflib.get_close_matches(word, list(known), n=limit, cutoff=0.6)
    return f" Did you mean {' or '.join(repr(n) for n in near)}?" if near else ""
