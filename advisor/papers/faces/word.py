"""A paper as DOCX: real headings, tables whose rows stay whole, header, page numbers, pictures
with words in their place; all of it editable.
"""

from __future__ import annotations

import io

from advisor.faults import Fault, Faults, Place
from advisor.papers.blocks import Bullets, Heading, Page, Para, Picture, Sign, Table
from advisor.papers.faces import harmless

MISSING = (
    "the library python-docx is not installed; install the program again, or write .html instead."
)


def render(paper) -> bytes:
    """The paper as the bytes of a DOCX file; raises Faults where the library is missing."""
    try:
        import docx
    except ImportError:
        raise Faults([Fault(Place("export"), MISSING)]) from None
    document = docx.Document()
    _prepare(document, paper)
    writer = _Writer(document)
    for block in paper.blocks:
        writer.write(block)
    out = io.BytesIO()
    document.save(out)
    return out.getvalue()


def _prepare(document, paper):
    """Page, letters, language, header, page numbers, properties; no time of writing, so the same
    paper gives the same words.
    """
    from docx.oxml.ns import qn
    from docx.shared import Mm, Pt, RGBColor

    for section in document.sections:
        section.page_width, section.page_height = Mm(210), Mm(297)
        section.left_margin = section.right_margin = Mm(15)
        section.top_margin, section.bottom_margin = Mm(22), Mm(18)
    normal = document.styles["Normal"]
    normal.font.name, normal.font.size = "Arial", Pt(9.5)
    normal.paragraph_format.space_after = Pt(4)
    normal.element.rPr.append(_element("w:lang", {"w:val": "en-GB"}))
    for name, size in (
        ("Heading 1", 18),
        ("Heading 2", 14),
        ("Heading 3", 11.5),
        ("Heading 4", 10),
        ("Caption", 9),
    ):
        style = document.styles[name]
        style.font.size, style.font.name, style.font.color.rgb, style.font.bold = (
            Pt(size),
            "Arial",
            RGBColor(0, 0, 0),
            True,
        )
        for theme in ("asciiTheme", "hAnsiTheme", "eastAsiaTheme", "cstheme"):
            style.element.rPr.rFonts.attrib.pop(qn(f"w:{theme}"), None)
    document.core_properties.title, document.core_properties.author = (
        harmless.plain(paper.title)[:250],
        "Ladder Pitch Advisor",
    )
    document.core_properties.language, document.core_properties.comments = "en-GB", ""
    _running_lines(document, paper)


def _running_lines(document, paper):
    section = document.sections[0]
    section.header.paragraphs[0].text = harmless.plain(paper.header)
    foot = section.footer.paragraphs[0]
    foot.add_run("Advises; the leader decides. Page ")
    for name, between in (("PAGE", " of "), ("NUMPAGES", "")):
        foot._p.append(
            _element(
                "w:fldSimple", {"w:instr": name}, _element("w:r", {}, _element("w:t", {}, text="1"))
            )
        )
        if between:
            foot.add_run(between)


def _element(tag, attributes, *children, text=""):
    from docx.oxml import OxmlElement
    from docx.oxml.ns import qn

    made = OxmlElement(tag)
    for name, value in attributes.items():
        made.set(qn(name), value)
    for child in children:
        made.append(child)
    if text:
        made.text = text
    return made


class _Writer:
    """Writes blocks one after another into a document."""

    def __init__(self, document):
        self.document, self.wide, self.waiting, self.lists = document, False, False, 0

    def write(self, block):
        """One block."""
        {
            Heading: self.heading,
            Para: self.para,
            Bullets: self.bullets,
            Table: self.table,
            Picture: self.picture,
            Sign: self.sign,
            Page: self.page,
        }[type(block)](block)

    def heading(self, block):
        made = self._styled(block.text, f"Heading{block.level}")
        made.paragraph_format.page_break_before = self.waiting or None
        self.waiting = False

    def _styled(self, text, style):
        """A paragraph in a style by its id; python-docx's own way looks through all styles each
        time.
        """
        made = self.document.add_paragraph(harmless.plain(text))
        made._p.style = style
        return made

    def para(self, block):
        self.document.add_paragraph().add_run(harmless.plain(block.text)).bold = (
            block.strong or None
        )

    def page(self, block):
        """A new upright page is a heading that begins one; a wide page needs a section of its own,
        and so does the page after it.
        """
        from docx.enum.section import WD_ORIENT, WD_SECTION

        if block.wide == self.wide:
            self.waiting = True
            return
        self.wide = block.wide
        section = self.document.add_section(WD_SECTION.NEW_PAGE)
        section.orientation = WD_ORIENT.LANDSCAPE if block.wide else WD_ORIENT.PORTRAIT
        section.page_width, section.page_height = section.page_height, section.page_width

    def bullets(self, block):
        """A list; a numbered one begins at 1 each time."""
        number = self._numbering() if block.numbered else None
        for line in block.items:
            made = self._styled(line.said, "ListNumber" if block.numbered else "ListBullet")
            if number is not None:
                properties = made._p.get_or_add_pPr().get_or_add_numPr()
                properties.get_or_add_ilvl().val, properties.get_or_add_numId().val = 0, number
            for below in line.below:
                self._styled(below, "ListBullet2")
        if block.rest:
            self.para(Para(block.rest))

    def _numbering(self):
        numbering = self.document.part.numbering_part.numbering_definitions._numbering
        style = self.document.styles["List Number"].element.pPr.numPr.numId.val
        abstract = numbering.num_having_numId(style).abstractNumId.val
        made = numbering.add_num(abstract)
        made.add_lvlOverride(0).add_startOverride(1)
        return made.numId

    def table(self, block):
        from docx.shared import Mm

        caption = self._styled(block.caption, "Caption")
        caption.paragraph_format.keep_with_next = True
        made = self.document.add_table(
            rows=1 + len(block.rows), cols=len(block.heads), style="Table Grid"
        )
        made.autofit = False
        made._tbl.tblPr.append(_element("w:tblCaption", {"w:val": harmless.plain(block.caption)}))
        share = (267 if self.wide else 180) / sum(block.widths)
        for column, width in zip(made.columns, block.widths):
            column.width = Mm(width * share)
        rows = made._tbl.tr_lst  # read once: python-docx looks every cell up anew
        for number, (row, cells) in enumerate(
            zip(rows, [tuple((h,) for h in block.heads), *block.rows])
        ):
            self._row(row, number == 0)
            together = block.whole and number < len(block.rows)
            for column, (place, lines) in enumerate(zip(row.tc_lst, cells)):
                place.width = Mm(block.widths[column] * share)
                self._fill(
                    place,
                    lines,
                    number == 0 or (column == 0 and block.row_heads),
                    number == 0,
                    together,
                )
        self.document.add_paragraph().paragraph_format.space_after = 0

    def _row(self, row, head):
        properties = row.get_or_add_trPr()
        properties.append(_element("w:cantSplit", {}))
        if head:
            properties.append(_element("w:tblHeader", {}))

    def _fill(self, place, lines, bold, head, together):
        """The lines of one cell; `together` keeps its row on the page of the next."""
        from docx.oxml.ns import qn

        if head:
            place.get_or_add_tcPr().append(
                _element("w:shd", {"w:val": "clear", "w:color": "auto", "w:fill": "E6E6E6"})
            )
        for number, line in enumerate(lines):
            paragraph = place.p_lst[0] if number == 0 else place.add_p()
            run = _element(
                "w:r",
                {},
                *(
                    [_element("w:rPr", {}, _element("w:b", {}), _element("w:sz", {"w:val": "17"}))]
                    if bold and number == 0
                    else [_element("w:rPr", {}, _element("w:sz", {"w:val": "17"}))]
                ),
                _element("w:t", {}, text=harmless.cell(line)),
            )
            run.find(qn("w:t")).set("{http://www.w3.org/XML/1998/namespace}space", "preserve")
            properties = paragraph.get_or_add_pPr()
            if together:
                properties.append(_element("w:keepNext", {}))
            properties.append(_element("w:spacing", {"w:after": "20"}))
            paragraph.append(run)

    def picture(self, block):
        from docx.shared import Mm

        from advisor.pictures.png import png

        width = min(175, block.canvas.width * 0.22)
        width = min(width, 205 * block.canvas.width / block.canvas.height)
        shape = self.document.add_picture(io.BytesIO(png(block.canvas.svg())), width=Mm(width))
        properties = shape._inline.docPr
        properties.set("descr", block.canvas.description)
        properties.set("title", harmless.plain(block.canvas.title))
        self.document.paragraphs[-1].paragraph_format.keep_with_next = True
        self._styled(block.caption, "Caption")

    def sign(self, block):
        self.document.add_paragraph(harmless.plain(block.text))
        self.table(
            Table(
                "To be filled in by hand",
                ("What", "By hand"),
                tuple(((f,), ()) for f in block.fields),
                (30, 70),
            )
        )
