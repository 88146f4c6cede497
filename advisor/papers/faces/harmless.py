"""Words from case files made harmless: no control characters, nothing a spreadsheet would run,
nothing a mark-up would obey.
"""

from __future__ import annotations

import html
import re

SPECIAL = re.compile(r"([\\`*_{}\[\]<>#|~!])")
FORMULA = re.compile(
    r"\s*([=+@\t]|-(?!\s|[\d.][\w\s°%/.,]*\Z))"
)  # a minus begins a formula unless a number with its unit is all there is
LINK = re.compile(r"(?i)(://|www\.|@)")
LIST = re.compile(r"^(\s*)([-+]|\d+[.)])(?=\s|$)")


def plain(text: str) -> str:
    """No control or direction characters."""
    return text if text.isprintable() else "".join(c if c.isprintable() else "?" for c in text)


def cell(text: str) -> str:
    """A table cell's first line: what a spreadsheet would take for a formula gets an apostrophe in
    front.
    """
    text = plain(text)
    return "'" + text if FORMULA.match(text) else text


def for_html(text: str) -> str:
    """Text inside an HTML element or a quoted attribute."""
    return html.escape(plain(text), quote=True)


def marks(text: str) -> str:
    """Text in Markdown that shows as written, whatever marks and entities it holds."""
    return SPECIAL.sub(r"\\\1", plain(text)).replace("&", "&amp;")


def for_markdown(text: str) -> str:
    """Text that shows as written: no mark-up, no entity, no link made of itself, no list."""
    text = marks(text)
    text = LINK.sub(
        lambda m: (
            m.group(1)[:1] + "&#8203;" + m.group(1)[1:]
            if len(m.group(1)) > 1
            else "&#8203;" + m.group(1)
        ),
        text,
    )
    return LIST.sub(
        lambda m: (
            m.group(1)
            + (f"\\{m.group(2)}" if m.group(2) in "-+" else f"{m.group(2)[:-1]}\\{m.group(2)[-1]}")
        ),
        text,
    )
