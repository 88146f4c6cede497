"""The tether close up: the form chosen between anchor and ladder, how it lets out, and the bridle
at its angle. The rest of it is not to scale.
"""

from __future__ import annotations

from collections.abc import Callable
from math import radians, tan

from advisor.model import names
from advisor.pictures.canvas import Box, Canvas, Point
from advisor.pictures.changeover import shown
from advisor.pictures.legend import Notes, set_notes
from advisor.pictures.places import settled, tether_form
from advisor.pictures.view import NOT_KNOWN, View

WIDTH, MIDDLE = 400, 130.0
TOP, MEET, EYES = 30.0, 128.0, 196.0  # anchor, where the bridle's legs meet, and the ladder's eyes
AREA = Box(4, 4, WIDTH - 4, 250)


def draw(view: View) -> Canvas | None:
    """The close-up; None where no form is told or decided."""
    form = tether_form(view)
    drawn = FORMS.get(form)
    if drawn is None:
        return None
    canvas, notes = Canvas("tether", f"The tether close up: {form}", WIDTH, 250), Notes()
    canvas.say(f"The tether close up: {form}.")
    canvas.disc(MIDDLE, TOP, 8, filled=True, part="tether-anchor")
    canvas.tag(view.decided(names.LADDER_ANCHOR) or "anchor: not decided", MIDDLE + 60, TOP, AREA)
    drawn(canvas)
    _bridle(view, canvas, notes)
    _words(view, form, notes)
    canvas.place_tags()
    set_notes(canvas, notes)
    return canvas


def _words(view: View, form: str, notes: Notes) -> None:
    notes.entry("", f"{form}: {shown(view).tethers.get(form, '')}".rstrip(": "))
    for key, words in (
        (names.TETHER_OUT, "out, from anchor to bridle"),
        (names.TETHER_LET_OUT, "that can be let out"),
    ):
        told = view.told(*key)
        if told != NOT_KNOWN:
            notes.entry("", f"{told} {words}")
        else:
            notes.lacks(f"the length {words}")
    notes.entry("", "not to scale; the bridle's angle is true where it is drawn")


def _connector(canvas: Canvas, y: float) -> None:
    canvas.path(
        [
            (MIDDLE - 6, y),
            (MIDDLE + 6, y),
            (MIDDLE + 8, y + 16),
            (MIDDLE, y + 24),
            (MIDDLE - 8, y + 16),
        ],
        2,
        close=True,
        part="connector",
    )


def _hitch(canvas: Canvas) -> None:
    """Turns that hold, a tail that lets out, locked and backed up."""
    _connector(canvas, TOP + 6)
    y = TOP + 28
    for turn in range(4):
        at = y + 9 * turn
        canvas.path([(MIDDLE - 12, at + 4), (MIDDLE + 12, at)], 3, part="hitch-turn")
    canvas.line(MIDDLE, y + 34, MIDDLE, MEET, 3, part="loaded-strand")
    _tail(canvas, (MIDDLE + 12, y + 8), "tail: lock and back-up")


def _device(canvas: Canvas) -> None:
    """A device on the anchor, its rope to the ladder, the brake side locked off."""
    _connector(canvas, TOP + 6)
    canvas.box(MIDDLE - 14, TOP + 30, 28, 26, 2.4, part="device")
    canvas.line(MIDDLE - 6, TOP + 56, MIDDLE, MEET, 3, part="loaded-strand")
    _tail(canvas, (MIDDLE + 14, TOP + 42), "brake side: locked off and backed up")


def _tail(canvas: Canvas, start: Point, words: str) -> None:
    x, y = start
    points = [(x, y), (x + 34, y + 2), (x + 40, y + 14), (x + 26, y + 14), (x + 34, y + 2)]
    canvas.path(points, 2, part="lock")
    canvas.line(x + 34, y + 14, x + 34, y + 66, 2, part="tail")
    canvas.line(x + 34, y + 66, x + 34, y + 84, 1.2, "3 3", arrow=True, part="lets-out")
    canvas.tag(words, x + 130, y + 34, AREA)


def _cord(canvas: Canvas) -> None:
    """A closed loop of cord."""
    _connector(canvas, TOP + 6)
    loop = [(MIDDLE - 5, TOP + 26), (MIDDLE + 5, TOP + 26), (MIDDLE + 5, MEET), (MIDDLE - 5, MEET)]
    canvas.path(loop, 3, close=True, part="fixed-cord")
    canvas.box(MIDDLE + 1, (TOP + MEET) / 2, 9, 12, 1.5, fill="#000", part="knot")


def _wire(canvas: Canvas) -> None:
    _connector(canvas, TOP + 6)
    canvas.line(MIDDLE, TOP + 28, MIDDLE, MEET, 4, part="fixed-wire")


def _direct(canvas: Canvas) -> None:
    """One connector from the anchor to what holds the ladder."""
    canvas.path(
        [(MIDDLE - 9, TOP + 6), (MIDDLE + 9, TOP + 6), (MIDDLE + 12, MEET - 14), (MIDDLE, MEET)]
        + [(MIDDLE - 12, MEET - 14)],
        3,
        close=True,
        part="direct-connector",
    )


FORMS: dict[str, Callable[[Canvas], None]] = {
    "releasable hitch": _hitch,
    "lowering device": _device,
    "fixed cord": _cord,
    "fixed wire": _wire,
    "direct connector": _direct,
}


def _bridle(view: View, canvas: Canvas, notes: Notes) -> None:
    """What holds the two eyes: two legs at their angle, or both eyes in one connector."""
    eyes = view.choice(*names.TETHER_EYES)
    angle = settled(view, *names.TETHER_BRIDLE_ANGLE)
    if eyes == "both in one connector":
        canvas.disc(MIDDLE, MEET + 6, 6, thick=2.5, part="one-connector")
        _head(canvas, [(MIDDLE - 2, MEET + 12), (MIDDLE + 2, MEET + 12)])
        notes.entry("", "both eyes in one connector, the wires bent to it")
        return
    if not eyes or angle is None:
        notes.lacks("what holds the ladder's two eyes, or its angle; so no bridle")
        return
    half = (EYES - MEET) * tan(radians(angle) / 2)
    ends = [(MIDDLE - half, EYES), (MIDDLE + half, EYES)]
    for end in ends:
        canvas.line(MIDDLE, MEET, *end, 2.4, part="bridle-leg")
    _head(canvas, ends)
    canvas.tag(f"{eyes}, {angle:.0f}°", MIDDLE - half - 60, MEET + 30, AREA, bold=True)


def _head(canvas: Canvas, ends: list[Point]) -> None:
    """The ladder's two eyes, wires and top rung."""
    for x, y in ends:
        canvas.disc(x, y, 3.5, thick=1.6, part="eye")
        canvas.line(x, y + 4, MIDDLE + (-20 if x < MIDDLE else 20), EYES + 18, 1.8)
    for aside in (-20, 20):
        canvas.line(MIDDLE + aside, EYES + 18, MIDDLE + aside, EYES + 44, 1.8)
    for y in (EYES + 22, EYES + 38):
        canvas.box(MIDDLE - 26, y, 52, 4, 1, fill="#bbb", part="rung")
