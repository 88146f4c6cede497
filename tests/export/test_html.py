"""The HTML is whole in itself and can be used by keyboard and screen reader. The checks follow
success criteria of the Web Content
Accessibility Guidelines 2.1 (W3C, 2018): 1.1.1 text for pictures, 1.3.1 heads and headings, 1.4.3
contrast, 2.1.1 keyboard, 2.4.1 skip link,
2.4.2 title, 3.1.1 language, 4.1.1 unique ids."""

import re
from importlib import resources

import pytest
from at_hand import deep_case, html_tree, made, written
from depth import not_quick

from advisor.papers.door import papers
from advisor.papers.size import KINDS

CSS = resources.files("advisor.papers.faces").joinpath("page.css").read_text("utf-8")


def page(name):
    return html_tree(written(name, ".html"))


@not_quick
@deep_case
def test_nothing_runs_and_nothing_is_fetched(name):
    tree = page(name)
    tags = {e.tag for e in tree.iter() if isinstance(e.tag, str)}
    assert not tags & {
        "script",
        "iframe",
        "object",
        "embed",
        "link",
        "img",
        "form",
        "base",
        "audio",
        "video",
    }
    for element in tree.iter():
        for key, value in element.attrib.items():
            assert not str(key).lower().startswith("on")
            if str(key).endswith("href"):
                assert value.startswith("#")
    assert "url(" not in CSS and "@import" not in CSS


@not_quick
@deep_case
def test_language_title_and_one_first_heading(name):
    tree = page(name)
    assert tree.attrib["lang"] == "en-GB"
    assert tree.find("head/title").text.strip()
    assert (
        len(tree.findall(".//h1")) == 1
        and len(tree.findall(".//main")) == 1
        and tree.find(".//nav").attrib["aria-label"]
    )


@not_quick
@deep_case
def test_headings_step_down_one_at_a_time(name):
    levels = [
        int(e.tag[1])
        for e in page(name).iter()
        if isinstance(e.tag, str) and re.fullmatch("h[1-6]", e.tag)
    ]
    assert levels[0] == 1
    assert all(b - a <= 1 for a, b in zip(levels, levels[1:]))


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", ["plan/arrival-left", "kit/harness-and-connectors"])
def test_each_paper_by_itself_is_in_order(name, kind):
    """One first heading, none skipped; tables with captions and heads; a language; pictures with
    words.
    """
    tree = html_tree(papers(made(name), ".html", kind))
    levels = [int(e.tag[1]) for e in tree.iter() if re.fullmatch("h[1-6]", str(e.tag))]
    assert levels[0] == 1 == levels.count(1)
    assert all(b - a <= 1 for a, b in zip(levels, levels[1:])), levels
    assert tree.attrib["lang"] == "en-GB"
    for table in tree.iter("table"):
        assert table.find("caption").text.strip()
        assert all(th.attrib["scope"] in ("col", "row") for th in table.iter("th"))
    for figure in tree.iter("figure"):
        (svg,) = (e for e in figure.iter() if str(e.tag).endswith("svg"))
        assert svg.attrib["role"] == "img" and svg.attrib["aria-labelledby"]
        assert figure.find("figcaption").text.strip()
    ids = [e.attrib["id"] for e in tree.iter() if "id" in e.attrib]
    assert len(ids) == len(set(ids))
    links = {a.attrib["href"][1:] for a in tree.iter("a")}
    assert links <= set(ids)


@deep_case
def test_tables_have_captions_and_scoped_heads(name):
    tables = page(name).findall(".//table")
    assert tables
    for table in tables:
        assert table.find("caption").text.strip()
        heads = table.findall("thead/tr/th")
        assert heads and all(h.attrib["scope"] == "col" and h.text.strip() for h in heads)
        assert all(th.attrib["scope"] == "row" for th in table.findall("tbody//th"))
        assert all(len(row) == len(heads) for row in table.findall("tbody/tr"))


@deep_case
def test_pictures_have_names_and_descriptions(name):
    tree = page(name)
    ids = {e.attrib["id"]: e for e in tree.iter() if "id" in e.attrib}
    pictures = [e for e in tree.iter() if isinstance(e.tag, str) and e.tag.endswith("svg")]
    for picture in pictures:
        assert picture.attrib["role"] == "img"
        title, desc = (ids[i] for i in picture.attrib["aria-labelledby"].split())
        assert title.text.strip() and len(desc.text) > 40
    assert bool(pictures) == bool(tree.findall(".//figure"))


@not_quick
@deep_case
def test_ids_are_unique_and_links_lead_somewhere(name):
    tree = page(name)
    ids = [e.attrib["id"] for e in tree.iter() if "id" in e.attrib]
    assert len(ids) == len(set(ids))
    links = [e.attrib["href"] for e in tree.iter("a")]
    assert links and all(link[1:] in ids for link in links)


@deep_case
def test_what_scrolls_can_be_reached_by_keyboard(name):
    boxes = [e for e in page(name).iter("div") if e.attrib.get("class") == "scroll"]
    assert boxes and all(
        b.attrib["tabindex"] == "0" and b.attrib["role"] == "region" and b.attrib["aria-label"]
        for b in boxes
    )
    assert "outline: none" not in CSS and ":focus" in CSS


def luminance(colour):
    """Relative luminance as WCAG 2.1 defines it."""
    digits = colour.lstrip("#")
    digits = "".join(c * 2 for c in digits) if len(digits) == 3 else digits
    parts = [int(digits[i : i + 2], 16) / 255 for i in (0, 2, 4)]
    linear = [p / 12.92 if p <= 0.03928 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(a, b):
    high, low = sorted((luminance(a), luminance(b)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_the_contrast_formula_gives_the_published_ends():
    """WCAG 2.1: black on white is 21:1."""
    assert contrast("#000", "#fff") == pytest.approx(21)


@pytest.mark.parametrize("colour", re.findall(r"(?<![-\w])color: (#[0-9a-f]+)", CSS))
@pytest.mark.parametrize("ground", re.findall(r"background: (#[0-9a-f]+)", CSS))
def test_letters_stand_out(colour, ground):
    assert contrast(colour, ground) >= 4.5


def test_what_is_drawn_stands_out():
    """Letters of pictures by the same formula: black on white, on grey, white on black."""
    for letters, ground in (("#000", "#fff"), ("#000", "#bbb"), ("#fff", "#000")):
        assert contrast(letters, ground) >= 4.5
    shown = written("plan/arrival-left", ".html").decode()
    told = set(re.findall(r"<text[^>]* fill=\"(#[0-9a-f]+)\"", shown))
    assert told == {"#000", "#fff"}


def test_pages_are_set_for_any_paper_and_rows_stay_whole():
    assert (
        re.search(r"@page wide \{ size: landscape;", CSS)
        and "A4" not in CSS  # the size stands in each paper
        and "letter" not in CSS
    )
    assert re.search(r"tr[^}]*break-inside: avoid", CSS) and "table-header-group" in CSS
