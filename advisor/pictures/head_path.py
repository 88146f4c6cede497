"""The way people take to the ladder, as one arrow that crosses ladder or lifeline where that is
told, and does not where it is told not to.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import hypot

from msgspec import Struct

from advisor.pictures.canvas import Box, Point

Segment = tuple[Point, Point]


class Way(Struct, frozen=True):
    """One way to the ladder, and where it first crosses what hangs there."""

    points: tuple[Point, ...]
    crossing: Point | None


def crossing_of(a: Segment, b: Segment) -> Point | None:
    """Where two straight lines cross, ends included; None where they do not."""
    (ax, ay), (bx, by) = a
    (cx, cy), (dx, dy) = b
    turn = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx)
    if abs(turn) < 1e-9:
        return None
    along = ((cx - ax) * (dy - cy) - (cy - ay) * (dx - cx)) / turn
    other = ((cx - ax) * (by - ay) - (cy - ay) * (bx - ax)) / turn
    if 0 <= along <= 1 and 0 <= other <= 1:
        return ax + along * (bx - ax), ay + along * (by - ay)
    return None


def way_to(
    ladder: Point,
    start: Point,
    turn: float,
    rig: Sequence[Segment],
    marks: Sequence[Box],
    crosses: bool,
) -> Way | None:
    """The shortest way from `start` that crosses the rig or keeps clear of it, as told; it runs at
    the height `turn` behind everything, comes down and goes across to the ladder. None where
    there is no such way.
    """
    best, least = None, 1e9
    for points in _ways(ladder, start, turn):
        way = Way(points, _first(points, rig))
        if (way.crossing is not None) == crosses:
            cost = _length(points) + 150 * _hits(points, marks)
            if cost < least:
                best, least = way, cost
    return best


def _ways(ladder: Point, start: Point, turn: float) -> Iterator[tuple[Point, ...]]:
    for column in range(40, 361, 8):
        for side in (-1, 1):
            end = (ladder[0] + side * 13, ladder[1])
            if abs(column - end[0]) > 12:  # an arrow needs room to end sideways
                yield start, (column, turn), (column, ladder[1]), end
            else:
                yield start, (end[0], turn), end


def _first(points: Sequence[Point], rig: Sequence[Segment]) -> Point | None:
    for leg in zip(points, points[1:]):
        for part in rig:
            found = crossing_of(leg, part)
            if found:
                return found
    return None


def _length(points: Sequence[Point]) -> float:
    return sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in zip(points, points[1:]))


def _hits(points: Sequence[Point], marks: Sequence[Box]) -> int:
    """How many symbols a way runs over."""
    along = list(_along(points))
    return sum(
        any(left < x < right and top < y < bottom for x, y in along)
        for left, top, right, bottom, _ in marks
    )


def _along(points: Sequence[Point]) -> Iterator[Point]:
    for (x1, y1), (x2, y2) in zip(points, points[1:]):
        for step in range(25):
            yield x1 + (x2 - x1) * step / 24, y1 + (y2 - y1) * step / 24
