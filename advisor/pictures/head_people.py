"""People at the pitch head as numbered circles, the line behind which they wait, and their way to
the ladder. Only sides are told of people, so a circle stands on its side, not at a distance.
"""

from __future__ import annotations

from math import hypot

from advisor.model import names
from advisor.pictures.canvas import Canvas, Point
from advisor.pictures.head_frame import LIP, MIDDLE, ONLY_SIDE, TURN, WIDTH, Head
from advisor.pictures.head_path import Segment, way_to
from advisor.pictures.legend import Notes
from advisor.pictures.measure import dimension
from advisor.pictures.places import SIDES, settled, way_of
from advisor.pictures.symbols import RING, person
from advisor.pictures.view import NOT_KNOWN, View

WAIT = 74.0  # the waiting line's height on the sheet where it is farther back than the sheet goes
STEP_ON = 13.0  # units behind the lip where a way ends
_, ON_LIFELINES, ON_LADDERS, UNATTACHED = names.FACTS[names.HEAD_STANCE.key]
LEADER, BELAYER, NEXT, WAITING = "1", "2", "3", "4"


def draw_people(view: View, canvas: Canvas, head: Head, notes: Notes, rig: list[Segment]) -> None:
    """Leader, belayer, next and waiting, with the line they wait behind and the way they take."""
    leader = _leader(view, canvas, head, notes)
    _belayer(view, canvas, head, notes, leader)
    line = _waiting_line(view, canvas, head, notes)
    _way(view, canvas, head, notes, rig, line)


def draw_near(view: View, canvas: Canvas, head: Head, notes: Notes, rig: list[Segment]) -> None:
    """Those at the drop, each named with its number beside the circle, without those who wait."""
    leader = _leader(view, canvas, head, notes)
    _belayer(view, canvas, head, notes, leader)
    _way(view, canvas, head, notes, rig, None)
    at = dict(canvas.parts)
    for number, part in ((LEADER, "leader"), (BELAYER, "belayer"), (NEXT, "next")):
        if part in at:
            canvas.tag(f"{number} {part}", at[part][0][0], at[part][0][1] + 4, head.area)


def _spot(canvas: Canvas, head: Head, place: Point) -> Point:
    """A place for a circle as near as may be."""
    return canvas.free(*place, 2 * RING + 4, 2 * RING + 4, head.area) or place


def _leader(view: View, canvas: Canvas, head: Head, notes: Notes) -> Point | None:
    side = view.choice(*names.HEAD_LEADER)
    stance = view.choice(*names.HEAD_STANCE)
    if not side:
        notes.lacks("on which side the leader stands")
        return None
    place = _spot(canvas, head, (MIDDLE - TURN * SIDES[side] * (ONLY_SIDE - 30), LIP - 20))
    held = _held_by(head, place, stance)
    if held is not None:
        canvas.line(*place, *held, thick=1.2, part="cowstail")
    person(canvas, place, LEADER, "leader")
    alone = _leader_belays(view)
    words = {
        UNATTACHED: "NOT ATTACHED to anything",
        ON_LADDERS: "attached to the LADDER'S anchor",
        "": "attached to what: not known",
    }.get(stance, f"attached to: {view.told(*names.HEAD_STANCE)}")
    who = "leader, who belays" if alone else "leader"
    notes.entry(LEADER, f"{who}, on the {side}, {words}")
    return place


def _held_by(head: Head, place: Point, stance: str) -> Point | None:
    """Where the leader's cowstail goes, where that is drawn."""
    if stance == ON_LADDERS and head.hung:
        return head.of(head.hung)
    if stance == ON_LIFELINES and head.legs and head.legs.ends:
        ends = [head.at(*at) for _, at in head.legs.ends]
        return min(ends, key=lambda end: hypot(end[0] - place[0], end[1] - place[1]))
    return None


def _leader_belays(view: View) -> bool:
    """Whether there is but one who could both lead and belay."""
    leaders = settled(view, *names.LEADER_NUMBER)
    helpers = settled(view, *names.LEADER_ASSISTANTS)
    return (
        leaders == 1
        and helpers == 0
        and view.choice(*names.LIFELINE_BELAYER) == "leader or assistant"
    )


def _belayer(view: View, canvas: Canvas, head: Head, notes: Notes, leader: Point | None) -> None:
    way, told = way_of(view), view.told(*names.LIFELINE_BELAYER)
    who = "belayer" if told == NOT_KNOWN else f"belayer ({told})"
    if way == "doubled from below":
        notes.tell(f"the {who} stands below")
        return
    if way == "self-lining" or _leader_belays(view):
        return
    place = view.choice(*names.LIFELINE_BELAY_PLACE)
    if not way or not place:
        notes.lacks("how and where the lifeline is belayed, so no belayer")
        return
    if place == "master point" and head.legs:
        x, y = head.at(*head.legs.point)
        away = -1 if leader and leader[0] < x else 1
        near = (x + away * 30, y - 16)
    elif leader:
        near = (leader[0], leader[1] - 30)
    else:
        return
    spot = _spot(canvas, head, near)
    person(canvas, spot, BELAYER, "belayer")
    notes.entry(BELAYER, f"{who}, belay at: {place}")


def _waiting_line(view: View, canvas: Canvas, head: Head, notes: Notes) -> float | None:
    """The line behind which people wait; its height on the sheet."""
    back = settled(view, *names.HEAD_WAITING)
    rigged = view.choice(*names.HEAD_SAFETY_LINE)
    if back is None:
        notes.lacks("how far from the drop people wait")
        return None
    y = LIP - back * head.scale
    broken = y < WAIT
    y = max(y, WAIT)
    canvas.line(
        30, y, WIDTH - 30, y, 2.5 if rigged == "yes" else 1, _dashes(rigged), part="waiting"
    )
    if rigged == "yes":
        for x in (30, WIDTH - 30):
            canvas.disc(x, y, 4, filled=True)
    canvas.mark_way([(30, y), (WIDTH - 30, y)], 4)
    told = view.told(*names.HEAD_WAITING)
    _distance(canvas, head, y, broken, told)
    words = {"yes": "safety line rigged", "no": "no safety line; a limit only"}.get(rigged)
    rest = f"; {words}" if words else ""
    notes.entry("", f"line across: people wait behind it, {told} from the drop{rest}")
    if words is None:
        notes.lacks("whether a safety line is rigged where people wait")
    _queue(view, canvas, y, rigged == "yes", notes)
    return y


def _dashes(rigged: str) -> str | None:
    return None if rigged == "yes" else "8 5"


def _distance(canvas: Canvas, head: Head, y: float, broken: bool, told: str) -> None:
    """How far back people wait, beside the drawing, with a break where the sheet is too short."""
    x = WIDTH - 16.0
    dimension(canvas, (x, y), (x, LIP), part="waiting-distance")
    if broken:
        middle = y + 34
        for step in (0, 6):
            canvas.path(
                [(x - 8, middle + step + 3), (x, middle + step - 3), (x + 8, middle + step + 3)],
                thick=1.2,
                part="break",
            )
        canvas.mark(x, middle + 3, 9)
    canvas.tag(told, x - 20, y + 60, head.area)


def _queue(view: View, canvas: Canvas, y: float, clipped: bool, notes: Notes) -> None:
    """Those who wait, on the side from which they come, each clipped to the safety line."""
    way = view.choice(*names.HEAD_ARRIVAL)
    middle = MIDDLE - TURN * SIDES.get(way, 0) * 110
    for step in (-13, 13):
        place = (middle + step, y - 22)
        if clipped:
            canvas.line(*place, place[0], y, thick=1.2, part="cowstail")
        person(canvas, place, WAITING, "waiting")
    notes.entry(WAITING, "waiting" + (", each clipped to the safety line" if clipped else ""))


def _way(
    view: View,
    canvas: Canvas,
    head: Head,
    notes: Notes,
    rig: list[Segment],
    line: float | None,
) -> None:
    """The people's way to the ladder, and the next person at its end."""
    side, crosses = view.choice(*names.HEAD_ARRIVAL), view.choice(*names.HEAD_PATH_CROSSES)
    if not side:
        notes.lacks("from which side people arrive")
    if not crosses:
        notes.lacks("whether their way crosses ladder or lifeline")
    if not side or not crosses or head.hung is None:
        return
    ladder = (head.of(head.hung)[0], LIP - STEP_ON)
    top = line if line is not None else WAIT - 20
    start = (MIDDLE - TURN * SIDES.get(side, 0) * 140, top + 5)
    found = way_to(ladder, start, top + 20, rig, canvas.marks, crosses == "yes")
    if found is None:
        notes.lacks("a way for people that keeps clear, as was told: the places leave none")
        return
    canvas.path(found.points, thick=2.4, dashes="2 3", part="way")
    canvas.arrow_head(found.points[-2], found.points[-1])
    words = f"dotted arrow: people's way, from {'behind' if side == 'behind' else f'the {side}'}"
    if found.crossing is None:
        notes.entry("", f"{words}; it crosses neither ladder nor lifeline")
    else:
        canvas.disc(*found.crossing, 12, thick=2, part="crossing", fill="none")
        canvas.mark(*found.crossing, 13)
        canvas.tag("CROSSES", *found.crossing, head.area, bold=True)
        notes.entry("", f"{words}; it CROSSES ladder or lifeline")
    _next(view, canvas, head, notes, found.points)


def _next(view: View, canvas: Canvas, head: Head, notes: Notes, points: tuple[Point, ...]) -> None:
    canvas.mark_way(points, 3)
    ladder = head.of(head.hung)[0] if head.hung else MIDDLE
    aside = 22 if points[-2][0] > ladder else -22
    spot = _spot(canvas, head, (points[-2][0] + aside, LIP - 40))
    person(canvas, spot, NEXT, "next")
    cowstail = view.told(*names.HEAD_COWSTAIL)
    notes.entry(NEXT, "next" + ("" if cowstail == NOT_KNOWN else f", on a cowstail of {cowstail}"))
