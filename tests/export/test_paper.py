"""What stands in the paper, and in which order."""

import pytest
from at_hand import DATE, advisor, lists, made, made_from, paper, some_cases
from depth import not_quick

from advisor.faults import Faults
from advisor.load.papers import read_lists
from advisor.papers.blocks import Bullets, Heading, Page, Para, Table


def sections(name):
    return [
        b.text
        for b in paper(name).blocks
        if isinstance(b, Heading) and b.level == 2 and "Side" not in b.text
    ]


def test_a_plan_has_all_its_parts_in_order():
    assert sections("plan/arrival-left") == [
        "Pitch plan",
        "Risk assessment",
        "Trip and call-out card",
        "Packing list",
        "Briefing sheet",
        "Incident cards",
        "Incident report",
        "Kit record",
        "Evidence annex",
        "Open questions",
        "Pitch, thing by thing",
        "Rationale",
        "Calculations",
        "Facts",
        "Sources",
        "What this does not cover",
        "Cautions",
        "Who has the last word",
    ]


def test_the_title_block_says_what_made_the_paper():
    tables = (b for b in paper("plan/arrival-left").blocks if isinstance(b, Table))
    table = next(t for t in tables if t.caption == "This paper")
    told = {row[0][0]: row[1][0] for row in table.rows}
    base = made("plan/arrival-left").advice.rule_base
    assert told["Date"] == DATE and told["Local guidance used"] == "none"
    assert base.sha256 in told["Rule base"] and base.version in told["Rule base"]


@not_quick
@some_cases
def test_the_last_word_is_the_leaders(name):
    last = paper(name).blocks[-1]
    assert isinstance(last, Para) and last.text == advisor().base.last_word


@some_cases
def test_every_step_of_the_response_is_on_the_tear_off_page(name):
    response = made(name).advice.response
    if response is None:
        return
    blocks = list(paper(name).blocks)
    start = next(
        n for n, b in enumerate(blocks) if isinstance(b, Heading) and b.text == "Incident cards"
    )
    assert isinstance(blocks[start - 1], Page)
    text = "\n".join(
        i.text for b in blocks[start : start + 12] if isinstance(b, Bullets) for i in b.items
    )
    assert all(s.text[1:] in text for s in response.steps)


def test_a_plan_without_incident_brings_the_main_ones():
    assert [r.incident for r, own in made("plan/arrival-left").responses if not own] == lists()[
        "main incidents"
    ]


def test_rehearsal_steps_are_those_of_the_incident_itself():
    """The same incident told in a case of its own gives the same steps."""
    plan = made("plan/arrival-left")
    facts = plan.view.case.facts.items()

    def given(entity):
        stated = ((k.partition(".")[2], json_of(f.text)) for (e, k), f in facts if e == entity)
        return ", ".join(f"{name}: {value}" for name, value in stated)

    told = "\n".join(f"  {e}: {{{given(e)}}}" for e in dict.fromkeys(e for (e, _), _ in facts))
    own = made_from(
        f"case: x\nabout: [incident]\ngiven:\n{told}\n  incident: {{what: water rising}}\n"
    ).advice.response
    rehearsed = next(r for r, _ in plan.responses if r.incident == "water rising")
    assert [s.id for s in rehearsed.steps] == [s.id for s in own.steps]


def json_of(text):
    import json

    return json.dumps(text) if not text.replace(".", "").isdigit() else text


@not_quick
def test_what_is_not_known_is_printed_and_no_value_is_blank():
    from advisor.papers.build import build

    made_ = made_from(
        "case: x\nabout: [plan]\ngiven:\n  pitch: {depth: 9 m?}\n  anchor a: {side: left}\n"
    )
    assert any(
        isinstance(b, Para) and b.text.startswith("Not known: ") for b in build(made_).blocks
    )
    tables = [b for b in build(made_).blocks if isinstance(b, Table)]
    anchors = next(t for t in tables if t.caption == "Anchors")
    assert "not known" in anchors.rows[0][1][0] and all(
        cell and cell[0] for cell in anchors.rows[0]
    )
    assert any(
        "doubtful" in line for t in tables for row in t.rows for cell in row for line in cell
    )


def test_kit_records_hold_every_field_and_the_verdict():
    records = [
        b
        for b in paper("kit/harness-and-connectors").blocks
        if isinstance(b, Table) and b.caption.startswith("Record: ")
    ]
    assert [r.caption for r in records] == [
        "Record: gate one",
        "Record: gate two",
        "Record: harness one",
    ]
    for record in records:
        assert [row[0][0] for row in record.rows] == [f["field"] for f in lists()["record fields"]]
    told = {row[0][0]: row[1] for row in records[1].rows}
    assert (
        told["Verdict"] == ("gate two: retire",)
        and "groove" in told["Findings today"][0]
        and told["Name, date, signature"] == ()
    )


@pytest.mark.parametrize(
    "change, word",
    [
        (("main incidents:", "main incident:"), "main incident"),
        (("water rising", "water risin"), "water rising"),
        (("en-365-definitions", "en-365-definition"), "sources"),
    ],
)
def test_faults_in_the_lists_are_told(there, change, word):
    from advisor.load.folder import find_folder

    path = there / "papers.yaml"
    path.write_text(
        (find_folder("rules") / "papers.yaml").read_text("utf-8").replace(*change), "utf-8"
    )
    with pytest.raises(Faults, match=word):
        read_lists(advisor().base, path)
