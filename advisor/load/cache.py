"""The read rule base and its compiled strata kept under the hash of the files: a warm start reads no rule file.

The form is Python's own for compiled modules (marshal), in the user's cache folder, as a .pyc is.
A checksum stands in front of it. A cache that is spoilt, or cannot be read or written, is silently done without; it only ever saves time.
"""
from __future__ import annotations

import hashlib
import marshal
import os
import sys
from pathlib import Path

from advisor.engine.plain import compile_strata
from advisor.facts.vocabulary import Attribute, Entity, Vocabulary
from advisor.faults import Place
from advisor.knowledge.calculation import Calculation, Figure
from advisor.knowledge.rule import Rule
from advisor.load.base import Base, files_of, fingerprint, passed_over, read_base

LENGTH = hashlib.sha256().digest_size   # of the checksum in front
FORM = "6"   # raise when the stored form or the compiled code changes shape


def load_base(folder: Path):
    """(Base, code of the compiled strata); raises Faults."""
    sha256 = fingerprint(folder, files_of(folder))
    store = _store(sha256)
    kept = _read(store)
    if kept and not passed_over(folder):
        return kept
    base = read_base(folder, sha256)
    code = compile_strata(base.rules, base.strata)
    _write(store, base, code)
    return base, code


def cache_folder() -> Path:
    """Where caches are kept; a path that cannot be written where the user has no home."""
    try:
        home = os.environ.get("XDG_CACHE_HOME") or (os.environ.get("LOCALAPPDATA") if os.name == "nt" else None) or Path.home() / ".cache"
    except RuntimeError:   # no HOME, and none in the system's list of users
        home = os.devnull
    return Path(home) / "ladder-pitch-advisor"


def _store(sha256: str) -> Path:
    return cache_folder() / f"{sha256[:32]}-{_program()}-{sys.implementation.cache_tag}"


def _program() -> str:
    """A mark of the program's own loading code, so that a changed program never reads an old cache."""
    package = Path(__file__).resolve().parent.parent
    stamp = sum(int((package / part).stat().st_mtime_ns) for part in ("engine/plain.py", "load/cache.py", "load/rules.py", "load/calculations.py", "knowledge/conditions.py", "load/vocabulary.py"))
    return f"{FORM}-{stamp % 10**12}"


def _read(store: Path):
    try:
        raw = store.read_bytes()
        if hashlib.sha256(raw[LENGTH:]).digest() != raw[:LENGTH]:   # a spoilt byte could change a rule, or end the program
            return None
        data, code = marshal.loads(raw[LENGTH:])
        return from_plain(data), code
    except (OSError, ValueError, EOFError, TypeError, LookupError, AttributeError):
        return None


def _write(store: Path, base: Base, code):
    try:
        store.parent.mkdir(parents=True, exist_ok=True)
        draft = store.with_suffix(f".{os.getpid()}")
        data = marshal.dumps((to_plain(base), code))
        draft.write_bytes(hashlib.sha256(data).digest() + data)
        draft.replace(store)
    except OSError:
        return


def to_plain(base: Base) -> dict:
    """A Base as plain data."""
    data = _plain(base)
    data["vocabulary"] = {name: {"name": e.name, "many": e.many, "say_kind": e.say_kind, "help": e.help, "phrases": e.phrases, "attributes": {n: _plain(a) for n, a in e.attributes.items()}} for name, e in base.vocabulary.entities.items()}
    data["rules"] = [(*_row(rule)[:-1], tuple(rule.place)) for rule in base.rules]
    data["figures"] = {name: _row(f) for name, f in base.figures.items()}
    data["calculations"] = tuple(_row(c) for c in base.calculations)
    return data


def _row(thing) -> tuple:
    """The fields of a dataclass, in order."""
    return tuple(getattr(thing, name) for name in thing.__dataclass_fields__)


def _plain(thing) -> dict:
    """The fields a dataclass is made from, by name."""
    return {name: getattr(thing, name) for name, f in thing.__dataclass_fields__.items() if f.init}


def from_plain(data: dict) -> Base:
    """The Base that to_plain gave."""
    entities = {}
    for name, spec in data["vocabulary"].items():
        attributes = {n: Attribute(**a) for n, a in spec["attributes"].items()}
        entities[name] = Entity(spec["name"], spec["many"], spec["say_kind"], spec["help"], spec["phrases"], attributes)
    data["figures"] = {name: Figure(*f) for name, f in data["figures"].items()}
    data["calculations"] = tuple(Calculation(*c) for c in data["calculations"])
    rules = tuple(Rule(*r[:-1], Place(*r[-1])) for r in data["rules"])
    return Base(**{**data, "vocabulary": Vocabulary(entities), "rules": rules})
