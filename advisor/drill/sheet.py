"""The sheet of what was discussed: Markdown, written whole after every step, beside the file and
then in its place.
"""

from __future__ import annotations

import os
from pathlib import Path
from typing import NamedTuple

from advisor.drill.missed import HEADING
from advisor.faults import Fault, Faults, Place
from advisor.papers.faces.harmless import marks


class Entry(NamedTuple):
    """One thing discussed: what was asked, the person's choice and reason, the advice, the rules
    behind it, their objection, and what was not heard in their words.
    """

    asked: str
    choice: str
    reason: str
    advice: tuple
    rules: tuple
    point: str
    missed: tuple = ()


def markdown(title: str, teaches: str, guidance, entries, cautions) -> str:
    """The sheet as text."""
    lines = [f"# Rehearsal: {marks(title or 'a case')}", "", marks(teaches), ""]
    if guidance:
        lines += ["## Local guidance", "", *(f"- {marks(line)}" for line in guidance), ""]
    for number, entry in enumerate(entries, 1):
        lines += [
            f"## {number}. {marks(entry.asked)}",
            "",
            f"- Chosen: {marks(entry.choice) or 'nothing said'}",
            f"- Reason given: {marks(entry.reason) or 'none said'}",
        ]
        lines += (
            [
                f"- Advice: {marks(entry.advice[0])}",
                *(f"    - {marks(a)}" for a in entry.advice[1:]),
            ]
            if entry.advice
            else []
        )
        lines += (
            ["- Rules that differ:", *(f"    - {marks(r)}" for r in entry.rules)]
            if entry.rules
            else []
        )
        lines += (
            [f"- {HEADING}", *(f"    - {marks(m)}" for m in entry.missed)] if entry.missed else []
        )
        lines += (
            ["- Seen otherwise, to take to a qualified trainer: " + marks(entry.point)]
            if entry.point
            else []
        )
        lines.append("")
    points = [e for e in entries if e.point]
    lines += (
        [
            "## Points to take to a qualified trainer",
            "",
            *(f"- {marks(e.asked)} {marks(e.point)}" for e in points),
            "",
        ]
        if points
        else []
    )
    return "\n".join(lines + ["## Cautions", "", *(f"- {marks(c)}" for c in cautions), ""])


class Sheet:
    """A file that is new, or refused."""

    def __init__(self, name: str):
        self.path = Path(name) if name else None
        if self.path and os.path.lexists(self.path):  # also a link that leads nowhere yet
            raise Faults(
                [
                    Fault(
                        Place(name),
                        "this file is there already; choose another name for the sheet.",
                    )
                ]
            )

    def write(self, text: str):
        """Put the whole sheet in place in one move; raises Faults when it cannot be written."""
        if not self.path:
            return
        draft = self.path.with_name(f"{self.path.name}.{os.getpid()}.part")
        try:
            draft.write_text(text, "utf-8")
            os.replace(draft, self.path)
        except (OSError, ValueError) as error:  # a name with a zero byte is a ValueError
            raise Faults(
                [
                    Fault(
                        Place(str(self.path)),
                        f"cannot write the sheet ({getattr(error, 'strerror', None) or error});"
                        " choose another place.",
                    )
                ]
            ) from None
