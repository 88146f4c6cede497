"""Reading rules/hearing/*.yaml: how people speak and type, and what their ways of saying mean."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from advisor.faults import Fault
from advisor.load.schema import form_faults
from advisor.load.tree import Document

LISTS = ("forms", "signs", "topics")  # parts of which each file holds some more


def read_hearing(documents: Iterable[Document]) -> tuple[dict[str, Any], list[Fault]]:
    """({part: data of all files}, faults); a word that two files tell of is a fault."""
    found: dict[str, Any] = {}
    faults: list[Fault] = []
    for document in documents:
        wrong = form_faults(document, "hearing")
        faults += wrong
        for part, data in {} if wrong else document.data.items():
            if part in LISTS:
                found.setdefault(part, []).extend(data)
                continue
            known = found.setdefault(part, {})
            faults += [
                Fault(document.key_place([part, name]), f"'{name}' stands in another file already.")
                for name in data
                if name in known
            ]
            known.update(data)
    return found, faults
