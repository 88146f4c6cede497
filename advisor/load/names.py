"""The names that the program itself knows, held against a rule base that papers are made from: each
must be there, with the values that are told apart.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from pathlib import Path

from advisor.faults import Fault, Place, did_you_mean
from advisor.load.tree import Trail, read_document
from advisor.model.base import Base
from advisor.model.names import CALCULATIONS, DECISIONS, FACTS, PLANNED

REMEDY = "the program itself goes by this name; give it back, or change advisor/model/names.py."


def unknown_names(folder: Path, base: Base) -> list[Fault]:
    """Faults for names of facts, values, decisions and calculations that the base has not."""
    kinds = dict.fromkeys((*(key.partition(".")[0] for key in FACTS), *PLANNED))
    lost = [kind for kind in kinds if kind not in base.vocabulary.entities]
    faults = [
        _missing(folder, _file(kind), [], "entity", kind, base.vocabulary.entities) for kind in lost
    ]
    for key, values in FACTS.items():
        faults += _of_fact(folder, base, key, values) if key.partition(".")[0] not in lost else ()
    faults += [
        _missing(folder, "decisions.yaml", ["decisions"], "decision", name, base.decisions)
        for name in DECISIONS
        if name not in base.decisions
    ]
    return faults + _of_calculations(folder, base)


def _of_fact(folder: Path, base: Base, key: str, values: Iterable[str]) -> Iterator[Fault]:
    """Faults of one fact: that it is not there, or that its values are other ones."""
    entity = key.partition(".")[0]
    file = _file(entity)
    attribute = base.vocabulary.attribute(key)
    if attribute is None:
        known = [a.key for a in base.vocabulary.entities[entity].attributes.values()]
        yield _missing(folder, file, ["attributes"], "fact", key, known)
        return
    for value in values:
        if value not in attribute.values:
            path: Trail = ["attributes", attribute.name]
            yield _missing(folder, file, path, f"value of {key}", value, attribute.values)


def _file(kind: str) -> str:
    return f"vocabulary/{kind.replace(' ', '-')}.yaml"


def _of_calculations(folder: Path, base: Base) -> list[Fault]:
    known = [c.id for c in base.calculations]
    return [
        _missing(folder, "calculations", None, "calculation", identity, known)
        for identity in CALCULATIONS
        if identity not in known
    ]


def _missing(
    folder: Path, file: str, path: Trail | None, what: str, name: str, known: Iterable[str]
) -> Fault:
    """A fault at a part of a file, or at its beginning where it is not there; `path` None for a
    folder.
    """
    at = folder / file
    place = Place(os.path.relpath(at))
    if path is not None and at.is_file():
        document = read_document(at, os.path.relpath(at))
        place = document.key_place(path) if path else document.place([])
    return Fault(place, f"the {what} '{name}' is missing; {REMEDY}{did_you_mean(name, known)}")
