"""The checks as lines to be read aloud: group by group, what is to be seen of several things alike
in one line.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from advisor.model.advice import Check

AT_A_TIME = 9  # lines of a group that are read and answered together


class CheckLine(NamedTuple):
    """One line of a group, and the checks that it stands for."""

    group: str
    text: str
    checks: tuple[Check, ...]


def check_lines(checks: Iterable[Check]) -> tuple[CheckLine, ...]:
    """The lines of all checks, in the order of their groups."""
    alike: dict[tuple[str, str], list[Check]] = {}
    for check in checks:
        alike.setdefault((check.group, check.see), []).append(check)
    return tuple(
        CheckLine(group, _text(see, found), tuple(found)) for (group, see), found in alike.items()
    )


def _text(see: str, checks: list[Check]) -> str:
    """What to see: of one thing by its name, of several with their names at the end."""
    if len(checks) == 1:
        return checks[0].text
    return f"{see.replace('{it}', 'it').rstrip('.')}: {', '.join(c.named for c in checks)}."


def groups(checks: Iterable[Check]) -> list[tuple[CheckLine, ...]]:
    """The lines group by group, of each at most so many as are read together; what is left over
    comes when these are answered.
    """
    found: dict[str, list[CheckLine]] = {}
    for line in check_lines(checks):
        found.setdefault(line.group, []).append(line)
    return [tuple(lines[:AT_A_TIME]) for lines in found.values()]
