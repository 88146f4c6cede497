"""What the facts say of the anchors and of what hangs on them, as typed records: a place is given
only where it is known nearly enough to be drawn.
"""

from __future__ import annotations

from string import ascii_uppercase

from msgspec import Struct

from advisor.model import names
from advisor.pictures.view import NOT_KNOWN, View

SIDES = {"left": -1, "middle": 0, "right": 1}  # as seen facing the drop


class AnchorSeen(Struct, frozen=True):
    """An anchor as told; `back` and `height` in metres, None where not known nearly enough."""

    entity: str
    letter: str
    name: str
    side: str
    back: float | None
    height: float | None
    sound: bool
    in_line: bool
    master: bool
    words: str

    @property
    def aside(self) -> int:
        """-1 left, 0 middle, 1 right."""
        return SIDES[self.side]


def settled(view: View, entity: str, key: str) -> float | None:
    """A number that is known nearly enough to be drawn at one place: in the middle of its range
    where that is small beside the number.
    """
    span = view.span(entity, key)
    if span is None or span[1] - span[0] > 0.1 + 0.25 * abs(span[1]):
        return None
    return (span[0] + span[1]) / 2


def letters(number: int) -> str:
    """A, B, … Z, A2, B2, …"""
    again, place = divmod(number, len(ascii_uppercase))
    return ascii_uppercase[place] + (str(again + 1) if again else "")


def anchors_of(view: View) -> tuple[AnchorSeen, ...]:
    """All anchors of the case, lettered in their order."""
    return tuple(_anchor(view, letters(n), e) for n, e in enumerate(view.entities("anchor")))


def _anchor(view: View, letter: str, entity: str) -> AnchorSeen:
    sound = view.choice(entity, names.ANCHOR_SOUND) == "yes"
    side = view.choice(entity, names.ANCHOR_SIDE)
    told = {
        "from the lip": view.told(entity, names.ANCHOR_BACK),
        "up": view.told(entity, names.ANCHOR_HEIGHT),
    }
    words = [
        view.told(entity, names.ANCHOR_KIND),
        side or "side not known",
        *(f"{value} {what}" for what, value in told.items() if not value.startswith(NOT_KNOWN)),
        "shown sound" if sound else "not shown sound",
    ]
    return AnchorSeen(
        entity=entity,
        letter=letter,
        name=view.name(entity),
        side=side,
        back=settled(view, entity, names.ANCHOR_BACK),
        height=settled(view, entity, names.ANCHOR_HEIGHT),
        sound=sound,
        in_line=view.choice(entity, names.ANCHOR_IN_LIFELINE) == "yes",
        master=view.choice(entity, names.ANCHOR_KIND) == "master point",
        words=f"{view.name(entity)}: {', '.join(words)}",
    )


def hung_on(view: View, anchors: tuple[AnchorSeen, ...]) -> AnchorSeen | None:
    """The anchor decided for the ladder; None where none is."""
    chosen = view.decided(names.LADDER_ANCHOR)
    return next((a for a in anchors if chosen and a.name == chosen), None)


def way_of(view: View) -> str:
    """How the lifeline is worked, as planned; '' where nobody has said."""
    return view.choice(*names.LIFELINE_WAY)


def tether_form(view: View) -> str:
    """How the ladder is tied: as told, else as decided; '' where it is open."""
    return view.choice(*names.TETHER_FORM_TOLD) or view.decided(names.TETHER_FORM)


def gap_span(view: View, anchor: AnchorSeen | None) -> tuple[float, float] | None:
    """How far the last rung hangs above the landing, in metres from least to greatest; below
    nought that much ladder lies on it. From the anchor that it hangs on, where its place is known.
    """
    own = None
    if anchor is not None and anchor.back is not None and anchor.height is not None:
        own = view.span(anchor.entity, names.ANCHOR_GAP)
    return own or view.span(*names.PITCH_LADDER_GAP)


def line_reach(view: View, depth: float) -> tuple[float, float] | None:
    """How deep below the lip the lifeline reaches, from least to greatest, in the way planned and
    with what it needs at both ends; None where its length or the way is open. Its reserve is what
    is used up first.
    """
    spare = view.span(*names.LIFELINE_TO_SPARE)
    reserve = view.span(*names.LIFELINE_RESERVE) or (0.0, 0.0)
    way = way_of(view)
    if spare is None or not way:
        return None
    if way == "self-lining":
        return depth + spare[0], depth + spare[1]
    strands = 2 if way == "doubled from below" else 1
    return (
        depth + (spare[0] + reserve[0]) / strands,
        depth + (spare[1] + reserve[1]) / strands,
    )


def held_words(anchors: tuple[AnchorSeen, ...]) -> str:
    """What is missing for the lifeline to be drawn at the pitch head."""
    held = [a for a in anchors if a.in_line]
    if not held:
        return "which anchors hold the lifeline, so no lifeline"
    if any(not a.side or a.back is None for a in held if not a.master):
        return "the places of the lifeline's anchors, so no legs, master point or lifeline"
    return "the angle between the lifeline's legs, so no legs, master point or lifeline"
