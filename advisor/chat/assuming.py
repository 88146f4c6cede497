"""'Assume …': what is told to look ahead, and is not known."""

from __future__ import annotations

import re
from typing import NamedTuple

_ASSUME = re.compile(
    r"(?:ok(?:ay)?,? |so,? |and |now |let us |let's |lets |just |please )*assum(?:e|ing)\b"
    r"(?: that| for now)?[,:]? (?P<rest>\S.*)",
    re.I,
)


class Line(NamedTuple):
    """A line typed, and whether it only assumes what it says."""

    text: str
    assumes: bool


def heard(text: str) -> Line:
    """What a line says; a question that begins so is no assumption."""
    found = _ASSUME.fullmatch(text.strip())
    asks = text.rstrip().endswith("?")
    return Line(found["rest"], True) if found and not asks else Line(text, False)


def told(session, facts) -> list[str]:
    """What to say of (entity, key) facts that were assumed just now."""
    kept = [ref for ref in facts if session.is_assumed(ref)]
    if not kept:
        return []
    return ["Assumed, to look ahead: not known, so it clears nothing. Tell it once you know."]
