"""What was said once in a paper is not said again in it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from advisor.papers.blocks import Bullets, Line, Table

LONG = 40  # letters from which a line counts as a sentence; names and numbers may come again
AGAIN = "as above"


class Said:
    """The sentences of one paper so far."""

    def __init__(self) -> None:
        self.lines: set[str] = set()

    def again(self, text: str) -> bool:
        """Whether a sentence was said before; from now on it was."""
        if len(text) < LONG:
            return False
        before = text in self.lines
        self.lines.add(text)
        return before


def once(blocks: Iterable[object]) -> tuple[object, ...]:
    """Blocks without the lines of tables and lists that were told before."""
    said = Said()
    return tuple(_told(block, said) for block in blocks)


def _told(block: object, said: Said) -> object:
    if isinstance(block, Table):
        return block._replace(rows=tuple(_row(row, said) for row in block.rows))
    if isinstance(block, Bullets):
        return block._replace(items=tuple(_lines(block.items, said)))
    return block


def _row(row: tuple, said: Said) -> tuple:
    """A row with 'as above' where a cell would be left empty."""
    return tuple(tuple(t for t in cell if not said.again(t)) or (cell and (AGAIN,)) for cell in row)


def _lines(items: Iterable[Line], said: Said) -> Iterator[Line]:
    for line in items:
        below = tuple(text for text in line.below if not said.again(text))
        if below or not said.again(line.said):
            yield line._replace(below=below)
