"""'Assume …': what is told to look ahead, and is not known; 'forget …' takes it away."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from typing import NamedTuple

from advisor.facts.values import Assumed
from advisor.language.understand import Intent

FORGOTTEN = "forget"  # the kind of an order that takes what is assumed away
_ASSUME = re.compile(
    r"(?:ok(?:ay)?,? |so,? |and |now |let us |let's |lets |just |please )*assum(?:e|ing)\b"
    r"(?: that| for now)?[,:]? (?P<rest>\S.*)",
    re.I,
)
_FORGET = re.compile(
    r"(?:please )?(?:forget|stop assuming|don't assume|do not assume)"
    r"(?: about)?(?: (?:the|my|our|all|what is|what's|what i))* (?P<what>\S.*?)[.!]?",
    re.I,
)
_ALL = frozenset({"assumed", "assumption", "assumptions", "that is assumed", "is assumed"})


class Line(NamedTuple):
    """A line typed, in parts, and whether it only assumes what it says."""

    parts: tuple
    assumes: bool


def heard(text: str, read: Callable[[str], tuple]) -> Line:
    """What a line says, in the parts that `read` finds; one that begins so and asks something only
    supposes.
    """
    found = _ASSUME.fullmatch(text.strip())
    if not found:
        return Line(read(text), False)
    parts = read(found["rest"])
    if text.rstrip().endswith("?") or any(isinstance(part, Intent) for part in parts):
        return Line(read(f"suppose {found['rest']}"), False)
    return Line(parts, True)


def told(session, facts: Iterable[tuple[str, str]]) -> list[str]:
    """What to say of (entity, key) facts that were assumed just now."""
    case = session.case().facts
    kept = [ref for ref in dict.fromkeys(facts) if ref in case and session.is_assumed(ref)]
    if not kept:
        return []
    names = "; ".join(f"{_name(ref)} {case[ref].text}" for ref in kept)
    return [f"Assumed, not known: {names}; it clears nothing. Tell it once you know."]


def order(session, text: str):
    """(kind, lines) of an order to forget what is assumed, or None when the line is talk."""
    match = _FORGET.fullmatch(" ".join(text.split()))
    gone = _meant(session, match["what"].lower()) if match else []
    if not gone:
        return None
    session.step({ref: raw for ref, raw in session.said.items() if ref not in gone})
    return FORGOTTEN, [f"No longer assumed: {'; '.join(map(_name, gone))}."]


def _meant(session, what: str) -> list[tuple[str, str]]:
    """The assumed facts that some words name; all for a word for all of them."""
    assumed = [ref for ref, raw in session.said.items() if isinstance(raw, Assumed)]
    if what in _ALL:
        return assumed
    words = {*what.removeprefix("that ").replace("'s ", " ").split()} - {"the", "of"}
    return [ref for ref in assumed if words and words <= {*_name(ref).lower().split()}]


def _name(reference: tuple[str, str]) -> str:
    """A fact in words."""
    return f"{reference[0]} {reference[1].partition('.')[2]}"
