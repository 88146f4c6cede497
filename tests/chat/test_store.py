"""Safe keeping: whole after a kill at any moment, one writer a file, damaged and newer files
refused and kept.
"""

import io
import json
import os
import random
import signal
import sys

import pytest
from depth import not_quick, sampled

from advisor.chat.faces import status
from advisor.chat.session import Session
from advisor.chat.store import Store, load, sessions
from advisor.chat.turn import take
from advisor.facts.vocabulary import AT_HOME
from advisor.faults import Faults

KILLS = 200
needs_fork = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork")


def talk(session, *lines):
    for line in lines:
        take(session, line)
    return session


@not_quick
def test_a_session_comes_back_with_facts_undo_questions_and_plans(advisor, session):
    talk(
        session,
        "14 m shaft, dripping, nine of them",
        "pitch hang: free",
        "keep that as plan b",
        "anchor left bolt kind: resin bolt?",
        "undo",
    )
    store = Store.new()
    store.save(session)
    again = Session(advisor)
    assert load(store.path, again) == []
    for name in (
        "steps",
        "undone",
        "asked",
        "skipped",
        "twice",
        "quiet",
        "question",
        "last_entity",
        "last_key",
        "branches",
        "turn",
        "title",
    ):
        assert getattr(again, name) == getattr(session, name), name
    assert again.advice == session.advice
    again.redo()
    assert again.said["anchor left bolt", "anchor.kind"] == "resin bolt?"


class Stub:
    """A session as far as the store looks at it; its facts show which turn it is of."""

    title, undone, asked, skipped, quiet, question, last_entity, last_key, branches, about = (
        "",
        (),
        (),
        (),
        False,
        None,
        None,
        None,
        {},
        None,
    )
    twice = ()
    checked, checker, on_file = {}, "", None
    guidance = missed_guidance = ""
    advisor = type("", (), {"base": type("", (), {"sha256": "-"})})

    at = AT_HOME

    def of(self, turn):
        self.turn = turn
        self.steps = [{(f"anchor n{turn} {n}", "anchor.side"): "left" for n in range(300)}]
        return self


def write_for_ever(store, pipe):
    """Save turn after turn, saying 'b' before and 'e' after each."""
    stub, turn = Stub(), 0
    while True:
        turn += 1
        os.write(pipe, b"b")
        store.save(stub.of(turn))
        os.write(pipe, b"e")


@needs_fork
@not_quick
def test_killed_at_any_moment_at_most_the_turn_in_flight_is_lost():
    draw = random.Random(20)
    store, between = Store.new(), set()
    for _ in range(KILLS):
        reading, writing = os.pipe()
        child = os.fork()
        if not child:
            try:
                write_for_ever(store, writing)
            finally:
                os._exit(1)
        os.close(writing)
        progress = b""
        for _ in range(draw.randint(3, 9)):
            progress += os.read(reading, 1)
        for _ in range(
            draw.randrange(20_000)
        ):  # somewhere within the save, not only at its beginning
            pass
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        while more := os.read(reading, 1000):
            progress += more
        os.close(reading)
        data = json.loads(store.path.read_text("utf-8"))
        begun, ended = progress.count(b"b"), progress.count(b"e")
        assert data["turn"] in (begun, ended) and ended >= 1
        assert len(data["steps"][0]) == 300 and all(
            row[0].startswith(f"anchor n{data['turn']} ") for row in data["steps"][0]
        )
        between.add(begun - ended)
    assert 1 in between, "some children were killed within a save"


@needs_fork
def test_a_killed_chat_lets_its_file_go():
    path = Store.new().path.with_name("killed.json")
    path.write_text("{}", "utf-8")
    reading, writing = os.pipe()
    child = os.fork()
    if not child:
        store = Store.old(path)
        os.write(writing, b"y" if store else b"n")
        os.read(os.pipe()[0], 1)  # waits until it is killed
        os._exit(1)
    assert os.read(reading, 1) == b"y"
    assert Store.old(path) is None, "one writer at a time"
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    assert Store.old(path) is not None


@not_quick
def test_two_chats_at_once_get_two_files(advisor):
    first, second = Store.new(), Store.new()
    one, two = talk(Session(advisor), "14 m shaft"), talk(Session(advisor), "9 m shaft")
    first.save(one)
    second.save(two)
    first.save(one)
    assert first.path != second.path and Store.old(first.path) is None
    assert {json.loads(p.read_text("utf-8"))["steps"][-1][0][2] for p in sessions()} == {
        "14 m",
        "9 m",
    }


def test_a_chat_that_said_nothing_leaves_no_file():
    store = Store.new()
    store.close()
    assert not list(store.path.parent.iterdir())


GOOD = {
    "form": 1,
    "title": "",
    "rule_base": "-",
    "turn": 1,
    "steps": [[], [["pitch", "pitch.depth", "14 m"]]],
    "undone": [],
    "asked": [],
    "skipped": [],
    "quiet": False,
    "question": None,
    "last": [None, None],
    "branches": {},
}


@pytest.mark.parametrize(
    "text, words",
    [
        ("", "damaged"),
        ("{", "damaged"),
        ("[" * 100_000, "damaged"),
        ("[]", "not a session file"),
        ('{"form": "x"}', "not a session file"),
        (json.dumps({**GOOD, "form": 2}), "newer version"),
        ('{"form": 1}', "damaged"),
        (json.dumps({**GOOD, "steps": []}), "damaged"),
        (json.dumps({**GOOD, "steps": [[["pitch"]]]}), "damaged"),
        (json.dumps({**GOOD, "steps": 7}), "damaged"),
        (json.dumps({**GOOD, "asked": [1]}), "damaged"),
        (json.dumps({**GOOD, "last": 3}), "damaged"),
        (json.dumps({**GOOD, "branches": []}), "damaged"),
        ("\x00\x01", "damaged"),
    ],
)
def test_damaged_and_future_files_are_refused_and_kept(session, tmp_path, text, words):
    path = tmp_path / "s.json"
    path.write_text(text, "utf-8")
    with pytest.raises(Faults) as error:
        load(path, session)
    assert words in str(error.value) and len(str(error.value).splitlines()) == 1
    assert path.read_text("utf-8") == text and not session.said and session.turn == 0


def test_a_file_that_is_not_text_is_refused(session, tmp_path):
    path = tmp_path / "s.json"
    path.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(Faults, match="damaged"):
        load(path, session)


def test_every_cut_of_a_file_is_refused_or_whole(session, tmp_path):
    text, path = json.dumps(GOOD), tmp_path / "s.json"
    for end in range(1, len(text)):
        path.write_text(text[:end], "utf-8")
        with pytest.raises(Faults):
            load(path, session)
    path.write_text(text, "utf-8")
    load(path, session)
    assert session.said == {("pitch", "pitch.depth"): "14 m"}


def test_facts_that_the_rules_no_longer_know_are_left_out_and_named(session, tmp_path):
    path = tmp_path / "s.json"
    rows = [
        ["pitch", "pitch.depth", "14 m"],
        ["pitch", "pitch.colour", "blue"],
        ["pitch", "pitch.water", "lava"],
        ["dragon smaug", "anchor.side", "left"],
    ]
    path.write_text(json.dumps({**GOOD, "steps": [rows]}), "utf-8")
    assert load(path, session) == [
        "pitch colour: blue",
        "pitch water: lava",
        "dragon smaug side: left",
    ]
    assert session.said == {("pitch", "pitch.depth"): "14 m"}


def test_a_save_that_fails_leaves_the_last_one(session):
    talk(session, "14 m shaft")
    store = Store.new()
    store.save(session)
    before = store.path.read_bytes()
    store.path.with_name(store.path.name + ".part").mkdir()  # nothing can be written there
    with pytest.raises(OSError):
        store.save(talk(session, "sorry, 16 not 14"))
    assert store.path.read_bytes() == before


KIT = "about: [kit]\ngiven:\n  group: {size: 6}\n  ladder main: {length: 10 m}\n"


def test_what_a_loaded_case_is_about_holds_until_something_else_is_said(session, tmp_path):
    from advisor.load.case import read_case

    path = tmp_path / "kit.yaml"
    path.write_text(KIT, "utf-8")
    talk(session, f"load {path}")
    topics = tuple(read_case(path, session.advisor.base).topics)
    assert session.advice.about == ("kit",) == topics
    talk(session, "ladder main rating: 2 kN", f"export {tmp_path / 'out.yaml'}")
    assert session.advice.about == ("kit",) and read_case(
        tmp_path / "out.yaml", session.advisor.base
    ).topics == ("kit",)
    store = Store.new()
    store.save(session)
    again = Session(session.advisor)
    load(store.path, again)
    assert again.advice == session.advice
    talk(session, "pitch depth: 9 m")
    assert session.advice.about == ("plan", "kit")
    talk(session, "undo")
    assert session.advice.about == ("kit",)
    talk(session, "start again", "anchor left kind: tree")
    assert session.advice.about == ("plan",)


def resumed(arguments=("--format", "json")):
    from advisor.chat.loop import _talk
    from advisor.cli import parser

    return _talk(parser().parse_args(["chat", "--resume", *arguments]), None, None)


@not_quick
@pytest.mark.parametrize("where", ["steps", "undone", "branches"])
def test_facts_the_rules_no_longer_know_stay_in_the_old_file(session, capsys, where):
    store = Store.new()
    store.save(talk(session, "14 m shaft", "keep that as b", "pitch hang: free", "undo"))
    store.close()
    data = json.loads(store.path.read_text())
    rows = data["branches"]["b"] if where == "branches" else data[where][-1]
    rows.append(["pitch", "pitch.colour", "blue"])
    store.path.write_text(json.dumps(data))
    before = store.path.read_bytes()
    again = resumed()
    again.one("pitch water: dry")
    assert (
        store.path.read_bytes() == before
        and again.store.path != store.path
        and len(sessions()) == 2
    )
    assert "pitch colour: blue" in capsys.readouterr().err.replace("\n    ", " ")
    again.store.close()


def test_a_session_that_cannot_be_locked_goes_on_unsaved(session, monkeypatch, capsys):
    store = Store.new()
    store.save(talk(session, "14 m shaft"))
    store.close()

    def refuse(path):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("advisor.chat.store.taken", refuse)
    again = resumed()
    assert (
        again.store is None
        and again.session.said == session.said
        and "cannot be saved (Permission denied)" in capsys.readouterr().err
    )


def test_a_dangling_link_is_no_session_and_a_turn_without_end_is_damage(session):
    store = Store.new()
    store.save(talk(session, "14 m shaft"))
    (store.path.parent / "gone.json").symlink_to("nowhere")
    assert sessions() == [store.path]
    store.path.write_text(store.path.read_text().replace('"turn": 1', '"turn": Infinity'))
    with pytest.raises(Faults, match="damaged"):
        load(store.path, Session(session.advisor))


@pytest.mark.skipif(os.name == "nt", reason="file modes mean something else there")
def test_what_was_said_is_for_its_owner_only(session):
    store = Store.new()
    store.save(talk(session, "14 m shaft"))
    assert store.path.stat().st_mode & 0o777 == 0o600


def test_an_export_reads_back_whatever_its_words_hold(session, tmp_path):
    from advisor.chat.store import export
    from advisor.load.case import read_case

    key = next(a for a in session.advisor.base.vocabulary.by_key.values() if a.type == "text")
    words = "a\ufeffb\x85c\u2028d\U0001f9b2\x07"
    session.say(
        [
            (
                key.entity
                + (" x" if session.advisor.base.vocabulary.entities[key.entity].many else ""),
                key.key,
                words,
            )
        ]
    )
    assert export(session, str(tmp_path / "a.yaml")).startswith("Written")
    assert [
        f.value for f in read_case(tmp_path / "a.yaml", session.advisor.base).facts.values()
    ] == ["ab\x85c\u2028d\U0001f9b2"]  # without the two that cannot be shown
    assert export(session, "a\0b.yaml").startswith("Cannot write")


ODD = (
    None,
    True,
    -1,
    10**400,
    1.5,
    "",
    "x",
    "\u202e\x85",
    [],
    [[]],
    [None],
    [["pitch"]],
    {},
    {"x": 1},
)


def _places(value, way=()):
    """Every place in a JSON value, as keys and indexes."""
    yield way
    if isinstance(value, (dict, list)):
        for key, one in value.items() if isinstance(value, dict) else enumerate(value):
            yield from _places(one, (*way, key))


def _with(value, way, odd):
    """The value with another at one place."""
    if not way:
        return odd
    made = dict(value) if isinstance(value, dict) else list(value)
    made[way[0]] = _with(value[way[0]], way[1:], odd)
    return made


@not_quick
def test_any_edited_field_is_refused_or_gone_on_with(advisor, session, tmp_path):
    talk(session, "14 m shaft, nine of them", "pitch hang: free", "keep that as plan b", "undo")
    take(session, "they come in from the left")
    store = Store.new()
    store.save(session)
    whole = json.loads(store.path.read_text("utf-8"))
    place, refused, failed = tmp_path / "edited.json", 0, []
    edits = [(way, odd) for way in _places(whole) for odd in ODD]
    for way, odd in sampled(edits, normal=45):
        place.write_text(json.dumps(_with(whole, way, odd)), "utf-8")
        again = Session(advisor)
        try:
            load(place, again)
        except Faults:
            refused += 1
            continue
        try:
            for line in ("what have i told you", "switch to plan b", "undo", "pitch depth: 9 m"):
                take(again, line)
            status(again)
            store.save(again)
        except Exception as error:  # every kind that there is
            failed.append((way, odd, repr(error)))
    assert not failed, failed[:10]
    assert refused


@not_quick
def test_words_of_a_chat_that_was_killed_while_it_wrote_do_not_stay(session):
    talk(session, "14 m shaft")
    store = Store.new()
    store.save(session)
    left = store.path.with_name(store.path.name + ".part")
    left.write_text("half of what was said", "utf-8")
    Store.new().close()
    assert left.exists(), "its chat still holds the lock"
    store.close()
    Store.new().close()
    assert not left.exists() and store.path.exists()
    assert all(not lock.stat().st_size for lock in left.parent.glob("*.lock"))


def test_a_draft_that_cannot_be_finished_is_removed(session, monkeypatch):
    talk(session, "14 m shaft")
    store = Store.new()
    store.save(session)
    monkeypatch.setattr(os, "fsync", lambda _: (_ for _ in ()).throw(OSError("the disk is full")))
    with pytest.raises(OSError):
        store.save(session)
    assert not list(store.path.parent.glob("*.part")) and store.path.stat().st_size


def test_a_talk_held_by_other_rules_says_so_when_it_is_gone_on_with(session, capsys, monkeypatch):
    from advisor.cli import main

    monkeypatch.setattr(sys, "stdin", io.StringIO())
    talk(session, "14 m shaft")
    store = Store.new()
    store.save(session)
    store.close()
    told = "The rules have changed since this talk was held"
    assert main(["chat", "--resume", "--plain"]) == 0
    assert told not in capsys.readouterr().out
    data = json.loads(store.path.read_text("utf-8"))
    store.path.write_text(json.dumps({**data, "rule_base": "of last year"}), "utf-8")
    assert main(["chat", "--resume", "--plain"]) == 0
    assert told in " ".join(capsys.readouterr().out.split())
