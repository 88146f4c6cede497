"""Pieces of text made to fit a screen: what matters least is left out first. Of pieces marked as
local, which only fill what is left, none costs another its place.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

from msgspec import Struct
from msgspec.structs import replace

from advisor.papers.blocks import Bullets, Heading, Line
from advisor.papers.faces.text import written

# Ranks: what is never left out, then what is left out the last; AIR are the blank rows.
ALWAYS, GRAVE, FIRST_ASKED, RIG, WRONG, PEOPLE, ASKED, WHY, AIR, LESS, LEAST = range(11)
COLUMNS, ROWS = (40, 80), (60, 40)  # a narrow screen may be longer


class Piece(Struct, frozen=True):
    """One thing said. `rank`: ALWAYS for what is never left out; of others the highest goes first.
    `on`: it goes on from the piece before it. `name`: what it goes by in its list. `local`: it is
    told only where all else leaves it room.
    """

    text: str
    rank: int = ALWAYS
    on: bool = False
    name: str = ""
    local: bool = False


def reasoned(text: str, because: str, rank: int, why: int = WHY) -> list[Piece]:
    """Something said, and why, which goes before it."""
    return [Piece(sentence(text), rank), Piece(because, why, on=True)]


def sentence(text: str) -> str:
    """A text that ends as a sentence does."""
    return text if text.endswith((".", "!", "?")) else f"{text}."


class Section(Struct, frozen=True):
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
        left_out = self.left_out + (not piece.on and not piece.local)
        return replace(self, pieces=self.pieces[:at] + self.pieces[end:], left_out=left_out)


def height(width: int) -> int:
    """How many rows a screen of some columns may take."""
    (narrow, wide), (most, least) = COLUMNS, ROWS
    share = min(1.0, max(0.0, (wide - width) / (wide - narrow)))
    return round(least + share * (most - least))


class Fitted(Struct, frozen=True):
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
    every = list(sections)
    first = [_only(section, lambda piece: not piece.local) for section in every]
    kept, made = _fit(lead, first, width, foot)
    if not _local(every):
        return made
    also = [_beside(section, left) for section, left in zip(every, kept)]
    both, filled = _fit(lead, also, width, foot)
    return filled if _local(both) else made


def _only(section: Section, which: Callable[[Piece], bool]) -> Section:
    return replace(section, pieces=tuple(filter(which, section.pieces)))


def _local(sections: Iterable[Section]) -> bool:
    return any(piece.local for section in sections for piece in section.pieces)


def _beside(section: Section, kept: Section) -> Section:
    """What was kept of a section, now for good, and its local pieces beside it."""
    stay = {id(piece) for piece in kept.pieces}
    pieces = tuple(
        replace(piece, rank=AIR if piece.local else ALWAYS)
        for piece in section.pieces
        if piece.local or id(piece) in stay
    )
    return replace(kept, pieces=pieces)


def _fit(
    lead: tuple, sections: Iterable[Section], width: int, foot: tuple
) -> tuple[list[Section], Fitted]:
    """(the sections with the pieces that fit, all as blocks)"""
    kept, airy, high = list(sections), True, height(width)
    while True:
        made = Fitted(
            (*lead, *(block for section in kept for block in section.blocks()), *foot), airy
        )
        if made.written(width, False).count("\n") <= high:
            return kept, made
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
            return kept, made
        else:
            kept[n] = kept[n].without(at)
