"""Words from a case file do no harm in any form: they show as written and nothing obeys them. The
formula cells follow the advice on
CSV injection of the OWASP Foundation (web page, read from memory): cells that begin with = + - @
are told as text.
"""

import io
import json
import zipfile

import pytest
from at_hand import (
    docx_of,
    docx_text,
    html_text,
    html_tree,
    made_from,
    markdown_text,
    markdown_tokens,
)
from depth import not_quick, sampled

from advisor.model.record import visible
from advisor.papers.door import papers
from advisor.papers.faces import harmless

NASTY = [
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    "</title></svg><script>x</script>",
    '"><svg onload=alert(1)>',
    "' onmouseover='x",
    "]]><!--",
    "--><b>",
    "&lt;b&gt; &amp; &#60;",
    "[x](javascript:alert(1))",
    "![x](http://evil.invalid/p.png)",
    "<http://evil.invalid>",
    "http://evil.invalid/ www.evil.invalid",
    "a@evil.invalid",
    "| cell | cell |",
    "**bold** _it_ ~~no~~ `code`",
    "# not a heading",
    "- not a list",
    "1. not a list",
    "=cmd|' /C calc'!A0",
    "+1+cmd",
    "-2+3",
    "@SUM(1)",
    "{{7*7}} ${7*7} {% x %}",
    "{a.height} {it}",
    "\\",
    "$$x$$",
    "w:p </w:t>",
    "line one <br> two",
]


def case_of(word):
    """A case with the word as title, as names and as free text."""
    name = json.dumps(word[:44])[1:-1]
    return (
        f'case: "{json.dumps(word)[1:-1]}"\ngiven:\n  pitch: {{depth: 9 m}}\n  "anchor {name}":'
        f' {{kind: resin bolt, side: left, moves: no}}\n  "ladder {name}": {{length: 10 m}}\n '
        f' finding f: {{item: "ladder {name}", what: broken wire, place:'
        f' "{json.dumps(word[:44])[1:-1]}"}}\n'
    )


@pytest.fixture(
    scope="module", params=sampled(NASTY, 4, 12), ids=lambda word: str(NASTY.index(word))
)
def subject(request):
    return request.param, made_from(case_of(request.param))


@not_quick
def test_html_takes_it_as_text(subject):
    word, made = subject
    tree = html_tree(papers(made, ".html"))
    assert not [
        e for e in tree.iter() if isinstance(e.tag, str) and e.tag in ("script", "img", "b", "br")
    ]
    assert not [k for e in tree.iter() for k in e.attrib if str(k).startswith("on")]
    assert word in html_text(tree)
    assert all(e.attrib["href"].startswith("#") for e in tree.iter("a"))


@not_quick
def test_markdown_takes_it_as_text(subject):
    word, made = subject
    data = papers(made, ".md")
    kinds = {c.type for t in markdown_tokens(data) for c in t.children or ()}
    assert not kinds & {"link_open", "image", "code_inline", "s_open"}
    assert {
        c.content
        for t in markdown_tokens(data)
        for c in t.children or ()
        if c.type == "html_inline"
    } <= {"<br>"}
    assert not [t for t in markdown_tokens(data) if t.type == "html_block"]
    assert word.strip() in markdown_text(data)
    heads = [t for t in markdown_tokens(data) if t.type == "heading_open" and t.tag == "h1"]
    assert len(heads) == 1


def test_bare_links_are_not_made_by_viewers_that_link_them():
    for word in (
        "http://evil.invalid",
        "HTTPS://evil.invalid",
        "www.evil.invalid",
        "a@evil.invalid",
    ):
        shown = harmless.for_markdown(word)
        assert "://" not in shown and "www." not in shown.lower() and "a@" not in shown


@not_quick
def test_docx_takes_it_as_text(subject):
    word, made = subject
    document = docx_of(papers(made, ".docx"))
    assert word in docx_text(document) and not document.element.body.findall(".//{*}hyperlink")
    assert {r.reltype.rpartition("/")[2] for r in document.part.rels.values()} <= {
        "styles",
        "settings",
        "numbering",
        "fontTable",
        "theme",
        "image",
        "header",
        "footer",
        "customXml",
        "webSettings",
        "stylesWithEffects",
    }


@not_quick
def test_json_takes_it_as_text(subject):
    word, made = subject
    assert json.loads(papers(made, ".json"))["advice"]["case"] == word


def test_pictures_and_sketch_take_it_as_text(subject):
    from lxml import etree

    from advisor.pictures.all import pictures
    from advisor.pictures.sketch import sketch

    _, made = subject
    for canvas in pictures(made.view).values():
        tags = {etree.QName(e).localname for e in etree.fromstring(canvas.svg().encode()).iter()}
        assert tags <= {"svg", "defs", "title", "desc", "rect", "path", "circle", "text", "g"}
    assert sketch(made.view).isascii() or not made.title.isascii()


@pytest.mark.parametrize("word", ["=1+1", "+1+cmd", "-a", "@SUM(1)", "  =x", "-=1"])
def test_cells_a_spreadsheet_would_run_begin_with_an_apostrophe(word):
    assert harmless.cell(word).startswith("'")


@pytest.mark.parametrize("word", ["-1.1 m", "- 3", "12 m", "a=b", "not known", "-29 min"])
def test_plain_cells_stay_as_they_are(word):
    assert harmless.cell(word) == word


@not_quick
def test_every_cell_of_every_form_is_guarded():
    made = made_from(case_of("=cmd|' /C calc'!A0"))
    for table in docx_of(papers(made, ".docx")).tables:
        assert not [c.text for row in table.rows for c in row.cells if c.text.startswith("=")]
    tree = html_tree(papers(made, ".html"))
    assert not [e for e in tree.iter() if e.tag in ("td", "th") and (e.text or "").startswith("=")]


@pytest.mark.parametrize("character", ["\x1b", "\x07", "\u202e", "\u2066", "\x85"])
def test_characters_that_steer_are_replaced(character):
    assert character not in harmless.plain(f"a{character}b")


@pytest.mark.parametrize(
    "text, wanted",
    [
        ("-1+cmd|' /C calc'!A0", "'-1+cmd|' /C calc'!A0"),
        ("-5 °C", "-5 °C"),
        ("-0.5 m", "-0.5 m"),
        ("- text", "- text"),
        ("-1-2", "'-1-2"),
    ],
)
def test_a_minus_begins_a_formula_unless_it_is_a_number(text, wanted):
    assert harmless.cell(text) == wanted


def test_an_entity_shows_as_written_in_advice_and_sheet():
    from advisor.papers.faces.harmless import marks as escape

    assert escape("&lt;b&gt; R&D") == "&amp;lt;b&amp;gt; R&amp;D"


STEERING = "\u202e\u202a\u2066\u2069\u200f\u200b\u2028"


@not_quick
@pytest.mark.parametrize("form", [".html", ".md", ".txt", ".docx", ".json", ".csv", ".xlsx"])
def test_no_form_holds_a_character_that_steers(form):
    """In JSON they are escaped and come back as they were; elsewhere a mark stands for each."""
    word = json.dumps(f"a{STEERING}z")
    made = made_from(
        f"case: {word}\ngiven:\n  pitch: {{depth: 9 m}}\n  ladder one: {{length: 10 m}}\n"
        f"  finding f: {{item: ladder one, what: broken wire, place: {word}}}\n"
    )
    assert made.title == f"a{STEERING}z"
    data = papers(made, form, "kit" if form in (".csv", ".xlsx") else "all")
    if form in (".docx", ".xlsx"):
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            names = [n for n in packed.namelist() if n.endswith((".xml", ".rels"))]
            text = "".join(packed.read(name).decode() for name in names)
    else:
        text = data.decode("utf-8-sig")
    own = {"\u200b"} if form == ".md" else set()  # its own, written as an entity
    assert not (set(STEERING) - own) & set(text)
    assert "&#8203;" not in text or form == ".md"
    if form == ".json":
        assert json.loads(text)["advice"]["case"] == f"a{STEERING}z"
    else:
        assert "a" + "?" * len(STEERING) + "z" in text


def test_all_that_does_not_show_is_escaped_in_json_and_comes_back():
    every = "".join(chr(n) for n in range(0x110000) if not 0xD800 <= n <= 0xDFFF)
    text = visible(json.dumps(every, ensure_ascii=False))
    assert text.isprintable() and json.loads(text) == every
