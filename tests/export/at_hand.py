"""Papers made once for each worked case, and the readers that look at them from outside."""

from functools import cache
from io import BytesIO

import pytest
from depth import all_cases, case_name, cases, kept, sweep

from advisor.advise import Advisor
from advisor.load.case import build_case, read_case
from advisor.load.tree import parse_document
from advisor.papers.build import build
from advisor.papers.door import papers
from advisor.papers.lists import shipped_lists
from advisor.papers.subject import subject

FILES = all_cases()
IDS = [case_name(path) for path in FILES]
DEEP = [
    "plan/arrival-left",
    "plan/doubtful-flake",
    "lifeline/ladder-hung-badly",
    "method/foul-air",
    "incident/leg-trapped-fixed-cord",
    "kit/harness-and-connectors",
    "numbers/raise-with-two",
]
DATE = "3 May 2031"
WORD = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"


@cache
def advisor() -> Advisor:
    return Advisor()


@cache
def lists() -> dict:
    return shipped_lists(advisor().base)


@kept
def made(name: str):
    """The subject of a worked case, by 'folder/name'."""
    return subject(advisor(), read_case(FILES[IDS.index(name)], advisor().base), DATE, lists())


def made_from(text: str, scale=()):
    """The subject of a case written in a test."""
    return subject(
        advisor(),
        build_case(parse_document(text.encode(), "test"), advisor().base),
        DATE,
        lists(),
        scale,
    )


@kept
def paper(name: str):
    return build(made(name))


@kept
def written(name: str, form: str) -> bytes:
    return papers(made(name), form)


def docx_of(data: bytes):
    import docx

    return docx.Document(BytesIO(data))


def docx_text(document) -> str:
    """All text of a DOCX body, a paragraph a line, and the names of its tables."""
    body = document.element.body
    return "\n".join(
        [
            *("".join(t.text or "" for t in p.iter(f"{WORD}t")) for p in body.iter(f"{WORD}p")),
            *(name.get(f"{WORD}val") for name in body.iter(f"{WORD}tblCaption")),
        ]
    )


def html_tree(data: bytes):
    """The page as an HTML5 parser sees it; any parse error fails the test."""
    import html5lib

    return html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(
        data, transport_encoding="utf-8"
    )


def html_text(tree) -> str:
    return "\n".join(
        text
        for element in tree.iter()
        if isinstance(element.tag, str) and element.tag != "style"
        for text in (element.text, element.tail)
        if text
    )


def markdown_tokens(data: bytes):
    """The text as CommonMark with tables and bare links read, as most viewers show it."""
    from markdown_it import MarkdownIt

    return MarkdownIt("commonmark", {"html": True}).enable("table").parse(data.decode())


def markdown_text(data: bytes) -> str:
    lines = []
    for token in markdown_tokens(data):
        if token.type == "inline":
            lines.append(
                "".join(
                    "\n" if c.type in ("html_inline", "softbreak", "hardbreak") else c.content
                    for c in token.children
                ).replace("\u200b", "")
            )
    return "\n".join(lines)


def said(advice) -> list:
    """Every sentence of an advice that a paper must hold as it stands."""
    because = (*advice.stops, *advice.requirements, *advice.warnings, *advice.refer)
    return [
        *(i.text for i in (*advice.said, *advice.calculations) if i not in advice.checks),
        *(check.threatens for check in advice.checks),
        *(item.because for item in because),
        *(r.because for d in advice.decisions.values() for r in d.reasons),
        *(item.item for item in advice.items),
        *advice.cautions,
        *(s.text[1:] for s in (advice.response.lines if advice.response else ())),
    ]


def holds_check(check, text: str) -> bool:
    """Whether a text holds what is to be seen of a thing, by itself or in one line with others."""
    what = check.see.replace("{it}", "it").rstrip(".")
    return check.text in text or any(
        line.startswith(f"{what}: ") and check.named in line for line in text.splitlines()
    )


some_cases = sweep("name", lambda: map(case_name, cases(2, 14)))
deep_case = pytest.mark.parametrize("name", DEEP)
