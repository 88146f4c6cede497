"""What a paper is made of, the same for every format: headings, paragraphs, lists, tables,
pictures, places to sign.
"""

from __future__ import annotations

from typing import NamedTuple


class Heading(NamedTuple):
    """A heading; level 1 is the paper's title, 2 its sections."""

    level: int
    text: str


class Para(NamedTuple):
    """A paragraph; `strong` for what must be seen first."""

    text: str
    strong: bool = False


class Line(NamedTuple):
    """One thing said in a list, what stands below it in smaller voice, and the name it goes by."""

    text: str
    below: tuple = ()
    name: str = ""

    @property
    def said(self) -> str:
        """The text after its name."""
        return f"{self.name}: {self.text}" if self.name else self.text


class Bullets(NamedTuple):
    """A list of Lines; `numbered` when the order matters; `rest` says what was left out of it."""

    items: tuple
    numbered: bool = False
    rest: str = ""


class Table(NamedTuple):
    """A table: caption, column heads, rows of cells; widths in shares. A cell is a tuple of lines.
    `row_heads`: the first column names the row; columns of `names` name what stands right of them.
    """

    caption: str
    heads: tuple
    rows: tuple
    widths: tuple
    row_heads: bool = True
    fillable: bool = False  # empty cells are places to write in
    names: tuple = ()
    quiet: bool = False  # a heading above it says what its caption says

    def is_name(self, column: int) -> bool:
        """Whether a column's cells are names."""
        return (self.row_heads and column == 0) or column in self.names

    @property
    def whole(self) -> bool:
        """Whether it is small enough to be kept on one page."""
        return len(self.rows) <= 20 and all(
            sum(map(len, lines)) <= 90 for row in self.rows for lines in row
        )

    @property
    def roomy(self) -> bool:
        """Whether it leaves large places to write in."""
        return self.fillable and len(self.rows) <= 14


class Picture(NamedTuple):
    """A drawing (a Canvas) with the line below it; `small` for one that stands beside the next;
    `legend` where that is not drawn in it.
    """

    canvas: object
    caption: str
    small: bool = False
    tall: int = 0  # its greatest height in mm, where its place is narrow
    least: int = 0  # the height in mm below which its letters could not be read
    legend: tuple = ()

    @property
    def key(self) -> str:
        """The legend as one run of sentences."""
        return " ".join(f"{line[:1].upper()}{line[1:].rstrip('.')}." for line in self.legend)


class Sign(NamedTuple):
    """Places to fill in by hand."""

    text: str
    fields: tuple


class Page(NamedTuple):
    """A new page: upright, wide, one to tear off, in smaller letters, the one that tells what it
    comes to, or one side of a card of half a sheet, in large letters.
    """

    wide: bool = False
    tear: bool = False
    summary: bool = False
    card: bool = False


class Paper(NamedTuple):
    """A whole paper: its title, the line that runs along the top, and its blocks."""

    title: str
    header: str
    blocks: tuple
    size: str = "A4"


BOX = "\u2610"  # a box to tick


def ticked(text: str) -> str:
    """A line with a box to tick before it."""
    return f"{BOX} {text}"


PLACE = "____"  # a place to write in, behind its name


def place(name: str) -> str:
    """A line to be written on."""
    return f"{name}: {PLACE}"


def cell(*lines) -> tuple:
    """A cell of some lines, empty ones left out."""
    return tuple(str(line) for line in lines if line)


def lines(*texts) -> tuple:
    """Texts as the Lines of a list."""
    return tuple(Line(text) for text in texts)


def shortened(items, most, rest, numbered=False) -> Bullets:
    """A list of the first `most`, of all for None; `rest` words how many more there are."""
    items = tuple(items)
    shown = items[:most]
    left_out = len(items) - len(shown)
    return Bullets(shown, numbered, rest.format(n=left_out) if left_out else "")


def words_of(paper) -> list:
    """Every text of a paper, for checks that nothing is lost."""
    found = [paper.title]
    for block in paper.blocks:
        if isinstance(block, Table):
            found += [
                block.caption,
                *block.heads,
                *(line for row in block.rows for lines in row for line in lines),
            ]
        elif isinstance(block, Bullets):
            found += [text for line in block.items for text in (line.said, *line.below)]
            found += [block.rest] if block.rest else []
        elif isinstance(block, Sign):
            found += [block.text, *block.fields]
        elif isinstance(block, Picture):
            found += [block.caption]
        elif isinstance(block, (Heading, Para)):
            found += [block.text]
    return found
