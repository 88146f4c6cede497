"""Content controls: places of a DOCX that are filled in by clicking on them; as its XML."""

from __future__ import annotations

from xml.sax.saxutils import quoteattr

from advisor.papers.blocks import BOX
from advisor.papers.faces import harmless

EMPTY = "\u2003"  # something to click on that prints as nothing
TICK = "http://schemas.microsoft.com/office/word/2010/wordml"
LONGEST = 60  # letters of a name


def text(name: str, size: str, shown: str = EMPTY) -> str:
    """A place for words; `name` is told to screen readers, `shown` stands there until then."""
    told = _named(name)
    return _control(f"<w:alias w:val={told}/><w:tag w:val={told}/><w:text/>", size, shown)


def tick(name: str, size: str) -> str:
    """A box that a click ticks."""
    states = "".join(
        f'<w14:{state} w14:val="{value}" w14:font="MS Gothic"/>'
        for state, value in (("checkedState", "2612"), ("uncheckedState", "2610"))
    )
    box = f'<w14:checkbox xmlns:w14="{TICK}"><w14:checked w14:val="0"/>{states}</w14:checkbox>'
    return _control(f"<w:alias w:val={_named(name)}/>{box}", size, BOX)


def _named(name: str) -> str:
    return quoteattr(harmless.plain(name[:LONGEST]))


def _control(properties: str, size: str, shown: str) -> str:
    run = f'<w:r><w:rPr><w:sz w:val="{size}"/></w:rPr><w:t>{shown}</w:t></w:r>'
    return f"<w:sdt><w:sdtPr>{properties}</w:sdtPr><w:sdtContent>{run}</w:sdtContent></w:sdt>"
