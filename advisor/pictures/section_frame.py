"""What the section is drawn from, and the one scale it is drawn to: metres across from the lip
(towards the void), metres down from the lip.
"""

from __future__ import annotations

from math import radians, tan

from msgspec import Struct

from advisor.model import names
from advisor.pictures.canvas import Box, Point
from advisor.pictures.places import (
    AnchorSeen,
    anchors_of,
    gap_span,
    hung_on,
    line_reach,
    settled,
    way_of,
)
from advisor.pictures.view import View

WIDTH, TOP, TALL = 400, 26, 400  # the sheet, its upper rim and the room for heights
LEFT, RIGHT = 66, 350  # the room across; figures of depth stand to the left of it
PERSON = 1.7  # m, the height of the person drawn
STEEP = 89.9  # degrees; steeper is upright


class Section(Struct, frozen=True):
    """The facts of the section; lengths in metres, None where not known nearly enough."""

    depth: float
    hang: str
    anchors: tuple[AnchorSeen, ...]
    hung: AnchorSeen | None
    gap: tuple[float, float] | None
    way: str
    reach: tuple[float, float] | None
    slab: tuple[float, float] | None  # its height and the run across under it
    stand_off: float
    scale: float
    lip_x: float
    lip_y: float

    def at(self, across: float, down: float) -> Point:
        """Where a place is on the sheet."""
        return self.lip_x + across * self.scale, self.lip_y + down * self.scale

    @property
    def landing(self) -> float:
        """The landing's height on the sheet."""
        return self.lip_y + self.depth * self.scale

    @property
    def area(self) -> Box:
        """Where labels may stand."""
        return Box(4, 4, WIDTH - 4, self.landing + 34)

    @property
    def wall(self) -> list[Point]:
        """The way down that a ladder takes along the rock or past it, in drawing units."""
        points = [(self.lip_x, self.lip_y)]
        if self.slab:
            points.append(self.at(self.slab[1], self.slab[0]))
        if not self.slab or self.slab[0] < self.depth - 1e-6:
            points.append((points[-1][0], self.landing))
        return points


def section_of(view: View) -> Section | None:
    """The facts of the section; None where the depth is not known, so that there is no scale."""
    depth = settled(view, *names.PITCH_DEPTH)
    if not depth:
        return None
    anchors = anchors_of(view)
    hung = hung_on(view, anchors)
    placed = [a for a in anchors if a.back is not None and a.height is not None]
    slab = _slab(view, depth)
    way = way_of(view)
    doubled = way == "doubled from below"
    stand_off = _stand_off(view) if doubled else 0.0
    left = max([a.back or 0.0 for a in placed] + [0.5]) + 0.4
    right = max(slab[1] if slab else 0.0, 0.0) + max(2.2, stand_off + 0.6)
    up = max([a.height or 0.0 for a in placed] + [0.5]) + 0.4
    scale = min(TALL / (depth + up), (RIGHT - LEFT) / (left + right))
    return Section(
        depth=depth,
        hang=view.choice(*names.PITCH_HANG),
        anchors=anchors,
        hung=hung,
        gap=gap_span(view, hung),
        way=way,
        reach=line_reach(view, depth),
        slab=slab,
        stand_off=stand_off,
        scale=scale,
        lip_x=LEFT + max(left * scale, 40.0),
        lip_y=TOP + up * scale,
    )


def _slab(view: View, depth: float) -> tuple[float, float] | None:
    """Height of the sloping part and how far it goes across; None where there is none to draw."""
    hang = view.choice(*names.PITCH_HANG)
    slope = settled(view, *names.PITCH_SLAB_SLOPE)
    height = settled(view, *names.PITCH_SLAB_HEIGHT)
    if hang not in ("slab", "mixed") or slope is None or (hang == "mixed" and height is None):
        return None
    height = min(depth if height is None else height, depth)
    return height, height / tan(radians(slope)) if slope < STEEP else 0.0


def _stand_off(view: View) -> float:
    """How far from the foot the belayer below is counted to stand."""
    for number in view.advice.calculations:
        if number.gives == names.LIFELINE_DOUBLED.key:
            for part in number.inputs:
                if part.name.replace("_", " ") == "stand off" and part.span:
                    return sum(part.span) / 2
    return 3.0
