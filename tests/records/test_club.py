"""The demo club of cases/club: taken in from its workbook by one command, 20 pieces gone through in
one sitting, and what stands of it a year later.
"""

import io
import re

import pytest
import yaml
from depth import not_quick
from worked import program

from advisor.cli import main
from advisor.load.case import read_case
from advisor.papers.outline import worst_first

pytestmark = not_quick
WORKBOOK = "cases/club/rook-valley-club.xlsx"
COURSE = ("--competence", "the club's kit course")
TWENTY = [*(f"L{n}" for n in range(1, 7)), *(f"R{n}" for n in range(1, 5)),
          *(f"H{n}" for n in range(1, 11))]  # fmt: skip
LADDER_POINTS, ROPE_POINTS, HARNESS_POINTS = 9, 3, 4
# What is wrong: the mark, the point of its walk, and what is typed there.
WRONG = {
    "L2": (2, "worn, how much 5 %"),
    "L4": (4, "broken wire, count 2"),
    "L6": (7, "cracked"),
    "R3": (2, "hard or soft spot"),
    "H7": (1, "cut"),
}


@pytest.fixture
def club(tmp_path, capsys, monkeypatch):
    """Runs a command on the club's records: (code, what was said in one line)."""
    file = str(tmp_path / "club.sqlite")

    def run(*arguments, typed=""):
        monkeypatch.setattr("sys.stdin", io.StringIO(typed))
        code = main([*arguments, "--records", file])
        told = capsys.readouterr()
        return code, " ".join((told.out + told.err).split())

    code, said = run("kit", "import", WORKBOOK, *COURSE, "--by", "CD", "--on", "2026-03-14",
                     "--yes")  # fmt: skip
    assert code == 0 and "55 cards can be taken, 0 rows cannot" in said
    return run


def keys_for(mark):
    """What an examiner types for a piece: Enter where all is so."""
    points = {"L": LADDER_POINTS, "R": ROPE_POINTS, "H": HARNESS_POINTS}[mark[0]]
    typed = ["" for _ in range(points)]
    if mark in WRONG:
        at, what = WRONG[mark]
        typed[at - 1] = f"{what}\n"  # and nothing else is found there
    return "".join(f"{line}\n" for line in typed) + "\n"  # the last: as on its card


def case_of(mark, part, what, count=None):
    """The same piece and finding as a case file says them, every fact written by hand."""
    known = {
        "history": "known from new", "identity": "yes", "record": "in order", "repair": "none",
        "storage": "dry and aired", "examination interval": "6 month", "last examined": "0 month",
        "inspection": "full by fingertip", "examined by": "a competent person",
        "standing": "in use", "clean": "yes", "dry": "yes", "lent out": "no",
    }  # fmt: skip
    if mark[0] == "L":
        piece = {**known, "kind": "wire sides", "wire core": "steel core", "rating": "2 kN",
                 "breaking load": "6 kN", "rung fixing": "pressed ferrule", "made by": "the maker",
                 "overloaded": "no", "mishap": "no", "left in place": "no",
                 "chemical contact": "no"}  # fmt: skip
        name = f"ladder {mark}"
    else:
        piece = {**known, "type": {"R": "rope", "H": "harness"}[mark[0]], "hard fall": "no",
                 "chemical contact": "no", "mishap": "no", "dropped": "no", "found in place": "no",
                 "drying": "in the shade", "life limit": "10 year"}  # fmt: skip
        name = f"kit {mark}"
    finding = {"item": name, "part": part, **what}
    return {"about": ["kit"], "given": {name: piece, "finding a": finding}}


FOUND = {
    "L2": ("links", {"what": "worn", "how much": "5 %"}),
    "L4": ("side wire", {"what": "broken wire", "count": 2}),
    "L6": ("rung fixing", {"what": "cracked"}),
    "R3": ("core", {"what": "hard or soft spot"}),
    "H7": ("webbing", {"what": "sheath cut"}),
}


def test_twenty_pieces_in_one_sitting(club, tmp_path):
    typed = "".join(map(keys_for, TWENTY))
    code, said = club("kit", "examine", ",".join(TWENTY), "--by", "CD", *COURSE,
                      "--on", "2026-09-12", typed=typed)  # fmt: skip
    assert code == 3
    told = dict(re.findall(r"\b([LRH]\d+): ([A-Z ]+[A-Z])\.", said))
    assert set(told) == set(TWENTY)
    for mark in TWENTY:
        if mark not in WRONG:
            assert told[mark] in ("KEEP", "KEEP IN USE"), (mark, told[mark])
    for mark, (part, what) in FOUND.items():
        file = tmp_path / "same.yaml"
        file.write_text(yaml.safe_dump(case_of(mark, part, what)), "utf-8")
        items = program().advise(read_case(file, program().base)).items
        assert told[mark] == worst_first(items)[0].verdict.upper(), mark
    # Nothing that a card holds is typed: a key a point, one for the card, and what was found.
    keys = int(re.search(r"(\d+) keys\.$", said)[1])
    found = sum(len(what) + 1 for _, what in WRONG.values())
    points = 6 * LADDER_POINTS + 4 * ROPE_POINTS + 10 * HARNESS_POINTS
    assert keys == points + len(TWENTY) + found


def test_a_year_later_nothing_that_has_expired_counts(club):
    club("kit", "examine", "L1,R2", "--by", "CD", *COURSE, "--on", "2026-09-12",
         typed=keys_for("L1") + keys_for("R2"))  # fmt: skip
    then = "2027-12-01"
    said = club("kit", "due", "--on", then)[1]
    assert said.startswith("50 due by 1 December 2027:") and said.count("OVERDUE") == 50
    for mark in ("L1", "L3", "R2", "H4", "C9"):
        assert "SET ASIDE FOR A COMPETENT PERSON" in club("kit", "show", mark, "--on", then)[1]
    said = club("leader", "show", "AB", "--on", then)[1]
    assert "release practised within a year: NOT KNOWN any more" in said


def test_its_whole_history_fits_on_a_page(club):
    club("kit", "used", "L4", "muddy", "--trip", "Rook Pot", "--on", "2026-08-22")
    club("kit", "examine", "L4", "--by", "CD", *COURSE, "--on", "2026-09-12",
         typed=keys_for("L4"))  # fmt: skip
    club("kit", "retire", "L4", "--reason", "two broken wires", "--disposal", "cut up",
         "--on", "2026-09-13")  # fmt: skip
    said = club("kit", "history", "L4", "--on", "2026-09-13")[1]
    for words in ("card made", "examined by a competent person", "trip: Rook Pot",
                  "came back muddy", "found: broken wire, side wire, count 2", "verdict: retire",
                  "set aside", "retired; reason: two broken wires; disposal: cut up"):  # fmt: skip
        assert words in said, words


def test_a_word_that_only_stands_in_a_finding_is_asked_about(club):
    typed = "\nlink\nodd link\n\n" + "\n" * 9
    said = club("kit", "examine", "L1", "--by", "CD", *COURSE, "--on", "2026-09-12", typed=typed)[1]
    assert "'link' may be odd link: which?" in said
