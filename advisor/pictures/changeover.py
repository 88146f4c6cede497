"""The change-over at the lip as a strip: four frames out and four back, each with what holds the
person in it.
"""

from __future__ import annotations

from advisor.load.folder import find_folder
from advisor.load.pictures import FILE, Frame, Shown, read_shown
from advisor.model import names
from advisor.pictures.canvas import Canvas, wrap
from advisor.pictures.legend import Notes, set_notes
from advisor.pictures.symbols import figure, rungs
from advisor.pictures.view import View

WIDTH, WIDE, TALL, GAP = 400, 92.0, 84.0, 6.0
ROW = TALL + 92.0  # from row to row: frame and words
PLACES = {"waiting": (20.0, 62.0), "edge": (46.0, 62.0), "ladder": (70.0, 76.0)}
TALL_ONE = 34.0  # units of a person


def shown(view: View) -> Shown:
    """What comes with the rules for strips and close-ups."""
    return read_shown(view.base, find_folder("rules") / FILE)


def draw(view: View) -> Canvas | None:
    """The strip; None unless people go by ladder on a lifeline."""
    if view.decided(names.METHOD) != "lifelined ladder":
        return None
    strips = shown(view)
    canvas = Canvas("change-over", "The change-over at the lip, out and back", WIDTH, 0)
    rigged = view.choice(*names.HEAD_SAFETY_LINE) == "yes"
    for row, (word, frames) in enumerate((("OUT", strips.out), ("BACK", strips.back))):
        top = 22 + ROW * row
        canvas.text(GAP, top - 6, word, bold=True)
        canvas.say(f"{word.capitalize()}:")
        for number, frame in enumerate(frames, 1):
            left = GAP + (number - 1) * (WIDE + GAP)
            _frame(canvas, left, top, number, frame, rigged)
            canvas.say(f"{number}. {frame.say}")
    canvas.height = 22 + 2 * ROW - 18
    notes = Notes()
    notes.entry("", "solid: cowstail to the safety line; dashed: lifeline")
    if not rigged:
        notes.lacks("a safety line: the cowstail's anchor is drawn as a ?")
    set_notes(canvas, notes)
    return canvas


def _frame(
    canvas: Canvas, left: float, top: float, number: int, frame: Frame, rigged: bool
) -> None:
    """One moment: ground, lip, ladder, person, and what holds the person."""
    canvas.box(left, top, WIDE, TALL, thick=1.2, part="frame")
    lip = left + 60
    canvas.path([(left, top + 62), (lip, top + 62), (lip, top + TALL)], thick=1.8)
    rungs(canvas, [(lip + 10, top + 50), (lip + 10, top + TALL)], "frame-ladder")
    x, feet = left + PLACES[frame.at][0], top + PLACES[frame.at][1]
    waist = (x, feet - TALL_ONE * 0.5)
    if frame.cowstail:
        _cowstail(canvas, left, top, waist, rigged)
    elif rigged:
        canvas.line(left + 6, top + 18, left + 56, top + 18, thick=1.2, part="safety-line")
    if frame.lifeline:
        canvas.path([(left + 82, top + 8), waist], 1.8, "5 3", part="frame-lifeline")
        canvas.disc(left + 82, top + 8, 3, filled=True)
    figure(canvas, x, feet, TALL_ONE, "frame-person")
    canvas.text(left + 4, top + TALL - 6, str(number), bold=True)
    for line, words in enumerate(wrap(frame.say, WIDE, 11, most=5)):
        canvas.text(left, top + TALL + 13 + 14 * line, words, size=11)


def _cowstail(
    canvas: Canvas, left: float, top: float, waist: tuple[float, float], rigged: bool
) -> None:
    held = (min(max(waist[0] - 8, left + 16), left + 52), top + 18)
    canvas.path([held, waist], 1.6, part="frame-cowstail")
    if rigged:
        canvas.line(left + 6, top + 18, left + 56, top + 18, thick=1.2, part="safety-line")
        return
    canvas.box(held[0] - 7, held[1] - 12, 14, 14, dashes="3 2", part="not-told")
    canvas.text(held[0], held[1] - 1, "?", size=11, anchor="middle", bold=True)
