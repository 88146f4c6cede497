"""The places in a sentence of the one screen that are filled in: {pitch.depth}, {tether},
{ladder anchor: kind, side}, {sum of ladder-to-landing}.
"""

from __future__ import annotations

import re

from msgspec import Struct

FORM = re.compile(r"\{(sum of )?([^{}:]+)(?:: ([^{}]+))?\}")


class Slot(Struct, frozen=True):
    """A decision, a calculation or a fact by name; `facts`: what is told of the option chosen;
    `sum`: the working of the calculation instead of its result.
    """

    name: str
    facts: tuple[str, ...] = ()
    sum: bool = False


def slot(match: re.Match[str]) -> Slot:
    """The slot that FORM found."""
    working, name, facts = match.groups()
    return Slot(name, tuple(facts.split(", ")) if facts else (), bool(working))


def slots(text: str) -> tuple[Slot, ...]:
    """The slots of a sentence, in order."""
    return tuple(map(slot, FORM.finditer(text)))
