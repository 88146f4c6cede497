"""The file of entries: SQLite, only ever added to, each entry chained to the one before.

Two programs may write at once; one waits for the other. Where the chain is broken the file is only
read, and said to be.
"""

from __future__ import annotations

import json
import os
import sqlite3
from collections.abc import Callable, Iterable, Iterator
from contextlib import closing, contextmanager
from dataclasses import replace
from pathlib import Path

from advisor.faults import Fault, Faults, Place
from advisor.records.entry import FIRST, Entry, New
from advisor.user_data import folder

WAIT = 30  # seconds that one writer waits for another
VERSION = 2  # of the tables; see MIGRATIONS
FILE = "records.sqlite"
LAST = 2**62  # no entry has a greater number

TABLE = """
CREATE TABLE entries (
    number INTEGER PRIMARY KEY, written TEXT NOT NULL, card TEXT NOT NULL, what TEXT NOT NULL,
    on_day TEXT NOT NULL, by TEXT NOT NULL, body TEXT NOT NULL,
    before TEXT NOT NULL UNIQUE, hash TEXT NOT NULL UNIQUE);
CREATE TRIGGER entries_stay BEFORE UPDATE ON entries
    BEGIN SELECT RAISE(ABORT, 'entries are never changed'); END;
CREATE TRIGGER entries_are_kept BEFORE DELETE ON entries
    BEGIN SELECT RAISE(ABORT, 'entries are never removed'); END;
"""
BY_CARD = "CREATE INDEX IF NOT EXISTS entries_by_card ON entries (card, number);"
# What brings the tables from one version to the next.
MIGRATIONS = (TABLE, BY_CARD)
COLUMNS = "number, written, card, what, on_day, by, body, before, hash"


def usual_place() -> Path:
    """Where records are kept unless a file is named: the user's data folder, or
    PITCH_ADVISOR_DATA.
    """
    return folder() / FILE


class Store:
    """The entries of one file. `now` tells the time of writing, in UTC."""

    def __init__(self, path: Path, now: Callable[[], str]) -> None:
        self.path, self.now = path, now

    @property
    def there(self) -> bool:
        """Whether anything was ever kept."""
        return self.path.exists()

    def add(self, entries: Iterable[New]) -> list[Entry]:
        """Add entries together, all or none; raises Faults where the file cannot take them."""
        with self._open(writing=True) as db:
            db.execute("BEGIN IMMEDIATE")
            every = _all(db)
            fault = _fault(self.path, every)
            if fault:
                raise Faults([fault])
            last, added = every[-1] if every else None, list[Entry]()
            for new in entries:
                number, before = (last.number, last.hash) if last else (0, FIRST)
                last = _chained(new, number + 1, self.now(), before)
                added.append(last)
            marks = ", ".join("?" * 9)
            db.executemany(f"INSERT INTO entries VALUES ({marks})", map(_row, added))
            db.execute("COMMIT")
        return added

    def entries(self, card: str = "", up_to: int = 0) -> list[Entry]:
        """The entries in their order; of one card, and up to a number, where these are named."""
        if not self.there:
            return []
        where, values = "number <= ?", list[object]([up_to or LAST])
        if card:
            where, values = f"card = ? AND {where}", [card, *values]
        with self._open() as db:
            rows = db.execute(
                f"SELECT {COLUMNS} FROM entries WHERE {where} ORDER BY number", values
            )
            return [_entry(row) for row in rows]

    def cards(self) -> list[str]:
        """The marks of all cards."""
        if not self.there:
            return []
        with self._open() as db:
            return [row[0] for row in db.execute("SELECT DISTINCT card FROM entries ORDER BY card")]

    def last(self) -> Entry | None:
        """The entry written last."""
        if not self.there:
            return None
        with self._open() as db:
            return _last(db)

    def check(self) -> Fault | None:
        """The first place where the chain is not as it was written; None where it is whole."""
        if not self.there:
            return None
        with self._open() as db:
            return _fault(self.path, _all(db))

    def back_up(self, to: Path) -> None:
        """Copy the whole file as it stands, also while another writes; raises Faults."""
        if to.exists():
            raise Faults([Fault(Place(str(to)), "this file is there already; name another.")])
        with self._open() as db, closing(sqlite3.connect(to)) as copy:
            db.backup(copy)

    @contextmanager
    def _open(self, writing: bool = False) -> Iterator[sqlite3.Connection]:
        """The file opened, its tables of this version."""
        try:
            with closing(self._connected(writing)) as db:
                yield db
        except sqlite3.OperationalError as error:
            raise Faults([Fault(Place(str(self.path)), _cannot(error))]) from None
        except (sqlite3.DatabaseError, ValueError) as error:
            text = f"this is no file of records, or it is damaged ({error}); go back to a back-up."
            raise Faults([Fault(Place(str(self.path)), text)]) from None
        except OSError as error:
            text = f"cannot open the records ({error.strerror or error})."
            raise Faults([Fault(Place(str(self.path)), text)]) from None

    def _connected(self, writing: bool) -> sqlite3.Connection:
        if writing and not self.there:
            self.path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
            os.close(os.open(self.path, os.O_CREAT | os.O_WRONLY, 0o600))
        db = sqlite3.connect(
            f"{self.path.absolute().as_uri()}?mode=rw", timeout=WAIT, uri=True, isolation_level=None
        )
        version = db.execute("PRAGMA user_version").fetchone()[0]
        if version > VERSION:
            db.close()
            text = "these records were written by a newer version; update the program."
            raise Faults([Fault(Place(str(self.path)), text)])
        db.execute("PRAGMA foreign_keys = ON")
        db.execute("PRAGMA synchronous = FULL")
        if version < VERSION:
            db.execute("PRAGMA journal_mode = WAL")
            _migrate(db)
        return db


def _migrate(db: sqlite3.Connection) -> None:
    """Bring the tables to this version; where two come at once the second finds it done."""
    db.execute("BEGIN IMMEDIATE")
    version = db.execute("PRAGMA user_version").fetchone()[0]
    for step in MIGRATIONS[version:]:
        for statement in _statements(step):
            db.execute(statement)
    db.execute(f"PRAGMA user_version = {VERSION}")
    db.execute("COMMIT")


def _statements(script: str) -> Iterator[str]:
    """The statements of a script, one by one: a script as a whole would end the transaction."""
    held = ""
    for part in script.split(";"):
        held += part + ";"
        if held.strip(" \n;") and sqlite3.complete_statement(held):
            yield held
            held = ""


def _chained(new: New, number: int, written: str, before: str) -> Entry:
    entry = Entry(new.card, new.what, new.on, new.body, new.by, number, written, before)
    return replace(entry, hash=entry.proven)


def _all(db: sqlite3.Connection) -> list[Entry]:
    return [_entry(row) for row in db.execute(f"SELECT {COLUMNS} FROM entries ORDER BY number")]


def _last(db: sqlite3.Connection) -> Entry | None:
    row = db.execute(f"SELECT {COLUMNS} FROM entries ORDER BY number DESC LIMIT 1").fetchone()
    return _entry(row) if row else None


def _row(entry: Entry) -> tuple[object, ...]:
    body = json.dumps(entry.body, sort_keys=True, ensure_ascii=False)
    return (
        *(entry.number, entry.written, entry.card, entry.what, entry.on, entry.by, body),
        *(entry.before, entry.hash),
    )


def _entry(row: tuple[object, ...]) -> Entry:
    number, written, card, what, on, by, body, before, own = map(str, row)
    return Entry(
        card=card,
        what=what,
        on=on,
        body=json.loads(body),
        by=by,
        number=int(number),
        written=written,
        before=before,
        hash=own,
    )


def _fault(path: Path, entries: Iterable[Entry]) -> Fault | None:
    """The first place where the chain of all entries is broken."""
    before = FIRST
    for n, entry in enumerate(entries, 1):
        if entry.number != n or entry.before != before or entry.proven != entry.hash:
            text = (
                f"entry {n} is not as it was written, or is missing: the records were changed by"
                " other hands. They are only read; go back to a back-up."
            )
            return Fault(Place(str(path)), text)
        before = entry.hash
    return None


def _cannot(error: sqlite3.OperationalError) -> str:
    if "locked" in str(error):
        return f"another program has been writing here for {WAIT} seconds; try again."
    return f"cannot use the records ({error}); see that the file is there and may be written."
