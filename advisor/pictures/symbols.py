"""What one thing looks like, the same in every picture."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, radians, sin

from advisor.pictures.canvas import Box, Canvas, Point

RING = 9.0  # units, the radius of a lettered or numbered circle


def rungs(canvas: Canvas, points: Sequence[Point], part: str) -> None:
    """A ladder along a path: black sides, white between, rungs left black."""
    if len(points) > 1:
        canvas.mark_way(points, 5)
        canvas.path(points, thick=7, part=part)
        canvas.path(points, thick=4.4, dashes="4.5 1.5", colour="#fff", part=f"{part}-rungs")


def figure(canvas: Canvas, x: float, feet: float, tall: float, part: str) -> None:
    """A person standing, the feet at a height on the sheet."""
    head, hip = feet - tall, feet - tall * 0.45
    radius = tall * 0.09
    canvas.line(x, head + 2 * radius, x, hip, thick=2.2, part=part)
    canvas.line(x, hip, x - tall * 0.11, feet, thick=2.2)
    canvas.line(x, hip, x + tall * 0.11, feet, thick=2.2)
    canvas.line(x - tall * 0.14, feet - tall * 0.6, x + tall * 0.14, feet - tall * 0.68, thick=2)
    canvas.disc(x, head + radius, radius, filled=True)
    canvas.mark_way([(x, head), (x, feet)], tall * 0.14)


def anchor(canvas: Canvas, place: Point, letter: str, sound: bool, part: str) -> None:
    """An anchor from above with its letter: filled where shown sound, crossed where not."""
    x, y = place
    if not sound:
        for turn in (45, 135):
            dx, dy = cos(radians(turn)) * (RING + 5), sin(radians(turn)) * (RING + 5)
            canvas.line(x - dx, y - dy, x + dx, y + dy, thick=1.5)
    canvas.disc(x, y, RING, filled=sound, part=part)
    size = 12 if len(letter) == 1 else 9
    canvas.text(x, y + size * 0.36, letter, size=size, anchor="middle", bold=True, white=sound)
    canvas.mark(x, y, RING + 3)


def small_anchor(
    canvas: Canvas, place: Point, letter: str, sound: bool, part: str, within: Box
) -> None:
    """An anchor among others close by: smaller, its letter beside it."""
    x, y = place
    if not sound:
        for turn in (45, 135):
            dx, dy = cos(radians(turn)) * 8, sin(radians(turn)) * 8
            canvas.line(x - dx, y - dy, x + dx, y + dy, thick=1.2)
    canvas.disc(x, y, 4.5, filled=sound, part=part)
    canvas.mark(x, y, 6)
    canvas.tag(letter, x, y - 12, within, bold=True)


def person(canvas: Canvas, place: Point, number: str, part: str) -> None:
    """A person from above, with a number."""
    x, y = place
    canvas.disc(x, y, RING, thick=2.2, part=part)
    canvas.text(x, y + 4.3, number, anchor="middle", bold=True)
    canvas.mark(x, y, RING + 2)


def stop_sign(canvas: Canvas, x: float, y: float, within: Box) -> None:
    """An eight-sided mark with STOP in it, as near as may be."""
    radius = 24.0
    at_x, at_y = canvas.free(x, y, 2 * radius, 2 * radius, within) or (x, y)
    corners = [
        (at_x + cos(radians(t)) * radius, at_y + sin(radians(t)) * radius)
        for t in (22.5 + 45 * n for n in range(8))
    ]
    canvas.path(corners, thick=1, close=True, fill="#000", part="stop")
    canvas.text(at_x, at_y + 4.3, "STOP", size=12, anchor="middle", bold=True, white=True)
    canvas.mark(at_x, at_y, radius)
