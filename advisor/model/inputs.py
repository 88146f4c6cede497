"""What goes into a calculation, each form of input a type of its own.

An input looks at facts (`references`), takes trade figures (`figures`), or both; one that is picked
holds others. A new form needs a type here, its reading in `load/calculations.py` and its value in
`engine/calculate.py`.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from advisor.model.ref import Ref

TAKES = ("least", "most", "any")  # what may be taken over the entities of a kind


class Input:
    """Any form of input."""

    __slots__ = ()

    @property
    def children(self) -> tuple[Input, ...]:
        """The inputs it holds."""
        return ()

    @property
    def own(self) -> tuple[Ref, ...]:
        """The facts it looks at itself."""
        return ()

    @property
    def own_figures(self) -> tuple[str, ...]:
        """Names of the trade figures it takes itself."""
        return ()

    def references(self) -> Iterator[Ref]:
        """All facts it looks at."""
        yield from self.own
        for child in self.children:
            yield from child.references()

    def figures(self) -> Iterator[str]:
        """Names of all trade figures it may take."""
        yield from self.own_figures
        for child in self.children:
            yield from child.figures()


class FromFact(Input, Struct, frozen=True):
    """A fact's range."""

    ref: Ref

    @property
    def own(self) -> tuple[Ref, ...]:
        return (self.ref,)


class Over(Input, Struct, frozen=True):
    """The least, the most or any value over the entities of a kind: all, or those of which the
    choice `where` may have a value in `mask`.
    """

    kind: str
    key: str
    where: str  # key of a choice, or ''
    mask: int
    take: str  # one of TAKES

    @property
    def own(self) -> tuple[Ref, ...]:
        """The kind stands for each entity of it."""
        return tuple(Ref(self.kind, key) for key in (self.key, self.where) if key)


class FirstOf(Input, Struct, frozen=True):
    """The first of several inputs that is known."""

    choices: tuple[Input, ...]

    @property
    def children(self) -> tuple[Input, ...]:
        return self.choices


class OfFigure(Input):
    """What comes of a trade figure."""

    __slots__ = ()
    figure: str

    @property
    def own_figures(self) -> tuple[str, ...]:
        return (self.figure,)


class FromFigure(OfFigure, Struct, frozen=True):
    """A trade figure, as a point."""

    figure: str


class WholeRange(OfFigure, Struct, frozen=True):
    """A trade figure's whole range, in SI."""

    figure: str
    low: float
    high: float


class Cell(OfFigure, Struct, frozen=True):
    """One named row of a figure's table."""

    figure: str
    row: str


class RowBy(OfFigure, Struct, frozen=True):
    """The row of a figure's table that a choice or a size picks."""

    figure: str
    ref: Ref

    @property
    def own(self) -> tuple[Ref, ...]:
        return (self.ref,)


class Pick(Struct, frozen=True):
    """What one value of a choice (by its index) picks."""

    value: int
    input: Input


class PickedBy(Input, Struct, frozen=True):
    """The input that a choice picks."""

    ref: Ref
    picks: tuple[Pick, ...]

    @property
    def children(self) -> tuple[Input, ...]:
        return tuple(pick.input for pick in self.picks)

    @property
    def own(self) -> tuple[Ref, ...]:
        return (self.ref,)


class NotThere(Input, Struct, frozen=True):
    """A part that is not there, so it cannot be the weakest."""


class Number(Input, Struct, frozen=True):
    """A fixed number in SI."""

    value: float


class Word(Input, Struct, frozen=True):
    """A word handed on."""

    word: str


FORMS: tuple[type[Input], ...] = (
    FromFact,
    Over,
    FirstOf,
    FromFigure,
    WholeRange,
    Cell,
    RowBy,
    PickedBy,
    NotThere,
    Number,
    Word,
)
