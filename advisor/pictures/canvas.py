"""A sheet to draw on in black and white, in drawing units (96 to the inch).

Every shape may bear the name of what it shows (`part`, written as data-part), so that a reader of
the SVG can measure the picture against the facts. `taken` are the places that text must not cover.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence
from math import cos, hypot, radians, sin
from typing import Any, NamedTuple
from xml.sax.saxutils import escape

import drawsvg

SIZE, LEADING = 12, 15  # points of the label's letters, and from line to line
FONT = "Lato, 'DejaVu Sans', Arial, Helvetica, sans-serif"

Point = tuple[float, float]


class Box(NamedTuple):
    """A rectangle that text fills."""

    left: float
    top: float
    right: float
    bottom: float
    text: str = ""

    def meets(self, other: Box) -> bool:
        """Whether two boxes overlap."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )

    def within(self, other: Box) -> bool:
        """Whether it lies wholly inside another."""
        return (
            self.left >= other.left
            and self.top >= other.top
            and self.right <= other.right
            and self.bottom <= other.bottom
        )


# Widths of letters as shares of their size, on the wide side of common sans-serif letters.
_WIDTHS = {
    **dict.fromkeys("ijlI'|", 0.3),
    **dict.fromkeys(" .,:;", 0.34),
    **dict.fromkeys("tfr!()[]-", 0.42),
    **dict.fromkeys("mwMW@%—…", 1.0),
}


def _letter(letter: str) -> float:
    if ord(letter) > 0x2E7F:
        return 1.0
    return _WIDTHS.get(letter, 0.79 if letter.isupper() else 0.64)


def width_of(text: str, size: float = SIZE, bold: bool = False) -> float:
    """An upper guess of a text's width."""
    return sum(map(_letter, text)) * size * (1.17 if bold else 1.0)


def clean(text: str) -> str:
    """Text that may stand in XML: no control characters, no characters that turn the direction of
    writing.
    """
    return "".join(c if c.isprintable() else "?" for c in text)


def wrap(
    text: str, width: float, size: float = SIZE, most: int = 4, bold: bool = False
) -> list[str]:
    """Lines that fit a width; a text too long for `most` lines ends with '…'."""
    letters = max(2, int(width / (size * 0.34)))
    while True:
        lines = textwrap.wrap(clean(text), letters, max_lines=most, placeholder=" …") or [""]
        widest = max(width_of(line, size, bold) for line in lines)
        if widest <= width or letters <= 4:
            return lines
        letters = max(4, min(letters - 1, int(letters * width / widest) + 2))


class Tag(NamedTuple):
    """A short label that waits for its place: it must keep off all that is drawn after it too."""

    text: str
    x: float
    y: float
    within: Box
    bold: bool
    part: str


class Canvas:
    """Shapes and texts of one picture.

    `boxes` are the rectangles that text fills; `taken` holds them and the places of symbols.
    """

    def __init__(self, name: str, title: str, width: float, height: float):
        self.name, self.title, self.width, self.height = name, title, width, height
        self.top = 0.0  # the part of the sheet that is shown begins here
        self.desc: list[str] = []
        self.shapes: list[Any] = []
        self.boxes: list[Box] = []
        self.marks: list[Box] = []
        self.tags: list[Tag] = []
        self.parts: list[tuple[str, list[Point]]] = []  # what is drawn by name, and where

    def line(
        self,
        x1: float,
        y1: float,
        x2: float,
        y2: float,
        thick: float = 1.0,
        dashes: str | None = None,
        arrow: bool = False,
        part: str = "",
    ) -> None:
        """A straight line, dashed by a pattern such as '6 4', with an arrow head at its end when
        asked.
        """
        self.path([(x1, y1), (x2, y2)], thick, dashes, part=part)
        if arrow:
            self.arrow_head((x1, y1), (x2, y2))

    def arrow_head(self, start: Point, end: Point) -> None:
        """The head of an arrow that comes from `start`, its tip at `end`."""
        (x1, y1), (x2, y2) = start, end
        length = max(hypot(x2 - x1, y2 - y1), 0.001)
        ux, uy = (x2 - x1) / length, (y2 - y1) / length
        back_x, back_y = x2 - 9 * ux, y2 - 9 * uy
        points = [(x2, y2), (back_x - 4 * uy, back_y + 4 * ux), (back_x + 4 * uy, back_y - 4 * ux)]
        flat = [value for point in points for value in point]
        self.shapes.append(drawsvg.Lines(*flat, close=True, fill="#000"))

    def path(
        self,
        points: Sequence[Point],
        thick: float = 1.0,
        dashes: str | None = None,
        close: bool = False,
        fill: str = "none",
        part: str = "",
        colour: str = "#000",
    ) -> None:
        """A run of straight lines through points."""
        flat = [value for point in points for value in point]
        more = {**_dashed(dashes), **self._named(part, points)}
        self.shapes.append(
            drawsvg.Lines(*flat, close=close, fill=fill, stroke=colour, stroke_width=thick, **more)
        )

    def box(
        self,
        x: float,
        y: float,
        width: float,
        height: float,
        thick: float = 1.0,
        fill: str = "#fff",
        dashes: str | None = None,
        part: str = "",
    ) -> None:
        """A rectangle."""
        more = {**_dashed(dashes), **self._named(part, [(x, y), (x + width, y + height)])}
        self.shapes.append(
            drawsvg.Rectangle(
                x, y, width, height, fill=fill, stroke="#000", stroke_width=thick, **more
            )
        )

    def disc(
        self,
        x: float,
        y: float,
        radius: float,
        filled: bool = False,
        dashes: str | None = None,
        part: str = "",
        thick: float = 1.5,
        fill: str = "#fff",
    ) -> None:
        """A circle, open or filled."""
        more = {**_dashed(dashes), **self._named(part, [(x, y)])}
        self.shapes.append(
            drawsvg.Circle(
                x,
                y,
                radius,
                fill="#000" if filled else fill,
                stroke="#000",
                stroke_width=thick,
                **more,
            )
        )

    def text(
        self,
        x: float,
        y: float,
        text: str,
        size: float = SIZE,
        anchor: str = "start",
        bold: bool = False,
        white: bool = False,
        part: str = "",
    ) -> None:
        """One line of text with its base line at y."""
        text = clean(text)
        self.boxes.append(_text_box(x, y, text, size, anchor, bold))
        more = {"font_weight": "bold"} if bold else {}
        self.shapes.append(
            drawsvg.Text(
                text,
                size,
                x,
                y,
                text_anchor=anchor,
                fill="#fff" if white else "#000",
                font_family=FONT,
                **more,
                **self._named(part, []),
            )
        )

    def _named(self, part: str, points: Sequence[Point]) -> dict[str, str]:
        if part and points:
            self.parts.append((part, list(points)))
        return {"data_part": part} if part else {}

    def mark(self, x: float, y: float, radius: float) -> None:
        """Keep labels off a symbol."""
        self.marks.append(Box(x - radius, y - radius, x + radius, y + radius))

    def mark_way(self, points: Sequence[Point], radius: float) -> None:
        """Keep labels off a path."""
        for (x1, y1), (x2, y2) in zip(points, points[1:]):
            steps = max(1, int(hypot(x2 - x1, y2 - y1) // 10))
            for step in range(steps + 1):
                share = step / steps
                self.mark(x1 + (x2 - x1) * share, y1 + (y2 - y1) * share, radius)

    def tag(
        self, text: str, x: float, y: float, within: Box, bold: bool = False, part: str = ""
    ) -> None:
        """A short label for a place; it stands once all is drawn (`place_tags`)."""
        self.tags.append(Tag(clean(text), x, y, within, bold, part))

    def place_tags(self) -> None:
        """Set the labels that wait, each as near as may be, none on a label or a symbol."""
        for tag in self.tags:
            self._place(tag)
        self.tags = []

    def _place(self, tag: Tag) -> None:
        text, x, y, within, bold, part = tag
        width = width_of(text, SIZE, bold)
        spot = self.free(x, y, width, SIZE * 1.22, within)
        if spot is not None:
            at_x, at_y = spot[0], spot[1] + SIZE * 0.35
            self._halo(_text_box(at_x, at_y, text, SIZE, "middle", bold))
            self.text(at_x, at_y, text, anchor="middle", bold=bold, part=part)
            return
        # Nowhere free: below all there is, tied to its place by a thin line.
        at = self.height + LEADING
        left = min(max(x, within.left + width / 2), within.right - width / 2)
        self.line(x, y, left, at - SIZE, thick=0.6)
        self.text(left, at, text, anchor="middle", bold=bold, part=part)
        self.height = at + 6

    def free(self, x: float, y: float, width: float, height: float, within: Box) -> Point | None:
        """The middle of a rectangle near a place that covers no label and no symbol."""
        for dx, dy in _around(width):
            left, top = x + dx - width / 2, y + dy - height / 2
            found = Box(left, top, left + width, top + height)
            if found.within(within) and not any(found.meets(b) for b in self.boxes + self.marks):
                return x + dx, y + dy
        return None

    def _halo(self, box: Box) -> None:
        self.shapes.append(
            drawsvg.Rectangle(
                box.left, box.top, box.right - box.left, box.bottom - box.top, fill="#fff"
            )
        )

    def say(self, text: str) -> None:
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
            round(self.height - self.top),
            origin=(0, round(self.top)),
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
        tall = round(self.height - self.top)
        drawing.append(drawsvg.Rectangle(0, round(self.top), round(self.width), tall, fill="#fff"))
        for shape in self.shapes:
            drawing.append(shape)
        return str(drawing.as_svg(header=""))


def _dashed(dashes: str | None) -> dict[str, str]:
    return {"stroke_dasharray": dashes} if dashes else {}


def _text_box(x: float, y: float, text: str, size: float, anchor: str, bold: bool) -> Box:
    width = width_of(text, size, bold)
    left = x if anchor == "start" else x - width if anchor == "end" else x - width / 2
    return Box(left, y - size * 0.99, left + width, y + size * 0.22, text)


def _around(width: float) -> Iterable[Point]:
    """Places round a point for the middle of a text of that width, the nearest first."""
    for far in (0, 8, 12, 18, 26, 36, 48, 62, 80, 100, 124):
        for turn in range(0, 360, 30):
            x, y = cos(radians(turn)) * far, sin(radians(turn)) * far
            yield x + (x / far * width / 2 if far else 0), y
            if not far:
                break
