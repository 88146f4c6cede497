"""The checks as lines to be read aloud: group by group, what is to be seen of several things alike,
or is seen in one look, in one line.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, NamedTuple, Protocol

AT_A_TIME = 9  # lines of a group that are read and answered together


class Told(Protocol):
    """What can be a line of a group: a check, or what a leader says yes to at home."""

    @property
    def group(self) -> str: ...
    @property
    def see(self) -> str: ...
    @property
    def named(self) -> str: ...
    @property
    def text(self) -> str: ...


class CheckLine(NamedTuple):
    """One line of a group, and the checks (or what else is told) that it stands for."""

    group: str
    text: str
    checks: tuple[Any, ...]

    def each(self, name: str) -> tuple[str, ...]:
        """What its checks have under a name (`threatens`, `because`), each said once."""
        return tuple(dict.fromkeys(getattr(check, name) for check in self.checks))

    def well(self) -> tuple[str, ...]:
        """The answers that are well; each with its fact where one look shows several."""
        told = {check.fact: " or ".join(check.well) for check in self.checks}
        if len(set(told.values())) == 1:
            return (next(iter(told.values())),)
        return tuple(f"{fact.partition('.')[2]} {well}" for fact, well in told.items())


def check_lines(checks: Iterable[Told]) -> tuple[CheckLine, ...]:
    """The lines of all checks, in the order of their groups."""
    alike: dict[tuple[str, str], list[Told]] = {}
    for check in checks:
        alike.setdefault((check.group, check.see), []).append(check)
    return tuple(
        CheckLine(group, _text(see, found), tuple(found)) for (group, see), found in alike.items()
    )


def _text(see: str, checks: list[Told]) -> str:
    """What to see: of one thing by its name, of several with their names at the end."""
    names = list(dict.fromkeys(check.named for check in checks))
    if len(names) == 1 or "{it}" not in see:
        return checks[0].text
    return f"{see.replace('{it}', 'it').rstrip('.')}: {', '.join(names)}."


def groups(checks: Iterable[Told]) -> list[tuple[CheckLine, ...]]:
    """The lines group by group, of each at most so many as are read together; what is left over
    comes when these are answered.
    """
    found: dict[str, list[CheckLine]] = {}
    for line in check_lines(checks):
        found.setdefault(line.group, []).append(line)
    return [tuple(lines[:AT_A_TIME]) for lines in found.values()]
