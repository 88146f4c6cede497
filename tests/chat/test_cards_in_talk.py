"""Cards in the talk: taken, confirmed as usual, written down, and told with the advice."""

import itertools
import sqlite3
from contextlib import closing
from datetime import date

import pytest

from advisor.chat.cards import again as taken_again
from advisor.chat.session import Session
from advisor.chat.store import Store, load
from advisor.chat.turn import take
from advisor.records.desk import Desk
from advisor.records.store import Store as Records

LADDER = {"length": "12 m", "rating": "2 kN", "kind": "wire sides"}
USUAL = {"lifeline.way": "from the top", "lifeline.device": "Italian hitch"}


@pytest.fixture
def talk(advisor, session, tmp_path):
    """A talk at a desk with a ladder, a rope, a place and how it is usually done."""
    ticks = itertools.count()
    records = Records(tmp_path / "club.sqlite", lambda: str(next(ticks)))
    desk = Desk(advisor, records, date(2026, 6, 1))
    desk.begin("L3", "kit", "ladder", LADDER, {})
    desk.begin("R2", "kit", "rope", {"length": "30 m"}, {})
    desk.begin("Rook Pot", "place", "", {"pitch.depth": "9 m", "anchor oak.kind": "tree"}, {})
    desk.begin("usual", "practice", "", USUAL, {})
    session.desk = desk.on(date(2026, 6, 8))
    return session


def fact(session, entity, key):
    return session.case().facts.get((entity, key))


def test_cards_are_taken_by_their_marks(talk):
    reply = take(talk, "on L3 and R2 at the Rook Pot")
    assert any("ladder L3" in line and "place Rook Pot" in line for line in reply.answer)
    assert fact(talk, "ladder L3", "ladder.length").text == "12 m"
    assert fact(talk, "lifeline", "lifeline.length").said_by.startswith("record R2 entry 2")
    assert fact(talk, "anchor oak", "anchor.kind").text == "tree"
    assert talk.advice.on_file.cards == ("ladder L3", "lifeline R2", "place Rook Pot")


def test_what_was_told_stands_over_a_card(talk):
    take(talk, "the pitch is 11 m deep")
    take(talk, "at Rook Pot")
    assert fact(talk, "pitch", "pitch.depth").text == "11 m"


def test_words_that_are_no_marks_are_talk(talk):
    reply = take(talk, "on L3 and L77")
    assert not talk.on_file and "cards" not in reply.intents


def test_as_usual_is_read_out_before_it_is_confirmed(talk):
    reply = take(talk, "as usual")
    assert any("Italian hitch" in line for line in reply.answer)
    assert fact(talk, "lifeline", "lifeline.way") is None
    take(talk, "as usual but the device is a plate")
    assert fact(talk, "lifeline", "lifeline.way").said_by.startswith("record usual entry 4")
    assert fact(talk, "lifeline", "lifeline.device").text == "plate or tube"


def test_what_happened_is_written_down(talk):
    reply = take(talk, "used L3 on Saturday, muddy")
    entries = talk.desk.store.entries("L3")
    assert [(e.what, e.on) for e in entries[1:]] == [
        ("used", "2026-06-06"),
        ("muddy", "2026-06-06"),
    ]
    assert reply.answer[0] == "Kept:"
    take(talk, "on L3")
    assert fact(talk, "ladder L3", "ladder.examined and passed") is None


def test_due_and_a_card_are_told(talk):
    assert any("L3: ladder" in line for line in take(talk, "what is due?").answer)
    assert any("length: 12 m" in line for line in take(talk, "show L3").answer)


def test_what_came_from_cards_is_kept_with_the_session(talk, advisor):
    take(talk, "on L3")
    store = Store.new()
    store.save(talk)
    again = Session(advisor)
    load(store.path, again)
    assert again.on_file == talk.on_file
    assert again.case().facts == talk.case().facts


def test_records_that_are_not_whole_are_said_and_give_the_talk_nothing(talk):
    talk.desk.happened(["L3"], ["used", "overloaded"])
    with closing(sqlite3.connect(talk.desk.store.path)) as db:
        db.execute("DROP TRIGGER entries_are_kept")
        db.execute("DELETE FROM entries WHERE what = 'overloaded'")
        db.commit()
    for text in ("show L3", "history of L3", "what is due", "on L3"):
        told = take(talk, text).answer
        assert any("is not as it was written" in line for line in told), text
    assert fact(talk, "ladder L3", "ladder.length") is None


def test_what_a_card_says_no_more_goes_out_of_the_plan(talk):
    talk.desk.happened(["L3"], ["nothing to report", "inspected"])
    take(talk, "on L3")
    assert fact(talk, "ladder L3", "ladder.overloaded").text == "no"
    assert fact(talk, "ladder L3", "ladder.inspection")
    told = take(talk, "used L3, overloaded").answer
    assert any("inspection" in line and "No longer known" in line for line in told)
    assert fact(talk, "ladder L3", "ladder.inspection") is None
    assert fact(talk, "ladder L3", "ladder.overloaded").text == "yes"
    assert fact(talk, "ladder L3", "ladder.length").text == "12 m"


def test_what_was_told_in_words_stands_beside_what_a_card_says_now(talk):
    take(talk, "on L3 and R2")
    talk.say([("ladder L3", "ladder.inspection", "quick look")])
    take(talk, "used L3")
    assert fact(talk, "ladder L3", "ladder.inspection").text == "quick look"
    assert fact(talk, "lifeline", "lifeline.length").text == "30 m"


def test_a_talk_gone_on_with_later_takes_its_cards_as_they_stand_then(talk):
    talk.desk.happened(["L3"], ["inspected"])
    take(talk, "on L3")
    store = Store.new()
    store.save(talk)
    store.close()
    other = Session(talk.advisor)
    load(store.path, other)
    other.desk = talk.desk
    other.desk.happened(["L3"], ["used"])
    taken_again(other)
    assert fact(other, "ladder L3", "ladder.inspection") is None
    assert fact(other, "ladder L3", "ladder.length").text == "12 m"
