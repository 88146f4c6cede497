"""Every worked case becomes papers in all four forms, and independent readers find the whole
advice in them.
"""

import json
import time

import lxml.html
from at_hand import (
    advisor,
    deep_case,
    docx_of,
    docx_text,
    holds_check,
    html_text,
    html_tree,
    made,
    markdown_text,
    paper,
    said,
    some_cases,
    written,
)
from depth import not_quick

from advisor.papers.blocks import Bullets, Heading, Line, Paper, words_of
from advisor.papers.faces import html, markdown, text, word


@not_quick
@some_cases
def test_all_forms_are_written_and_can_be_opened(name):
    started = time.perf_counter()
    title = made(name).title
    page = lxml.html.document_fromstring(written(name, ".html"))
    assert title in page.findtext(".//h1")
    assert written(name, ".md").decode().startswith("# All papers")
    assert json.loads(written(name, ".json"))["advice"]["case"] == made(name).view.case.title
    assert docx_of(written(name, ".docx")).paragraphs[0].text.endswith(title)
    print(f"{name}: all four forms in {time.perf_counter() - started:.2f} s")


@not_quick
@some_cases
def test_the_paper_holds_every_recommendation_source_and_caution(name):
    text = "\n".join(words_of(paper(name)))
    missing = [t for t in said(made(name).advice) if t not in text]
    assert not missing
    assert not [c.text for c in made(name).advice.checks if not holds_check(c, text)]
    for identity in made(name).advice.sources():
        assert advisor().base.sources[identity]["title"] in text


@not_quick
@deep_case
def test_html_holds_all_that_the_paper_says(name):
    text = html_text(html_tree(written(name, ".html")))
    assert not [t for t in words_of(paper(name)) if t not in text]


@not_quick
@deep_case
def test_docx_holds_all_that_the_paper_says(name):
    document = docx_of(written(name, ".docx"))
    text = docx_text(document)
    assert not [t for t in words_of(paper(name)) if t not in text]


@not_quick
@deep_case
def test_markdown_holds_all_that_the_paper_says(name):
    text = markdown_text(written(name, ".md"))
    assert not [t for t in words_of(paper(name)) if t not in text]


@deep_case
def test_plain_text_holds_all_that_the_paper_says(name):
    text = " ".join(written(name, ".txt").decode().split())
    assert not [t for t in words_of(paper(name)) if " ".join(t.split()) not in text]
    assert max(map(len, written(name, ".txt").decode().split("\n"))) <= 80


def test_what_stands_below_a_line_and_what_was_left_out_is_in_every_face():
    lines = (Line("Upper point", ("Lower point",)), Line("Second point"))
    made_up = Paper("T", "H", (Heading(1, "T"), Bullets(lines, True, "… and 3 more.")))
    page = html_tree(html.render(made_up).encode())
    assert page.find(".//ol/li/ul/li").text == "Lower point"
    assert [li.text for li in page.findall(".//main//ol/li")] == ["Upper point", "Second point"]
    shown = [p.text for p in docx_of(word.render(made_up)).paragraphs if p.text]
    assert shown == ["T", "Upper point", "Lower point", "Second point", "… and 3 more."]
    assert text.render(made_up) == (
        "T\n  1. Upper point\n       Lower point\n  2. Second point\n  - … and 3 more.\n"
    )
    assert markdown.render(made_up) == (
        "# T\n\n1. Upper point\n   - Lower point\n2. Second point\n\n… and 3 more.\n"
    )


@not_quick
@deep_case
def test_the_same_case_gives_the_same_words(name):
    from advisor.papers.door import papers

    for form in (".html", ".md", ".txt", ".json"):
        assert papers(made(name), form) == written(name, form)
