"""Hostile inputs at the doors of the program, in this process: case files, lines of talk, kept
sessions, tables, local guidance and the command line.
"""

from __future__ import annotations

import contextlib
import os
import tempfile
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from random import Random

HERE = Path(__file__).resolve().parent
PIECES = (
    "\x00",
    "\x1b[2J",
    "\x85",
    "\u202e",
    "\u2028",
    "\ufeff",
    "\ud800",
    "🪢",
    "&a ",
    "*a",
    "!!int ",
    "<<: ",
    "{",
    "}",
    "[",
    "]",
    "\t",
    "- ",
    "? ",
    ": ",
    "|\n",
    ">-\n",
    "%",
    "---\n",
    "1e999",
    ".nan",
    "010",
    "-1",
    "10" * 200,
    "yes?",
    "unknown",
    "12-14 m",
    "at least",
    "not",
    "'",
    '"',
    "=HYPERLINK(1)",
    ",",
    ";",
    "../",
    "~",
    "null",
    "$(x)",
    "{0}",
    "%s",
    "a" * 5000,
    "not " * 60,
    "if ",
    "sorry, ",
    "and " * 30,
)


def mutated(text: str, rng: Random) -> str:
    """A text with one to four places cut, doubled, swapped or filled with something odd."""
    for _ in range(rng.randint(1, 4)):
        at, length = rng.randint(0, len(text)), rng.randint(1, 12)
        how = rng.randrange(4)
        if how == 0:
            text = text[:at] + text[at + length :]
        elif how == 1:
            text = text[:at] + rng.choice(PIECES) + text[at:]
        elif how == 2:
            text = text[: at + length] + text[at:]
        else:
            rows = text.split("\n")
            one, other = rng.randrange(len(rows)), rng.randrange(len(rows))
            rows[one], rows[other] = rows[other], rows[one]
            text = "\n".join(rows)
    return text


def _bytes(text: str, rng: Random) -> bytes:
    raw = text.encode("utf-8", "surrogatepass")
    return raw if rng.randrange(20) else raw + bytes(rng.randrange(256) for _ in range(8))


@cache
def _advisor():
    from advisor.advise import Advisor

    return Advisor()


@cache
def _texts(folder: str, ending: str = ".yaml") -> tuple[str, ...]:
    files = sorted((HERE.parent / folder).rglob(f"*{ending}"))
    return tuple(path.read_text("utf-8") for path in files)


@cache
def _lines() -> tuple[str, ...]:
    """What people type: the left sides of the corpus of talk."""
    import yaml

    read = [yaml.safe_load(text) for text in _texts("tests/language/corpus")]
    return tuple(str(line).partition("=>")[0] for lines in read for line in _flat(lines))


def _flat(value) -> list:
    if isinstance(value, (list, dict)):
        inside = value.values() if isinstance(value, dict) else value
        return [one for part in inside for one in _flat(part)]
    return [value] if isinstance(value, str) and "=>" in value else []


def _shown(text: str) -> None:
    odd = [c for c in text if not c.isprintable() and c != "\n"]
    if odd:
        raise AssertionError(f"shown raw: {odd[:5]}")


def _a_case(rng: Random) -> str:
    from advisor.faults import Faults
    from advisor.load.case import build_case
    from advisor.load.tree import parse_document

    raw = _bytes(mutated(rng.choice(_texts("cases")), rng), rng)
    try:
        case = build_case(parse_document(raw, "hostile"), _advisor().base)
    except Faults as faults:
        _shown(str(faults))
        return "refused"
    if rng.randrange(10):
        return "read"
    from advisor.model.record import as_json

    _shown(as_json(_advisor().advise(case)))
    return "advised"


@contextlib.contextmanager
def _elsewhere() -> Iterator[None]:
    """An empty folder to stand in: a line may ask for a file to be written, '../' before it."""
    here = Path.cwd()
    with tempfile.TemporaryDirectory() as folder:
        inner = Path(folder) / "a/b/c"
        inner.mkdir(parents=True)
        os.chdir(inner)
        try:
            yield
        finally:
            os.chdir(here)


def _a_line(rng: Random) -> str:
    from advisor.chat.faces import as_json
    from advisor.chat.session import Session
    from advisor.chat.turn import take

    session = Session(_advisor())
    with _elsewhere():
        for _ in range(rng.randint(1, 3)):
            reply = take(session, mutated(rng.choice(_lines()), rng))
    _shown(as_json(reply))
    return "heard" if reply.heard else "not heard"


def _a_session(rng: Random) -> str:
    from advisor.chat.faces import status
    from advisor.chat.session import Session
    from advisor.chat.store import Store, load
    from advisor.chat.turn import take
    from advisor.faults import Faults

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "session.json"
        path.write_bytes(_bytes(mutated(_a_kept_session(), rng), rng))
        session = Session(_advisor())
        try:
            load(path, session)
        except Faults as faults:
            _shown(str(faults))
            return "refused"
        status(session)
        if not rng.randrange(10):
            take(session, "pitch depth: 9 m")
        Store(path, None).save(session)
        return "gone on with"


@cache
def _a_kept_session() -> str:
    from advisor.chat.session import Session
    from advisor.chat.store import Store
    from advisor.chat.turn import take

    session = Session(_advisor())
    for line in ("14 m shaft, nine of them", "keep that as plan b", "they come from the left"):
        take(session, line)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "session.json"
        Store(path, None).save(session)
        return path.read_text("utf-8")


def _a_table(rng: Random) -> str:
    from advisor.faults import Faults
    from advisor.records.sheets import read_tables

    text = "mark;type;Length (m);bought\nL1;ladder;10,5;3.4.2024\nR2;rope;30;2023-02-01\n"
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "kit.csv"
        path.write_bytes(_bytes(mutated(text, rng), rng))
        try:
            tables = read_tables(path)
        except Faults as faults:
            _shown(str(faults))
            return "refused"
        return "read" if tables else "empty"


def _guidance(rng: Random) -> str:
    from advisor.faults import Faults
    from advisor.load.local import over_base, read_local

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "own.yaml"
        path.write_bytes(_bytes(mutated(rng.choice(_texts("rules/local")), rng), rng))
        try:
            local = read_local(path, _advisor().base)
        except Faults as faults:
            _shown(str(faults))
            return "refused"
        if not rng.randrange(20):
            over_base(_advisor().base, local)
        return "read"


WORDS = (
    "advise",
    "compare",
    "export",
    "chat",
    "drill",
    "kit",
    "add",
    "use",
    "import",
    "cases",
    "rules",
    "facts",
    "--set",
    "--local",
    "--at",
    "head",
    "--paper",
    "card",
    "-o",
    "-",
    "--why",
    "--levels",
    "2",
    "--all",
    "--on",
    "2026-01-01",
    "pitch.depth=9 m",
    "tether",
    "--format",
    "json",
    "--",
    "-x",
    "",
    " ",
    "@",
    "--help",
)


def _a_command(rng: Random) -> str:
    import io

    from advisor.cli import parser

    words = [rng.choice(WORDS) for _ in range(rng.randint(0, 6))]
    words = [mutated(word, rng) if not rng.randrange(4) else word for word in words]
    said = io.StringIO()
    with contextlib.redirect_stderr(said), contextlib.redirect_stdout(said):
        try:
            parser().parse_args(words)
        except SystemExit as end:
            if end.code not in (0, 2):
                raise AssertionError(f"exit code {end.code} of {words}") from None
            return "refused or told"
    return "taken"


DOORS: dict[str, tuple[int, Callable[[Random], str]]] = {  # how often of 100, and the door
    "case": (25, _a_case),
    "line": (15, _a_line),
    "session": (15, _a_session),
    "table": (20, _a_table),
    "guidance": (10, _guidance),
    "command": (15, _a_command),
}


def at_a_door(number: int) -> str:
    """One hostile input at one door: refused in a sentence or taken, and never anything else.
    Returns what it came to.
    """
    rng = Random(number)
    name = rng.choices([*DOORS], [share for share, _ in DOORS.values()])[0]
    return f"{name} {DOORS[name][1](rng)}"
