"""Safe keeping: a session is written whole after every turn, under its own name, by rename; a
damaged or newer file is refused and kept.
"""

from __future__ import annotations

import json
import os
import re
import time
from pathlib import Path

from advisor.bounded import read_file
from advisor.chat.lock import taken
from advisor.chat.session import About
from advisor.facts.values import ASSUMED, Assumed, as_assumed
from advisor.facts.vocabulary import AT_HOME, AT_THE_HEAD
from advisor.faults import Fault, Faults, Place
from advisor.load.tree import UNSHOWABLE
from advisor.model.advice import OnFile, PieceOnCard
from advisor.user_data import folder

FORM, MOST_BYTES = 1, 50_000_000


class Store:
    """One session's file, with one writer: two chats at once get two files."""

    def __init__(self, path: Path, lock: int | None):
        self.path, self.lock = path, lock

    @classmethod
    def new(cls) -> Store:
        """A file of its own: the name is taken by creating it, so no other chat can have it."""
        place = folder() / "sessions"
        place.mkdir(parents=True, exist_ok=True, mode=0o700)
        stamp = time.strftime("%Y-%m-%d-%H%M%S")
        for number in range(1000):
            path = place / f"{stamp}{f'-{number}' if number else ''}.json"
            try:
                os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
                _tidy(place)
                return cls(path, taken(path.with_suffix(".lock")))
            except FileExistsError:
                continue
        raise Faults([Fault(Place(str(place)), "no free name for a new session; remove old ones.")])

    @classmethod
    def old(cls, path: Path):
        """The store of a file that exists, or None while another chat is writing it."""
        lock = taken(path.with_suffix(".lock"))
        return None if lock is None else cls(path, lock)

    def save(self, session):
        """Write the whole session beside its file and put it in place in one move."""
        draft = _draft(self.path)  # the lock makes this chat its only writer
        try:
            with open(
                os.open(draft, os.O_CREAT | os.O_WRONLY | os.O_TRUNC, 0o600), "w", encoding="utf-8"
            ) as file:  # what was said is the user's own
                json.dump(_data(session), file, ensure_ascii=False)
                file.flush()
                os.fsync(file.fileno())
            os.replace(draft, self.path)
        except OSError:
            draft.unlink(missing_ok=True)
            raise

    def close(self):
        """Let go of the file; one in which nothing was said is removed."""
        try:
            if self.path.exists() and not self.path.stat().st_size:
                self.path.unlink()
                self.path.with_suffix(".lock").unlink(missing_ok=True)
        except OSError:
            pass  # an empty file left behind does no harm
        if self.lock is not None:
            os.close(self.lock)
            self.lock = None


def _draft(path: Path) -> Path:
    """Where a session is written before it is put in place."""
    return path.with_name(path.name + ".part")


def _tidy(place: Path):
    """Remove what chats that were killed while they wrote left behind."""
    for left in place.glob("*.json.part"):
        lock = taken(left.with_suffix("").with_suffix(".lock"))
        if lock is not None:  # nobody is writing it
            left.unlink(missing_ok=True)
            os.close(lock)


def _data(session) -> dict:
    return {
        "form": FORM,
        "title": session.title,
        "rule_base": session.advisor.base.sha256,
        "local": session.guidance or session.missed_guidance,
        "turn": session.turn,
        "about": (
            [list(session.about.topics), _rows(session.about.facts)] if session.about else None
        ),
        "steps": [_rows(s) for s in session.steps],
        "undone": [_rows(s) for s in session.undone],
        "asked": sorted(map(list, session.asked)),
        "skipped": sorted(map(list, session.skipped)),
        "twice": sorted(map(list, session.twice)),
        "quiet": session.quiet,
        "at": session.at,
        "question": list(session.question) if session.question else None,
        "last": [session.last_entity, session.last_key],
        "checked": [[*ref, raw, words] for ref, (raw, words) in session.checked.items()],
        "checker": session.checker,
        "on_file": session.on_file.to_json() if session.on_file else None,
        "branches": {name: _rows(b) for name, b in session.branches.items()},
    }


def _piece(row) -> PieceOnCard:
    told = {name: str(row[name]) for name in ("entity", "mark", "type", "by")}
    return PieceOnCard(days={str(n): str(d) for n, d in row["days"].items()}, **told)


def _rows(said) -> list:
    return [[*ref, raw, *([ASSUMED] * isinstance(raw, Assumed))] for ref, raw in said.items()]


def load(path: Path, session) -> list:
    """Fill a session from a file; returns facts left out because the rules no longer know them.

    Raises Faults, and leaves file and session alone, when the file cannot be read."""
    try:
        data = json.loads(read_file(path, MOST_BYTES).decode("utf-8"))
    except OSError as error:
        raise Faults(
            [Fault(Place(str(path)), f"cannot read this session ({error.strerror or error}).")]
        ) from None
    except (ValueError, RecursionError):
        raise _damaged(path) from None
    if not isinstance(data, dict) or not isinstance(data.get("form"), int):
        raise Faults([Fault(Place(str(path)), "this is not a session file; it is kept as it is.")])
    if data["form"] > FORM:
        raise Faults(
            [
                Fault(
                    Place(str(path)),
                    "this session was written by a newer version; update the program. The file is"
                    " kept as it is.",
                )
            ]
        )
    kept = session.snapshot()
    try:
        return _fill(session, data)
    except (LookupError, TypeError, ValueError, AttributeError, OverflowError):
        session.restore(kept)
        raise _damaged(path) from None


def _damaged(path) -> Faults:
    return Faults(
        [
            Fault(
                Place(str(path)),
                "this session file is damaged; it is kept as it is. Start a new chat.",
            )
        ]
    )


def _fill(session, data) -> list:
    lost: list[str] = []
    session.title, session.turn, session.quiet = (
        str(data["title"]),
        int(data["turn"]),
        bool(data["quiet"]),
    )
    if not data["steps"]:
        raise ValueError("no step at all")
    session.steps = [_facts(session, rows, lost) for rows in data["steps"]]
    session.undone = [_facts(session, rows, lost) for rows in data["undone"]]
    session.asked, session.skipped, session.twice = (  # the last not in files of older versions
        {(str(e), str(k)) for e, k in rows}
        for rows in (data["asked"], data["skipped"], data.get("twice", ()))
    )
    session.branches = {
        name: _facts(session, rows, lost) for name, rows in data["branches"].items()
    }
    session.checked = {  # not in the files of older versions
        (str(e), str(k)): (raw, str(words)) for e, k, raw, words in data.get("checked", ())
    }
    on_file = data.get("on_file")  # not in the files of older versions
    session.on_file = (
        OnFile(
            cards=tuple(map(str, on_file["cards"])),
            expired=tuple(map(str, on_file["expired"])),
            as_of=str(on_file["as_of"]),
            pieces=tuple(_piece(row) for row in on_file.get("pieces", ())),
        )
        if on_file
        else None
    )
    session.checker = str(data.get("checker", ""))
    session.other_rules = data["rule_base"] != session.advisor.base.sha256
    local = data.get("local") or ""  # not in the files of older versions
    session.missed_guidance = "" if local == session.guidance else str(local)
    about = data.get("about")  # not in the files of older versions
    session.about = (
        About(
            tuple(t for t in session.advisor.base.topics if t in about[0]),
            _facts(session, about[1], []),
        )
        if about
        else None
    )
    at = data.get("at")  # not in the files of older versions
    session.at = at if at in (AT_HOME, AT_THE_HEAD) else AT_HOME
    question, last = data["question"], data["last"]
    entity, key = (part if isinstance(part, str) else None for part in last)
    known = session.advisor.base.vocabulary.attribute

    def asked(entity, key):
        """Whether it is still asked: a fact, or a kind of thing of which none is named."""
        return known(key) if entity else key in session.advisor.base.vocabulary.entities

    session.question = tuple(question) if question and asked(*question) else None
    session.last_entity, session.last_key = (entity, key) if key and known(key) else (None, None)
    return list(dict.fromkeys(lost))


def _facts(session, rows, lost) -> dict:
    """The facts of a step that the rules at hand can still read; the others go to `lost`
    as words.
    """
    vocabulary = session.advisor.base.vocabulary
    stored = {(str(e), str(k)): as_assumed(raw) if how else raw for e, k, raw, *how in rows}
    known = {(e, k): raw for (e, k), raw in stored.items() if _fits(vocabulary, e, k)}
    facts = {(e, k): raw for (e, k), raw in known.items() if not session.refusal(e, k, raw, known)}
    lost += [
        f"{e} {k.partition('.')[2]}: {raw}" for (e, k), raw in stored.items() if (e, k) not in facts
    ]
    return facts


def _fits(vocabulary, entity, key) -> bool:
    split, attribute = vocabulary.split(entity), vocabulary.attribute(key)
    return bool(split and attribute and not attribute.derived and attribute.entity == split[0].name)


def sessions() -> list:
    """Session files, newest first; empty ones of chats that said nothing are left out."""
    place = folder() / "sessions"
    try:
        found = [
            (entry.stat(), Path(entry.path))
            for entry in os.scandir(place)
            if entry.name.endswith(".json") and entry.is_file()
        ]  # a dangling link is no file
    except OSError:
        return []
    return [
        path
        for _, path in sorted(
            ((s.st_mtime_ns, path) for s, path in found if s.st_size), reverse=True
        )
    ]


def case_yaml(session) -> str:
    """The session as a case file that reads back to the same facts and is about the same;
    characters that cannot be shown, which no case file may hold, are left out.
    """
    lines = [f"case: {_quoted(session.title or 'From a conversation')}"]
    about = session.case().about
    lines += [f"about: {_quoted(list(about))}"] if about else []
    assumed = {ref: raw for ref, raw in session.said.items() if isinstance(raw, Assumed)}
    known = {ref: raw for ref, raw in session.said.items() if ref not in assumed}
    given = [*_facts_lines("given", known), *_facts_lines("assumed", assumed)]
    return "".join(f"{line}\n" for line in (*lines, *given, *_checked_lines(session)))


def _facts_lines(section: str, facts: dict) -> list[str]:
    """One section of facts, thing by thing."""
    entities: dict[str, list] = {}
    for (entity, key), raw in facts.items():
        entities.setdefault(entity, []).append((key.partition(".")[2], raw))
    lines = [f"{section}:"] if entities else []
    for entity in sorted(entities):
        lines.append(f"  {_quoted(entity)}:")
        lines += [f"    {_quoted(name)}: {_quoted(raw)}" for name, raw in sorted(entities[entity])]
    return lines


def _checked_lines(session) -> list[str]:
    """What was checked together, as the case file says it."""
    together: dict[str, list[str]] = {}
    for (entity, key), words in session.checked_together(session.said).items():
        together.setdefault(words, []).append(f"{entity}.{key.partition('.')[2]}")
    lines = [f"  {_quoted(words)}: {_quoted(sorted(ids))}" for words, ids in together.items()]
    return ["checked:", *lines] if lines else []


def _quoted(value) -> str:
    """A value as JSON, which is YAML too, with escapes in place of what YAML would fold."""
    shown = re.sub(UNSHOWABLE, "", value) if isinstance(value, str) else value
    return "".join(
        c if c.isprintable() else f"\\U{ord(c):08x}" for c in json.dumps(shown, ensure_ascii=False)
    )


def export(session, name) -> str:
    """Write the session as a new case file; returns what came of it in one sentence."""
    if not name.endswith((".yaml", ".yml")):
        return "Say 'export NAME.yaml'."
    if not session.said:
        return "There is nothing to write yet."
    try:
        with open(name, "x", encoding="utf-8") as file:
            file.write(case_yaml(session))
    except FileExistsError:
        return f"{name} exists already; choose another name."
    except (OSError, ValueError) as error:  # a name with a zero byte is a ValueError
        return f"Cannot write {name} ({getattr(error, 'strerror', None) or error})."
    return f"Written: {name}"
