"""A paper as one HTML file: no script, nothing fetched, landmarks and heads for screen readers,
pages for A4 and Letter.
"""

from __future__ import annotations

import re
from importlib import resources

from advisor.papers.blocks import Bullets, Heading, Page, Para, Picture, Sign, Table
from advisor.papers.faces import harmless

word = harmless.for_html
_KINDS = ("wide", "tear", "summary", "card")  # kinds of pages, as page.css knows them


def render(paper) -> str:
    """The paper as a whole HTML document."""
    style = resources.files("advisor.papers.faces").joinpath("page.css").read_text("utf-8")
    sheets, contents = (
        _sheets(paper.blocks),
        [b for b in paper.blocks if isinstance(b, Heading) and b.level == 2],
    )
    style += _printed(paper)
    links = "".join(f'<li><a href="#{_anchor(b.text)}">{word(b.text)}</a></li>' for b in contents)
    policy = "default-src 'none'; style-src 'unsafe-inline'"
    return (
        '<!DOCTYPE html>\n<html lang="en-GB">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">\n'
        f"<title>{word(paper.title)}</title>\n<style>\n{style}</style>\n</head>\n<body>\n"
        '<a class="skip" href="#main">Skip to the paper</a>\n'
        f"<header><p>{word(paper.header)}</p></header>\n"
        f'<nav aria-label="Contents"><ul>{links}</ul></nav>\n'
        f'<main id="main" tabindex="-1">\n{sheets}</main>\n</body>\n</html>\n'
    )


def _printed(paper) -> str:
    """The size of the sheets, and what runs along the top of each."""
    half = {"A4": "148mm 210mm", "letter": "5.5in 8.5in"}[paper.size]
    head = "".join(
        c if c.isalnum() and c.isascii() else f"\\{ord(c):06x}"
        for c in harmless.plain(paper.header)
    )
    return (
        f"@page {{ size: {paper.size};"
        f' @top-left {{ content: "{head}"; font: 8pt sans-serif; }} }}\n'
        f"@page wide {{ size: {paper.size} landscape; }}\n"
        f"@page card {{ size: {half}; margin: 6mm 7mm; }}\n"
    )


def _sheets(blocks):
    """Blocks between page breaks, a section each."""
    sheets, kind = [[]], ["first"]
    blocks = list(blocks)
    for block in blocks:
        if isinstance(block, Page):
            sheets.append([])
            kind.append(" ".join(["sheet", *(n for n in _KINDS if getattr(block, n))]))
        else:
            sheets[-1].append(block)

    def section(name, blocks):
        inner = "".join(_FORMS[type(b)](b) for b in blocks)
        return f'<section class="{name}">\n{inner}</section>\n'

    return "".join(section(name, found) for name, found in zip(kind, sheets) if found)


def _anchor(text):
    return re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-")


def _heading(block):
    mark = f' id="{_anchor(block.text)}"' if block.level == 2 else ""
    return f"<h{block.level}{mark}>{word(block.text)}</h{block.level}>\n"


def _table(block):
    columns = "".join(f'<col style="width:{w}%">' for w in block.widths)
    heads = "".join(f'<th scope="col">{word(h)}</th>' for h in block.heads)
    rows = "\n".join(
        "<tr>" + "".join(_cell(lines, block.is_name(n)) for n, lines in enumerate(row)) + "</tr>"
        for row in block.rows
    )
    kinds = [name for name in ("whole", "roomy", "quiet") if getattr(block, name)]
    whole = f' class="{" ".join(kinds)}"' if kinds else ""
    caption = word(block.caption)
    return (
        f'<div class="scroll" tabindex="0" role="region" aria-label="{caption}">'
        f"<table{whole}><caption>{caption}</caption><colgroup>{columns}</colgroup>\n"
        f"<thead><tr>{heads}</tr></thead>\n<tbody>\n{rows}\n</tbody></table></div>\n"
    )


def _cell(lines, head):
    inner = (
        "".join(f"<p>{word(harmless.cell(line))}</p>" for line in lines)
        if len(lines) > 1
        else word(harmless.cell(lines[0]))
        if lines
        else ""
    )
    return f'<th scope="row">{inner}</th>' if head else f"<td>{inner}</td>"


def _bullets(block):
    tag = "ol" if block.numbered else "ul"
    rest = f"<p>{word(block.rest)}</p>\n" if block.rest else ""
    return f"<{tag}>\n{''.join(map(_line, block.items))}\n</{tag}>\n{rest}"


def _line(line):
    below = "".join(f"<li>{word(text)}</li>" for text in line.below)
    return f"<li>{word(line.said)}{f'<ul>{below}</ul>' if below else ''}</li>"


def _sign(block):
    return (
        f"<p>{word(block.text)}</p>\n<dl"
        f' class="sign">{"".join(f"<dt>{word(f)}</dt><dd></dd>" for f in block.fields)}</dl>\n'
    )


def _picture(block):
    kind = ' class="small"' if block.small else ""
    kind += f' style="--tall: {block.tall}mm"' if block.tall else ""
    caption = word(block.caption)
    caption += f'<span class="key">{word(block.key)}</span>' if block.legend else ""
    return f"<figure{kind}>{block.canvas.svg()}<figcaption>{caption}</figcaption></figure>\n"


_FORMS = {
    Heading: _heading,
    Table: _table,
    Bullets: _bullets,
    Sign: _sign,
    Para: lambda b: (
        f'<p class="strong">{word(b.text)}</p>\n' if b.strong else f"<p>{word(b.text)}</p>\n"
    ),
    Picture: _picture,
}
