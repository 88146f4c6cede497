"""The lists and sentences of rules/papers.yaml, checked against the vocabulary and the sources."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from advisor.faults import Fault, Faults, did_you_mean
from advisor.load.schema import form_faults
from advisor.load.tree import Document, read_document
from advisor.model.base import Base
from advisor.model.names import INCIDENT_KIND

TITLE = "case"  # stands for the title of the case where facts fill a field


def read_lists(base: Base, path: Path) -> dict[str, Any]:
    """The checked data; raises Faults."""
    document = read_document(path, os.path.relpath(path))
    faults = form_faults(document, "papers")
    if faults:
        raise Faults(faults)
    faults += [*_unknown_rules(base, document), *_unknown_facts(base, document)]
    kind = base.vocabulary.attribute(INCIDENT_KIND.key)
    incidents = kind.values if kind else ()
    for number, name in enumerate(document.data["main incidents"]):
        if name not in incidents:
            faults.append(
                Fault(
                    document.place(["main incidents", number]),
                    f"'{name}' is not a kind of incident.{did_you_mean(name, incidents)}",
                )
            )
    for number, name in enumerate(document.data["record source"]):
        if name not in base.sources:
            faults.append(
                Fault(
                    document.place(["record source", number]),
                    f"'{name}' is not in rules/sources.yaml.{did_you_mean(name, base.sources)}",
                )
            )
    if faults:
        raise Faults(faults)
    found: dict[str, Any] = document.data
    return found


def _unknown_rules(base: Base, document: Document) -> Iterator[Fault]:
    """Faults of rules that papers name and the base does not have."""
    known = {rule.id for rule in base.rules}
    card, phases = document.data["card"], document.data["phases"]
    named: list[tuple[list[str | int], str]]
    named = [(["card", "change-over", n], r) for n, r in enumerate(card["change-over"])]
    for what, rules in card["incidents"].items():
        named += [(["card", "incidents", what, n], r) for n, r in enumerate(rules)]
    for at, phase in enumerate(phases):
        named += [(["phases", at, "hazards", n], r) for n, r in enumerate(phase["hazards"])]
    for place, rule in named:
        if rule not in known:
            hint = did_you_mean(rule, known)
            yield Fault(document.place(place), f"'{rule}' is not a rule.{hint}")


def _unknown_facts(base: Base, document: Document) -> Iterator[Fault]:
    """Faults of facts that fill a field and that the vocabulary does not have."""
    known = base.vocabulary.by_key
    for number, field in enumerate(document.data["trip"]["fields"]):
        name = field.get("from", TITLE)
        if name != TITLE and name not in known:
            place = document.place(["trip", "fields", number])
            yield Fault(place, f"'{name}' is not a fact.{did_you_mean(name, known)}")
