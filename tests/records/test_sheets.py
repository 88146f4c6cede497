"""Spreadsheets: a club's own columns, bad rows by their place, hostile files; calendar and labels
read back by others.
"""

import csv
import io
import re
import zipfile
from datetime import date

import pytest
from depth import not_quick
from desks import LADDER
from icalendar import Calendar
from openpyxl import Workbook, load_workbook
from PIL import Image
from resvg_py import svg_to_bytes
from zxingcpp import read_barcodes

from advisor.cli import main
from advisor.records.labels import code_of

pytestmark = not_quick
HEADINGS = ["Tag", "Item", "Made", "Last inspected", "length", "rating", "examination interval"]
GOOD = ["L1", "ladder", "March 2024", "1/6/2026", "12 m", "2 kN", "6 month"]


@pytest.fixture
def run(tmp_path, capsys, monkeypatch):
    """Runs a command on records of its own: (code, what was said)."""
    monkeypatch.chdir(tmp_path)

    def ran(*arguments, typed=""):
        monkeypatch.setattr("sys.stdin", io.StringIO(typed))
        code = main([*arguments, "--records", "club.sqlite"])
        told = capsys.readouterr()
        return code, told.out + told.err

    return ran


def sheet(name, rows, headings=HEADINGS, **form):
    with open(name, "w", newline="", encoding=form.pop("encoding", "utf-8")) as file:
        csv.writer(file, **form).writerows([headings, *rows])


def book(name, sheets):
    made = Workbook()
    made.remove(made.active)
    for title, rows in sheets.items():
        added = made.create_sheet(title)
        for row in rows:
            added.append(row)
    made.save(name)


def test_a_club_comes_in_by_one_command(run):
    book("club.xlsx", {
        "Kit": [HEADINGS, *([f"L{n}", *GOOD[1:]] for n in range(1, 7)),
                *([f"R{n}", "rope", date(2025, 1, 2), date(2026, 6, 1), 30, None, "6 month"]
                  for n in range(1, 5)),
                *([f"C{n}", "connector", None, None, None, None, None] for n in range(1, 31))],
        "Places": [["Name of pitch", "pitch.depth", "pitch.hang"], ["shaft", "9 m", "free"]],
        "Leaders": [["mark", "authorised depth"], ["AB", "18 m"], ["CD", "10 m"]],
    })  # fmt: skip
    code, said = run("kit", "import", "club.xlsx", "--column", "Name of pitch=mark", "--yes")
    assert code == 0, said
    assert "43 cards can be taken, 0 rows cannot" in said
    assert "40 cards." in run("kit", "list")[1] and "shaft" in run("place", "list")[1]
    assert "12 m" in run("kit", "show", "L3")[1] and "1 June 2026" in run("kit", "show", "L3")[1]
    assert run("kit", "due", "--until", "2 December 2026")[1].count("ladder, 1 December 2026") == 6


def test_bad_rows_are_named_and_good_ones_wait(run):
    sheet("kit.csv", [
        GOOD,
        ["L2", "ladder", "2024", "", "twelve", "2 kN", ""],
        ["", "rope", "", "", "", "", ""],
        ["L4", "trapeze", "", "", "", "", ""],
        ["L5", "ladder", "", "", "=2+2", "", ""],
        GOOD,
    ])  # fmt: skip
    code, said = run("kit", "import", "kit.csv", typed="\n")
    assert code == 2 and "1 cards can be taken, 5 rows cannot" in said and "Nothing kept" in said
    for place in ("sheet:3:3", "sheet:3:5", "sheet:4:1", "sheet:5:2", "sheet:6:5", "sheet:7:1"):
        assert place in said, place
    assert "0 cards." in run("kit", "list")[1]
    code, said = run("kit", "import", "kit.csv", typed="yes\n")
    assert code == 2 and "Kept: 1 cards" in said


def test_columns_are_asked_for_once(run):
    headings = [*HEADINGS, "Seilart", "Bemerkung"]
    sheet("a.csv", [[*GOOD, "wire sides", "nice"]], headings)
    code, said = run("kit", "import", "a.csv", "--yes", typed="\nkind\n")
    assert code == 0 and "Column 'Bemerkung'" in said
    assert "ladder kind: wire sides" in run("kit", "show", "L1")[1]
    sheet("b.csv", [["L2", *GOOD[1:], "wire sides", "old"]], headings)
    code, said = run("kit", "import", "b.csv", "--yes")
    assert code == 0 and "Column" not in said


def test_a_heading_may_name_the_unit_and_be_written_large(run):
    headings = ["Tag", "Item", "Kind", "Length (m)", "Examination Interval (month)"]
    sheet("kit.csv", [["L1", "ladder", "wire sides", "12,5", "6"]], headings)
    code, said = run("kit", "import", "kit.csv", "--yes")
    assert code == 0, said
    said = run("kit", "show", "L1")[1]
    assert "ladder length: 12.5 m" in said and "ladder kind: wire sides" in said
    assert "examination interval: 6 month" in said


def test_two_columns_are_never_taken_for_one(run):
    sheet("kit.csv", [["L1", "T7", "ladder"]], ["Tag", "No", "Item"])
    code, said = run("kit", "import", "kit.csv", "--yes")
    assert code == 2 and "sheet:1:2" in said and "'No' and 'Tag' would both be mark" in said
    assert run("kit", "import", "kit.csv", "--yes", "--column", "No=-")[0] == 0


def test_a_fault_of_many_rows_is_told_once(run):
    rows = [[f"R{n}", "rope", "in the cellar"] for n in range(1, 31)]
    sheet("kit.csv", rows, ["Tag", "Item", "storage"])
    code, said = run("kit", "import", "kit.csv", "--yes")
    assert (
        code == 2 and said.count("in the cellar") == 1 and "So in 29 more rows, to row 31" in said
    )


@pytest.mark.parametrize("who, counts", [([], False), (["--competence", "kit course"], True)])
def test_an_examination_in_a_list_counts_only_where_somebody_says_who_may(run, who, counts):
    """Its day is kept in any case, and from it the next is due."""
    sheet("kit.csv", [GOOD])
    code, said = run("kit", "import", "kit.csv", "--yes", *who)
    assert code == 0 and ("only the day is taken" in said) != counts
    shown = run("kit", "show", "L1", "--on", "2026-06-02")[1]
    assert ("examined by: a competent person" in shown) == counts
    assert "examined 1 June 2026" in shown
    assert "1 December 2026" in run("kit", "due", "--until", "2 December 2026")[1]


@pytest.mark.parametrize(
    "form",
    [{"encoding": "utf-8-sig"}, {"encoding": "utf-16"}, {"encoding": "cp1252"},
     {"delimiter": ";"}, {"delimiter": "\t"}],
)  # fmt: skip
def test_encodings_and_separators_that_are_about(run, form):
    sheet("kit.csv", [["Läng 1", *GOOD[1:]]], **form)
    code, said = run("kit", "import", "kit.csv", "--yes")
    assert code == 0, said
    assert "Läng 1" in run("kit", "list")[1]


def test_hostile_files_are_refused_in_one_sentence(run, tmp_path):
    (tmp_path / "none.csv").write_bytes(b"")
    (tmp_path / "zeros.csv").write_bytes(b"\0" * 5000)
    (tmp_path / "torn.xlsx").write_bytes(b"PK\x03\x04 torn")
    sheet("long.csv", [[f"L{n}", *GOOD[1:]] for n in range(6000)])
    with zipfile.ZipFile("bomb.xlsx", "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("xl/sheet.xml", b" " * 60_000_000)
    for name in ("none.csv", "zeros.csv", "torn.xlsx", "long.csv", "bomb.xlsx", "missing.csv"):
        code, said = run("kit", "import", name, "--yes")
        assert code == 2 and said.count("\n") == 1 and "Traceback" not in said, (name, said)


def test_what_goes_out_comes_in_again(run, tmp_path):
    facts = [part for name, raw in LADDER.items() for part in ("--fact", f"{name}={raw}")]
    run("kit", "add", "=L3", "--type", "ladder", "--made", "March 2024", *facts)
    for name in ("out.csv", "out.xlsx"):
        assert run("kit", "export", name)[0] == 0
        code, said = run("kit", "export", name)
        assert code == 2 and "there already" in said
    before = run("kit", "show", "=L3")[1]
    (tmp_path / "club.sqlite").rename(tmp_path / "first.sqlite")
    assert run("kit", "import", "out.csv", "--yes")[0] == 0
    stripped = re.compile(r" \(.*?\)")
    known, again = (
        {stripped.sub("", line) for line in said.splitlines()[1:]}
        for said in (before, run("kit", "show", "=L3")[1])
    )
    assert known == again
    rows = [[c.value for c in row] for row in load_workbook("out.xlsx").active.rows]
    assert rows[1][0] == "'=L3"  # never a formula


def test_a_calendar_reads_back(run):
    sheet("kit.csv", [GOOD])
    run("kit", "import", "kit.csv", "--yes")
    code, said = run("kit", "due", "--until", "2 December 2026", "--ics", "due.ics")
    assert code == 0, said
    events = Calendar.from_ical(open("due.ics", "rb").read()).walk("VEVENT")
    assert [(str(e["SUMMARY"]), e["DTSTART"].dt) for e in events] == [
        ("Examine L1 (ladder)", date(2026, 12, 1))
    ]


def test_labels_show_mark_and_state(run):
    sheet("kit.csv", [GOOD, ["L2<b>", *GOOD[1:]]])
    run("kit", "import", "kit.csv", "--yes")
    run("kit", "retire", "L1", "--reason", "broken wires")
    assert run("kit", "labels", "labels.html")[0] == 0
    page = open("labels.html", encoding="utf-8").read()
    assert page.count("<svg") == 2 and "L2&lt;b&gt;" in page and "L2<b>" not in page
    assert page.count("DO NOT USE") == 1 and "examine by 1 December 2026" in page


@pytest.mark.parametrize(
    "mark", ["L3", "Läng 1/7", "a mark as long as marks may be, with blanks 1234"]
)
def test_the_code_of_a_label_reads_back_as_the_mark(mark):
    """Read by zxing-cpp, a decoder of its own."""
    code = code_of(mark).replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ', 1)
    picture = Image.open(
        io.BytesIO(bytes(svg_to_bytes(svg_string=code, zoom=8, background="white")))
    )
    assert [found.text for found in read_barcodes(picture.convert("L"))] == [mark]
