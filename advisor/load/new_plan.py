"""What is asked for a new plan: rules/new-plan.yaml, checked against the vocabulary."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

from msgspec import Struct

from advisor.facts.vocabulary import Attribute, Vocabulary
from advisor.faults import Fault, Faults, did_you_mean
from advisor.load.schema import form_faults
from advisor.load.tree import Document, Trail, read_document

FILE = "new-plan.yaml"


class Part(Struct, frozen=True):
    """Facts of one thing, or of each of several whose names `called` asks for."""

    of: str
    facts: tuple[Attribute, ...]
    called: str = ""


class NewPlan(Struct, frozen=True):
    """`asks`: what is asked; `more`: what a template also names."""

    asks: tuple[Part, ...]
    more: tuple[Part, ...]


def read_new_plan(vocabulary: Vocabulary, folder: Path) -> NewPlan:
    """The parts in the order of the file in a rules folder; raises Faults."""
    path = folder / FILE
    document = read_document(path, os.path.relpath(path))
    faults = form_faults(document, "new-plan") or list(_unknown(document, vocabulary))
    if faults:
        raise Faults(faults)
    return NewPlan(
        *(tuple(_part(vocabulary, one) for one in document.data[name]) for name in ("asks", "more"))
    )


def _part(vocabulary: Vocabulary, data: dict[str, object]) -> Part:
    entity, _ = vocabulary.split(str(data["of"])) or (None, "")
    assert entity is not None  # _unknown has seen to it
    facts = data["facts"]
    assert isinstance(facts, list)
    return Part(
        str(data["of"]),
        tuple(entity.attributes[name] for name in facts),
        str(data.get("called", "")),
    )


def _unknown(document: Document, vocabulary: Vocabulary) -> Iterator[Fault]:
    """A fault for each thing or fact that the vocabulary does not have."""
    for name in ("asks", "more"):
        for number, part in enumerate(document.data[name]):
            split = vocabulary.split(part["of"])
            trail: Trail = [name, number]
            if split is None:
                near = did_you_mean(part["of"], vocabulary.entities)
                yield Fault(
                    document.place([*trail, "of"]), f"'{part['of']}' is nothing a case knows.{near}"
                )
                continue
            stated = {n: a for n, a in split[0].attributes.items() if not a.derived}
            for index, fact in enumerate(part["facts"]):
                if fact not in stated:
                    place = document.place([*trail, "facts", index])
                    near = did_you_mean(fact, stated)
                    yield Fault(place, f"'{fact}' is no fact to state of {part['of']}.{near}")
