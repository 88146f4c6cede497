"""Reading rules/decisions.yaml and rules/sources.yaml."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from pathlib import Path

from advisor.faults import Fault, Place, did_you_mean
from advisor.load.schema import form_faults
from advisor.load.tree import Data, Document

EMPTY = {"concerns": (), "decisions": {}, "cautions": (), "last word": "", "topics": {}}


def read_decisions(
    document: Document | None, folder: Path, entities: Mapping[str, object]
) -> tuple[Data, list[Fault]]:
    """(decisions data, faults)."""
    if document is None:
        return EMPTY, [
            Fault(
                Place(str(folder / "decisions.yaml")),
                "this file is missing; it lists the decisions and concerns.",
            )
        ]
    faults = form_faults(document, "decisions")
    if faults:
        return EMPTY, faults
    for name, spec in document.data["decisions"].items():
        if sum(key in spec for key in ("each", "options", "by")) != 1:
            faults.append(
                Fault(
                    document.key_place(["decisions", name]),
                    "a decision has either 'options' (words), 'each' (an entity) or 'by' (a"
                    " calculation).",
                )
            )
        elif ("each" in spec) != ("each of itself" in spec):
            faults.append(
                Fault(
                    document.key_place(["decisions", name]),
                    "a decision between things ('each') says under 'each of itself' what speaks for"
                    " and against any one of them; no other decision does.",
                )
            )
        elif "each" in spec and spec["each"] not in entities:
            faults.append(
                Fault(
                    document.place(["decisions", name, "each"]),
                    f"'{spec['each']}' is not an entity.{did_you_mean(spec['each'], entities)}",
                )
            )
    for kind in document.data.get("a plan names", {}):
        if kind not in entities:
            faults.append(
                Fault(
                    document.key_place(["a plan names", kind]),
                    f"'{kind}' is not an entity.{did_you_mean(kind, entities)}",
                )
            )
    for key in ("topics", "told together"):
        faults += _not_entities(document, key, entities)
    return document.data, faults


def _not_entities(document: Document, key: str, entities: Collection[str]) -> list[Fault]:
    """Faults for what is no entity in lists of entities by name."""
    return [
        Fault(
            document.place([key, name, index]),
            f"'{kind}' is not an entity.{did_you_mean(kind, entities)}",
        )
        for name, kinds in document.data.get(key, {}).items()
        for index, kind in enumerate(kinds)
        if kind not in entities
    ]


def read_sources(document: Document | None, folder: Path) -> tuple[Data, list[Fault]]:
    """(sources by id, faults)."""
    if document is None:
        return {}, [
            Fault(
                Place(str(folder / "sources.yaml")),
                "this file is missing; it names where each rule comes from.",
            )
        ]
    faults = form_faults(document, "sources")
    return ({} if faults else document.data), faults
