"""Registers as tables for an office program: the kit, or the hazards with their controls."""

from __future__ import annotations

import csv
import datetime
import io
from typing import Any

from advisor.papers.assessment import STANDS, in_order
from advisor.papers.faces import harmless
from advisor.papers.faces.packed import still
from advisor.papers.kit import register_rows

HAZARDS = ("Hazard", "Who", "How", "Control", "Standing", "Rests on", "Rule", "Before", "After",
           "Further action", "By whom", "By when", "Done")  # fmt: skip
RUNNING = ("Title", "Date", "Version")
A_TIME = datetime.datetime(1980, 1, 1)  # no time of writing, so that equal runs are equal bytes
LETTERS, WIDEST = 12, 60


def table(s, kind: str) -> tuple[str, list[tuple[str, ...]]]:
    """(name, rows with the headings first) of the register that fits a paper."""
    if kind == "kit" or "plan" not in s.advice.about and s.advice.items:
        return s.lists["titles"]["kit"], register_rows(s)
    rows: list[tuple[str, ...]] = [(*HAZARDS, *RUNNING)]
    for hazard in in_order(s):
        for control in hazard.controls:
            rests = "; ".join(control.ask or control.facts)
            told = (control.title, STANDS[control.standing], rests, control.rule)
            first = (hazard.text, hazard.who, hazard.because)
            rows.append((*first, *told, *[""] * 6, s.title, s.date, s.version))
    return s.lists["titles"]["assessment"], rows


def render(s, form: str, kind: str) -> bytes:
    """The register as the bytes of a file."""
    name, rows = table(s, kind)
    safe = [tuple(harmless.cell(text) for text in row) for row in rows]
    return _workbook(name, safe) if form == ".xlsx" else _values(safe)


def _values(rows: list[tuple[str, ...]]) -> bytes:
    out = io.StringIO(newline="")
    csv.writer(out).writerows(rows)
    return out.getvalue().encode("utf-8-sig")


def _workbook(name: str, rows: list[tuple[str, ...]]) -> bytes:
    from openpyxl import Workbook
    from openpyxl.styles import Alignment, Font

    book = Workbook()
    sheet: Any = book.worksheets[0]
    sheet.title = name[:31]
    for number, row in enumerate(rows, 1):
        for column, text in enumerate(row, 1):
            cell = sheet.cell(number, column, text)
            cell.data_type = "s"
            cell.alignment = Alignment(wrap_text=True, vertical="top")
            cell.font = Font(bold=number == 1)
    for letter, texts in zip((c.column_letter for c in sheet[1]), zip(*rows, strict=True)):
        sheet.column_dimensions[letter].width = min(WIDEST, max(LETTERS, *map(len, texts)))
    sheet.freeze_panes, sheet.print_title_rows = "B2", "1:1"
    sheet.page_setup.orientation = "landscape"
    sheet.oddHeader.left.text, sheet.oddFooter.right.text = name, "&P / &N"
    book.properties.created = book.properties.modified = A_TIME
    out = io.BytesIO()
    book.save(out)
    return still(_undated(out.getvalue()))


def _undated(data: bytes) -> bytes:
    """The workbook without the time at which it was saved, which the library writes itself."""
    import re
    import zipfile

    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w") as new:
        for part in old.infolist():
            found = old.read(part.filename)
            if part.filename == "docProps/core.xml":
                stamp = A_TIME.isoformat().encode() + b"Z<"
                found = re.sub(rb"\d{4}-\d\d-\d\dT[\d:.]+Z?<", stamp, found)
            new.writestr(part, found)
    return out.getvalue()
