"""The rock of the section: ground, lip, wall or slab, ledge, landing, water. What hangs free is
drawn clear of the wall; how far a wall stands back is never told, so it is not to scale.
"""

from __future__ import annotations

from advisor.model import names
from advisor.pictures.canvas import Canvas, Point
from advisor.pictures.legend import Notes
from advisor.pictures.places import settled
from advisor.pictures.section_frame import LEFT, RIGHT, Section
from advisor.pictures.view import NOT_KNOWN, View

OFF = 4  # units
BACK = 26  # units that a wall stands back where the ladder hangs free
HANGS = {
    "free": "ladder hangs free of the wall",
    "touching": "ladder touches the wall",
    "flush": "ladder lies flush with the wall",
    "mixed": "ladder hangs partly free, partly on the rock",
    "slab": "ladder lies on a slab",
}


def draw_rock(view: View, canvas: Canvas, seen: Section, notes: Notes) -> None:
    """Everything of stone and water, with its entries in the legend."""
    _ground(view, canvas, seen, notes)
    _wall(view, canvas, seen, notes)
    _landing(view, canvas, seen, notes)
    _ledge(view, canvas, seen, notes)
    _water(view, canvas, seen, notes)


def _rock(canvas: Canvas, points: list[Point], part: str, hatch: float = 1.0) -> None:
    """A line of rock with short strokes on its solid side (to the left and below). It stands off
    by half a ladder's width, so that what lies on it keeps its true place.
    """
    points = [(x - OFF, y + OFF) for x, y in points]
    canvas.path(points, thick=2.2, part=part)
    canvas.mark_way(points, 2)
    for (x1, y1), (x2, y2) in zip(points, points[1:]):
        steps = int(max(abs(x2 - x1), abs(y2 - y1)) // 14)
        for step in range(steps):
            share = (step + 0.5) / steps
            x, y = x1 + (x2 - x1) * share, y1 + (y2 - y1) * share
            canvas.line(x, y, x - 5 * hatch, y + 5, thick=0.6)


def _ground(view: View, canvas: Canvas, seen: Section, notes: Notes) -> None:
    lip = view.choice(*names.PITCH_LIP)
    x, y = seen.lip_x, seen.lip_y
    run = {
        "sloping": [(LEFT - 30, y - 10), (x - 34, y - 10), (x, y)],
        "sharp": [(LEFT - 30, y), (x - 8, y), (x, y)],
    }.get(lip, [(LEFT - 30, y), (x, y)])
    _rock(canvas, run, "ground")
    if lip == "sharp":
        canvas.path([(x - 9, y), (x, y), (x - 7, y + 9)], fill="#000", close=True, part="sharp-lip")
    if lip == "narrow":
        far = min(x + 52, RIGHT)
        canvas.path([(far + 26, y), (far, y), (far, y + 36)], thick=2.2, part="narrow-lip")
    if lip:
        notes.tell(f"lip: {view.told(*names.PITCH_LIP)}")
    else:
        notes.lacks("what the lip is like")


def _wall(view: View, canvas: Canvas, seen: Section, notes: Notes) -> None:
    """The way down by how the pitch hangs."""
    x, y = seen.lip_x, seen.lip_y
    hang = seen.hang
    if hang == "free":
        back = x - BACK
        _rock(canvas, [(x, y), (x - 3, y + 10), (back, y + 34), (back, seen.landing)], "wall")
    elif hang in ("touching", "flush"):
        _rock(canvas, [(x, y), (x, seen.landing)], "wall")
    elif seen.slab:
        _rock(canvas, seen.wall, "slab")
        slope = view.told(*names.PITCH_SLAB_SLOPE)
        canvas.tag(slope, *seen.at(seen.slab[1] * 0.3 - 0.6, seen.slab[0] * 0.3 + 0.6), seen.area)
        notes.tell(f"slab at {slope}{_how_high(view)}")
    if hang in HANGS:
        notes.tell(HANGS[hang])
        if hang == "free":
            notes.tell("how far the wall stands back is not to scale")
    else:
        notes.lacks("how the pitch hangs (free, touching, on a slab), so no wall")
    if hang in ("slab", "mixed") and not seen.slab:
        notes.lacks("how steep and how high the sloping part is, so no slab")


def _how_high(view: View) -> str:
    told = view.told(*names.PITCH_SLAB_HEIGHT)
    if told == NOT_KNOWN:
        return ", taken over the whole depth"
    return f" over {told} of the height; where it lies is not told, it is drawn at the top"


def _landing(view: View, canvas: Canvas, seen: Section, notes: Notes) -> None:
    kind = view.choice(*names.PITCH_LANDING)
    y, end = seen.landing, seen.wall[-1][0]
    start = end - BACK if seen.hang == "free" else end
    if kind == "pool":
        for step, wide in enumerate((0, 10, 24)):
            line = [(start + wide, y + 7 * step), (RIGHT + 30 - wide, y + 7 * step)]
            canvas.path(line, thick=1.4, dashes="14 5" if step else None, part="pool")
    elif kind == "slope":
        across = RIGHT + 30 - end
        tilt = across * 0.22
        _rock(canvas, [(start, y - (end - start) * 0.22), (end, y)], "landing", -1)
        _rock(canvas, [(end, y), (RIGHT + 30, y + tilt)], "landing", -1)
    elif kind == "ledge":
        far = min(end + max(1.6 * seen.scale, 46), RIGHT)
        _rock(canvas, [(start, y), (far, y)], "landing", -1)
        canvas.line(far, y, far, y + 30, thick=2.2, part="drop-below")
    elif kind == "floor":
        _rock(canvas, [(start, y), (RIGHT + 30, y)], "landing", -1)
    else:
        notes.lacks("what the landing is like; the dashed line is only its depth")
        canvas.line(start, y, RIGHT + 30, y, thick=1, dashes="6 5", part="landing-level")
    canvas.height = max(canvas.height, y + 40)
    told = {
        "pool": "landing: a pool; how deep the water is is not drawn",
        "ledge": "landing: a ledge, with a drop below it",
    }.get(kind, f"landing: {view.told(*names.PITCH_LANDING)}" if kind else "")
    if told:
        refuge = {"yes": "; people can wait sheltered below", "no": "; no shelter below"}
        notes.tell(told + refuge.get(view.choice(*names.PITCH_REFUGE), ""))


def _ledge(view: View, canvas: Canvas, seen: Section, notes: Notes) -> None:
    there = view.choice(*names.PITCH_LEDGE)
    down = settled(view, *names.PITCH_LEDGE_DEPTH)
    if there == "no":
        return
    if there != "yes":
        notes.lacks("whether a ledge interrupts the pitch")
        return
    if down is None or down > seen.depth:
        notes.lacks("how far down the ledge is")
        return
    x = _wall_at(seen, down)
    y = seen.lip_y + down * seen.scale
    canvas.path(
        [(x, y), (x + 24, y), (x + 18, y + 9), (x, y + 13)],
        thick=2.2,
        close=True,
        fill="#bbb",
        part="ledge",
    )
    canvas.mark(x + 12, y + 6, 9)
    told = view.told(*names.PITCH_LEDGE_DEPTH)
    canvas.tag(f"ledge {told}", x - 8, y + 26, seen.area)
    two = view.choice(*names.PITCH_IN_TWO) == "yes"
    notes.tell(
        f"ledge {told} below the lip" + ("; rigged as two pitches, drawn as one" if two else ""),
    )


def _wall_at(seen: Section, down: float) -> float:
    """Where the wall (or the ladder that hangs free) is at a depth."""
    if seen.slab and down < seen.slab[0]:
        return seen.at(seen.slab[1] * down / seen.slab[0], 0)[0]
    end = seen.wall[-1][0]
    return end - BACK + 6 if seen.hang == "free" else end


def _water(view: View, canvas: Canvas, seen: Section, notes: Notes) -> None:
    """Water on the line of the ladder: a stream as running lines, spray and drips as strokes."""
    water = view.choice(*names.PITCH_WATER)
    if not water:
        notes.lacks("whether water falls on the ladder's line")
        return
    notes.tell(f"water on the ladder's line: {view.told(*names.PITCH_WATER)}")
    x, y, tall = seen.lip_x, seen.lip_y, seen.landing - seen.lip_y
    if water == "stream":
        for aside in (-9, -1, 10):
            points = [
                (x + aside + (3 if step % 2 else -3) + _shift(seen, step * 10), y + step * 10)
                for step in range(int(tall // 10) + 1)
            ]
            canvas.path(points, thick=0.9, part="stream")
    every = {"spray": 17, "drips": 46}.get(water, 0)
    for step in range(int(tall // every) if every else 0):
        at = y + 8 + step * every
        for aside in (-9, 12) if step % 2 else (-3, 27):
            left = x + aside + _shift(seen, at - y)
            canvas.line(left, at, left - 2, at + 6, thick=1, part=water)


def _shift(seen: Section, down: float) -> float:
    """How far the way down has gone across at that many units below the lip."""
    if not seen.slab:
        return 0.0
    height = seen.slab[0] * seen.scale
    return min(down / height, 1.0) * seen.slab[1] * seen.scale
