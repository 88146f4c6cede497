"""The lifeline of the section: from its anchors to where it ends, doubled as two strands, and how
far a slip goes low on the ladder.
"""

from __future__ import annotations

from advisor.model import names
from advisor.pictures.canvas import Canvas, Point
from advisor.pictures.legend import Notes
from advisor.pictures.measure import length_of, metres, part_of
from advisor.pictures.places import settled
from advisor.pictures.section_frame import PERSON, RIGHT, Section
from advisor.pictures.symbols import figure
from advisor.pictures.view import View

ASIDE = 20  # units between ladder and lifeline; their gap at the head is sideways, not in section
REACHED = 0.05  # m; nearer than lengths are said to


def draw_line(view: View, canvas: Canvas, seen: Section, notes: Notes) -> None:
    """The lifeline from its anchors to where it ends; doubled, two strands and the belayer
    below.
    """
    if seen.reach is None:
        lacking = "how the lifeline is worked" if not seen.way else "how far the lifeline reaches"
        notes.lacks(f"{lacking}, so no lifeline")
        return
    down = [(x + ASIDE, y) for x, y in seen.wall]
    top = _top_point(view, canvas, seen, notes)
    low = max(min(seen.reach[0], seen.depth), 0.0)
    high = max(min(seen.reach[1], seen.depth), 0.0)
    sure, may = _above(down, seen.lip_y + low * seen.scale), seen.lip_y + high * seen.scale
    canvas.path([*top, *sure], thick=2, dashes="7 3", part="lifeline")
    canvas.mark_way([*top, *sure], 2)
    if high - low > REACHED:
        maybe = [sure[-1], *[p for p in _above(down, may) if p[1] > sure[-1][1]]]
        canvas.path(maybe, thick=1, dashes="2 4", part="lifeline-maybe")
    if seen.way == "doubled from below":
        _second_strand(canvas, seen, notes, down, low)
    _line_end(view, canvas, seen, notes, sure[-1], low)
    if low >= seen.depth - REACHED:
        _slip(view, canvas, seen, notes, down)


def _above(points: list[Point], y: float) -> list[Point]:
    """The part of a way down that lies above a height on the sheet."""
    found = [points[0]]
    for a, b in zip(points, points[1:]):
        if b[1] <= y:
            found.append(b)
        else:
            share = (y - a[1]) / max(b[1] - a[1], 1e-9)
            found.append((a[0] + (b[0] - a[0]) * share, y))
            break
    return found


def _top_point(view: View, canvas: Canvas, seen: Section, notes: Notes) -> list[Point]:
    """Where the lifeline comes from: its anchors, of which the farthest back is drawn; empty where
    none is placed.
    """
    held = [a for a in seen.anchors if a.in_line and a.back is not None and a.height is not None]
    if not held:
        notes.lacks("what the lifeline hangs on; it is drawn from the lip down")
        return []
    from_lip = max(a.back or 0.0 for a in held)
    height = settled(view, *names.HEAD_MASTER_HEIGHT)
    if height is None:
        height = min(a.height or 0.0 for a in held)
    point = seen.at(-from_lip, -height)
    canvas.disc(*point, 3, part="line-top")
    return [point]


def _second_strand(
    canvas: Canvas, seen: Section, notes: Notes, down: list[Point], low: float
) -> None:
    """The belayer's strand of a doubled line, as far as it reaches."""
    foot = min(seen.wall[-1][0] + seen.stand_off * seen.scale, RIGHT + 24)
    hands = (foot, seen.landing - 0.6 * _tall(seen))
    way = [*((x + 8, y) for x, y in down[:-1]), hands]
    strand = part_of(way, 0, length_of(way) * min(low / seen.depth, 1.0))
    canvas.path([down[0], *strand], thick=2, dashes="7 3", part="lifeline-second")
    canvas.mark_way(strand, 2)
    if low < seen.depth - REACHED:
        x, y = strand[-1]
        canvas.line(x - 8, y, x + 8, y, thick=3, part="line-end")
    figure(canvas, foot, seen.landing, _tall(seen), "belayer")
    canvas.tag("belayer", foot, seen.landing + 14, seen.area, bold=True)
    counted = f"counted to stand {metres(seen.stand_off)} from the foot"
    notes.entry(
        "", f"doubled lifeline: one strand to the climber, one to the belayer below, {counted}"
    )


def _tall(seen: Section) -> float:
    """A person on the sheet; on a small scale larger than life, to be seen."""
    return max(PERSON * seen.scale, 16.0)


def _line_end(
    view: View, canvas: Canvas, seen: Section, notes: Notes, end: Point, low: float
) -> None:
    told = f"lifeline (dashed): {view.told(*names.LIFELINE_LENGTH)}, worked {seen.way}"
    spare = view.told(*names.LIFELINE_TO_SPARE)
    if low >= seen.depth - REACHED:
        short = (view.span(*names.LIFELINE_TO_SPARE) or (0.0, 0.0))[0] < -REACHED
        reserve = ", counting its reserve" if short else ""
        said = spare if short else f"{spare} to spare"
        notes.entry("", f"{told}; it reaches the landing, {said}{reserve}")
        return
    canvas.line(end[0] - 8, end[1], end[0] + 8, end[1], thick=3, part="line-end")
    up = seen.depth - low
    least = max(seen.depth - (seen.reach or (low, low))[1], 0.0)
    ends = "ends" if least > REACHED else "may end"
    words = metres(least, up) if least > REACHED else metres(up)
    tag = f"LINE {ends.upper()} {metres(up)} up"
    canvas.tag(tag, end[0] + 10, end[1] + 8, seen.area, bold=True)
    counted = " with its reserve; without it" if view.span(*names.LIFELINE_RESERVE) else ""
    notes.entry("", f"{told}; TOO SHORT: {spare}{counted}, it {ends} {words} above the landing")


def _slip(view: View, canvas: Canvas, seen: Section, notes: Notes, down: list[Point]) -> None:
    """A person low on the ladder, and how far a slip goes: solid to the least, open to the
    most.
    """
    drop = view.span(*names.LIFELINE_DROP)
    left = view.span(*names.LIFELINE_CLEARANCE)
    if drop is None or left is None:
        notes.lacks("how far a slip low down goes")
        return
    height = left[0] + drop[1]  # of the feet, as it was worked out
    feet = seen.landing - height * seen.scale
    x = _above(down, feet)[-1][0]
    figure(canvas, x, feet, _tall(seen), "climber")
    least, most = feet + drop[0] * seen.scale, feet + drop[1] * seen.scale
    canvas.box(x + 12, feet, 7, least - feet, thick=1.2, fill="#000", part="slip-least")
    if most > least:
        canvas.box(x + 12, least, 7, most - least, thick=1.2, dashes="2 2", part="slip-most")
    canvas.mark(x + 15, (feet + most) / 2, 10)
    told = metres(*drop)
    strikes = left[0] < 0
    canvas.tag(f"slip to {metres(drop[1])}", x + 20, (feet + most) / 2, seen.area, bold=strikes)
    rest = (
        "the feet may STRIKE the landing"
        if strikes
        else f"{view.told(*names.LIFELINE_CLEARANCE)} left above the landing"
    )
    notes.entry(
        "",
        f"a slip with the feet {metres(height)} up goes {told} (black: the least; open: the most);"
        f" {rest}",
    )
