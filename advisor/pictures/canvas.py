"""A sheet to draw on in black and white. Labels stand in columns beside the drawing, spread so
that none covers another,
each tied to its place by a thin line; so pictures stay readable whatever names and numbers the
case holds.
"""

from __future__ import annotations

import textwrap
from typing import NamedTuple
from xml.sax.saxutils import escape

import drawsvg

SIZE, LEADING = 12, 15  # points of the label's letters, and from line to line
WIDE = (
    0.6  # width of a letter as a share of its size, on the wide side of common sans-serif letters
)
FONT = "Lato, 'DejaVu Sans', Arial, Helvetica, sans-serif"


class Box(NamedTuple):
    """A rectangle that text fills."""

    left: float
    top: float
    right: float
    bottom: float
    text: str = ""

    def meets(self, other) -> bool:
        """Whether two boxes overlap."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )


def width_of(text: str, size: float = SIZE) -> float:
    """An upper guess of a text's width."""
    return sum(1.0 if ord(c) > 0x2E7F else WIDE for c in text) * size


def clean(text: str) -> str:
    """Text that may stand in XML: no control characters, no characters that turn the direction of
    writing.
    """
    return "".join(c if c.isprintable() else "?" for c in text)


def wrap(text: str, width: float, size: float = SIZE, most: int = 4) -> list:
    """Lines that fit a width; a text too long for `most` lines ends with '…'."""
    letters = max(4, int(width / (size * WIDE)))
    if any(ord(c) > 0x2E7F for c in text):
        letters = max(2, int(width / size))
    return textwrap.wrap(clean(text), letters, max_lines=most, placeholder=" …") or [""]


class Canvas:
    """Shapes and labels in drawing units (96 to the inch).

    `boxes` are the rectangles that text fills.
    """

    def __init__(self, name: str, title: str, width: float, height: float):
        self.name, self.title, self.width, self.height = name, title, width, height
        self.desc: list = []
        self.shapes: list = []
        self.boxes: list = []
        self.waiting: list = []

    def line(self, x1, y1, x2, y2, thick=1.0, dashes=None, arrow=False):
        """A straight line, dashed by a pattern such as '6 4', with an arrow head at its end when
        asked.
        """
        more = {"stroke_dasharray": dashes} if dashes else {}
        self.shapes.append(drawsvg.Line(x1, y1, x2, y2, stroke="#000", stroke_width=thick, **more))
        if arrow:
            self._head(x1, y1, x2, y2)

    def _head(self, x1, y1, x2, y2):
        length = max(((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5, 0.001)
        ux, uy = (x2 - x1) / length, (y2 - y1) / length
        points = [
            x2,
            y2,
            x2 - 9 * ux - 4 * uy,
            y2 - 9 * uy + 4 * ux,
            x2 - 9 * ux + 4 * uy,
            y2 - 9 * uy - 4 * ux,
        ]
        self.shapes.append(drawsvg.Lines(*points, close=True, fill="#000"))

    def path(self, points, thick=1.0, dashes=None, close=False, fill="none"):
        """A run of straight lines through points."""
        more = {"stroke_dasharray": dashes} if dashes else {}
        flat = [value for point in points for value in point]
        self.shapes.append(
            drawsvg.Lines(*flat, close=close, fill=fill, stroke="#000", stroke_width=thick, **more)
        )

    def box(self, x, y, width, height, thick=1.0, fill="#fff", dashes=None):
        """A rectangle."""
        more = {"stroke_dasharray": dashes} if dashes else {}
        self.shapes.append(
            drawsvg.Rectangle(
                x, y, width, height, fill=fill, stroke="#000", stroke_width=thick, **more
            )
        )

    def disc(self, x, y, radius, filled=False):
        """A circle, open or filled."""
        self.shapes.append(
            drawsvg.Circle(
                x, y, radius, fill="#000" if filled else "#fff", stroke="#000", stroke_width=1.5
            )
        )

    def text(self, x, y, text, size=SIZE, anchor="start", bold=False):
        """One line of text with its base line at y."""
        text, width = clean(text), width_of(clean(text), size)
        left = x if anchor == "start" else x - width if anchor == "end" else x - width / 2
        self.boxes.append(Box(left, y - size * 0.8, left + width, y + size * 0.25, text))
        more = {"font_weight": "bold"} if bold else {}
        self.shapes.append(
            drawsvg.Text(
                text, size, x, y, text_anchor=anchor, fill="#000", font_family=FONT, **more
            )
        )

    def label(self, text, x, y, side="right", bold=False):
        """A label for the place (x, y), to stand in the column on one side once all are known."""
        self.waiting.append((side, y, x, text, bold))

    def place_labels(self, left_column, right_column, width):
        """Set all waiting labels in two columns: each as near as may be to its place, none on
        another.
        """
        for side, edge in (("left", left_column), ("right", right_column)):
            items = sorted(
                (w for w in self.waiting if w[0] == side), key=lambda w: (w[1], w[2], w[3])
            )
            blocks = [(wrap(w[3], width, most=7), w) for w in items]
            for top, (lines, w) in zip(
                spread(
                    [(w[1], len(lines) * LEADING + 7) for lines, w in blocks], 34, self.height - 12
                ),
                blocks,
            ):
                self._set(lines, top, edge, side, w)
        self.waiting = []

    def _set(self, lines, top, edge, side, waiting):
        _, y, x, _, bold = waiting
        middle = top + LEADING * len(lines) / 2
        near = edge + 4 if side == "left" else edge - 4
        self.shapes.append(drawsvg.Line(near, middle, x, y, stroke="#000", stroke_width=0.6))
        self.shapes.append(drawsvg.Circle(x, y, 1.8, fill="#000"))
        for number, line in enumerate(lines):
            self.text(
                edge,
                top + SIZE + number * LEADING - 1,
                line,
                anchor="end" if side == "left" else "start",
                bold=bold,
            )
        self.height = max(self.height, top + LEADING * len(lines) + 12)

    def say(self, text):
        """One sentence of the description that stands for the picture."""
        self.desc.append(text)

    @property
    def description(self) -> str:
        """What the picture shows, in words."""
        return clean(" ".join(self.desc))

    def svg(self) -> str:
        """The picture as SVG, with title and description for those who do not see it."""
        drawing = drawsvg.Drawing(
            round(self.width),
            round(self.height),
            role="img",
            aria_labelledby=f"{self.name}-title {self.name}-desc",
            id=self.name,
        )
        drawing.append(
            drawsvg.Raw(f'<title id="{self.name}-title">{escape(clean(self.title))}</title>')
        )
        drawing.append(
            drawsvg.Raw(f'<desc id="{self.name}-desc">{escape(self.description)}</desc>')
        )
        drawing.append(drawsvg.Rectangle(0, 0, round(self.width), round(self.height), fill="#fff"))
        for shape in self.shapes:
            drawing.append(shape)
        return drawing.as_svg(header="")


def spread(items, top, bottom) -> list:
    """Tops of blocks (wanted middle, height), in order, near what they want and never over one
    another.
    """
    tops, at = [], top
    for wanted, height in items:
        at = max(at, wanted - height / 2)
        tops.append(at)
        at += height
    limit = bottom
    for number in range(
        len(items) - 1, -1, -1
    ):  # what hangs out below moves up, as far as there is room
        room = max(tops[number - 1] + items[number - 1][1], top) if number else top
        tops[number] = max(min(tops[number], limit - items[number][1]), min(top, room))
        limit = tops[number]
    at = top
    for number, (_, height) in enumerate(items):  # too many for the height: they run on downwards
        tops[number] = max(tops[number], at)
        at = tops[number] + height
    return tops
