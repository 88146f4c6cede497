"""The pitch in section: depth, ladder made up with its tether and spare, ledge, landing, lifeline
and how far it gives.
"""

from __future__ import annotations

from advisor.model import names
from advisor.pictures.canvas import Canvas
from advisor.pictures.view import NOT_KNOWN

WIDTH, COLUMN = 680, 190
TOP, BOTTOM = 108, 400  # the lip and the landing
LADDER, LINE, WALL = 320, 366, 280


def draw(view) -> Canvas:
    """The section, heights to scale where the depth is known."""
    canvas = Canvas("pitch-section", "The pitch in section", WIDTH, 470)
    depth = view.middle(*names.PITCH_DEPTH)
    scale = (BOTTOM - TOP) / depth if depth else None
    _rock(view, canvas)
    _landing(view, canvas)
    _ledge(view, canvas, scale)
    _ladder(view, canvas, scale)
    _line(view, canvas, scale)
    canvas.text(
        WIDTH / 2,
        462,
        (
            "Heights to scale; the head of the pitch and widths are not"
            if scale
            else "Not to scale: the depth is not known"
        ),
        size=11,
        anchor="middle",
    )
    canvas.place_labels(COLUMN + 2, WIDTH - COLUMN - 2, COLUMN - 8)
    return canvas


def _rock(view, canvas):
    canvas.path(
        [
            (210, TOP),
            (WALL, TOP),
            (WALL - 6, TOP + 60),
            (WALL, TOP + 140),
            (WALL - 8, BOTTOM - 60),
            (WALL - 4, BOTTOM),
            (460, BOTTOM),
        ],
        thick=2.5,
    )
    x = 236
    canvas.line(x, TOP + 4, x, BOTTOM - 2, thick=1, arrow=True)
    canvas.line(x, BOTTOM - 4, x, TOP + 4, thick=1, arrow=True)
    told = view.told(*names.PITCH_DEPTH)
    canvas.label(f"Depth: {told}", x, (TOP + BOTTOM) / 2, "left", bold=True)
    canvas.label(
        f"Hang: {view.told(*names.PITCH_HANG)}; water: {view.told(*names.PITCH_WATER)}",
        WALL - 2,
        TOP + 170,
        "left",
    )
    canvas.say(
        f"The pitch is {told} deep; hang: {view.told(*names.PITCH_HANG)}; water:"
        f" {view.told(*names.PITCH_WATER)}."
    )


def _landing(view, canvas):
    kind = view.choice(*names.PITCH_LANDING)
    if kind == "pool":
        for step in range(3):
            canvas.line(
                300 + 4 * step,
                BOTTOM + 8 + 6 * step,
                440 - 4 * step,
                BOTTOM + 8 + 6 * step,
                thick=1,
                dashes="10 5",
            )
    refuge = {"yes": "a sheltered place to wait", "no": "no sheltered place to wait"}.get(
        view.choice(*names.PITCH_REFUGE), "shelter for waiting not known"
    )
    canvas.label(f"Landing: {view.told(*names.PITCH_LANDING)}; {refuge}", 440, BOTTOM, "right")
    canvas.say(f"Landing: {view.told(*names.PITCH_LANDING)}; {refuge}.")


def _ledge(view, canvas, scale):
    there = view.choice(*names.PITCH_LEDGE)
    below = view.middle(*names.PITCH_LEDGE_DEPTH)
    if there == "no":
        canvas.say("No ledge.")
        return
    y = TOP + below * scale if scale and below is not None else (TOP + BOTTOM) / 2 + 30
    y = min(y, BOTTOM - 8)
    dashes = None if there == "yes" and below is not None else "4 4"
    canvas.path(
        [(WALL - 5, y), (WALL + 26, y), (WALL + 20, y + 12), (WALL - 5, y + 18)],
        thick=2,
        dashes=dashes,
    )
    words = (
        f"Ledge {view.told(*names.PITCH_LEDGE_DEPTH)} below the lip"
        if there == "yes"
        else "Ledge: not known whether there is one"
    )
    canvas.label(words, WALL + 12, y, "left")
    canvas.say(words + ".")


def _ladder(view, canvas, scale):
    made = view.middle(*names.PITCH_LADDER_MADE_UP)
    canvas.disc(224, TOP - 48, 6, filled=True)
    canvas.path([(224, TOP - 48), (WALL + 8, TOP - 30), (LADDER, TOP - 12)], thick=2.5)
    canvas.label(
        f"Ladder's anchor: {view.decided(names.LADDER_ANCHOR) or 'not decided'}, {_height(view)}",
        224,
        TOP - 48,
        "left",
    )
    canvas.label(
        f"Tether: {view.decided(names.TETHER_FORM) or 'not decided'}; length out"
        f" {view.told(*names.TETHER_OUT)}",
        258,
        TOP - 37,
        "right",
    )
    gap = view.middle(*names.PITCH_LADDER_GAP)
    foot = BOTTOM if gap is None or not scale else min(max(BOTTOM - gap * scale, TOP + 20), BOTTOM)
    _rungs(canvas, foot, known=made is not None)
    _told_ladder(view, canvas, foot, gap)


def _height(view):
    entity = next(
        (e for e in view.entities("anchor") if view.name(e) == view.decided(names.LADDER_ANCHOR)),
        None,
    )
    told = view.told(entity, names.ANCHOR_HEIGHT) if entity else NOT_KNOWN
    return f"height above the take-off: {told}"


def _rungs(canvas, foot, known):
    dashes = None if known else "4 4"
    for x in (LADDER - 7, LADDER + 7):
        canvas.line(x, TOP - 12, x, foot, thick=1.5, dashes=dashes)
    y = TOP - 12
    while y <= foot:
        canvas.line(LADDER - 7, y, LADDER + 7, y, thick=1)
        y += 14


def _told_ladder(view, canvas, foot, gap):
    pieces = view.decided(names.LADDERS_JOINED)
    made, needed = (
        view.told(*names.PITCH_LADDER_MADE_UP),
        view.told(*names.PITCH_LADDER_NEEDED),
    )
    text = (
        f"Ladder made up: {made}{' (' + pieces + ')' if pieces else ''}; needed with spare:"
        f" {needed}"
    )
    canvas.label(text, LADDER - 7, (TOP + foot) / 2 - 60, "left")
    if gap is None:
        words = "Foot of the ladder: not worked out"
    elif gap > 0.0005:
        words = f"TOO SHORT: the last rung hangs {gap:.2g} m above the landing"
    else:
        words = f"Spare at the foot: {-gap:.2g} m"
        canvas.path(
            [
                (LADDER - 7, foot),
                (LADDER - 7, BOTTOM - 3),
                (LADDER + 24, BOTTOM - 3),
                (LADDER + 24, BOTTOM - 9),
                (LADDER + 7, BOTTOM - 9),
            ],
            thick=1.5,
        )
    canvas.label(words, LADDER, foot - 6, "left", bold=gap is not None and gap > 0.0005)
    canvas.say(f"{text}. {words}.")


def _line(view, canvas, scale):
    canvas.path(
        [(214, TOP - 80), (LINE - 10, TOP - 66), (LINE, TOP - 40), (LINE, BOTTOM - 70)],
        thick=2,
        dashes="7 3",
    )
    canvas.disc(LINE, BOTTOM - 64, 6)
    canvas.disc(214, TOP - 80, 6)
    way = view.decided(names.LIFELINE_WORKED) or view.told(*names.LIFELINE_WAY)
    canvas.label(
        f"Lifeline: {view.told(*names.LIFELINE_CLASS)},"
        f" {view.told(*names.LIFELINE_LENGTH)}; worked as: {way}",
        LINE,
        TOP + 30,
        "right",
        bold=True,
    )
    canvas.label(
        f"Rope to spare: {view.told(*names.LIFELINE_TO_SPARE)}; slack"
        f" {view.told(*names.LIFELINE_SLACK)}",
        LINE,
        TOP + 110,
        "right",
    )
    drop, words = (
        view.span(*names.LIFELINE_DROP),
        view.told(*names.LIFELINE_DROP),
    )
    if drop and scale:
        low = min(BOTTOM - 2, BOTTOM - 64 + drop[1] * scale)
        canvas.line(LINE + 16, BOTTOM - 64, LINE + 16, low, thick=1.5, arrow=True)
    left = view.told(*names.LIFELINE_CLEARANCE)
    canvas.label(
        f"A slip low down goes (slack, stretch): {words}; left above the landing: {left}",
        LINE + 16,
        BOTTOM - 56,
        "right",
    )
    canvas.say(
        f"Lifeline (dashed): {view.told(*names.LIFELINE_LENGTH)}, to spare"
        f" {view.told(*names.LIFELINE_TO_SPARE)}. A slip low down goes {words}; left above"
        f" the landing: {left}."
    )
