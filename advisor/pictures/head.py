"""The pitch head from above, the drop at the bottom of the sheet: anchors where they are told to
be, the lifeline's legs at their angle, ladder, people and their way. One scale both ways.
"""

from __future__ import annotations

from math import hypot, radians, tan

from msgspec.structs import replace

from advisor.model import names
from advisor.pictures.canvas import Canvas, Point
from advisor.pictures.head_frame import LIP, MIDDLE, TURN, WIDTH, Head, Legs, head_of
from advisor.pictures.head_path import Segment
from advisor.pictures.head_people import draw_near, draw_people
from advisor.pictures.legend import Notes, set_notes
from advisor.pictures.measure import dimension, metres, part_of, scale_bar
from advisor.pictures.places import AnchorSeen, held_words, settled, tether_form, way_of
from advisor.pictures.symbols import RING, anchor, rungs, small_anchor, stop_sign
from advisor.pictures.view import View

CLOSE = 64.0  # units below the lip that a close-up shows
UNDER = 12.0  # for the names of the sides, clear of what hangs over the drop
ONLY_SIDE_TOLD = "ringed: side only"
OVER = 52.0  # units that ladder and line are drawn beyond the lip


def draw(view: View) -> Canvas:
    """The pitch head; what is not known stands in a box below."""
    canvas, notes = compose(view)
    set_notes(canvas, notes)
    return canvas


def compose(view: View) -> tuple[Canvas, Notes]:
    """The drawing, and what is to stand below it."""
    canvas = Canvas("pitch-head", "The pitch head from above, the drop at the bottom", WIDTH, 0)
    head, notes = head_of(view), Notes()
    canvas.say("The pitch head from above; left and right are as seen facing the drop.")
    _what_matters(view, canvas, head)
    _ground(view, canvas, notes)
    rig = _ladder(view, canvas, head, notes) + _lifeline(view, canvas, head, notes)
    _anchors(view, canvas, head, notes)
    _measures(canvas, head)
    _stop(view, canvas, head)
    draw_people(view, canvas, head, notes, rig)
    canvas.height = LIP + 84
    canvas.place_tags()
    _detail(view, canvas, head)
    if head.places:
        scale_bar(canvas, 30, canvas.height + 4, head.scale, "one scale both ways")
        notes.tell("of ringed anchors and of people only the side is told")
        canvas.height += 26
    return canvas, notes


def close_up(view: View) -> tuple[Canvas, str] | None:
    """The rig alone with the anchors in use, low and wide, each thing named beside it, and the
    names of the lettered anchors; None where no ladder and no lifeline can be drawn.
    """
    canvas = Canvas("card-pitch-head", "The rig from above, the drop at the bottom", WIDTH, 0)
    head, notes = head_of(view), Notes()
    if head.hung is None and head.legs is None:
        return None
    head = replace(head, anchors=tuple(a for a in head.anchors if _uses(view, a)))
    canvas.say("The rig from above; left and right are as seen facing the drop.")
    _what_matters(view, canvas, head)
    canvas.line(4, LIP, WIDTH - 4, LIP, thick=3, part="lip")
    canvas.mark_way([(4, LIP), (WIDTH - 4, LIP)], 2)
    _hatch(canvas)
    rig = _ladder(view, canvas, head, notes) + _lifeline(view, canvas, head, notes)
    _anchors(view, canvas, head, notes)
    _measures(canvas, head)
    _stop(view, canvas, head)
    draw_near(view, canvas, head, notes, rig)
    canvas.height = LIP + CLOSE
    _named(canvas, head)
    canvas.place_tags()
    canvas.top = _top(canvas)
    canvas.height += UNDER
    _sides(canvas, canvas.height - 4, ("LEFT, facing the drop", "RIGHT, facing the drop"))
    canvas.text(MIDDLE, canvas.height - 4, "from above", size=11, anchor="middle")
    shown = [a for a in head.anchors if a.letter in head.places]
    letters = "; ".join(
        f"{a.letter} {a.name}" + ("" if a.letter in head.across else f" ({ONLY_SIDE_TOLD})")
        for a in shown
    )
    canvas.say(f"{letters}.")
    return canvas, letters


def _top(canvas: Canvas) -> float:
    """Above all labels and all that is drawn, but for the way, which comes in from behind."""
    drawn = [y for part, points in canvas.parts if part != "way" for _, y in points]
    return min([*(box.top for box in canvas.boxes), *(y - RING - 5 for y in drawn)]) - 3


def _named(canvas: Canvas, head: Head) -> None:
    """The names of ladder and lifeline beside their ends over the drop."""
    below = head.area._replace(top=LIP + 4, bottom=LIP + CLOSE - 4)
    if head.hung is not None:
        canvas.tag("ladder", head.of(head.hung)[0], LIP + 30, below)
    if head.legs is not None:
        canvas.tag("lifeline", head.at(*head.legs.point)[0], LIP + 30, below)


def _what_matters(view: View, canvas: Canvas, head: Head) -> None:
    """The anchor and the angle, before all else that the picture shows."""
    if head.hung:
        canvas.say(f"The ladder hangs on {head.hung.name}, on the {head.hung.side}.")
    if head.legs and head.legs.angle is not None:
        wide = ": STOP, too wide" if _angle_stops(view) else ""
        canvas.say(f"The lifeline's legs stand at {head.legs.angle:.0f}°{wide}.")
    if head.gap is not None:
        canvas.say(f"Ladder and lifeline hang {metres(head.gap)} apart.")


def _ground(view: View, canvas: Canvas, notes: Notes) -> None:
    """The lip and the drop, and which side is which."""
    _sides(canvas, 16, ("LEFT, facing the drop", "RIGHT, facing the drop"))
    canvas.line(4, LIP, WIDTH - 4, LIP, thick=3, part="lip")
    canvas.line(MIDDLE, 24, MIDDLE, 44, 1.5, arrow=True)
    canvas.text(MIDDLE, 20, "ahead", size=11, anchor="middle")
    canvas.mark(MIDDLE, 34, 12)
    _hatch(canvas)
    canvas.text(MIDDLE, LIP + 74, "THE DROP", size=13, anchor="middle", bold=True)
    if view.choice(*names.PITCH_LIP):
        notes.tell(f"lip: {view.told(*names.PITCH_LIP)}")


def _sides(canvas: Canvas, y: float, words: tuple[str, str]) -> None:
    """Which side is left and which right, at the rims of the sheet."""
    ends = (MIDDLE + TURN * (MIDDLE - 4), MIDDLE - TURN * (MIDDLE - 4))
    for part, word, x in zip(("LEFT", "RIGHT"), words, ends, strict=True):
        side = "start" if x < MIDDLE else "end"
        canvas.text(x, y, word, size=11, anchor=side, bold=True, part=part)


def _hatch(canvas: Canvas) -> None:
    """Short strokes along the lip, on the side of the drop."""
    for x in range(12, WIDTH - 8, 20):
        canvas.line(x, LIP + 2, x + 5, LIP + 10, thick=0.7)


def _angle_stops(view: View) -> bool:
    """Whether a stop of the advice rests on the angle between the legs."""
    rest = {i for stop in view.advice.stops for i in stop.behind}
    angle = names.HEAD_LEG_ANGLE.key
    return any(d.id in rest and angle in d.facts for d in view.advice.derivations)


def _ladder(view: View, canvas: Canvas, head: Head, notes: Notes) -> list[Segment]:
    """The ladder straight from its anchor over the lip, behind it the tether as long as told."""
    hung = head.hung
    if hung is None:
        decided = view.decided(names.LADDER_ANCHOR)
        notes.lacks(
            f"where {decided} is, on which the ladder hangs; so no ladder"
            if decided
            else "which anchor the ladder hangs on, so no ladder"
        )
        return []
    start, end = head.of(hung), (head.of(hung)[0], LIP + OVER)
    form, out = tether_form(view), settled(view, *names.TETHER_OUT)
    bridle = settled(view, *names.TETHER_BRIDLE_LEG) or 0.0
    begun = LIP - start[1]
    if not form or out is None:
        notes.lacks("how the ladder is tied, or how long the tether is; so no tether")
    else:
        begun = (out + bridle) * head.scale
        canvas.path(part_of([start, end], 0, begun), thick=2.5, part="tether")
    rungs(canvas, part_of([start, end], begun, end[1] - start[1]), "ladder")
    notes.tell(f"ladder tied by: {form}" if form else "ladder: how it is tied is not decided")
    return [(start, end)]


def _lifeline(view: View, canvas: Canvas, head: Head, notes: Notes) -> list[Segment]:
    """Legs, master point and the line over the lip."""
    legs = head.legs
    if legs is None:
        notes.lacks(held_words(head.anchors))
        return []
    point = head.at(*legs.point)
    thick = 5.0 if _angle_stops(view) else 2.0
    drawn: list[Segment] = []
    for _, place in legs.ends:
        end = head.at(*place)
        if end != point:
            canvas.line(*end, *point, thick, part="leg" if legs.flat else "leg-from-above")
            canvas.mark_way([end, point], 3)
            drawn.append((end, point))
    over = (point[0], LIP + OVER)
    strands = (-3, 3) if way_of(view) == "doubled from below" else (0,)
    for aside in strands:
        top, low = (point[0] + aside, point[1]), (over[0] + aside, over[1])
        canvas.line(*top, *low, 2, "7 3", part="lifeline")
    canvas.mark_way([point, over], 3)
    _master(canvas, head, legs, point)
    notes.tell(f"dashed: lifeline, over the lip: {view.told(*names.HEAD_LIFELINE_AT_LIP)}")
    return [*drawn, (point, over)]


def _master(canvas: Canvas, head: Head, legs: Legs, point: Point) -> None:
    """The master point, unless it is an anchor by name, and the angle there."""
    named = any(a.master and a.letter in head.places for a in head.anchors)
    if len(legs.ends) > 1 and not named:
        x, y = point
        corners = [(x, y - 7), (x + 7, y + 6), (x - 7, y + 6)]
        canvas.path(corners, 1.5, close=True, fill="#fff", part="master")
        canvas.mark(x, y, 9)
    if legs.angle is not None and legs.flat:
        _angle(canvas, head, legs.angle, point)


def _angle(canvas: Canvas, head: Head, angle: float, point: Point) -> None:
    canvas.tag(f"{angle:.0f}°", point[0], point[1] - 16, head.area, bold=True, part="angle")


def _stop(view: View, canvas: Canvas, head: Head) -> None:
    """The mark beside legs that stand too wide, clear of what is measured there."""
    legs = head.legs
    if legs is not None and legs.flat and legs.angle is not None and _angle_stops(view):
        x, y = head.at(*legs.point)
        stop_sign(canvas, x - 20, y - 50, head.area)


def _detail(view: View, canvas: Canvas, head: Head) -> None:
    """The legs face on, to the same scale, where they would not lie flat on the ground drawn."""
    legs = head.legs
    if legs is None or legs.flat or legs.angle is None:
        return
    (_, first), (_, last) = legs.ends[0], legs.ends[-1]
    half = hypot(last[0] - first[0], last[1] - first[1]) / 2 * head.scale
    tall = half / tan(radians(legs.angle) / 2)
    x, y = WIDTH / 2, canvas.height + 34
    canvas.text(8, canvas.height + 12, "The legs face on, to the same scale", size=11)
    thick = 5.0 if _angle_stops(view) else 2.0
    for side in (-1, 1):
        canvas.line(x + side * half, y, x, y + tall, thick, part="leg")
        canvas.disc(x + side * half, y, 5, filled=True)
    canvas.line(x, y + tall, x, y + tall + 26, 2, "7 3")
    wide = f"{legs.angle:.0f}°"
    canvas.text(x + 14, y + tall + 14, wide, bold=True, part="angle")
    canvas.height = y + tall + 34
    if _angle_stops(view):
        stop_sign(canvas, x + 80, y + tall + 6, head.area._replace(bottom=canvas.height + 30))
        canvas.height += 24


def _anchors(view: View, canvas: Canvas, head: Head, notes: Notes) -> None:
    """Every anchor whose place is told; the rest are named in the box."""
    for seen in head.anchors:
        if seen.letter not in head.places:
            lacking = " and ".join(
                word
                for word, known in (
                    ("its side", seen.side),
                    ("its distance from the lip", seen.back is not None),
                )
                if not known
            )
            notes.lacks(f"the place of {seen.name}: {lacking or 'the legs'}")
            notes.entry(seen.letter, f"{seen.words} (not drawn){_uses(view, seen)}")
            continue
        place = head.of(seen)
        if seen.letter not in head.across:
            canvas.disc(*place, RING + 4, dashes="2 3", thick=1, part="only-side")
        part = "master" if seen.master else "anchor"
        if _crowded(head, seen):
            small_anchor(canvas, place, seen.letter, seen.sound, part, head.area)
        else:
            anchor(canvas, place, seen.letter, seen.sound, part)
        notes.entry(seen.letter, seen.words + _uses(view, seen))
    if not head.anchors:
        notes.lacks("any anchor: none is named")


def _crowded(head: Head, seen: AnchorSeen) -> bool:
    """Whether another anchor stands so near that the symbols would cover each other."""
    x, y = head.of(seen)
    others = [a for a in head.anchors if a is not seen and a.letter in head.places]
    return any(hypot(head.of(a)[0] - x, head.of(a)[1] - y) < 2 * RING + 1 for a in others)


def _uses(view: View, seen: AnchorSeen) -> str:
    ladder = view.decided(names.LADDER_ANCHOR)
    uses = ["LADDER"] if ladder and seen.name == ladder else []
    uses += ["lifeline"] if seen.in_line else []
    uses += (
        ["safety line"] if view.choice(seen.entity, names.ANCHOR_IN_SAFETY_LINE) == "yes" else []
    )
    return f"; {', '.join(uses)}" if uses else ""


def _measures(canvas: Canvas, head: Head) -> None:
    """Distances: between the legs' anchors, from ladder to lifeline, back from the lip."""
    legs = head.legs
    if legs and legs.measured and len(legs.ends) == 2:
        a, b = (head.at(*place) for _, place in legs.ends)
        lift = RING + 12
        ends = ((a[0], a[1] - lift), (b[0], b[1] - lift))
        dimension(canvas, *ends, part="spacing")
        canvas.mark_way(ends, 4)
        told = metres(hypot(a[0] - b[0], a[1] - b[1]) / head.scale)
        canvas.tag(told, (a[0] + b[0]) / 2, min(a[1], b[1]) - lift - 10, head.area)
    if legs and head.gap is not None and head.hung:
        x1, x2 = head.of(head.hung)[0], head.at(*legs.point)[0]
        y = LIP + OVER - 14
        dimension(canvas, (x1, y), (x2, y), part="ladder-to-lifeline")
        canvas.tag(metres(head.gap), (x1 + x2) / 2, y - 10, head.area)
    backs = sorted({round(a.back or 0.0, 2) for a in head.anchors if a.letter in head.places})
    for number, back in enumerate(backs[:3]):
        x, y = 12.0 + 16 * number, LIP - back * head.scale
        dimension(canvas, (x, LIP), (x, y), part="back")
        canvas.tag(metres(back), x + 20, (LIP + y) / 2, head.area)
