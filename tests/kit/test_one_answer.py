"""In a plan a piece of kit is asked about once: 'examined and passed' settles its papers."""

from functools import cache

import pytest
from depth import not_quick

from advisor.advise import Advisor
from advisor.load.case import read_case
from advisor.load.folder import find_folder

PLAN = find_folder("cases") / "plan" / "arrival-left.yaml"
PIECES = ("ladder main", "lifeline", "tether")
YES = tuple(f"{piece}.examined and passed=yes" for piece in PIECES)


@cache
def advisor():
    return Advisor()


def papers(piece):
    """The facts that one answer settles."""
    kind = advisor().base.vocabulary.split(piece)[0].name
    return [
        key for key, _ in advisor().base.vocabulary.attribute(f"{kind}.examined and passed").settles
    ]


def without_papers(*settings):
    """A sound plan with nothing said of the papers of its kit but what the settings say."""
    case = read_case(PLAN, advisor().base)
    for piece in PIECES:
        for key in papers(piece):
            case.facts.pop((piece, key), None)
    for fact, stated in read_case(PLAN, advisor().base, settings).facts.items():
        if stated.said_by == "command line":
            case.facts[fact] = stated
    return case


def advise(*settings):
    return advisor().advise(without_papers(*settings))


def asked(advice):
    ids = {f"{piece}.{key.partition('.')[2]}" for piece in PIECES for key in papers(piece)}
    ids |= {f"{piece}.examined and passed" for piece in PIECES}
    return sorted(q.fact for q in advice.open_questions if q.fact in ids)


def go(advice):
    return advice.decisions["go"].choice


@not_quick
def test_unsaid_papers_bring_one_question_a_piece_and_no_stop():
    advice = advise()
    assert asked(advice) == [f"{piece}.examined and passed" for piece in sorted(PIECES)]
    assert not advice.stops and go(advice) == "not yet"


def test_one_answer_settles_them():
    advice = advise(*YES)
    assert asked(advice) == [] and go(advice) == "nothing found that forbids it"
    assert [i.verdict for i in advice.items] == ["keep"]


def test_what_is_settled_is_derived_from_the_answer():
    advice = advise(*YES)
    record = next(f for f in advice.facts if f.id == "ladder main.record")
    assert record.value == "in order" and record.derivations == (
        "ladder main.examined and passed settles ladder main.record",
    )


def test_details_alone_are_enough():
    advice = advisor().advise(read_case(PLAN, advisor().base))
    assert asked(advice) == [] and go(advice) == "nothing found that forbids it"


@pytest.mark.parametrize("piece", PIECES)
@pytest.mark.parametrize("word, comes_to", [("no", "do not go on"), ("yes?", "not yet")])
def test_a_no_stops_and_a_doubt_asks_again(piece, word, comes_to):
    others = [s for s in YES if not s.startswith(piece)]
    advice = advise(*others, f"{piece}.examined and passed={word}")
    assert go(advice) == comes_to
    if comes_to == "not yet":
        assert asked(advice) == [f"{piece}.examined and passed"]


@pytest.mark.parametrize(
    "worse",
    [
        "ladder main.last examined=20 months",
        "ladder main.record=none",
        "lifeline.state=damaged",
        "tether.state=worn",
        "ladder main.wire core=fibre core",
    ],
)
def test_a_detail_that_is_worse_wins(worse):
    assert go(advise(*YES, worse)) == "do not go on"


def test_a_kit_evening_asks_in_detail():
    case = without_papers()
    case.facts = {fact: stated for fact, stated in case.facts.items() if fact[0] == "ladder main"}
    case.topics = ("kit",)
    facts = asked(advisor().advise(case))
    assert "ladder main.record" in facts and "ladder main.examined and passed" not in facts
