"""A turn that breaks off leaves the facts as they were; the talk goes on; what is shown was saved
before.
"""

import json

import pytest

from advisor.chat import talk as module
from advisor.chat.session import Session
from advisor.chat.store import Store
from advisor.chat.talk import STOPPED, Talk
from advisor.faults import Disagreement


@pytest.fixture
def talk(session):
    return Talk(session, None, "text", True)


def breaking(error):
    """A `take` that changes everything it can and then fails."""

    def take(session, line, asking=True):
        session.say([("pitch", "pitch.depth", "30 m")])
        session.asked.add(("pitch", "pitch.hang"))
        session.branches["b"] = {}
        session.undone.append({})
        raise error

    return take


@pytest.mark.parametrize(
    "error, words, code",
    [
        (KeyboardInterrupt(), STOPPED, 0),
        (ZeroDivisionError(), "Internal fault: ZeroDivisionError", 1),
        (Disagreement("weigh", [], []), "no advice is given on it", 1),
    ],
)
def test_a_turn_that_breaks_off_changes_nothing(
    talk, session, monkeypatch, capsys, error, words, code, tmp_path
):
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    talk.one("14 m shaft")
    before = session.snapshot()
    monkeypatch.setattr(module, "take", breaking(error))
    assert talk.one("30 m shaft")
    after = session.snapshot()
    assert words in " ".join(capsys.readouterr().out.split())
    assert {k: v for k, v in after.items() if k not in ("turn", "_kept")} == {
        k: v for k, v in before.items() if k not in ("turn", "_kept")
    } and after["turn"] == 2
    assert talk.code() == code


def test_a_turn_is_saved_before_it_is_shown(session, monkeypatch):
    store = Store.new()
    talk = Talk(session, store, "text", True)
    saved = []
    monkeypatch.setattr(
        module, "say", lambda text: saved.append(json.loads(store.path.read_text("utf-8"))["turn"])
    )
    talk.one("14 m shaft")
    talk.one("nothing of the kind")
    assert saved == [1, 2]


def test_a_full_disk_is_told_and_the_talk_goes_on(session, monkeypatch, capsys):
    store = Store.new()
    monkeypatch.setattr(
        store, "save", lambda session: (_ for _ in ()).throw(OSError(28, "No space left on device"))
    )
    assert Talk(session, store, "text", True).one("14 m shaft")
    out = capsys.readouterr()
    assert (
        "could not be saved (No space left on device)" in out.err
        and "Heard: pitch depth: 14 m" in out.out
    )


def test_a_paste_stops_at_quit_and_counts_what_was_read(talk, session, capsys):
    assert not talk.several(["14 m shaft", "quit", "16 m shaft"])
    assert (
        "2 of 3 lines read" in capsys.readouterr().out
        and session.said["pitch", "pitch.depth"] == "14 m"
    )


def test_two_values_for_one_fact_in_a_line_are_both_said_back(advisor, monkeypatch):
    from advisor.chat import turn
    from advisor.language.understand import Heard, Said

    monkeypatch.setattr(
        turn,
        "understand",
        lambda text, context: Heard(
            tuple(Said("pitch", "pitch.depth", raw, False, raw) for raw in ("14 m", "9 m"))
        ),
    )
    session = Session(advisor)
    assert turn.take(session, "whatever").heard == (
        "pitch depth: 9 m (heard twice, first as 14 m)",
    )


@pytest.mark.parametrize(
    "told", ["foot jammed between the rungs", "14 m shaft, dripping, nine of them plus me"]
)
def test_what_should_i_do_is_one_screen_in_a_pipe_too(session, monkeypatch, capsys, told):
    monkeypatch.setenv("COLUMNS", "80")
    talk = Talk(session, None, "text", False)
    talk.one(told)
    capsys.readouterr()
    talk.one("what should I do")
    shown = capsys.readouterr().out
    assert 20 < shown.count("\n") <= 41  # and the next question
    words = " ".join(shown.split())
    assert "say 'more'" in words or "say 'everything'" in words
