"""'Assume …' in the talk: it looks ahead, is marked, and counts once it is told."""

from advisor.chat.faces import status
from advisor.chat.session import Session
from advisor.chat.store import Store, case_yaml, load
from advisor.chat.turn import take

DEPTH = ("pitch", "pitch.depth")


def test_it_is_marked_until_it_is_told(session):
    take(session, "nine of them")
    reply = take(session, "assume the pitch is 8 m deep")
    assert any("clears nothing" in line for line in reply.answer)
    assert session.advice.assumed == ("pitch.depth",) and "1 assumed" in status(session)
    take(session, "the pitch is 8 m deep")
    assert session.advice.assumed == () and "assumed" not in status(session)


def test_what_is_known_is_not_assumed_over(session):
    take(session, "the pitch is 8 m deep")
    reply = take(session, "assume the pitch is 6 m deep")
    assert session.case().facts[DEPTH].text == "8 m" and not session.advice.assumed
    assert any(line.startswith("Not taken") for line in reply.answer)


def test_undo_of_a_correction_does_not_make_it_known(session):
    take(session, "assume the pitch is 8 m deep")
    take(session, "the pitch is 9 m deep")
    take(session, "undo")
    assert session.advice.assumed == ("pitch.depth",)


def test_a_question_assumes_nothing(session):
    take(session, "the pitch is 8 m deep")
    take(session, "assuming the water is a stream, is it safe to go?")
    assert not session.assumed


def test_it_is_kept_with_the_session_and_in_the_case(advisor, session, tmp_path):
    take(session, "assume the pitch is 8 m deep")
    store = Store.new()
    store.save(session)
    again = Session(advisor)
    load(store.path, again)
    assert again.advice.assumed == ("pitch.depth",)
    file = tmp_path / "kept.yaml"
    file.write_text(case_yaml(session), "utf-8")
    assert advisor.advise(advisor.read(file)).assumed == ("pitch.depth",)
    loaded = Session(advisor)
    take(loaded, f"load {file}")
    assert loaded.advice.assumed == ("pitch.depth",)
