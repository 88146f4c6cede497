"""Pictures of worked cases, read back from their SVG as one would measure them with a ruler: by
what each shape is named (data-part), and by the scale bar on the sheet.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot
from pathlib import Path

from depth import all_cases, case_name, cases, kept, sweep
from lxml import etree
from worked import case_at, program

from advisor.load.case import build_case
from advisor.load.tree import parse_document
from advisor.pictures.all import pictures
from advisor.pictures.view import View

SVG = "{http://www.w3.org/2000/svg}"


@kept
def view_at(path: Path) -> View:
    return _view(case_at(path))


@kept
def view_of(text: str) -> View:
    """The view of a case written in a test."""
    return _view(build_case(parse_document(text.encode(), "test"), program().base))


@kept
def view_with(name: str, *changes: str) -> View:
    """The view of a worked case with facts set as by --set."""
    from advisor.load.case import read_case

    path = next(p for p in all_cases() if case_name(p) == name)
    return _view(read_case(path, program().base, list(changes)))


def _view(case) -> View:
    run = program().answer(case)
    return View(program().base, case, run.outcome.world, run.advice)


@kept
def sheets(view: View) -> dict[str, Sheet]:
    return {name: Sheet(canvas.svg()) for name, canvas in pictures(view).items()}


@dataclass(frozen=True)
class Line:
    """A path, as its points."""

    points: tuple[tuple[float, float], ...]
    thick: float

    @property
    def length(self) -> float:
        return sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in zip(self.points, self.points[1:]))

    @property
    def low(self) -> float:
        """Its lowest end on the sheet."""
        return max(y for _, y in self.points)

    @property
    def high(self) -> float:
        return min(y for _, y in self.points)


@dataclass(frozen=True)
class Rect:
    x: float
    y: float
    width: float
    height: float
    fill: str


class Sheet:
    """One picture as its SVG says."""

    def __init__(self, svg: str):
        self.svg = svg
        self.tree = etree.fromstring(svg.encode())
        self.words = self.tree.find(f"{SVG}desc").text

    def _named(self, tag: str, part: str):
        return [e for e in self.tree.iter(f"{SVG}{tag}") if e.get("data-part") == part]

    def lines(self, part: str) -> list[Line]:
        return [
            Line(
                tuple(
                    tuple(map(float, p.split(",")))
                    for p in e.get("d").replace("M", "").replace("Z", "").split(" L")
                ),
                float(e.get("stroke-width")),
            )
            for e in self._named("path", part)
        ]

    def discs(self, part: str) -> list[tuple[float, float]]:
        return [(float(e.get("cx")), float(e.get("cy"))) for e in self._named("circle", part)]

    def rects(self, part: str) -> list[Rect]:
        return [
            Rect(*(float(e.get(k)) for k in ("x", "y", "width", "height")), e.get("fill"))
            for e in self._named("rect", part)
        ]

    def texts(self, part: str) -> list[tuple[float, float, str]]:
        return [(float(e.get("x")), float(e.get("y")), e.text) for e in self._named("text", part)]

    @property
    def all_text(self) -> str:
        return " ".join(e.text or "" for e in self.tree.iter(f"{SVG}text"))

    @property
    def parts(self) -> set[str]:
        return {e.get("data-part") for e in self.tree.iter() if e.get("data-part")}

    @property
    def scale(self) -> float:
        """Drawing units to the metre, by the scale bar."""
        (bar,), ((_, _, told),) = self.lines("scale-bar"), self.texts("scale-text")
        return bar.length / float(told.removesuffix(" m"))


def a_plan(path: Path) -> bool:
    return "plan" in case_at(path).topics


plans = sweep("path", lambda: filter(a_plan, cases(3, 24)), case_name)
