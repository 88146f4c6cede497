"""A paper as DOCX: real headings, tables whose rows stay whole, header, page numbers, pictures
with words in their place; all of it editable.
"""

from __future__ import annotations

import io
from functools import cache
from itertools import zip_longest

from advisor.faults import Fault, Faults, Place
from advisor.papers.blocks import Bullets, Heading, Page, Para, Picture, Sign, Table
from advisor.papers.faces import harmless, word_table
from advisor.papers.faces.packed import still

UNIT, CARD_UNIT = 0.22, 0.34  # mm to a drawing unit, at most
SHEETS = {"A4": (210, 297), "letter": (215.9, 279.4)}  # mm
FONT, ELSE = "DejaVu Sans Condensed", "Arial"
MARGIN, NARROW, CARD = 15, 10, 6
LETTERS, SMALL, LARGE = "17", "17", "22"  # half points: tables, those of wide pages, cards
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
    writer = _Writer(document, paper)
    for block in paper.blocks:
        writer.write(block)
    out = io.BytesIO()
    document.save(out)
    return still(out.getvalue())


def _prepare(document, paper):
    """Page, letters, language, header, page numbers, properties; no time of writing, so the same
    paper gives the same words.
    """
    from docx.oxml.ns import qn
    from docx.shared import Mm, Pt, RGBColor

    width, height = SHEETS[paper.size]
    for section in document.sections:
        section.page_width, section.page_height = Mm(width), Mm(height)
        section.left_margin = section.right_margin = Mm(MARGIN)
        section.top_margin, section.bottom_margin = Mm(20), Mm(16)
    normal = document.styles["Normal"]
    normal.font.name, normal.font.size = FONT, Pt(9)
    normal.paragraph_format.space_after = Pt(4)
    _font(document)
    normal.element.rPr.append(_element("w:lang", {"w:val": "en-GB"}))
    for name, size in (
        ("Heading 1", 14),
        ("Heading 2", 12),
        ("Heading 3", 10.5),
        ("Heading 4", 10),
        ("Caption", 9),
    ):
        style = document.styles[name]
        style.font.size, style.font.name, style.font.color.rgb, style.font.bold = (
            Pt(size),
            FONT,
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
    _running_lines(document.sections[0], paper)


def _font(document):
    """The letters, and those that a program takes which does not have them."""
    for part in document.part.package.iter_parts():
        if part.partname == "/word/fontTable.xml" and FONT.encode() not in part.blob:
            told = f'<w:font w:name="{FONT}"><w:altName w:val="{ELSE}"/></w:font></w:fonts>'
            part._blob = part.blob.replace(b"</w:fonts>", told.encode())


def _running_lines(section, paper):
    """What runs along the top and the bottom of each sheet."""
    section.header.is_linked_to_previous = section.footer.is_linked_to_previous = False
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
    from docx.oxml.parser import oxml_parser

    name, names = _names(tag)
    attributes = {_names(key)[0]: value for key, value in attributes.items()}
    made = oxml_parser.makeelement(name, attributes, names)
    for child in children:
        made.append(child)
    if text:
        made.text = text
    return made


@cache
def _names(name):
    """(full name, its name space) of a prefixed name; python-docx works it out each time."""
    from docx.oxml.ns import NamespacePrefixedTag

    found = NamespacePrefixedTag(name)
    return found.clark_name, found.nsmap


class _Writer:
    """Writes blocks one after another into a document."""

    def __init__(self, document, paper):
        self.document, self.paper, self.waiting = document, paper, False
        self.wide = self.card = self.tear = self.begun = False
        self.before = None
        self.captions: list[Picture] = []

    @property
    def letters(self) -> str:
        """The size of letters in tables."""
        return LARGE if self.card else SMALL if self.wide else LETTERS

    @property
    def width(self) -> float:
        """The width between the margins, in mm."""
        short, long = SHEETS[self.paper.size]
        if self.card:
            return long / 2 - 2 * CARD
        return long - 2 * NARROW if self.wide else short - 2 * MARGIN

    def write(self, block):
        """One block."""
        small = isinstance(block, Picture) and block.small
        if len(self.captions) == 2 or (self.captions and not small):
            self._captions()
        {
            Heading: self.heading,
            Para: self.para,
            Bullets: self.bullets,
            Table: self.table,
            Picture: self.picture,
            Sign: self.sign,
            Page: self.page,
        }[type(block)](block)
        self.before, self.begun = block, True

    def _captions(self):
        """The words below a row of pictures, with their legends."""
        from docx.shared import Pt

        for block in self.captions:
            made = self._styled(block.caption, "Caption")
            made.paragraph_format.space_after = Pt(2)
            if block.legend:
                run = made.add_run(f" {harmless.plain(block.key)}")
                run.bold, run.font.size = False, Pt(7.5)
        self.captions = []

    def _fitted(self, made):
        """A paragraph close to the next; in the large letters of a card."""
        from docx.shared import Pt

        if self.card or self.wide:
            made.paragraph_format.space_after = made.paragraph_format.space_before = Pt(1)
        if self.card:
            made.paragraph_format.line_spacing = Pt(12.4)
            for run in made.runs:
                run.font.size = Pt(11)
        return made

    def heading(self, block):
        made = self._fitted(self._styled(block.text, f"Heading{block.level}"))
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
        made = self.document.add_paragraph()
        made.add_run(harmless.plain(block.text)).bold = block.strong or None
        made.paragraph_format.page_break_before = self.waiting or None
        self.waiting = False
        self._fitted(made)

    def page(self, block):
        """A new upright page is a heading that begins one; a wide page needs a section of its own,
        and so does the page after it.
        """
        from docx.enum.section import WD_ORIENT, WD_SECTION

        self.tear = block.tear
        if (block.wide, block.card) == (self.wide, self.card):
            self.waiting = self.begun
            return
        self.wide, self.card, self.waiting = block.wide, block.card, False
        sections = self.document.sections
        section = self.document.add_section(WD_SECTION.NEW_PAGE) if self.begun else sections[0]
        section.orientation = WD_ORIENT.LANDSCAPE if block.wide else WD_ORIENT.PORTRAIT
        self._measure(section)
        if self.card:  # the card bears its own line, in its own letters
            for part in (section.header, section.footer):
                part.is_linked_to_previous = False
                for paragraph in part.paragraphs:
                    paragraph.clear()
                    for field in list(paragraph._p):
                        paragraph._p.remove(field)
        elif self.begun:
            _running_lines(section, self.paper)

    def _measure(self, section):
        """The sheet and its margins."""
        from docx.shared import Mm

        short, long = SHEETS[self.paper.size]
        sides = (short, long)
        if self.card:
            sides = (long / 2, short)
        elif self.wide:
            sides = (long, short)
        section.page_width, section.page_height = Mm(sides[0]), Mm(sides[1])
        margin = CARD if self.card else NARROW if self.wide else MARGIN
        section.left_margin = section.right_margin = Mm(margin)
        low = self.card or self.wide
        section.top_margin, section.bottom_margin = (
            (Mm(CARD if self.card else 12), Mm(CARD if self.card else 11))
            if low
            else (Mm(20), Mm(16))
        )
        section.header_distance = section.footer_distance = Mm(4 if self.card else 5)

    def bullets(self, block):
        """A list; a numbered one begins at 1 each time."""
        from docx.shared import Pt

        number = self._numbering() if block.numbered else None
        for line in block.items:
            made = self._styled(line.said, "ListNumber" if block.numbered else "ListBullet")
            if self.tear:
                made.paragraph_format.space_after = made.paragraph_format.space_before = Pt(0)
                made.paragraph_format.line_spacing = 1.0
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

    def table(self, block, bare=False):
        from docx.oxml import parse_xml
        from docx.shared import Pt

        if not (self.card or self.wide or block.quiet or bare):  # there a heading says as much
            caption = self._styled(block.caption, "Caption")
            caption.paragraph_format.keep_with_next = True
        dense = self.wide or self.card
        style = word_table.Style(self.width, self.letters, self.wide, 0 if dense else 20)
        body = self.document.element.body
        body._insert_tbl(parse_xml(word_table.table(block, style)))
        after = self.document.add_paragraph().paragraph_format
        after.space_after = 0
        if dense:
            after.line_spacing = Pt(2)

    def picture(self, block):
        from docx.shared import Mm

        from advisor.pictures.png import png

        beside = block.small and bool(self.captions)
        highest = block.tall - (10 if block.small else 2) if block.tall else 205
        widest = self.width / 2 - 8 if block.small else self.width - 5
        tall = block.canvas.height - block.canvas.top
        width = min(widest, block.canvas.width * (CARD_UNIT if self.card else UNIT))
        width = min(width, highest * block.canvas.width / tall)
        paragraph = self.shown if beside else self.document.add_paragraph()
        self.shown = paragraph
        image = io.BytesIO(png(block.canvas.svg()))
        shape = paragraph.add_run().add_picture(image, width=Mm(width))
        properties = shape._inline.docPr
        properties.set("descr", block.canvas.description)
        properties.set("title", harmless.plain(block.canvas.title))
        if block.small:  # the words stand below the row
            self.captions.append(block)
            return
        paragraph.paragraph_format.keep_with_next = True
        if not self.card:
            self._styled(block.caption, "Caption")

    def sign(self, block):
        self.document.add_paragraph(harmless.plain(block.text))
        pairs = zip_longest(block.fields[::2], block.fields[1::2])
        self.table(
            Table(
                "To be filled in by hand",
                ("What", "By hand") * 2,
                tuple(((a,), (), (b,) if b else (), ()) for a, b in pairs),
                (16, 34, 16, 34),
                fillable=True,
                names=(2,),
            ),
            bare=True,
        )
