"""Points along a path, lengths in words, and the bar that tells the scale."""

from __future__ import annotations

from math import hypot

from advisor.pictures.canvas import Canvas, Point


def metres(low: float, high: float | None = None) -> str:
    """A length or a range of it in words, to 0.1 m as worked-out lengths are said."""
    first, last = _rounded(low), _rounded(low if high is None else high)
    return f"{first} m" if first == last else f"{first} m to {last} m"


def _rounded(value: float) -> str:
    return f"{max(value, 0.0):.1f}".removesuffix(".0")


def length_of(points: list[Point]) -> float:
    """The length of a path."""
    return sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in zip(points, points[1:]))


def part_of(points: list[Point], start: float, end: float) -> list[Point]:
    """The piece of a path between two lengths along it; empty where there is none."""
    if end <= start:
        return []
    found, gone = [], 0.0
    for a, b in zip(points, points[1:]):
        step = hypot(b[0] - a[0], b[1] - a[1])
        for at in (start, end):
            if step and gone <= at <= gone + step:
                share = (at - gone) / step
                found.append((at, (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)))
        if start < gone + step < end:
            found.append((gone + step, b))
        gone += step
    kept: list[Point] = []
    for _, point in sorted(found, key=lambda one: one[0]):
        if not kept or hypot(point[0] - kept[-1][0], point[1] - kept[-1][1]) > 1e-6:
            kept.append(point)
    return kept


def nice(most: float) -> float:
    """The longest round length for a scale bar, in metres, not above `most`."""
    return max((n for n in (0.1, 0.2, 0.5, 1, 2, 5, 10, 20) if n <= most), default=0.1)


def nice_minutes(least: float) -> int:
    """The shortest round number of minutes between strokes, not below `least`."""
    return next((n for n in (1, 2, 5, 10, 15, 20, 30, 60, 120, 240) if n >= least), 480)


def scale_bar(canvas: Canvas, x: float, y: float, scale: float, words: str) -> None:
    """A bar of a round length in metres at a scale of drawing units to the metre."""
    length = nice(110 / scale)
    canvas.line(x, y, x + length * scale, y, thick=2.5, part="scale-bar")
    for end in (x, x + length * scale):
        canvas.line(end, y - 4, end, y + 4, thick=1.5)
    canvas.text(x + length * scale + 8, y + 4, f"{length:g} m", bold=True, part="scale-text")
    canvas.text(x, y + 18, words, size=11)


def dimension(canvas: Canvas, a: Point, b: Point, part: str = "") -> None:
    """A thin line between two points with a stroke across each end."""
    canvas.line(*a, *b, thick=0.8, part=part)
    length = max(hypot(b[0] - a[0], b[1] - a[1]), 0.001)
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    for x, y in (a, b):
        canvas.line(x - 4 * uy, y + 4 * ux, x + 4 * uy, y - 4 * ux, thick=0.8)
