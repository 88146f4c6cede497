"""Content controls: places of a DOCX that are filled in by clicking on them."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from advisor.papers.blocks import BOX

EMPTY = "\u2003"  # something to click on that prints as nothing
TICK = "http://schemas.microsoft.com/office/word/2010/wordml"


def text(element: Callable[..., Any], name: str, size: str, shown: str = EMPTY) -> Any:
    """A place for words; `name` is told to screen readers, `shown` stands there until then."""
    run = element(
        "w:r",
        {},
        element("w:rPr", {}, element("w:sz", {"w:val": size})),
        element("w:t", {}, text=shown),
    )
    properties = element(
        "w:sdtPr",
        {},
        element("w:alias", {"w:val": name[:60]}),
        element("w:tag", {"w:val": name[:60]}),
        element("w:text", {}),
    )
    return element("w:sdt", {}, properties, element("w:sdtContent", {}, run))


def tick(element: Callable[..., Any], name: str, size: str) -> Any:
    """A box that a click ticks."""
    from docx.oxml import OxmlElement

    box = OxmlElement("w14:checkbox", nsdecls={"w14": TICK})
    for part, value in (("checked", "0"), ("checkedState", "2612"), ("uncheckedState", "2610")):
        made = box.makeelement(f"{{{TICK}}}{part}", {})
        box.append(made)
        made.set(f"{{{TICK}}}val", value)
        if part != "checked":
            made.set(f"{{{TICK}}}font", "MS Gothic")
    run = element(
        "w:r",
        {},
        element("w:rPr", {}, element("w:sz", {"w:val": size})),
        element("w:t", {}, text=BOX),
    )
    properties = element("w:sdtPr", {}, element("w:alias", {"w:val": name[:60]}))
    properties.append(box)
    return element("w:sdt", {}, properties, element("w:sdtContent", {}, run))
