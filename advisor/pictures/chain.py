"""The load chain: what the ladder hangs on, part by part, with the strength of each and the
weakest marked.
"""

from __future__ import annotations

from advisor.model import names
from advisor.pictures.canvas import LEADING, Canvas, wrap

WIDTH, BOX, STEP, BARS = 680, 250, 68, 290
LONGEST = 360  # the bar of the strongest part


def chain_of(view):
    """The calculation of the hang to draw: that of the anchor chosen, else the first; None when
    there is none.
    """
    found = [c for c in view.advice.calculations if c.id.startswith(f"{names.HANG_WEAKEST} [")]
    chosen = [c for c in found if c.entity == f"anchor {view.decided(names.LADDER_ANCHOR)}"]
    return (chosen or found or [None])[0]


def draw(view):
    """The chain from anchor to ladder, a bar a part; None when no hang was worked on."""
    item = chain_of(view)
    if item is None:
        return None
    parts = [part for part in item.inputs if part.there]
    canvas = Canvas(
        "load-chain", f"The load chain of the ladder: {item.text}", WIDTH, 96 + STEP * len(parts)
    )
    most = max([part.span[0] for part in parts if part.span] + [_load(view) or 0, 1.0])
    for number, part in enumerate(parts):
        _part(canvas, number, part, most)
    canvas.text(16, 24, f"From {_subject(view, item)} down to the ladder", size=13, bold=True)
    _expected(view, canvas, most, len(parts))
    canvas.say(f"{item.text}.")
    return canvas


def _subject(view, item):
    return view.name(item.gives.partition(".")[0])


def _load(view):
    span = view.span(*names.GROUP_LOAD)
    return span[1] if span else None


def _part(canvas, number, part, most):
    y = 42 + STEP * number
    canvas.box(
        16, y, BOX, 44, thick=4 if part.weakest else 1.5, dashes=None if part.span else "5 4"
    )
    if number:
        canvas.line(16 + BOX / 2, y - STEP + 44, 16 + BOX / 2, y, thick=3)
    told = part.value if part.span else "no figure: judged, not counted"
    words = told + (" - WEAKEST" if part.weakest else "")
    canvas.text(24, y + 18, wrap(part.name, BOX - 12, most=1)[0], bold=part.weakest)
    canvas.text(24, y + 18 + LEADING, words, bold=part.weakest)
    canvas.box(
        BARS,
        y + 12,
        max(LONGEST * (part.span[0] if part.span else 0) / most, 1),
        20,
        fill="#000" if part.weakest else "#bbb",
    )
    canvas.say(f"{part.name.capitalize()}: {words}.")


def _expected(view, canvas, most, count):
    load, y = _load(view), 42 + STEP * count
    if load is None:
        canvas.text(BARS, y + 12, "Greatest expected load: not known")
        canvas.say("The greatest expected load is not known.")
        return
    x = BARS + LONGEST * load / most
    canvas.line(x, 38, x, y - 2, thick=1.5, dashes="3 3")
    canvas.text(
        BARS,
        y + 14,
        f"Dotted line: greatest expected load, {view.told(*names.GROUP_LOAD)}",
    )
    canvas.say(f"Greatest expected load: {view.told(*names.GROUP_LOAD)}.")
