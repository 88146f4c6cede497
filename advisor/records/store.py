"""The file of entries: SQLite, only ever added to, each entry chained to the one before.

Two programs may write at once; one waits for the other. Where the chain is broken the file is only
read, and said to be. The chain shows what was changed, left out, put elsewhere or cut off by chance
or by a clumsy hand; against one that works all hashes anew stands only an entry's hash kept
elsewhere, such as a case's 'as of'.
"""

from __future__ import annotations

import json
import os
import sqlite3
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from msgspec.structs import replace

from advisor import kept
from advisor.faults import Fault, Faults, Place
from advisor.records.entry import CARD, FIRST, Entry, New
from advisor.user_data import folder

WAIT = 30  # seconds that one writer waits for another
EMPTY = "{}"  # the body of most uses
AGAIN = 0.02  # seconds between two tries
VERSION = 3  # of the tables; see MIGRATIONS
FILE = "records.sqlite"
LONGEST = 60  # characters of a mark
LAST = 2**62  # no entry has a greater number
SETTLED = 2_000_000_000  # nanoseconds after which a further change bears another time
WHOLE = "whole"  # what is kept of a chain that was proven

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
# The end of the chain, by which a tail that was cut off is seen; and a row in place of another is
# refused, which SQLite would not take for a removal.
HEAD = f"""
CREATE TABLE head (
    one INTEGER PRIMARY KEY CHECK (one = 1), number INTEGER NOT NULL, hash TEXT NOT NULL);
INSERT INTO head SELECT 1, number, hash FROM entries ORDER BY number DESC LIMIT 1;
CREATE TRIGGER entries_follow BEFORE INSERT ON entries
    WHEN NEW.number <> coalesce((SELECT max(number) FROM entries), 0) + 1
    OR NEW.before <> coalesce((SELECT hash FROM entries ORDER BY number DESC LIMIT 1), '{FIRST}')
    BEGIN SELECT RAISE(ABORT, 'an entry follows the last one'); END;
CREATE TRIGGER entries_end AFTER INSERT ON entries
    BEGIN INSERT OR REPLACE INTO head VALUES (1, NEW.number, NEW.hash); END;
"""
# What brings the tables from one version to the next.
MIGRATIONS = (TABLE, BY_CARD, HEAD)
COLUMNS = "number, written, card, what, on_day, by, body, before, hash"


def usual_place() -> Path:
    """Where records are kept unless a file is named: the user's data folder, or
    PITCH_ADVISOR_DATA.
    """
    return folder() / FILE


class Store:
    """The entries of one file. `now` tells the time of writing, in UTC; a `private` file is
    readable by this user only; `clock` counts the nanoseconds by which the system dates files.
    """

    def __init__(
        self,
        path: Path,
        now: Callable[[], str],
        private: bool = False,
        clock: Callable[[], int] = time.time_ns,
    ) -> None:
        self.path, self.now, self.private, self.clock = path, now, private, clock
        self._looked: tuple[str, Fault | None] = ("", None)  # (last hash, what was wrong then)
        self._whole: tuple[str, list[Entry]] = ("", [])  # (last hash, the entries found whole then)

    @property
    def there(self) -> bool:
        """Whether anything was ever kept."""
        return self.path.exists()

    def add(self, entries: Iterable[New]) -> list[Entry]:
        """Add entries together, all or none; raises Faults where the file cannot take them, or
        where there is a card already of a mark that they begin.
        """
        entries = list(entries)
        with self._open(writing=True) as db:
            db.execute("BEGIN IMMEDIATE")
            every = _all(db)
            fault = _fault(self.path, every, _head(db))
            faults = [fault] if fault else list(_marks_taken(every, entries))
            if faults:
                raise Faults(faults)
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
        last = self.last() if not (card or up_to) else None
        if last and last.hash == self._whole[0]:
            return list(self._whole[1])  # read, and found whole, a moment ago
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
        state = self.state()
        with self._open() as db:
            every, head = _all(db), _head(db)
        fault = _fault(self.path, every, head)
        if every and not fault:
            self._whole = (every[-1].hash, every)
            if state and state == self.state():
                kept.write(self.name, state, WHOLE)
        return fault

    def doubt(self) -> Fault | None:
        """The same for whoever reads: looked at again only once the file was changed."""
        state = self.state()
        if state and kept.read(self.name, state) == WHOLE:
            return None  # as it was when every hash of it was proven
        last = self.last()
        key = last.hash if last else ""
        if self._looked[0] != key or not key:
            self._looked = (key, self.check())
        return self._looked[1]

    def state(self) -> str:
        """What tells the file as it stands from how it stood at any other time: which file it is,
        its length, and when its content and its own entry in the folder were last changed. '' where
        this cannot be told: it was changed but a moment ago, so that one change more might bear the
        same time; a log beside it waits to be written; or the system does not say.
        """
        try:
            found = os.stat(self.path)
            waiting = Path(f"{self.path}-wal")
            if os.name != "posix" or waiting.exists() and waiting.stat().st_size:
                return ""
        except OSError:
            return ""
        if self.clock() - max(found.st_ctime_ns, found.st_mtime_ns) < SETTLED:
            return ""
        of = (found.st_dev, found.st_ino, found.st_size, found.st_mtime_ns, found.st_ctime_ns)
        return " ".join(map(str, of))

    @property
    def name(self) -> str:
        """What is kept of this file between starts is kept under this name."""
        return f"records-{kept.short(self.path.absolute())}"

    def back_up(self, to: Path) -> None:
        """Copy the whole file as it stands, also while another writes; raises Faults."""
        if not self.there:
            raise Faults([Fault(Place(str(self.path)), "there are no records to copy yet.")])
        try:
            os.close(os.open(to, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
        except FileExistsError:
            text = "this file is there already; name another."
            raise Faults([Fault(Place(str(to)), text)]) from None
        except OSError as error:
            text = f"cannot write the copy ({error.strerror or error})."
            raise Faults([Fault(Place(str(to)), text)]) from None
        try:
            with self._open() as db, closing(sqlite3.connect(to)) as copy:
                db.backup(copy)
        except BaseException:
            to.unlink()  # half a copy would pass for one
            raise

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
            mode = 0o600 if self.private else 0o666  # less what the user's mask takes away
            os.close(os.open(self.path, os.O_CREAT | os.O_WRONLY, mode))
        db = sqlite3.connect(
            f"{self.path.absolute().as_uri()}?mode=rw", timeout=WAIT, uri=True, isolation_level=None
        )
        db.execute("BEGIN")  # both of one moment: another program may be making the tables
        version = db.execute("PRAGMA user_version").fetchone()[0]
        tables = db.execute("SELECT count(*) FROM sqlite_master").fetchone()[0]
        db.execute("COMMIT")
        if version > VERSION:
            db.close()
            text = "these records were written by a newer version; update the program."
            raise Faults([Fault(Place(str(self.path)), text)])
        db.execute("PRAGMA foreign_keys = ON")
        db.execute("PRAGMA synchronous = FULL")
        if version == 0 and tables:
            db.close()
            raise ValueError("its tables are of another program")
        # What is broken stays as it was found: it is only read.
        if version == 0 or (version < VERSION and not _fault(self.path, _all(db), None)):
            _keep_a_log(db)
            _migrate(db)
        return db


def _keep_a_log(db: sqlite3.Connection) -> None:
    """Have the file write ahead to a log. Where two begin it at once SQLite turns one of them away
    here without waiting, so that it is tried again.
    """
    until = time.monotonic() + WAIT
    while True:
        try:
            db.execute("PRAGMA journal_mode = WAL")
            return
        except sqlite3.OperationalError:
            if time.monotonic() > until:
                raise
            time.sleep(AGAIN)


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


def _head(db: sqlite3.Connection) -> tuple[int, str] | None:
    """(number, hash) of the entry that was added last; None where the tables do not keep it."""
    if db.execute("PRAGMA user_version").fetchone()[0] < VERSION:
        return None
    row = db.execute("SELECT number, hash FROM head").fetchone()
    return (int(row[0]), str(row[1])) if row else (0, FIRST)


def _marks_taken(every: Iterable[Entry], entries: Iterable[New]) -> Iterator[Fault]:
    """What is wrong with the marks of new cards; two that differ only by a capital or a blank would
    be taken for one another.
    """
    known = {_plain(mark): mark for mark in sorted({e.card for e in every})}
    for new in entries:
        if new.what != CARD:
            continue
        like = known.setdefault(_plain(new.card), "")
        known[_plain(new.card)] = new.card
        odd = not new.card.isprintable() or "," in new.card or "?" in new.card  # 'L3?' is in doubt
        if odd or not new.card or new.card != new.card.strip() or len(new.card) > LONGEST:
            text = "a mark is of 1 to 60 plain characters, without a comma or a question mark."
            yield Fault(Place(new.card), text)
        elif like == new.card:
            text = "there is a card of this mark already; 'change' adds to it."
            yield Fault(Place(new.card), text)
        elif like:
            text = f"it would be taken for the card '{like}', which is there already; mark it anew."
            yield Fault(Place(new.card), text)


def _plain(mark: str) -> str:
    return "".join(mark.split()).casefold()


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
        body={} if body == EMPTY else json.loads(body),
        by=by,
        number=int(number),
        written=written,
        before=before,
        hash=own,
    )


def _fault(path: Path, entries: Iterable[Entry], head: tuple[int, str] | None) -> Fault | None:
    """The first place where the chain of all entries is broken."""
    number, before = 0, FIRST
    for number, entry in enumerate(entries, 1):
        if entry.number != number or entry.before != before or entry.proven != entry.hash:
            return _broken(path, number)
        before = entry.hash
    if head and head != (number, before):
        return _broken(path, number + 1 if head[0] > number else number)
    return None


def _broken(path: Path, number: int) -> Fault:
    text = (
        f"entry {number} is not as it was written, or is missing: the records were changed by"
        " other hands. They are only read; go back to a back-up."
    )
    return Fault(Place(str(path)), text)


def _cannot(error: sqlite3.OperationalError) -> str:
    if "locked" in str(error):
        return f"another program has been writing here for {WAIT} seconds; try again."
    return f"cannot use the records ({error}); see that the file is there and may be written."
