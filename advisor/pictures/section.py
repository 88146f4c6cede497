"""The pitch in section, on one scale up and across: what is told of it is drawn, what is not known
stands in a box below.
"""

from __future__ import annotations

from advisor.model import names
from advisor.pictures.canvas import Canvas
from advisor.pictures.legend import Notes, set_notes
from advisor.pictures.measure import scale_bar
from advisor.pictures.section_frame import LEFT, WIDTH, section_of
from advisor.pictures.section_ladder import draw_anchors, draw_depth, draw_ladder
from advisor.pictures.section_line import draw_line
from advisor.pictures.section_rock import draw_rock
from advisor.pictures.view import View


def draw(view: View) -> Canvas:
    """The section; without a depth only what is not known."""
    canvas, notes = compose(view)
    set_notes(canvas, notes)
    return canvas


def compose(view: View) -> tuple[Canvas, Notes]:
    """The drawing, and what is to stand below it."""
    canvas = Canvas("pitch-section", "The pitch in section", WIDTH, 20)
    seen, notes = section_of(view), Notes()
    if seen is None:
        notes.lacks("the depth, so there is no scale and no section")
        canvas.text(10, 18, "The pitch in section: not drawn", bold=True)
    else:
        canvas.say(f"The pitch in section, {view.told(*names.PITCH_DEPTH)} deep.")
        notes.tell(f"depth: {view.told(*names.PITCH_DEPTH)}")
        draw_rock(view, canvas, seen, notes)
        draw_depth(view, canvas, seen)
        draw_ladder(view, canvas, seen, notes)
        draw_line(view, canvas, seen, notes)
        draw_anchors(view, canvas, seen, notes)
        canvas.place_tags()
        scale_bar(canvas, LEFT, canvas.height + 6, seen.scale, "one scale up and across")
        canvas.height += 28
    return canvas, notes
