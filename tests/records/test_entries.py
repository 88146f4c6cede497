"""The file of entries: only added to, proven by its chain, whole after a kill, open to two."""

import os
import signal
import sqlite3
import subprocess
import sys
from contextlib import closing

import pytest
from depth import examples
from desks import store_in

from advisor.faults import Faults
from advisor.records.entry import New
from advisor.records.store import MIGRATIONS, VERSION

WRITER = """
import sys
from pathlib import Path
from advisor.records.entry import New
from advisor.records.store import Store
store = Store(Path(sys.argv[1]), lambda: "now")
for n in range(int(sys.argv[3])):
    store.add([New(sys.argv[2], "told", "2026-01-01", {"n": n})])
    print(n, flush=True)
"""


def new(card="L1", **body):
    return New(card, "told", "2026-01-01", body)


def edited(path, statement):
    """The file changed by other hands, around what the program forbids."""
    with closing(sqlite3.connect(path)) as db:
        for name in ("entries_stay", "entries_are_kept"):
            db.execute(f"DROP TRIGGER IF EXISTS {name}")
        db.execute(statement)
        db.commit()


def test_entries_come_back_in_order(tmp_path):
    store = store_in(tmp_path)
    store.add([new(a=1), new("L2", b="é")])
    store.add([new(c=[1, "x"])])
    assert [e.body for e in store.entries()] == [{"a": 1}, {"b": "é"}, {"c": [1, "x"]}]
    assert [e.number for e in store.entries("L1")] == [1, 3]
    assert [e.number for e in store.entries(up_to=2)] == [1, 2]
    assert store.cards() == ["L1", "L2"] and store.check() is None


@pytest.mark.parametrize("statement", ["UPDATE entries SET body = '{}'", "DELETE FROM entries"])
def test_the_file_itself_refuses_change(tmp_path, statement):
    store = store_in(tmp_path)
    store.add([new()])
    with closing(sqlite3.connect(store.path)) as db, pytest.raises(sqlite3.IntegrityError):
        db.execute(statement)


@pytest.mark.parametrize(
    "statement, at",
    [
        ("UPDATE entries SET body = '{\"n\": 9}' WHERE number = 2", 2),
        ("DELETE FROM entries WHERE number = 2", 2),
        ("UPDATE entries SET on_day = '2020-01-01' WHERE number = 1", 1),
        ("UPDATE entries SET hash = '0' || hash WHERE number = 3", 3),
    ],
)
def test_a_file_changed_by_other_hands_is_named_and_only_read(tmp_path, statement, at):
    store = store_in(tmp_path)
    store.add([new(n=1), new(n=2), new(n=3)])
    edited(store.path, statement)
    assert f"entry {at} " in str(store.check())
    with pytest.raises(Faults, match="only read"):
        store.add([new()])
    assert store.entries()  # what is there can still be read


def test_older_tables_are_brought_forward(tmp_path):
    store = store_in(tmp_path)
    with closing(sqlite3.connect(store.path)) as db:
        db.executescript(MIGRATIONS[0])
        db.execute("PRAGMA user_version = 1")
        db.commit()
    store.add([new()])
    with closing(sqlite3.connect(store.path)) as db:
        assert db.execute("PRAGMA user_version").fetchone() == (VERSION,)
        assert db.execute(
            "SELECT name FROM sqlite_master WHERE name = 'entries_by_card'"
        ).fetchone()
    assert store.check() is None


def test_a_newer_file_is_refused_and_kept(tmp_path):
    store = store_in(tmp_path)
    store.add([new()])
    with closing(sqlite3.connect(store.path)) as db:
        db.execute(f"PRAGMA user_version = {VERSION + 1}")
        db.commit()
    with pytest.raises(Faults, match="newer version"):
        store.entries()


def test_what_is_no_file_of_records_is_refused(tmp_path):
    store = store_in(tmp_path)
    store.path.write_text("no table at all " * 99)
    with pytest.raises(Faults, match="no file of records"):
        store.entries()


def test_a_back_up_is_whole_and_overwrites_nothing(tmp_path):
    store = store_in(tmp_path)
    store.add([new(n=1)])
    store.back_up(tmp_path / "copy.sqlite")
    assert store_in(tmp_path, "copy.sqlite").check() is None
    assert len(store_in(tmp_path, "copy.sqlite").entries()) == 1
    with pytest.raises(Faults, match="there already"):
        store.back_up(tmp_path / "copy.sqlite")


def writer(store, card, number):
    command = [sys.executable, "-c", WRITER, str(store.path), card, str(number)]
    return subprocess.Popen(command, stdout=subprocess.PIPE, text=True)


def test_two_writers_at_once_lose_nothing(tmp_path):
    store, each = store_in(tmp_path), 25
    writers = [writer(store, card, each) for card in ("A", "B")]
    for process in writers:
        process.communicate()
        assert process.returncode == 0
    assert store.check() is None
    assert {card: len(store.entries(card)) for card in store.cards()} == {"A": each, "B": each}


def test_a_kill_loses_at_most_the_entry_in_flight(tmp_path):
    told = 0
    for n in range(examples(10, 20)):
        store = store_in(tmp_path, f"{n}.sqlite")
        process = writer(store, "A", 10_000)
        for _ in range(n % 5 + 1):
            process.stdout.readline()
        os.kill(process.pid, signal.SIGKILL)
        told = n % 5 + 1 + len(process.communicate()[0].split())
        assert store.check() is None
        assert told <= len(store.entries()) <= told + 1
