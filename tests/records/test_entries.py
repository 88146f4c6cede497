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
from advisor.records.store import VERSION, Store

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
        db.executescript(statement)
        db.commit()


def test_entries_come_back_in_order(tmp_path):
    store = store_in(tmp_path)
    store.add([new(a=1), new("L2", b="é")])
    store.add([new(c=[1, "x"])])
    assert [e.body for e in store.entries()] == [{"a": 1}, {"b": "é"}, {"c": [1, "x"]}]
    assert [e.number for e in store.entries("L1")] == [1, 3]
    assert [e.number for e in store.entries(up_to=2)] == [1, 2]
    assert store.cards() == ["L1", "L2"] and store.check() is None


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE entries SET body = '{}'",
        "DELETE FROM entries",
        "INSERT OR REPLACE INTO entries SELECT number, written, card, what, '2020-01-01', by, body,"
        " before, hash FROM entries",
        "INSERT INTO entries VALUES (7, '', 'L1', 'told', '2026-01-01', '', '{}', 'x', 'y')",
    ],
)
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
        ("DELETE FROM entries WHERE number = 3", 3),
        ("DELETE FROM entries WHERE number > 1", 2),
        ("DELETE FROM entries", 1),
        (
            "UPDATE entries SET number = 9 WHERE number = 1;"
            "UPDATE entries SET number = 1 WHERE number = 3;"
            "UPDATE entries SET number = 3 WHERE number = 9",
            1,
        ),
        ("UPDATE entries SET number = 9 WHERE number = 3", 3),
    ],
)
def test_a_file_changed_by_other_hands_is_named_and_only_read(tmp_path, statement, at):
    store = store_in(tmp_path)
    store.add([new(n=1), new(n=2), new(n=3)])
    assert store.doubt() is None
    edited(store.path, statement)
    assert f"entry {at} " in str(store.check()) == str(store_in(tmp_path).doubt())
    before = store.entries()  # what is there can still be read
    with pytest.raises(Faults, match="only read"):
        store.add([new()])
    assert store.entries() == before


# The first version of the tables, as it was; with an entry whose hash was worked by other means:
# sha256sum over its content as compact JSON.
FIRST_TABLES = """
CREATE TABLE entries (
    number INTEGER PRIMARY KEY, written TEXT NOT NULL, card TEXT NOT NULL, what TEXT NOT NULL,
    on_day TEXT NOT NULL, by TEXT NOT NULL, body TEXT NOT NULL,
    before TEXT NOT NULL UNIQUE, hash TEXT NOT NULL UNIQUE);
CREATE TRIGGER entries_stay BEFORE UPDATE ON entries
    BEGIN SELECT RAISE(ABORT, 'entries are never changed'); END;
CREATE TRIGGER entries_are_kept BEFORE DELETE ON entries
    BEGIN SELECT RAISE(ABORT, 'entries are never removed'); END;
PRAGMA user_version = 1;
"""
OLD = (
    (1, "2026-01-01T10:00:00+00:00", "L1", "card", "2026-01-01", "AB",
     '{"kind": "kit", "type": "ladder"}', "0" * 64,
     "04f490b7e00e36503c14b5fe7c55544bef33a3b8b81208bbe1166972136cdf08"),
    (2, "2026-01-02T10:00:00+00:00", "L1", "washed", "2026-01-02", "", "{}",
     "04f490b7e00e36503c14b5fe7c55544bef33a3b8b81208bbe1166972136cdf08",
     "286bf8b5a48d3eda51ebbc2147c59a7246e682a746e3e114eef7b529bf12599c"),
)  # fmt: skip


def older(folder):
    """A file of the first version with two entries."""
    store = store_in(folder)
    with closing(sqlite3.connect(store.path)) as db:
        db.executescript(FIRST_TABLES)
        db.executemany("INSERT INTO entries VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)", OLD)
        db.commit()
    return store


def version(store):
    with closing(sqlite3.connect(store.path)) as db:
        return db.execute("PRAGMA user_version").fetchone()[0]


def test_an_older_file_is_brought_forward_with_all_it_holds(tmp_path):
    store = older(tmp_path)
    assert [(e.number, e.what, e.hash) for e in store.entries()] == [
        (r[0], r[3], r[8]) for r in OLD
    ]
    assert store.check() is None and version(store) == VERSION
    store.add([new()])
    assert store.check() is None and [e.number for e in store.entries("L1")] == [1, 2, 3]
    edited(store.path, "DELETE FROM entries WHERE number = 3")
    assert "entry 3 " in str(store.check())


def test_an_older_file_that_is_broken_stays_as_it_was_found(tmp_path):
    store = older(tmp_path)
    edited(store.path, "UPDATE entries SET on_day = '2027-01-02' WHERE number = 2")
    assert len(store.entries()) == 2 and "entry 2 " in str(store.check())
    with pytest.raises(Faults, match="only read"):
        store.add([new()])
    assert version(store) == 1


def test_tables_of_another_program_are_left_alone(tmp_path):
    store = store_in(tmp_path)
    with closing(sqlite3.connect(store.path)) as db:
        db.execute("CREATE TABLE recipes (name TEXT)")
    with pytest.raises(Faults, match="of another program"):
        store.add([new()])
    with closing(sqlite3.connect(store.path)) as db:
        assert db.execute("SELECT name FROM sqlite_master").fetchall() == [("recipes",)]


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


def test_a_copy_that_cannot_be_written_names_its_own_place(tmp_path):
    store = store_in(tmp_path)
    with pytest.raises(Faults, match="no records to copy"):
        store.back_up(tmp_path / "copy.sqlite")
    store.add([new()])
    with pytest.raises(Faults, match="nowhere.*cannot write the copy"):
        store.back_up(tmp_path / "nowhere" / "copy.sqlite")


def test_only_this_user_reads_the_usual_file_and_any_copy(tmp_path):
    own, shared = Store(tmp_path / "own", lambda: "", private=True), store_in(tmp_path, "shared")
    before = os.umask(0o002)
    try:
        for store in (own, shared):
            store.add([new()])
            store.back_up(tmp_path / f"{store.path.name}.copy")
    finally:
        os.umask(before)
    modes = {p.name: p.stat().st_mode & 0o777 for p in tmp_path.iterdir()}
    assert modes == {"own": 0o600, "own.copy": 0o600, "shared": 0o664, "shared.copy": 0o600}


def test_marks_that_would_be_taken_for_one_another_are_refused(tmp_path):
    store = store_in(tmp_path)
    store.add([New("L 3", "card", "2026-01-01", {})])
    for mark in ("L 3", "l3"):
        with pytest.raises(Faults, match="there already|this mark already"):
            store.add([New("X", "card", "2026-01-01", {}), New(mark, "card", "2026-01-01", {})])
    with pytest.raises(Faults, match="this mark already"):
        store.add([New("Y", "card", "2026-01-01", {})] * 2)
    assert store.cards() == ["L 3"]


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


def test_two_who_begin_a_file_at_once_both_write(tmp_path):
    for n in range(examples(6, 5)):
        store = store_in(tmp_path, f"{n}.sqlite")
        writers = [writer(store, card, 1) for card in ("A", "B", "C")]
        assert [process.wait() for process in writers] == [0, 0, 0]
        for process in writers:
            process.stdout.close()
        assert store.check() is None and store.cards() == ["A", "B", "C"]


def test_a_kill_loses_at_most_the_entry_in_flight(tmp_path):
    told = 0
    for n in range(examples(20, 10)):
        store = store_in(tmp_path, f"{n}.sqlite")
        process = writer(store, "A", 10_000)
        for _ in range(n % 5 + 1):
            process.stdout.readline()
        os.kill(process.pid, signal.SIGKILL)
        told = n % 5 + 1 + len(process.communicate()[0].split())
        assert store.check() is None
        assert told <= len(store.entries()) <= told + 1
