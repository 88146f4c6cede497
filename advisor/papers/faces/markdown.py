"""A paper as Markdown. Pictures are told in words, since a plain file cannot carry them."""

from __future__ import annotations

from advisor.papers.blocks import Bullets, Heading, Page, Para, Picture, Sign, Table
from advisor.papers.faces import harmless

word = harmless.for_markdown


def render(paper) -> str:
    """The paper as one Markdown text."""
    lines = []
    begins = isinstance(paper.blocks[0], Page)  # a rule before the title would be no page
    for block in paper.blocks[begins:]:
        lines += [*_FORMS[type(block)](block), ""]
    return "\n".join(lines).strip() + "\n"


def _table(block):
    heads = " | ".join(word(h) for h in block.heads)
    rows = ["| " + " | ".join(_cell(lines) for lines in row) + " |" for row in block.rows]
    return [
        f"**{word(block.caption)}**",
        "",
        f"| {heads} |",
        "|" + " --- |" * len(block.heads),
        *rows,
    ]


def _cell(lines):
    return "<br>".join(word(harmless.cell(line)) for line in lines) or " "


def _bullets(block):
    told = []
    for number, line in enumerate(block.items, 1):
        mark = f"{number}. " if block.numbered else "- "
        told.append(mark + word(line.said))
        told += [" " * len(mark) + f"- {word(below)}" for below in line.below]
    return told + (["", word(block.rest)] if block.rest else [])


def _sign(block):
    return [
        word(block.text),
        "",
        *(f"- {word(field)}: ______________________________" for field in block.fields),
    ]


_FORMS = {
    Heading: lambda b: ["#" * b.level + " " + word(b.text)],
    Para: lambda b: [f"**{word(b.text)}**" if b.strong else word(b.text)],
    Bullets: _bullets,
    Table: _table,
    Sign: _sign,
    Picture: lambda b: [f"*Picture: {word(b.caption)}*", "", word(b.canvas.description)],
    Page: lambda b: ["---"],
}
