"""Each paper holds what it is for, in the order and the standing that the rules give, and says
nothing twice. The five steps and the columns of an assessment follow long-standing official
guidance of several countries; what a kit record holds, EN 365 (by extracts).
"""

import csv
import io
import json
import re
import textwrap
import zipfile

import openpyxl
import pytest
from at_hand import (
    DATE,
    DEEP,
    advisor,
    deep_case,
    docx_of,
    docx_text,
    html_text,
    html_tree,
    lists,
    made,
    made_from,
)
from depth import not_quick

from advisor.cli import main
from advisor.faults import Faults
from advisor.load.case import read_case
from advisor.load.folder import find_folder
from advisor.load.papers import read_lists
from advisor.papers.assessment import GRAVELY, hazards, in_order
from advisor.papers.blocks import Heading, Page, Para, Picture, Table, words_of
from advisor.papers.build import PAPERS, build, fitting
from advisor.papers.door import papers
from advisor.papers.once import LONG
from advisor.papers.size import KINDS, SIZES, usual
from advisor.papers.subject import subject

PLAN = "plan/arrival-left"
TEN_FACTS = "plan/saturday"


def test_the_command_line_offers_every_paper():
    assert set(KINDS) == {*PAPERS, *lists()["bundles"]} == set(lists()["titles"])


@pytest.mark.parametrize(
    "name, kind",
    [
        (PLAN, "working"),
        ("incident/leg-trapped-fixed-cord", "incidents"),
        ("kit/harness-and-connectors", "kit"),
    ],
)
def test_what_fits_the_case_is_printed_where_nothing_is_named(name, kind):
    assert fitting(made(name)) == kind


@deep_case
def test_no_sentence_stands_twice_in_one_paper(name):
    for kind in PAPERS:
        if kind == "incidents":
            continue  # each is torn off and carried by itself
        said = [
            text
            for block in PAPERS[kind](made(name))
            if isinstance(block, Table)
            for row in block.rows
            for cell in row[block.caption.startswith("Record") :]  # a form for each piece
            for text in cell
            if len(text) >= LONG
        ]
        assert len(said) == len(set(said)), (kind, [t for t in said if said.count(t) > 1][:3])


def test_an_incident_in_hand_is_the_card_alone():
    told = "\n".join(words_of(build(made("incident/leg-trapped-fixed-cord"), "incidents")))
    assert lists()["signature"] not in told and "Go or no go" not in told


# --- the assessment -------------------------------------------------------------------------


def row_of(made_, control):
    return next(r for r in hazards(made_).rows if any(control in line for line in r[1]))


def test_controls_tell_how_they_stand_and_by_what():
    text = "case: x\ngiven:\n  pitch: {depth: 9 m, water: stream}\n  lifeline: {gloves: yes}\n"
    lines = "\n".join(line for row in hazards(made_from(text)).rows for line in row[1])
    broken = next(x for x in lines.splitlines() if "Rig ladder and line clear of the water" in x)
    assert broken.startswith("BROKEN: ") and "pitch water stream" in broken
    met = next(x for x in lines.splitlines() if "Give the belayer gloves" in x)
    assert met.startswith("Met by: ") and "lifeline gloves yes" in met
    open_ = next(x for x in lines.splitlines() if "Rig so that anyone can be lowered" in x)
    assert open_.startswith("NOT KNOWN: check ")
    assert "can be lowered to the floor at once \u2013 lifeline lower to floor?" in open_
    assert "No breach" not in lines and "{it}" not in lines


@not_quick
@pytest.mark.parametrize("name", [PLAN, TEN_FACTS])
def test_every_control_that_the_facts_ask_for_stands_once(name):
    made_ = made(name)
    lines = "\n".join(line for row in hazards(made_).rows for line in row[1])
    asked = {c.title.rstrip(".") for h in made_.advice.hazards for c in h.controls
             if c.standing != "not asked for"}  # fmt: skip
    assert asked and not [t for t in asked if t not in lines]
    assert [t for t in asked if lines.count(f" {t} \u2013") > 1] == []


def test_a_broken_or_open_control_told_before_is_marked_where_it_comes_again():
    made_ = made("plan/loose-nut")
    again = {c.title.rstrip("."): c.standing for h in made_.advice.hazards for c in h.controls}
    rows, first = hazards(made_).rows, {}
    for row in rows:
        for line in row[1]:
            for number, title in re.findall(r"(\d+\.\d+) ([A-Z][^\u2013?.]+)", line):
                first[number] = title.strip()
    told = [t for row in rows for line in row[1] for t in re.findall(r"Also (.*)\.$", line)]
    marked = [part for t in told for part in t.split(", ")]
    assert any(part.endswith("(broken)") for part in marked)
    for part in marked:
        number, _, mark = part.partition(" ")
        standing = again[first[number]]
        assert (mark == f"({standing})") == (standing in GRAVELY), part


@not_quick
def test_the_gravest_hazards_stand_first():
    def worst(hazard):
        stand = {c.standing for c in hazard.controls}
        return next((n for n, word in enumerate(GRAVELY) if word in stand), len(GRAVELY))

    found = [worst(h) for h in in_order(made(PLAN))]
    assert found == sorted(found) and len(set(found)) > 1


def test_the_program_never_rates():
    text = "case: x\ngiven:\n  pitch: {depth: 9 m}\n"
    blank, scaled = hazards(made_from(text)), hazards(made_from(text, ("minor", "grave")))
    by_hand = ("What: ____", "By whom: ____", "By when: ____ \u2610 done")
    assert len(blank.rows) >= 5 and all(row[2:] == ((), (), by_hand) for row in blank.rows)
    boxes = ("\u2610 minor", "\u2610 grave")
    assert all(row[2:] == (boxes, boxes, by_hand) for row in scaled.rows)


def test_a_scale_that_the_plan_names_is_used():
    assert made(PLAN).scale == ("low", "medium", "high") and made(TEN_FACTS).scale == ()


def test_every_hazard_of_the_rules_has_a_phase():
    named = {rule for phase in lists()["phases"] for rule in phase["hazards"]}
    known = {rule.id for rule in advisor().base.rules if rule.id.startswith("hazard.")}
    assert named == known


def test_the_assessment_has_what_an_employers_form_has():
    told = "\n".join(words_of(build(made(TEN_FACTS), "assessment"))).lower()
    for word in ("hazard", "who", "how", "further action", "by whom", "by when", "done", "before",
                 "after", "assessor", "approved", "version", "review", "date", "changes on the day",
                 "activity", "place", "licence", "needs more care", "in an emergency",
                 "told to all", "reviewed on", "next by"):  # fmt: skip
        assert word in told, word


# --- the field card -------------------------------------------------------------------------


def card_rows(name):
    (table,) = (b for b in build(made(name), "card").blocks if isinstance(b, Table))
    return {row[0][0]: row[1][0] for row in table.rows}


def test_the_card_answers_what_a_leader_asks():
    told = card_rows(PLAN)
    assert "left ladder bolt" in told["Ladder"] and "Leader below" in told["Down"]
    assert told["Pitch"] == "12 m deep; ladder 15 m; lifeline 30 m; 9 people in all."
    assert (
        "STOP" in told["Calls"]
        and "15:39, the last by 16:" in told["Times"]
        and "18:00" in told["Times"]
    )
    assert "cowstail" in told["Out"] and "cowstail on, then lifeline off" in told["Back"]
    assert "Not known" in card_rows(TEN_FACTS)["Times"]


def test_the_picture_of_the_card_can_be_read():
    """Letters of 12 units are of 9 points or more; the words below it name its letters."""
    blocks = list(build(made(PLAN), "card").blocks)
    (at,) = (n for n, b in enumerate(blocks) if isinstance(b, Picture))
    picture, names = blocks[at], blocks[at + 1].text
    units = picture.canvas.height - picture.canvas.top
    assert 12 * picture.tall / units * 72 / 25.4 >= 9
    assert "C left ladder bolt" in names and "right ladder bolt" not in names  # it is not used
    assert "LEFT" in picture.canvas.svg()
    assert all(picture.canvas.top <= box.top for box in picture.canvas.boxes)
    for word in ("ladder", "lifeline", "1 leader", "2 belayer", "3 next", "53\u00b0"):
        assert any(box.text == word for box in picture.canvas.boxes), word
    assert not any(isinstance(b, Picture) for b in build(made(TEN_FACTS), "card").blocks)


@pytest.mark.parametrize("form", [".html", ".docx"])
def test_the_legends_of_the_plan_stand_below_its_pictures(form):
    data = papers(made(PLAN), form, "plan")
    text = html_text(html_tree(data)) if form == ".html" else docx_text(docx_of(data))
    shown = [b for b in build(made(PLAN), "plan").blocks if isinstance(b, Picture)]
    assert len(shown) == 4 and all(picture.key and picture.key in text for picture in shown)
    assert "left ladder bolt" in shown[0].key and "weakest" in shown[2].caption


def test_a_pitch_head_of_which_nothing_is_known_is_told_and_not_drawn():
    blocks = build(made(TEN_FACTS), "plan").blocks
    assert "pitch-head" not in [b.canvas.name for b in blocks if isinstance(b, Picture)]
    told = next(b.text for b in blocks if isinstance(b, Para) and "not drawn" in b.text)
    assert told.startswith("The pitch head is not drawn.") and "A left bolt" in told


@pytest.mark.parametrize("name", [PLAN, TEN_FACTS, "method/foul-air"])
def test_an_incident_takes_at_most_seven_lines(name):
    blocks = list(build(made(name), "card").blocks)
    assert next(b.text for b in blocks[::-1] if getattr(b, "text", "").startswith("STOP IF a call"))
    found = [b.text for a, b in zip(blocks, blocks[1:]) if isinstance(a, Heading) and a.level == 3]
    assert len(found) == 5 and all(found)
    assert all(len(textwrap.wrap(t, lists()["card"]["letters"])) <= 7 for t in found)


def test_a_jammed_foot_on_the_card_is_settled_from_the_plan():
    told = "\n".join(words_of(build(made(PLAN), "card")))
    assert "let the ladder down one rung at a time" in told and "Send down a foot loop" not in told
    assert "ten minutes" in told  # when to call


# --- forms, kit, registers ------------------------------------------------------------------


@pytest.mark.parametrize("kind", ["trip", "report", "assessment", "kit"])
def test_places_to_fill_are_content_controls_in_docx(kind):
    name = "kit/harness-and-connectors" if kind == "kit" else PLAN
    body = docx_of(papers(made(name), ".docx", kind)).element.body.xml
    empty = sum(
        not cell or sum("____" in line for line in cell)
        for b in build(made(name), kind).blocks
        if isinstance(b, Table) and b.fillable
        for row in b.rows
        for cell in row
    )
    assert empty and body.count("<w:text/>") == empty


def test_what_is_known_stands_in_the_trip_card():
    def told(name):
        (table,) = (b for b in build(made(name), "trip").blocks if isinstance(b, Table))
        return {row[0][0]: "".join(row[1]) for row in table.rows}

    known = told(PLAN)
    assert (known["Turn time"], known["Due out"]) == ("13:00", "14:21")
    assert known["CALL-OUT TIME"] == "18:00" and known["Place and way in"] == made(PLAN).title
    assert (
        told(TEN_FACTS)["Turn time"] == told(TEN_FACTS)["CALL-OUT TIME"] == known["Time in"] == ""
    )


def test_a_fact_that_fills_a_field_must_be_one(there):
    path = there / "papers.yaml"
    text = (find_folder("rules") / "papers.yaml").read_text("utf-8")
    path.write_text(text.replace("from: plan.turn time", "from: plan.turn tine"), "utf-8")
    with pytest.raises(Faults, match="plan.turn time"):
        read_lists(advisor().base, path)


def test_the_briefing_shows_the_change_over_and_the_tether():
    shown = [b.canvas.name for b in build(made(PLAN), "briefing").blocks if isinstance(b, Picture)]
    assert shown == ["change-over", "tether"]


def test_no_table_says_again_what_the_heading_above_it_says():
    blocks = build(made("kit/harness-and-connectors"), "kit").blocks
    after = {a.text: b for a, b in zip(blocks, blocks[1:]) if isinstance(a, Heading)}
    assert after["gate two"].quiet and after["gate two"].caption == "Record: gate two"
    assert next(b for b in blocks if isinstance(b, Table)).quiet is False
    text = "\n".join(words_of(build(made("kit/harness-and-connectors"), "kit")))
    assert "Not for use as it is: gate two." in text


def test_boxes_can_be_ticked_in_docx():
    body = docx_of(papers(made(PLAN), ".docx", "packing")).element.body.xml
    items = sum(len(group["items"]) for group in lists()["packing"]["groups"])
    assert body.count("w14:checkbox>") == 2 * items


def test_a_piece_out_of_use_has_a_tag():
    heads = [b.text for b in build(made("kit/harness-and-connectors"), "kit").blocks
             if isinstance(b, Heading)]  # fmt: skip
    assert any(h.startswith("DO NOT USE: gate two") for h in heads)
    sound = build(made("kit/sound-ladder-kept"), "kit").blocks
    assert not [b for b in sound if isinstance(b, Heading) and "DO NOT USE" in b.text]


def test_registers_open_as_tables_and_run_nothing():
    text = 'case: "=1+1"\nabout: [kit]\ngiven:\n  "ladder =cmd": {length: 9 m, dry: no}\n'
    made_ = made_from(text)
    rows = list(csv.reader(io.StringIO(papers(made_, ".csv", "kit").decode("utf-8-sig"))))
    book = openpyxl.load_workbook(io.BytesIO(papers(made_, ".xlsx", "kit")))
    sheet = book.worksheets[0]
    assert [c.value for c in sheet[1]] == rows[0] and rows[0][0] == "Piece"
    assert all(not cell.startswith(("=", "+", "@")) for row in rows for cell in row)
    assert all(c.data_type == "s" for row in sheet for c in row if c.value)


@not_quick
def test_the_register_of_hazards_has_every_control():
    made_ = made(PLAN)
    rows = list(csv.DictReader(io.StringIO(papers(made_, ".csv", "working").decode("utf-8-sig"))))
    assert len(rows) == sum(len(h.controls) for h in made_.advice.hazards)
    assert {row["Date"] for row in rows} == {DATE}


# --- every sheet ----------------------------------------------------------------------------


@pytest.mark.parametrize("kind", KINDS)
def test_every_sheet_has_title_date_and_version(kind):
    made_ = made(PLAN)
    found = build(made_, kind)
    for word in (made_.title, DATE, made_.version, lists()["titles"][kind]):
        assert word in found.header
    for n, block in enumerate(found.blocks):
        if isinstance(block, Page) and block.card:  # no running line: it stands on the card
            told = found.blocks[n + 1].text
            assert made_.title in told and DATE in told and made_.version in told


def test_another_fact_gives_another_version():
    text = "case: x\ngiven:\n  pitch: {depth: %s m}\n"
    assert made_from(text % 9).version != made_from(text % 10).version


@pytest.mark.parametrize("kind", ["working", "all"])
@pytest.mark.parametrize("form", [".docx", ".xlsx"])
def test_equal_runs_give_equal_bytes(kind, form, monkeypatch):
    if form == ".xlsx" and kind == "all":
        kind = "assessment"
    first = papers(made(TEN_FACTS), form, kind)
    monkeypatch.setattr("time.time", lambda: 2_000_000_000.0)
    monkeypatch.setattr("time.localtime", lambda *_: (2033, 5, 18, 3, 33, 20, 2, 138, 0))
    assert papers(made(TEN_FACTS), form, kind) == first
    with zipfile.ZipFile(io.BytesIO(first)) as packed:
        assert {part.date_time for part in packed.infolist()} == {(1980, 1, 1, 0, 0, 0)}


@pytest.mark.parametrize(
    "environment, size",
    [
        ({}, "A4"),
        ({"LANG": "en_US.UTF-8"}, "letter"),
        ({"LANG": "en_US.UTF-8", "LC_PAPER": "en_GB.UTF-8"}, "A4"),
        ({"LC_ALL": "fr_CA", "LANG": "en_GB"}, "letter"),
        ({"LANG": "C.UTF-8"}, "A4"),
    ],
)
def test_the_size_is_that_of_the_place(environment, size):
    assert usual(environment) == size


@pytest.mark.parametrize("size, width", [("A4", 210), ("letter", 215.9)])
def test_the_size_is_in_the_files(size, width):
    assert size in SIZES
    section = docx_of(papers(made(TEN_FACTS), ".docx", "plan", size)).sections[0]
    assert section.page_width.mm == pytest.approx(width, abs=0.1)
    assert f"size: {size};" in papers(made(TEN_FACTS), ".html", "plan", size).decode()


def test_the_running_line_of_html_ends_no_style():
    made_ = made_from('case: "</style><b>x\\" } * {"\ngiven:\n  pitch: {depth: 9 m}\n')
    page = papers(made_, ".html", "plan").decode()
    style = page[page.index("<style>") : page.index("</style>")]
    assert "<b>" not in style and '* {"' not in style and page.count("</style>") == 1


def test_json_escapes_what_does_not_show():
    word = "a\u202eb\u2066c\u200fd"
    made_ = made_from(f'case: "{word}"\ngiven:\n  pitch: {{depth: 9 m}}\n')
    text = papers(made_, ".json").decode()
    assert not [c for c in text if not c.isprintable() and c != "\n"]
    assert json.loads(text)["paper"]["title"] == made_.title


@not_quick
@pytest.mark.parametrize("kind", ["working", "evidence"])
def test_local_guidance_is_in_the_papers_and_marked(kind):
    from advisor.advise import Advisor

    file = next((find_folder("rules") / "local").glob("*.yaml"))
    under = Advisor(local_file=str(file))
    case = under.read(str(find_folder("cases") / "plan" / "saturday.yaml"))
    told = "\n".join(words_of(build(subject(under, case, DATE, lists()), kind)))
    assert under.local.called in told and "Local" in told
    plain = read_case(find_folder("cases") / "plan" / "saturday.yaml", advisor().base)
    built_in = "\n".join(words_of(build(subject(advisor(), plain, DATE, lists()), kind)))
    assert under.local.called not in built_in


@pytest.mark.parametrize(
    "more, word",
    [(["--paper", "nonsense"], "nonsense"), (["--size", "A9"], "A9")],
)
def test_bad_names_are_refused(more, word, there, capsys):
    with pytest.raises(SystemExit):
        main(["export", "cases/kit/rust-film.yaml", "-o", str(there / "x.md"), *more])
    assert word in capsys.readouterr().err


def test_a_card_is_no_register(there, capsys):
    out = str(there / "x.csv")
    assert main(["export", "cases/kit/rust-film.yaml", "-o", out, "--paper", "card"]) == 2
    assert "register" in capsys.readouterr().err


def test_the_deep_cases_have_every_form():
    assert DEEP and all(papers(made(DEEP[0]), ".md", kind) for kind in KINDS)


def test_the_letters_of_the_card_are_large():
    from advisor.papers.faces.word import LARGE

    css = (find_folder("rules").parent / "advisor/papers/faces/page.css").read_text("utf-8")
    assert "section.sheet.card { page: card; font: 11pt/" in css and int(LARGE) >= 2 * 11
    document = docx_of(papers(made(PLAN), ".docx", "card"))
    sizes = {run.font.size.pt for p in document.paragraphs for run in p.runs if run.font.size}
    assert sizes and min(sizes) >= 11


def test_the_letters_of_the_assessment_can_be_read():
    css = (find_folder("rules").parent / "advisor/papers/faces/page.css").read_text("utf-8")
    wide = re.search(r"section\.sheet\.wide \{ font-size: ([\d.]+)pt", css)
    assert wide and float(wide[1]) >= 8.5
    assert not re.search(r"section\.wide [^{]*\{[^}]*font-size", css)
    table = max(
        docx_of(papers(made(PLAN), ".docx", "assessment")).tables, key=lambda t: len(t.rows)
    )
    sizes = {int(found) for found in re.findall(r'<w:sz w:val="(\d+)"', table._tbl.xml)}
    assert len(table.rows) > 20 and min(sizes) >= 17  # half points
