"""What the pitch head is drawn from, and where each thing stands: metres across (right, facing the
drop, counts up) and metres back from the lip, on one scale both ways.
"""

from __future__ import annotations

from math import acos, degrees, hypot, radians, sin, tan

from msgspec import Struct

from advisor.model import names
from advisor.pictures.canvas import Box, Point
from advisor.pictures.places import AnchorSeen, anchors_of, hung_on, settled
from advisor.pictures.view import View

WIDTH, LIP, MIDDLE = 400, 330, 200  # the sheet, the lip's height on it, and its middle
# The drop lies at the bottom of the sheet, so that one walks down it as one walks up to the drop;
# seen so, what is left facing the drop lies on the sheet's right. (-1: the drop at the top.)
TURN = 1
DEEP, ASIDE = 190.0, 112.0  # units back from the lip, and aside, that known distances may take
FINEST = 125.0  # units to the metre at most
ONLY_SIDE = 104.0  # units aside for what is only told to be left or right
WIDEST = 175.0  # degrees; wider legs do not meet on the sheet


class Legs(Struct, frozen=True):
    """The lifeline's legs: `ends` are (anchor, place), `point` the master point, places in metres
    as (across, back). `flat`: the angle is shown here, laid flat; else in a detail, face on.
    """

    ends: tuple[tuple[AnchorSeen, Point], ...]
    point: Point
    angle: float | None
    flat: bool
    measured: bool


class Head(Struct, frozen=True):
    """The facts of the pitch head with their places in metres."""

    anchors: tuple[AnchorSeen, ...]
    places: dict[str, Point]  # by letter; across is true only for those of `across`
    across: frozenset[str]
    hung: AnchorSeen | None
    legs: Legs | None
    gap: float | None  # ladder to lifeline, where it is drawn
    scale: float

    def at(self, across: float, back: float) -> Point:
        """Where a place is on the sheet."""
        return MIDDLE - TURN * across * self.scale, LIP - back * self.scale

    def of(self, anchor: AnchorSeen) -> Point:
        """Where an anchor is on the sheet."""
        return self.at(*self.places[anchor.letter])

    @property
    def area(self) -> Box:
        """Where labels may stand."""
        return Box(4, 26, WIDTH - 4, LIP + 74)


def angle_of(view: View, legs: int) -> float | None:
    """The angle between the outer legs, the widest it may be; None where it could be anything."""
    if legs > 2:
        side = settled(view, *names.HEAD_SIDE_LEG_ANGLE)
        if side is not None:
            return 2 * side
    span = view.span(*names.HEAD_LEG_ANGLE)
    if span is None or span[1] > WIDEST or span[1] - span[0] > 20:
        return None
    return span[1]


def held_by(anchors: tuple[AnchorSeen, ...]) -> tuple[AnchorSeen, ...]:
    """The lifeline's anchors from left to right, without a named master point."""
    return tuple(sorted((a for a in anchors if a.in_line and not a.master), key=_side))


def _side(anchor: AnchorSeen) -> int:
    return anchor.aside if anchor.side else 0


def head_of(view: View) -> Head:
    """All places of the pitch head that are known nearly enough."""
    anchors = anchors_of(view)
    shown = tuple(a for a in anchors if a.side and a.back is not None)
    scale = _scale(view, shown)
    legs = _legs(view, anchors, scale)
    hung = hung_on(view, anchors)
    places: dict[str, Point] = {}
    if legs:
        places |= {a.letter: place for a, place in legs.ends}
        named = _master(anchors)
        if named is not None:
            places[named.letter] = legs.point
    exact = set(places) if legs and legs.measured else set()
    gap = _hang_ladder(view, hung, legs, places, exact)
    for anchor in shown:
        if anchor.letter not in places:
            places[anchor.letter] = _free(anchor, places, scale)
    return Head(
        anchors=anchors,
        places=places,
        across=frozenset(exact),
        hung=hung if hung is not None and hung.letter in places else None,
        legs=legs,
        gap=gap,
        scale=scale,
    )


def _scale(view: View, shown: tuple[AnchorSeen, ...]) -> float:
    """Units to the metre, so that all known distances have room."""
    far = max([a.back or 0.0 for a in shown] + [1.0])
    spacing = settled(view, *names.HEAD_LEG_SPACING) or 0.0
    gap = settled(view, *names.HEAD_LADDER_TO_LIFELINE) or 0.0
    wide = max(spacing / 2, gap, 0.5)
    angle = angle_of(view, 2)
    tall = spacing / 2 / tan(radians(max(angle, 4.0)) / 2) if angle else 0.0
    return min(FINEST, DEEP / far, ASIDE / wide, 170 / max(tall, 0.5))


def _master(anchors: tuple[AnchorSeen, ...]) -> AnchorSeen | None:
    """A master point that is named as an anchor, where its place is told."""
    return next((a for a in anchors if a.master and a.side and a.back is not None), None)


def _legs(view: View, anchors: tuple[AnchorSeen, ...], scale: float) -> Legs | None:
    """The legs from the lifeline's anchors to the master point; None where a place or the angle is
    open.
    """
    held = held_by(anchors)
    named = _master(anchors)
    if not held and named is None or any(not a.side or a.back is None for a in held):
        return None
    middle = _middle(held)
    if named is not None and not held:
        return Legs((), (named.aside * ONLY_SIDE / scale, named.back or 0.0), None, False, False)
    if len(held) == 1:
        place = (held[0].aside * ONLY_SIDE / scale, held[0].back or 0.0)
        point = (place[0], named.back or 0.0) if named else place
        return Legs(((held[0], place),), point, None, False, False)
    angle = angle_of(view, len(held))
    if angle is None or angle <= 0:
        return None
    return _spread(view, held, named, angle, middle * ONLY_SIDE / scale, scale)


def _middle(held: tuple[AnchorSeen, ...]) -> float:
    """Where the line hangs: left, middle or right by the sides of its anchors."""
    total = sum(a.aside for a in held)
    return 0.0 if not held or abs(total) < len(held) else float(total // len(held))


def _spread(
    view: View,
    held: tuple[AnchorSeen, ...],
    named: AnchorSeen | None,
    angle: float,
    centre: float,
    scale: float,
) -> Legs:
    """Two or more legs at an angle; their spacing as told, else as it has room."""
    first, last = held[0].back or 0.0, held[-1].back or 0.0
    spacing = settled(view, *names.HEAD_LEG_SPACING) if len(held) == 2 else None
    measured = spacing is not None and spacing > abs(first - last)
    near = min(first, last)
    if not measured or spacing is None:
        tall = max(0.7 * near, 0.05)
        spacing = max(2 * min(tall * tan(radians(angle) / 2), 100 / scale), abs(first - last) * 1.2)
    across = (spacing**2 - (first - last) ** 2) ** 0.5
    left = (centre - across / 2, first)
    right = (centre + across / 2, last)
    lean = _lean(view, spacing, angle) if measured else 90 - angle / 2
    point = _apex(left, right, lean, angle)
    flat = named is None and point[1] >= 0
    if not flat:
        back = named.back if named and named.back is not None else (first + last) / 2
        point = (centre, back)
    between = [
        (a, (left[0] + across * (n + 1) / (len(held) - 1), a.back or 0.0))
        for n, a in enumerate(held[1:-1])
    ]
    ends = ((held[0], left), *between, (held[-1], right))
    return Legs(ends, point, angle, flat, measured)


def _apex(left: Point, right: Point, at_left: float, angle: float) -> Point:
    """Where two legs meet towards the drop: at an angle there, and one at the left anchor between
    the leg and the other anchor, in degrees.
    """
    dx, dy = right[0] - left[0], right[1] - left[1]
    spacing = hypot(dx, dy)
    leg = spacing * _sine(180 - angle - at_left) / _sine(angle)
    along, down = leg * _sine(90 - at_left), leg * _sine(at_left)
    ux, uy = dx / spacing, dy / spacing
    return left[0] + ux * along + uy * down, left[1] + uy * along - ux * down


def _lean(view: View, spacing: float, angle: float) -> float:
    """The angle at the left anchor: by the lengths of both legs where those are told and fit the
    angle (law of cosines), else as of equal legs.
    """
    left, right = settled(view, *names.HEAD_LEFT_LEG), settled(view, *names.HEAD_RIGHT_LEG)
    equal = 90 - angle / 2
    if not left or not right or 2 * max(left, right, spacing) >= left + right + spacing:
        return equal
    meet = degrees(acos((left**2 + right**2 - spacing**2) / (2 * left * right)))
    if abs(meet - angle) > 1:
        return equal
    at_left = degrees(acos((left**2 + spacing**2 - right**2) / (2 * left * spacing)))
    return min(at_left, 179 - angle)


def _sine(angle: float) -> float:
    return sin(radians(angle))


def _hang_ladder(
    view: View,
    hung: AnchorSeen | None,
    legs: Legs | None,
    places: dict[str, Point],
    exact: set[str],
) -> float | None:
    """Set the ladder's anchor at its distance from the lifeline, where its side tells which way;
    the gap so drawn.
    """
    gap = settled(view, *names.HEAD_LADDER_TO_LIFELINE)
    if hung is None or legs is None or gap is None or not hung.side or hung.back is None:
        return None
    if hung.letter in places:
        return None
    towards = hung.aside - _middle(tuple(a for a, _ in legs.ends))
    if not towards:
        return None
    across = legs.point[0] + (gap if towards > 0 else -gap)
    places[hung.letter] = (across, hung.back)
    exact.add(hung.letter)
    return gap


def _free(anchor: AnchorSeen, places: dict[str, Point], scale: float) -> Point:
    """A place on the side told, clear of what stands there."""
    outwards = anchor.aside or 1
    for step in range(40):
        place = (
            (anchor.aside * ONLY_SIDE + outwards * 24 * (step % 4)) / scale,
            anchor.back or 0.0,
        )
        if step >= 4:  # the row is full: nearer the middle
            place = ((anchor.aside * ONLY_SIDE - outwards * 24 * (step - 3)) / scale, place[1])
        if all(hypot(place[0] - x, place[1] - y) * scale >= 21 for x, y in places.values()):
            return place
    return anchor.aside * ONLY_SIDE / scale, anchor.back or 0.0
