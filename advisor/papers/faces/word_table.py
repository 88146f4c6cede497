"""A table of a DOCX as its XML, written out as a whole: cell by cell through the library would take
most of the time of a paper.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from xml.sax.saxutils import escape, quoteattr

from msgspec import Struct

from advisor.papers.blocks import BOX, PLACE, Table
from advisor.papers.faces import controls, harmless

WORD = "http://schemas.openxmlformats.org/wordprocessingml/2006/main"
TWIPS = 1440 / 25.4  # twentieths of a point to the mm
ROOM = 680  # the least height of a row with a large place to write in, in twentieths of a point
NARROW = 50  # what cells of a dense table leave free at their sides, in the same
CONTROLS = re.compile(f"({BOX}|{PLACE}_*)")
HEAD = '<w:shd w:val="clear" w:color="auto" w:fill="E6E6E6"/>'


class Style(Struct, frozen=True):
    """How a table stands on its page: its width in mm, its letters in half points, whether it is
    dense, and what it leaves free below each line, in twentieths of a point.
    """

    width: float
    letters: str
    dense: bool
    after: int


def table(block: Table, style: Style) -> str:
    """The XML of a table: its head repeats, its rows stay whole, empty places can be filled in."""
    share = style.width / sum(block.widths) * TWIPS
    widths = [round(width * share) for width in block.widths]
    grid = "".join(f'<w:gridCol w:w="{width}"/>' for width in widths)
    heads = [tuple((head,) for head in block.heads)]
    rows = "".join(
        _row(block, style, number, cells, widths)
        for number, cells in enumerate([*heads, *block.rows])
    )
    return (
        f'<w:tbl xmlns:w="{WORD}"><w:tblPr><w:tblStyle w:val="TableGrid"/>'
        f'<w:tblW w:type="auto" w:w="0"/><w:tblLayout w:type="fixed"/>{_margins(style)}'
        f'<w:tblLook w:firstRow="1" w:firstColumn="{int(block.row_heads)}" w:noHBand="0"'
        f' w:noVBand="1" w:lastRow="0" w:lastColumn="0" w:val="04A0"/>'
        f"<w:tblCaption w:val={quoteattr(harmless.plain(block.caption))}/></w:tblPr>"
        f"<w:tblGrid>{grid}</w:tblGrid>{rows}</w:tbl>"
    )


def _margins(style: Style) -> str:
    if not style.dense:
        return ""
    sides = "".join(f'<w:{s} w:w="{NARROW}" w:type="dxa"/>' for s in ("left", "right"))
    return f"<w:tblCellMar>{sides}</w:tblCellMar>"


def _row(block: Table, style: Style, number: int, cells: tuple, widths: list[int]) -> str:
    """One row; the first holds the heads. Rows of a small table keep to the next."""
    roomy = block.roomy and not style.dense and number and not cells[-1]
    height = f'<w:trHeight w:val="{ROOM}" w:hRule="atLeast"/>' if roomy else ""
    head = "" if number else "<w:tblHeader/>"
    together = block.whole and number < len(block.rows)
    inner = "".join(
        _cell(block, style, number, column, lines, widths[column], together)
        for column, lines in enumerate(cells)
    )
    return f"<w:tr><w:trPr><w:cantSplit/>{height}{head}</w:trPr>{inner}</w:tr>"


def _cell(
    block: Table, style: Style, number: int, column: int, lines: tuple, width: int, together: bool
) -> str:
    head = number == 0
    bold = head or block.is_name(column)
    keep = "<w:keepNext/>" if together else ""
    empty = block.fillable and not lines
    place = controls.text(f"{block.heads[column]} {number}", style.letters) if empty else ""
    paragraphs = "".join(
        f'<w:p><w:pPr>{keep}<w:spacing w:after="{style.after}"/></w:pPr>'
        f"{''.join(_pieces(line, style.letters, bold and not n, head))}</w:p>"
        for n, line in enumerate(lines)
    )
    shade = HEAD if head else ""
    return (
        f'<w:tc><w:tcPr><w:tcW w:type="dxa" w:w="{width}"/>{shade}</w:tcPr>'
        f"{paragraphs or f'<w:p>{place}</w:p>'}</w:tc>"
    )


def _pieces(line: str, letters: str, bold: bool, head: bool) -> Iterator[str]:
    """A line as runs, with a control for each box to tick and each place to write on."""
    said = ""
    for piece in CONTROLS.split(line if head else harmless.cell(line)):
        if piece == BOX and not head:
            yield controls.tick(line.partition(BOX)[2].strip(), letters)
        elif piece.startswith(PLACE):
            yield controls.text(said.strip(" :;") or "Entry", letters, piece)
        elif piece:
            strong = "<w:b/>" if bold else ""
            text = escape(harmless.plain(piece))
            yield (
                f'<w:r><w:rPr>{strong}<w:sz w:val="{letters}"/></w:rPr>'
                f'<w:t xml:space="preserve">{text}</w:t></w:r>'
            )
            said = piece
