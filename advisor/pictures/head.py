"""The pitch head seen from above, facing the drop: lip, anchors, master point, ladder, lifeline,
stance, arrival, safety line.
"""

from __future__ import annotations

from advisor.model import names
from advisor.pictures.canvas import Canvas

WIDTH, HEIGHT = 680, 386
LIP, LEFT, RIGHT, COLUMN = 110, 200, 480, 170
SIDES = {"left": 235, "middle": 340, "right": 445}
DEEPEST = 215  # drawing units from the lip to what lies farthest back


def draw(view) -> Canvas:
    """The plan of the pitch head.

    Distances from the lip are to scale where given; sideways places follow left, middle, right.
    """
    canvas = Canvas("pitch-head", "The pitch head from above, facing the drop", WIDTH, HEIGHT)
    scale = _scale(view)
    places = _anchors(view, canvas, scale)
    _lip(view, canvas)
    _lifeline(view, canvas, places)
    _ladder(view, canvas, places)
    _people(view, canvas)
    _bar(canvas, scale)
    canvas.place_labels(COLUMN + 4, WIDTH - COLUMN - 4, COLUMN - 6)
    return canvas


def _scale(view):
    """Drawing units for one metre back from the lip; None when no distance is known."""
    known = [view.middle(a, names.ANCHOR_BACK) for a in view.entities("anchor")]
    most = max((d for d in known if d is not None), default=None)
    return None if most is None else DEEPEST * 0.6 / max(most, 1.0)


def _lip(view, canvas):
    canvas.path(
        [
            (LEFT - 10, LIP),
            (LEFT + 60, LIP + 3),
            (340, LIP - 2),
            (RIGHT - 60, LIP + 3),
            (RIGHT + 10, LIP),
        ],
        thick=3,
    )
    for x in range(LEFT, RIGHT, 20):
        canvas.line(x, LIP - 3, x + 8, LIP - 14, thick=0.7)
    canvas.text(340, 62, "the drop", size=13, anchor="middle", bold=True)
    canvas.label(f"Lip: {view.told(*names.PITCH_LIP)}", LEFT + 10, LIP, "left")
    canvas.say(f"Facing the drop. The lip is {view.told(*names.PITCH_LIP)}.")


def _anchors(view, canvas, scale):
    """Draw every anchor; {entity: (x, y)}."""
    places, taken = {}, {}
    for entity in view.entities("anchor"):
        side = view.choice(entity, names.ANCHOR_SIDE)
        back = view.middle(entity, names.ANCHOR_BACK)
        y = LIP + (DEEPEST * 0.75 if back is None or scale is None else max(14, back * scale))
        row = (side, round(y / 14))
        shift = taken.get(row, 0)
        taken[row] = shift + 1
        inward = {"left": 34, "right": -34}.get(side, -34 if shift % 2 else 34)
        x = SIDES.get(side, 340) + inward * (
            shift % 3 if side in ("left", "right") else (shift + 1) // 2 % 3
        )
        places[entity] = (x, y + shift // 3 * 20)
        _anchor(view, canvas, entity, places[entity], side, back)
    if not places:
        canvas.label("Anchors: none named", 340, LIP + 120, "right", bold=True)
        canvas.say("No anchor is named.")
    return places


def _anchor(view, canvas, entity, place, side, back):
    sound = view.choice(entity, names.ANCHOR_SOUND) == "yes"
    canvas.disc(*place, 7, filled=sound)
    if not sound:
        canvas.line(place[0] - 5, place[1] - 5, place[0] + 5, place[1] + 5, thick=1.5)
        canvas.line(place[0] - 5, place[1] + 5, place[0] + 5, place[1] - 5, thick=1.5)
    words = [view.told(entity, names.ANCHOR_KIND), "shown sound" if sound else "not shown sound"]
    words += [] if side else ["side not known"]
    words.append(
        "distance not known"
        if back is None
        else f"{view.told(entity, names.ANCHOR_BACK)} from the lip"
    )
    canvas.label(
        f"{view.name(entity)}: {', '.join(words)}",
        *place,
        "left" if place[0] <= 340 else "right",
        bold=view.name(entity) == view.decided(names.LADDER_ANCHOR),
    )
    canvas.say(f"Anchor {view.name(entity)}, {side or 'side not known'}: {', '.join(words)}.")


def _lifeline(view, canvas, places):
    points = [places[e] for e in places if view.choice(e, names.ANCHOR_IN_LIFELINE) == "yes"]
    if not points:
        canvas.label("Lifeline's anchors: not known", 365, LIP, "right")
        canvas.say("The lifeline's anchors are not known.")
        return
    x = sum(p[0] for p in points) / len(points)
    master = (x + (0 if len(points) > 1 else 12), max(LIP + 24, min(p[1] for p in points) - 34))
    for point in points:
        canvas.line(*point, *master, thick=1.5, dashes="7 3")
    canvas.path(
        [
            (master[0], master[1] - 7),
            (master[0] + 7, master[1] + 6),
            (master[0] - 7, master[1] + 6),
        ],
        close=True,
        fill="#fff",
        thick=1.5,
    )
    canvas.line(*master, master[0], LIP - 30, thick=2, dashes="7 3", arrow=True)
    canvas.label(
        f"Master point; angle of its legs {view.told(*names.HEAD_ANGLE)}",
        *master,
        "right",
    )
    canvas.label(
        f"Lifeline over the lip: {view.told(*names.HEAD_LIFELINE_AT_LIP)}",
        master[0],
        LIP - 18,
        "right",
    )
    canvas.say(
        f"The lifeline (dashed) runs from {len(points)} anchor{'s' if len(points) > 1 else ''} to"
        " the master point and over the lip."
    )


def _ladder(view, canvas, places):
    chosen = view.decided(names.LADDER_ANCHOR)
    entity = next((e for e in places if view.name(e) == chosen), None)
    if entity is None:
        canvas.label("Ladder: no anchor chosen", 300, LIP - 30, "left", bold=True)
        canvas.say("No anchor is chosen for the ladder.")
        return
    x, y = places[entity]
    canvas.line(x, y, x, LIP + 12, thick=2.5)
    for side in (-6, 6):
        canvas.line(x + side, LIP + 12, x + side, LIP - 38, thick=1.5)
    for step in range(5):
        canvas.line(x - 6, LIP + 8 - 11 * step, x + 6, LIP + 8 - 11 * step, thick=1.5)
    side = "left" if x <= 340 else "right"
    canvas.label(
        f"Ladder on {chosen}; tie: {view.decided(names.TETHER_FORM) or 'not decided'}",
        x,
        LIP - 26,
        side,
        bold=True,
    )
    canvas.label(
        f"Ladder to lifeline: {view.told(*names.HEAD_LADDER_TO_LIFELINE)}",
        x + 6,
        LIP + 8,
        side,
    )
    form = view.decided(names.TETHER_FORM) or "a form not decided"
    canvas.say(f"The ladder hangs on {chosen}, tied by {form}.")


def _people(view, canvas):
    side = view.choice(*names.HEAD_LEADER)
    if side:
        x, y = {
            "left": (LEFT + 10, LIP + 48),
            "middle": (340, LIP + 148),
            "right": (RIGHT - 10, LIP + 48),
        }[side]
        canvas.box(x - 8, y - 8, 16, 16, thick=2)
        canvas.line(x, y - 8, x, y - 18, thick=2)
        canvas.label(
            f"Leader's stance, attached to: {view.told(*names.HEAD_STANCE)}",
            x,
            y,
            "left" if side == "left" else "right",
        )
    else:
        canvas.label(
            f"Leader's stance: side not known; attached to: {view.told(*names.HEAD_STANCE)}",
            340,
            LIP + 150,
            "right",
        )
    canvas.say(
        f"The leader stands {'on the ' + side if side else 'on a side not known'}, attached to:"
        f" {view.told(*names.HEAD_STANCE)}."
    )
    _arrival(view, canvas)
    _waiting(view, canvas)


def _arrival(view, canvas):
    way = view.choice(*names.HEAD_ARRIVAL)
    start = {
        "left": (LEFT - 8, LIP + 190),
        "right": (RIGHT + 8, LIP + 190),
        "behind": (340, LIP + 214),
    }.get(way)
    if start:
        end = {
            "left": (SIDES["left"] - 8, LIP + 152),
            "right": (SIDES["right"] + 8, LIP + 152),
            "behind": (340, LIP + 166),
        }[way]
        canvas.line(*start, *end, thick=2, arrow=True)
        canvas.label(
            f"People arrive from {'behind' if way == 'behind' else 'the ' + way}",
            *start,
            "right" if way == "right" else "left",
        )
    else:
        canvas.label("People arrive from: not known", 340, LIP + 200, "left")
    canvas.say(f"People arrive from: {way or 'not known'}.")


def _waiting(view, canvas):
    line = view.choice(*names.HEAD_SAFETY_LINE)
    y = LIP + 228
    if line == "yes":
        canvas.line(LEFT + 6, y, RIGHT - 6, y, thick=2)
        for x in (LEFT + 6, RIGHT - 6):
            canvas.disc(x, y, 4, filled=True)
    else:
        canvas.line(LEFT + 6, y, RIGHT - 6, y, thick=1, dashes="2 5")
    word = {"yes": "Safety line rigged", "no": "No safety line"}.get(line, "Safety line: not known")
    canvas.label(
        f"{word}; people wait {view.told(*names.HEAD_WAITING)} from the drop (not to scale)",
        RIGHT - 6,
        y,
        "right",
    )
    canvas.say(f"{word}. Waiting distance: {view.told(*names.HEAD_WAITING)}.")


def _bar(canvas, scale):
    y = HEIGHT - 30
    if scale is None:
        canvas.text(
            340, y + 4, "Not to scale: no distance from the lip is known", size=11, anchor="middle"
        )
        return
    length = 1.0 if scale <= 120 else 0.5
    canvas.line(LEFT, y, LEFT + length * scale, y, thick=2)
    for x in (LEFT, LEFT + length * scale):
        canvas.line(x, y - 4, x, y + 4, thick=1.5)
    canvas.text(
        LEFT - 10, y + 20, f"{length:g} m back from the lip; sideways not to scale", size=11
    )
