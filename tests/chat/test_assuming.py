"""'Assume …' in the talk: it looks ahead, is marked, and counts once it is told."""

from datetime import date

import pytest

from advisor.chat.faces import STATUS, status
from advisor.chat.session import Session
from advisor.chat.store import Store, case_yaml, load
from advisor.chat.turn import take
from advisor.records.desk import Desk
from advisor.records.store import Store as Records

DEPTH = ("pitch", "pitch.depth")


def assumed(session):
    return session.advice.assumed if session.advice else ()


def depth(session):
    fact = session.case().facts.get(DEPTH)
    return fact and fact.text


def test_it_is_marked_until_it_is_told(session):
    take(session, "nine of them")
    reply = take(session, "assume the pitch is 8 m deep")
    assert "Assumed, not known: pitch depth 8 m; it clears nothing." in " ".join(reply.answer)
    assert assumed(session) == ("pitch.depth",) and "1 assumed" in status(session)
    assert len(status(session)) <= STATUS
    assert "pitch depth: 8 m (assumed)" in take(session, "what have I told you").answer
    take(session, "the pitch is 8 m deep")
    assert assumed(session) == () and "assumed" not in status(session)
    assert depth(session) == "8 m"


@pytest.mark.parametrize("line", ["the pitch is 8 m deep", "sorry, the pitch is 9 m deep"])
def test_undo_of_telling_it_does_not_make_it_known(session, line):
    take(session, "assume the pitch is 8 m deep")
    take(session, line)
    assert assumed(session) == ()
    take(session, "undo")
    assert assumed(session) == ("pitch.depth",) and depth(session) == "8 m"
    take(session, "redo")
    assert assumed(session) == ()


def test_undo_of_a_second_assumption_does_not_make_the_first_known(session):
    take(session, "assume the pitch is 8 m deep")
    take(session, "assume the pitch is 7 m deep")
    take(session, "undo")
    assert assumed(session) == ("pitch.depth",) and depth(session) == "8 m"


def test_a_plan_kept_by_name_keeps_what_is_assumed_so(session):
    take(session, "assume the pitch is 8 m deep")
    take(session, "keep this as plan b")
    take(session, "start again")
    take(session, "use plan b")
    assert assumed(session) == ("pitch.depth",)


def test_what_is_known_is_not_assumed_over(session):
    take(session, "the pitch is 8 m deep")
    reply = take(session, "assume the pitch is 6 m deep")
    assert depth(session) == "8 m" and not assumed(session)
    assert any(line.startswith("Not taken") for line in reply.answer)


@pytest.mark.parametrize(
    "line",
    [
        "assuming the depth is 6 m, is it safe to go?",
        "assume the depth is 6 m, what is the advice",
        "assuming a stream, what should I do",
    ],
)
def test_a_question_only_supposes(session, line):
    take(session, "the pitch is 8 m deep")
    said = dict(session.said)
    reply = take(session, line)
    assert any("your plan is unchanged" in text for text in reply.answer)
    assert session.said == said and not assumed(session)


@pytest.mark.parametrize("words", ["the depth", "the pitch depth", "depth"])
def test_forget_takes_one_away(session, words):
    take(session, "assume nine of them")
    take(session, "assume the pitch is 8 m deep")
    reply = take(session, f"forget {words}")
    assert "No longer assumed: pitch depth." in reply.answer
    assert assumed(session) == ("group.size",) and depth(session) is None
    take(session, "undo")
    assert assumed(session) == ("group.size", "pitch.depth")


def test_forget_takes_all_of_them_and_nothing_that_is_known(session):
    take(session, "nine of them")
    take(session, "assume the pitch is 8 m deep")
    take(session, "assume the water is dry")
    take(session, "forget the group size")
    take(session, "forget all assumptions")
    assert [ref for ref, _ in session.said.items()] == [("group", "group.size")]


def test_an_incident_assumed_tells_its_steps(session):
    take(session, "assume their foot is jammed in the ladder")
    assert session.advice.response and session.advice.assumed == ("incident.what",)


def test_it_is_kept_with_the_session_and_in_the_case(advisor, session, tmp_path):
    take(session, "nine of them")
    take(session, "assume the pitch is 8 m deep")
    take(session, "keep this as plan b")
    store = Store.new()
    store.save(session)
    again = Session(advisor)
    load(store.path, again)
    assert again.steps == session.steps and again.branches == session.branches
    assert assumed(again) == ("pitch.depth",)
    file = tmp_path / "kept.yaml"
    file.write_text(case_yaml(session), "utf-8")
    assert advisor.advise(advisor.read(file)).assumed == ("pitch.depth",)
    loaded = Session(advisor)
    take(loaded, f"load {file}")
    assert assumed(loaded) == ("pitch.depth",)
    assert case_yaml(loaded).partition("\n")[2] == case_yaml(session).partition("\n")[2]


def test_a_case_loaded_assumes_nothing_that_was_told(session, tmp_path):
    file = tmp_path / "ahead.yaml"
    file.write_text("assumed: {pitch: {depth: 6 m}}\n", "utf-8")
    take(session, "the pitch is 8 m deep")
    take(session, f"load {file}")
    assert depth(session) == "8 m" and not assumed(session)


def test_what_a_card_says_is_known(advisor, session, tmp_path):
    desk = Desk(advisor, Records(tmp_path / "cards.sqlite", lambda: "now"), date(2026, 6, 1))
    desk.begin("Rook Pot", "place", "", {"pitch.depth": "9 m"}, {})
    session.desk = desk
    take(session, "assume the pitch is 8 m deep")
    take(session, "at Rook Pot")
    assert depth(session) == "9 m" and not assumed(session)
    take(session, "assume the pitch is 8 m deep")
    assert depth(session) == "9 m" and not assumed(session)
