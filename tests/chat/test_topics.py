"""Questions of the trade at large are answered in the first line by the rule that says it, before a
plan is told and after; an open question blocks none; what is told in passing is never lost.
"""

import pytest
from worked import program

from advisor.chat.incident import REAL
from advisor.chat.session import Session
from advisor.chat.turn import take

PLAN = (
    "12 m pitch in a cave, dripping",
    "three resin bolts, left, middle and right",
    "15 m ladder, 40 m low stretch lifeline, releasable hitch",
)
FIRST = {
    "is it ok to hang the ladder and the lifeline off the same bolt": "anchors.one-for-both",
    "why cant i put the lifeline on the ladder bolt if its a good bolt": "anchors.one-for-both",
    "can i belay from a body belay with kids": "line-device.no-body-no-teeth",
    "may a 15 year old belay his mate if i tail the rope": "order.who-belays",
    "its only 5 m why not just cowstails on the rungs no lifeline": "line-people.for-everyone",
    "when do i ring rescue if were just slow not stuck": "call-out.means-call",
    "can i squeeze an opened link back in the vice": "links.condemned",
    "is it the age or the cut stitching that kills the harness": "textile.seam",
    "what if the belayer gets hit and lets go does an italian hitch hold": "line-device.hands-free",
    "suppose the water doubles with half of them down who goes first": "water.refuge",
    "does a split plastic sleeve on a wire tether matter": "wires.coated-end",
    "is an 8 mm rope ok for the lifeline": "line-rope.too-thin",
    "is one bolt enough for the ladder": "lifeline-anchor.two-sound",
    "can they go without gloves": "line-device.gloves",
    "is it safe to lower a panicking kid": "frozen.lower",
    "do i haul or lower an unconscious person": "unconscious.lower",
    "whats a safe number per leader": "ratio.under-18s",
}


def after(*lines):
    session = Session(program())
    for line in lines:
        reply = take(session, line)
    return session, reply


@pytest.mark.parametrize("before", [(), PLAN], ids=["nothing told", "a plan told"])
@pytest.mark.parametrize("line", FIRST)
def test_the_first_line_answers(line, before):
    known, _ = after(*before) if before else (Session(program()), None)
    session, reply = after(*before, line)
    assert reply.answer[0].endswith(f"[{FIRST[line]}]")
    assert session.said == known.said


def test_a_finding_told_with_the_question_is_kept():
    session, reply = after("ladder has one broken strand can i still use it")
    assert reply.answer[0].endswith("[wires.broken]")
    assert session.said["finding broken wire", "finding.what"] == "broken wire"


@pytest.mark.parametrize(
    "line, first",
    [
        ("is 30 m enough for a 13 m pitch doubled", "Not long enough: 7 m to 17 m too short."),
        ("is a 10 m ladder ok for a 40 m pitch", "Not long enough: "),
        ("is a 10 m ladder ok for 12 m", "Not shown to be long enough: "),
        ("is a 60 m rope enough for a 12 m pitch", "Long enough, on these facts: "),
        ("how much rope do i need for 15 m", "Lifeline needed from the top: 24 m to 29 m"),
    ],
)
def test_whether_it_is_enough_stands_first(line, first):
    _, reply = after(line)
    assert reply.answer[0].startswith(first)


def test_no_verdict_is_given_without_the_figure_that_is_asked_about():
    _, reply = after(*PLAN, "is 9 m ladder enough if the ladder hangs from a bolt 1.5 m back")
    assert not reply.answer[0].startswith(("Enough", "Not enough"))


def test_why_it_is_a_stop_where_there_is_none_and_what_would_make_it_a_go():
    _, reply = after(*PLAN, "why is it a stop")
    assert reply.answer[0].startswith("There is no STOP")
    _, reply = after(*PLAN, "what would make it a go")
    assert any(line.startswith("NOT YET") for line in reply.answer)


def test_who_says_asks_for_sources_not_for_who_decides():
    _, reply = after(*PLAN, "who says")
    assert not any("[leaders.not-said]" in line for line in reply.answer)


@pytest.mark.parametrize(
    "line",
    [
        "12m pitch nine kids, one's twisted an ankle at the bottom, which anchor for the ladder",
        "so were all getting on fine only one lass wont come off the ladder, anyway how long up",
        "is a 15 m ladder ok, oh and a couple of them feel dizzy at the bottom",
        "should i call rescue, lad fell off and im holding him",
    ],
)
def test_what_happened_in_passing_brings_its_steps_first(line):
    session, reply = after(line)
    assert ("incident", "incident.what") in session.said
    assert reply.answer[0] == REAL and any(a.startswith("1. ") for a in reply.answer)


@pytest.mark.parametrize(
    "line", ["is one bolt enough for the ladder", "how long up for nine", "what do kids wear"]
)
def test_a_question_is_no_reply_to_the_question_that_is_open(line):
    session, reply = after("12 m pitch, 8 kids and 2 leaders, ladder 15 m")
    assert session.question
    reply = take(session, line)
    assert "which of" not in reply.intents


def test_facts_beside_the_open_question_are_taken():
    session, _ = after(*PLAN)
    take(session, "8 kids, 2 leaders")
    assert session.said["group", "group.children"] == "8"
    assert session.said["leader", "leader.number"] == "2"


def test_a_figure_of_something_else_is_no_count_that_was_asked_for():
    session, _ = after("foot stuck in the ladder")
    assert session.question == ("incident", "incident.helpers at top")
    take(session, "yes and 3 still down")
    assert ("incident", "incident.helpers at top") not in session.said
    assert session.said["incident", "incident.people below"] == "3"
    session, _ = after(*PLAN)
    take(session, "yes and 3 still down")
    assert ("leader", "leader.number") not in session.said


@pytest.mark.parametrize("line", ["can i belay from the harness", "how long up for nine"])
def test_a_question_is_no_reply_to_what_was_read_out(line):
    session, _ = after(*PLAN)
    assert session.read_out
    before = dict(session.said)
    assert "kept open" not in take(session, line).intents
    assert session.said == before


@pytest.mark.parametrize("begin", ["can", "could", "should", "may", "do", "shall", "would", "must"])
@pytest.mark.parametrize("act", ["i belay off the tree", "i belay", "we use one bolt for both"])
def test_what_is_asked_in_turned_order_tells_nothing(begin, act):
    session, _ = after(f"{begin} {act}")
    assert not [raw for raw in session.said.values() if raw != "unknown"]


@pytest.mark.parametrize(
    "line",
    [
        "the anchor for the lifeline is one bolt and a thread 2 m behind",
        "the lifeline is one 8 mm rope",
        "the tether is a wire with a plastic sleeve",
    ],
)
def test_what_is_told_is_no_question_of_the_trade(line):
    _, reply = after(line)
    assert not any(text.startswith("By my rules:") for text in reply.answer)


@pytest.mark.parametrize(
    "line",
    [
        "the stream is low, rain from 2, and we dunno how quick the pitch goes wet",
        "a rail for the ladder, I cannot tell how deep it is bedded for novices",
        "is 10 kg enough to test the ladder with",
        "how much slack is too much for an 85 kg person",
    ],
)
def test_what_only_sounds_like_a_question_of_the_trade_is_none(line):
    _, reply = after(line)
    assert not any("too-heavy" in text or "water-plan" in text for text in reply.answer[:1])
    assert not any(text.startswith("By my rules: Over about") for text in reply.answer)
