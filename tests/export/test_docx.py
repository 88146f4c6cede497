"""The DOCX is made as a person would wish to edit it: headings, heads that repeat, whole rows,
page numbers, words for pictures.
"""

from at_hand import deep_case, docx_of, made, paper, written
from docx.enum.section import WD_ORIENT
from docx.oxml.ns import qn

from advisor.papers.blocks import Heading, Picture, Table


def document(name):
    return docx_of(written(name, ".docx"))


@deep_case
def test_headings_are_real_and_in_order(name):
    found = [
        (int(p.style.name[-1]), p.text)
        for p in document(name).paragraphs
        if p.style.name.startswith("Heading ")
    ]
    assert found == [(b.level, b.text) for b in paper(name).blocks if isinstance(b, Heading)]


@deep_case
def test_rows_stay_whole_and_heads_repeat(name):
    tables = document(name).tables
    assert len(tables) >= len([b for b in paper(name).blocks if isinstance(b, Table)])
    for table in tables:
        rows = table._tbl.tr_lst
        assert rows[0].trPr.find(qn("w:tblHeader")) is not None
        assert all(row.trPr.find(qn("w:cantSplit")) is not None for row in rows)


@deep_case
def test_pictures_have_words_in_their_place(name):
    opened = document(name)
    wanted = [b.canvas for b in paper(name).blocks if isinstance(b, Picture)]
    assert len(opened.inline_shapes) == len(wanted)
    for shape, canvas in zip(opened.inline_shapes, wanted):
        assert (
            shape._inline.docPr.get("descr") == canvas.description and len(canvas.description) > 40
        )


@deep_case
def test_header_and_page_numbers(name):
    section = document(name).sections[0]
    assert made(name).title in section.header.paragraphs[0].text
    fields = [e.get(qn("w:instr")) for e in section.footer._element.iter(qn("w:fldSimple"))]
    assert fields == ["PAGE", "NUMPAGES"]


def test_the_register_lies_on_a_wide_page():
    kinds = [s.orientation for s in document("plan/arrival-left").sections]
    upright, wide = WD_ORIENT.PORTRAIT, WD_ORIENT.LANDSCAPE
    assert kinds == [upright, upright, wide, upright]  # plan, card, assessment, the rest


def test_each_numbered_list_begins_at_one():
    opened = document("plan/arrival-left")
    numbers = [p._p.pPr.numPr.numId.val for p in opened.paragraphs if p.style.name == "List Number"]
    assert len(set(numbers)) == 5  # the five rehearsals


def test_properties_and_language():
    opened = document("plan/arrival-left")
    assert (
        opened.core_properties.title.startswith("All papers")
        and opened.core_properties.language == "en-GB"
    )
