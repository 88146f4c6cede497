"""Tables out of and into spreadsheets: CSV in the encodings and with the separators that are about,
and XLSX. What is too large, or is no table, is refused in one sentence.
"""

from __future__ import annotations

import csv
import io
import zipfile
from collections.abc import Iterator, Sequence
from datetime import date, datetime
from pathlib import Path

from msgspec import Struct

from advisor.bounded import read_file
from advisor.faults import Fault, Faults, Place

MOST_ROWS, MOST_COLUMNS, MOST_CELL = 5_000, 200, 500
MOST_BYTES = 50_000_000  # of a file, and of a workbook once unpacked
ENCODINGS = ("utf-8-sig", "utf-16", "cp1252")
RISKY = ("=", "+", "-", "@", "\t", "\r")  # how cells begin that an office program would run
WORKBOOK = ".xlsx"


class Cell(Struct, frozen=True):
    """A cell as words; `fault` where it cannot be taken."""

    text: str
    fault: str = ""


class Table(Struct, frozen=True):
    """A sheet: its name, the row of headings, and the rows below, each with its number."""

    name: str
    headings: tuple[str, ...]
    rows: tuple[tuple[int, tuple[Cell, ...]], ...]


def read_tables(path: Path) -> list[Table]:
    """The tables of a file; raises Faults."""
    try:
        raw = read_file(path, MOST_BYTES)
    except OSError as error:
        raise _fault(path, f"cannot read this file ({error.strerror or error}).") from None
    if len(raw) > MOST_BYTES:
        raise _fault(path, f"the file is larger than {MOST_BYTES:,} bytes; split it.")
    rows = _workbook(path, raw) if path.suffix.lower() == WORKBOOK else [("", _csv(path, raw))]
    tables = [_table(path, name, list(cells)) for name, cells in rows]
    found = [table for table in tables if table.headings]
    if not found:
        raise _fault(path, "there is no row of headings with rows below it.")
    return found


def _fault(path: Path, text: str) -> Faults:
    return Faults([Fault(Place(str(path)), text)])


def _csv(path: Path, raw: bytes) -> Iterator[list[Cell]]:
    text = _decoded(path, raw)
    try:
        form: type[csv.Dialect] = csv.Sniffer().sniff(text[:4096], ",;\t")
    except csv.Error:
        form = csv.excel
    csv.field_size_limit(MOST_BYTES)
    try:
        for row in csv.reader(io.StringIO(text), form):
            yield [_cell(value) for value in row]
    except csv.Error as error:
        raise _fault(path, f"this is no table of separated values ({error}).") from None


def _decoded(path: Path, raw: bytes) -> str:
    for encoding in ENCODINGS:
        if encoding == "utf-16" and raw[:2] not in (b"\xff\xfe", b"\xfe\xff"):
            continue
        try:
            text = raw.decode(encoding)
        except UnicodeDecodeError:
            continue
        if "\0" not in text:
            return text
    raise _fault(path, "this is no text; save the sheet as .xlsx, or as CSV in UTF-8.")


def _workbook(path: Path, raw: bytes) -> Iterator[tuple[str, Iterator[list[Cell]]]]:
    from openpyxl import load_workbook  # takes a quarter of a second to import

    try:
        with zipfile.ZipFile(io.BytesIO(raw)) as packed:
            if sum(part.file_size for part in packed.infolist()) > MOST_BYTES:
                raise _fault(path, "this workbook is too large; keep one sheet of kit in it.")
        book = load_workbook(io.BytesIO(raw), read_only=True)
    except Faults:
        raise
    except Exception as error:  # whatever a spoilt workbook does to the library
        text = f"this is no workbook that can be read ({type(error).__name__}); save it anew."
        raise _fault(path, text) from None
    for sheet in book.worksheets:
        most = {"max_row": MOST_ROWS + 2, "max_col": MOST_COLUMNS + 1}
        yield (
            sheet.title,
            ([_cell(v) for v in row] for row in sheet.iter_rows(values_only=True, **most)),
        )


def _cell(value: object) -> Cell:
    if value is None:
        return Cell("")
    if isinstance(value, datetime):
        return Cell(value.date().isoformat())
    if isinstance(value, date):
        return Cell(value.isoformat())
    if isinstance(value, bool):
        return Cell("yes" if value else "no")
    if isinstance(value, float) and value.is_integer():
        return Cell(str(int(value)))
    text = " ".join(str(value).split())
    if text.startswith("="):
        return Cell(text, "this is a formula; paste its value")
    if len(text) > MOST_CELL or not text.isprintable():
        return Cell(text[:20], "this is too long, or holds characters that cannot be shown")
    return Cell(text.removeprefix("'"))


def _table(path: Path, name: str, cells: Sequence[Sequence[Cell]]) -> Table:
    cells = [_until_last(row) for row in cells]
    if len(cells) > MOST_ROWS + 1 or any(len(row) > MOST_COLUMNS for row in cells):
        text = f"more than {MOST_ROWS} rows or {MOST_COLUMNS} columns; split the sheet."
        raise _fault(path, text)
    told = [(n, tuple(row)) for n, row in enumerate(cells, 1) if any(c.text for c in row)]
    if len(told) < 2:
        return Table(name, (), ())
    return Table(name, tuple(cell.text for cell in told[0][1]), tuple(told[1:]))


def _until_last(row: Sequence[Cell]) -> Sequence[Cell]:
    """A row without the empty cells at its end."""
    last = max((n for n, cell in enumerate(row, 1) if cell.text), default=0)
    return row[:last]


def write_table(path: Path, headings: Sequence[str], rows: Sequence[Sequence[str]]) -> None:
    """Write a table; raises Faults where the file is there already or cannot be written."""
    safe = [[_harmless(text) for text in row] for row in rows]
    try:
        with open(path, "xb") as file:
            if path.suffix.lower() == WORKBOOK:
                _write_workbook(file, headings, safe)
            else:
                text = io.StringIO()
                csv.writer(text).writerows([headings, *safe])
                file.write(text.getvalue().encode("utf-8-sig"))
    except FileExistsError:
        raise _fault(path, "this file is there already; name another.") from None
    except OSError as error:
        raise _fault(path, f"cannot be written ({error.strerror or error}).") from None


def _write_workbook(
    file: io.BufferedWriter, headings: Sequence[str], rows: list[list[str]]
) -> None:
    from openpyxl import Workbook

    book = Workbook()
    sheet = book.active
    assert sheet is not None
    for row in (headings, *rows):
        sheet.append(list(row))
    sheet.freeze_panes = "A2"
    book.save(file)


def _harmless(text: str) -> str:
    """A cell that no office program takes for a formula."""
    return f"'{text}" if text.startswith(RISKY) else text
