"""The load chain: what the ladder hangs on, part by part from the top, with the strength of each as
a bar, the weakest known, and the greatest load expected.
"""

from __future__ import annotations

from msgspec import Struct

from advisor.model import names
from advisor.model.advice import Number, NumberInput
from advisor.pictures.canvas import Box, Canvas, wrap
from advisor.pictures.legend import Notes, noted
from advisor.pictures.view import View

WIDTH, TOP, STEP, TALL = 400, 64.0, 40.0, 18.0
NAMES, BARS, LONGEST = 34.0, 128.0, 138.0  # where names and bars begin; the bar of the strongest
KILO = 1000.0


class Chain(Struct, frozen=True):
    """The parts that are there, the weakest known of them, and the load; forces in N."""

    number: Number
    parts: tuple[NumberInput, ...]
    weakest: NumberInput | None
    load: tuple[float, float] | None
    scale: float  # units to the newton


def chain_of(view: View) -> Number | None:
    """The calculation of the hang to draw: that of the anchor chosen, else the first; None when
    there is none.
    """
    found = [c for c in view.advice.calculations if c.calculation == names.HANG_WEAKEST]
    chosen = [c for c in found if c.entity == f"anchor {view.decided(names.LADDER_ANCHOR)}"]
    return (chosen or found or [None])[0]


def draw(view: View) -> Canvas | None:
    """The chain from anchor to ladder, a row a part; None when no hang was worked on."""
    return noted(compose(view))


def compose(view: View) -> tuple[Canvas, Notes] | None:
    """The drawing, and what is to stand below it."""
    chain = _read(view)
    if chain is None:
        return None
    title = f"The load chain of the ladder: {chain.number.text}"
    canvas = Canvas("load-chain", title, WIDTH, TOP + STEP * len(chain.parts))
    subject = view.name(chain.number.entity)
    canvas.say(f"The load chain from {subject} down to the ladder.")
    heading = wrap(f"From {subject} down to the ladder", WIDTH - 16, most=1, bold=True)[0]
    canvas.text(8, 16, heading, bold=True)
    _load(view, canvas, chain)
    for row, part in enumerate(chain.parts):
        _part(canvas, chain, row, part)
    canvas.place_tags()
    notes = Notes()
    _legend(view, chain, notes)
    return canvas, notes


def _read(view: View) -> Chain | None:
    number = chain_of(view)
    if number is None:
        return None
    parts = tuple(part for part in number.inputs if part.there)
    known = [part for part in parts if part.span]
    weakest = min(known, key=lambda part: part.span or (0.0, 0.0)) if known else None
    load = view.span(*names.GROUP_LOAD)
    most = max([part.span[1] for part in known if part.span] + [load[1] if load else 0.0, KILO])
    return Chain(number, parts, weakest, load, LONGEST / most)


def _part(canvas: Canvas, chain: Chain, row: int, part: NumberInput) -> None:
    """A link of the chain, its name, its bar and its figure."""
    y = TOP + STEP * row
    weakest = part is chain.weakest
    canvas.box(12, y, 12, 28, thick=3.5 if weakest else 1.8, fill="none", part="link")
    if row:
        canvas.line(18, y - STEP + 28, 18, y, thick=1.8)
    name = wrap(part.name, BARS - NAMES - 8, most=1, bold=True)[0]
    canvas.text(NAMES, y + 14, name, bold=weakest)
    if weakest:
        canvas.text(NAMES, y + 14 + 15, "weakest known", size=11, bold=True, part="weakest")
    if part.span is None:
        canvas.box(BARS, y, LONGEST, TALL, thick=1.2, dashes="4 3", part="bar-unknown")
        canvas.text(BARS + LONGEST / 2, y + 13.5, "?", anchor="middle", bold=True)
        canvas.say(f"{part.name.capitalize()}: no figure: judged, not counted.")
        return
    least, most = (force * chain.scale for force in part.span)
    dark = "#000" if weakest else "#bbb"
    canvas.box(BARS, y, least, TALL, thick=1.2, fill=dark, part="bar-least")
    if most - least > 0.5:
        canvas.box(BARS + least, y, most - least, TALL, thick=1.2, part="bar-most")
    canvas.text(_after(chain, most), y + 13.5, part.value, bold=weakest, part="figure")
    mark = " - WEAKEST KNOWN" if weakest else ""
    canvas.say(f"{part.name.capitalize()}: {part.value}{mark}.")


def _after(chain: Chain, most: float) -> float:
    """Where a figure stands: past its bar, and past the line of the load."""
    line = chain.load[1] * chain.scale if chain.load else 0.0
    return BARS + (line if most <= line < most + 120 else most) + 7


def _load(view: View, canvas: Canvas, chain: Chain) -> None:
    """The load as a line through all rows, labelled above them."""
    if chain.load is None:
        canvas.text(BARS, TOP - 16, "greatest expected load: not known", size=11, part="load-label")
        return
    x = BARS + chain.load[1] * chain.scale
    foot = TOP + STEP * len(chain.parts) - 8
    canvas.line(x, TOP - 12, x, foot, thick=1.6, dashes="3 3", part="load")
    label = f"load {view.told(*names.GROUP_LOAD)}"
    area = Box(BARS - 40, TOP - 34, WIDTH - 4, TOP - 12)
    canvas.tag(label, x, TOP - 22, area, bold=True, part="load-label")


def _legend(view: View, chain: Chain, notes: Notes) -> None:
    notes.entry("", "bar: the least it holds; light part: from the least to the greatest")
    open_parts = [part.name for part in chain.parts if part.span is None]
    if open_parts:
        notes.entry(
            "", f"dashed row with ?: no figure ({', '.join(open_parts)}); judged, not counted"
        )
    notes.entry("", _margin(view, chain, bool(open_parts)))


def _margin(view: View, chain: Chain, some_open: bool) -> str:
    """How the weakest known part stands against the load, in words."""
    if chain.load is None:
        return "greatest expected load: not known, so no margin"
    load = view.told(*names.GROUP_LOAD)
    if chain.weakest is None or chain.weakest.span is None:
        return f"load {load}; no part has a figure, so no margin"
    times = chain.weakest.span[0] / max(chain.load[1], 1.0)
    part = chain.weakest.name
    more = "; parts without a figure may hold less" if some_open else ""
    if times < 1:
        return f"the {part} holds LESS than the load of {load}{more}"
    return (
        f"the {part} holds at least {_down(times)} times the greatest expected load, {load}{more}"
    )


def _down(times: float) -> str:
    """A margin to a tenth, never rounded up."""
    return f"{int(times * 10 + 1e-6) / 10:g}"
