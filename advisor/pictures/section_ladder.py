"""Anchors, tether and ladder of the section, each to its true length and place. Nothing that is
undecided is drawn.
"""

from __future__ import annotations

from itertools import groupby

from advisor.model import names
from advisor.pictures.canvas import Canvas, Point
from advisor.pictures.legend import Notes
from advisor.pictures.measure import dimension, length_of, metres, part_of
from advisor.pictures.places import AnchorSeen, settled, tether_form
from advisor.pictures.section_frame import Section
from advisor.pictures.symbols import rungs
from advisor.pictures.view import NOT_KNOWN, View

REACHED = 0.05  # m; nearer than lengths are said to
FOLD = 1.2  # m of ladder in each fold of a coil


def draw_anchors(view: View, canvas: Canvas, seen: Section, notes: Notes) -> None:
    """Each anchor at its height and distance from the lip; those at one place share a symbol."""
    placed = [a for a in seen.anchors if a.back is not None and a.height is not None]
    for anchor in seen.anchors:
        if anchor not in placed:
            notes.lacks(f"the place of {anchor.name} (height and distance from the lip)")
    for (back, height), group in groupby(sorted(placed, key=_place), key=_place):
        _symbol(canvas, seen, back, height, list(group))
    for words, used in (
        ("ladder on", [a for a in placed if a is seen.hung]),
        ("lifeline on", [a for a in placed if a.in_line]),
    ):
        if used:
            notes.tell(f"{words} {', '.join(f'{a.letter} ({a.name})' for a in used)}")
    if not seen.anchors:
        notes.lacks("any anchor: none is named")


def _place(anchor: AnchorSeen) -> tuple[float, float]:
    return round(anchor.back or 0.0, 3), round(anchor.height or 0.0, 3)


def _symbol(
    canvas: Canvas, seen: Section, back: float, height: float, group: list[AnchorSeen]
) -> None:
    x, y = seen.at(-back, -height)
    canvas.line(x, y, x, seen.lip_y, thick=0.7, dashes="2 3")
    canvas.disc(x, y, 5, filled=any(a.sound for a in group), part="anchor")
    canvas.mark(x, y, 7)
    words = " ".join(a.letter for a in group)
    canvas.tag(f"{words}: {metres(abs(height))}", x - 14, y - 8, seen.area, bold=True)


def draw_ladder(view: View, canvas: Canvas, seen: Section, notes: Notes) -> None:
    """Tether and ladder along their way from the anchor to the foot."""
    if seen.gap is None or view.span(*names.PITCH_LADDER_MADE_UP) is None:
        notes.lacks("how long the ladder is, or how far it reaches, so no ladder")
        return
    if seen.hang in ("slab", "mixed") and seen.slab is None and seen.hang == "slab":
        notes.lacks("where the ladder lies on the slab")
        return
    way = seen.wall
    start = _tether(view, canvas, seen, notes, way)
    path = start + way[1:] if start else way
    most, least = seen.gap
    whole = length_of(path)
    sure = whole - max(least, 0.0) * seen.scale
    may = whole - max(most, 0.0) * seen.scale
    begun = _tied(view, seen) if start else 0.0
    rungs(canvas, part_of(path, begun * seen.scale, sure), "ladder")
    if may - sure > 1:
        canvas.path(part_of(path, sure, may), thick=6, dashes="2 4", part="ladder-maybe")
    pool = view.choice(*names.PITCH_LANDING) == "pool"
    _foot(canvas, seen, notes, part_of(path, 0, sure)[-1], way[-1], pool)
    pieces = view.decided(names.LADDERS_JOINED)
    made = view.told(*names.PITCH_LADDER_MADE_UP)
    notes.entry("", f"ladder made up: {made}{f' ({pieces})' if pieces else ''}")


def _tied(view: View, seen: Section) -> float:
    """Metres of tether and bridle before the first rung, as far as they are known."""
    parts = (names.TETHER_OUT, names.TETHER_BRIDLE_LEG)
    return sum(settled(view, *part) or 0.0 for part in parts)


def _tether(
    view: View, canvas: Canvas, seen: Section, notes: Notes, way: list[Point]
) -> list[Point]:
    """The way from the anchor to the lip with the tether on it; empty where no anchor is decided
    or its place is open.
    """
    hung, form = seen.hung, tether_form(view)
    if hung is None:
        notes.lacks("which anchor the ladder hangs on")
        return []
    if hung.back is None or hung.height is None:
        return []
    start = [seen.at(-hung.back, -hung.height), way[0]]
    if not form:
        notes.lacks("how the ladder is tied to its anchor")
    elif settled(view, *names.TETHER_OUT) is None:
        notes.lacks("how much of the tether is out")
    else:
        run = [*start, *way[1:]]
        canvas.path(part_of(run, 0, _tied(view, seen) * seen.scale), thick=2.5, part="tether")
        notes.entry("", f"thick line: tether ({form}), {view.told(*names.TETHER_OUT)} out")
    return start


def _foot(
    canvas: Canvas, seen: Section, notes: Notes, foot: Point, landing: Point, pool: bool
) -> None:
    """The gap below the last rung, or the ladder left over lying on the landing."""
    low, high = seen.gap or (0.0, 0.0)
    if high > REACHED:
        dimension(canvas, (foot[0] + 9, foot[1]), (landing[0] + 9, landing[1]), part="gap")
        span = metres(max(low, 0.0), high)
        canvas.tag(f"GAP {span}", foot[0] - 34, (foot[1] + landing[1]) / 2, seen.area, bold=True)
        end = "ends" if low > REACHED else "may end"
        notes.entry("", f"TOO SHORT: the last rung {end} {span} above the landing")
    if low >= -REACHED:
        if high <= REACHED:
            notes.entry("", "the last rung just reaches the landing")
        return
    lies = -high if high < 0 else 0.0
    if lies <= REACHED:
        notes.entry("", f"up to {metres(-low)} of ladder left over")
        return
    _coil(canvas, seen, landing, lies * seen.scale, pool)
    told = metres(lies, -low)
    canvas.tag(f"{told} left over", landing[0] + 40, landing[1] + 16, seen.area)
    where = "hanging into the pool" if pool else "folded on the landing"
    notes.entry("", f"{told} of ladder left over, drawn {where}")


def _coil(canvas: Canvas, seen: Section, landing: Point, length: float, pool: bool) -> None:
    """What is left of the ladder, in its true length."""
    if pool:
        x, y = landing
        rungs(canvas, [(x, y), (x, y + length)], "coil")
        canvas.height = max(canvas.height, y + length + 12)
        return
    rungs(canvas, _folds(landing, length, FOLD * seen.scale), "coil")
    canvas.mark(landing[0] + FOLD * seen.scale / 2, landing[1] - 5, 9)


def _folds(start: Point, length: float, most: float) -> list[Point]:
    """A ladder of that length folded to and fro above a place on the landing."""
    number = max(1, round(length / most + 0.499))
    each, rise = length / number, 4.0
    across = max(each**2 - rise**2, 0.0) ** 0.5
    points = [(start[0], start[1] - 3)]
    for fold in range(number):
        x, y = points[-1]
        points.append((x + (across if fold % 2 == 0 else -across), y - min(rise, each)))
    return points


def draw_depth(view: View, canvas: Canvas, seen: Section) -> None:
    """The depth, beside everything else."""
    x = 26.0
    dimension(canvas, (x, seen.lip_y), (x, seen.landing), part="depth")
    told = view.told(*names.PITCH_DEPTH)
    if told != NOT_KNOWN:
        canvas.tag(told, x, (seen.lip_y + seen.landing) / 2, seen.area, bold=True)
