"""Pieces of text made to fit a screen: what matters least is left out first."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from advisor.papers.blocks import Bullets, Heading, Line
from advisor.papers.faces.text import written

# Ranks: what is never left out, then what is left out the last; AIR are the blank rows.
ALWAYS, GRAVE, FIRST_ASKED, RIG, WRONG, PEOPLE, ASKED, WHY, AIR, LESS, LEAST = range(11)
COLUMNS, ROWS = (40, 80), (60, 40)  # a narrow screen may be longer


@dataclass(frozen=True)
class Piece:
    """One thing said. `rank`: ALWAYS for what is never left out; of others the highest goes first.
    `on`: it goes on from the piece before it. `name`: what it goes by in its list.
    """

    text: str
    rank: int = ALWAYS
    on: bool = False
    name: str = ""


def reasoned(text: str, because: str, rank: int) -> list[Piece]:
    """Something said, and why, which goes before it."""
    return [Piece(sentence(text), rank), Piece(because, WHY, on=True)]


def sentence(text: str) -> str:
    """A text that ends as a sentence does."""
    return text if text.endswith((".", "!", "?")) else f"{text}."


@dataclass(frozen=True)
class Section:
    """A heading with its pieces; `rest` words how many were left out."""

    title: str
    pieces: tuple[Piece, ...]
    numbered: bool = False
    rest: str = ""
    left_out: int = 0

    def blocks(self) -> tuple[Heading | Bullets, ...]:
        """The section as blocks; nothing where no piece is left."""
        lines: list[Line] = []
        for piece in self.pieces:
            if piece.on and lines:
                lines[-1] = lines[-1]._replace(text=f"{lines[-1].text} {piece.text}")
            else:
                lines.append(Line(piece.text, name=piece.name))
        rest = self.rest.format(n=self.left_out) if self.rest and self.left_out else ""
        if not lines and not rest:
            return ()
        title = (Heading(2, self.title),) if self.title else ()
        return (*title, Bullets(tuple(lines), self.numbered, rest))

    def without(self, at: int) -> Section:
        """The section without one piece and what goes on from it."""
        piece, end = self.pieces[at], at + 1
        while not piece.on and end < len(self.pieces) and self.pieces[end].on:
            end += 1
        left_out = self.left_out + (not piece.on)
        return replace(self, pieces=self.pieces[:at] + self.pieces[end:], left_out=left_out)


def height(width: int) -> int:
    """How many rows a screen of some columns may take."""
    (narrow, wide), (most, least) = COLUMNS, ROWS
    share = min(1.0, max(0.0, (wide - width) / (wide - narrow)))
    return round(least + share * (most - least))


@dataclass(frozen=True)
class Fitted:
    """Blocks that fit, and whether blank rows between them fit too."""

    blocks: tuple
    airy: bool

    def written(self, width: int | None, colour: bool) -> str:
        """As text."""
        return written(self.blocks, width, colour, self.airy)


def fitted(lead: tuple, sections: Iterable[Section], width: int, foot: tuple = ()) -> Fitted:
    """The lead, as many pieces as fit below it, and the foot; blank rows go before what matters
    more.
    """
    kept, airy, high = list(sections), True, height(width)
    while True:
        made = Fitted(
            (*lead, *(block for section in kept for block in section.blocks()), *foot), airy
        )
        if made.written(width, False).count("\n") <= high:
            return made
        rank, n, at = max(
            (
                (piece.rank, n, at)
                for n, section in enumerate(kept)
                for at, piece in enumerate(section.pieces)
            ),
            default=(ALWAYS, 0, 0),
        )
        if rank <= AIR and airy:
            airy = False
        elif rank == ALWAYS:
            return made
        else:
            kept[n] = kept[n].without(at)
