"""The read rule base and its compiled strata kept under the hash of the files: a warm start reads
no rule file.
"""

from __future__ import annotations

from pathlib import Path

from advisor.engine.plain import compile_strata
from advisor.facts.vocabulary import Attribute, Entity, Vocabulary
from advisor.faults import Place
from advisor.load import kept
from advisor.load.base import Base, files_of, fingerprint, passed_over, read_base
from advisor.load.packed import packed, unpacked
from advisor.model.calculation import Calculation, Figure
from advisor.model.rule import Rule


def load_base(folder: Path):
    """(Base, code of the compiled strata); raises Faults."""
    sha256 = fingerprint(folder, files_of(folder))
    name = f"rules-{kept.short(folder.resolve())}"
    found = _unpacked(kept.read(name, sha256))
    if found and not passed_over(folder):
        return found
    base = read_base(folder, sha256)
    code = compile_strata(base.rules, base.strata)
    kept.write(name, sha256, (to_plain(base), code))
    return base, code


def _unpacked(stored):
    """(Base, code) from what was kept; None where it is nothing, or of another shape."""
    try:
        data, code = stored
        return from_plain(data), code
    except (ValueError, TypeError, LookupError, AttributeError):
        return None


def to_plain(base: Base) -> dict:
    """A Base as plain data."""
    data = _plain(base)
    data["vocabulary"] = {
        name: {
            "name": e.name,
            "many": e.many,
            "say_kind": e.say_kind,
            "help": e.help,
            "phrases": e.phrases,
            "attributes": {n: _plain(a) for n, a in e.attributes.items()},
        }
        for name, e in base.vocabulary.entities.items()
    }
    data["rules"] = [
        {**_plain(rule), "condition": packed(rule.condition), "place": tuple(rule.place)}
        for rule in base.rules
    ]
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
        entities[name] = Entity(
            spec["name"], spec["many"], spec["say_kind"], spec["help"], spec["phrases"], attributes
        )
    data["figures"] = {name: Figure(*f) for name, f in data["figures"].items()}
    data["calculations"] = tuple(Calculation(*c) for c in data["calculations"])
    rules = tuple(
        Rule(**{**r, "condition": unpacked(r["condition"]), "place": Place(*r["place"])})
        for r in data["rules"]
    )
    return Base(**{**data, "vocabulary": Vocabulary(entities), "rules": rules})
