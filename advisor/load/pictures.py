"""What strips and close-ups show and say beside the facts: rules/pictures.yaml, checked against the
vocabulary and the sources.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from msgspec import Struct

from advisor.faults import Fault, Faults, did_you_mean
from advisor.load.schema import form_faults
from advisor.load.tree import read_document
from advisor.model.base import Base
from advisor.model.names import TETHER_FORM_TOLD

FILE = "pictures.yaml"


class Frame(Struct, frozen=True):
    """One moment of the change-over: where the person stands, and what holds them."""

    at: str
    cowstail: bool
    lifeline: bool
    say: str


class Shown(Struct, frozen=True):
    """The frames out and back, and what each form of tether does under load."""

    out: tuple[Frame, ...]
    back: tuple[Frame, ...]
    tethers: Mapping[str, str]


def read_shown(base: Base, path: Path) -> Shown:
    """The checked data; raises Faults."""
    document = read_document(path, os.path.relpath(path))
    faults = form_faults(document, "pictures")
    if faults:
        raise Faults(faults)
    data = document.data
    for part in ("change-over", "tethers"):
        source = data[part]["source"]
        if source not in base.sources:
            text = f"'{source}' is not in rules/sources.yaml.{did_you_mean(source, base.sources)}"
            faults.append(Fault(document.place([part, "source"]), text))
    form = base.vocabulary.attribute(TETHER_FORM_TOLD.key)
    known = form.values if form else ()
    for name in data["tethers"]["forms"]:
        if name not in known:
            text = f"'{name}' is not a form of tether.{did_you_mean(name, known)}"
            faults.append(Fault(document.place(["tethers", "forms", name]), text))
    if faults:
        raise Faults(faults)
    over = data["change-over"]
    return Shown(
        out=_frames(over["out"]),
        back=_frames(over["back"]),
        tethers={name: entry["say"] for name, entry in data["tethers"]["forms"].items()},
    )


def _frames(entries: Iterable[Mapping[str, Any]]) -> tuple[Frame, ...]:
    return tuple(
        Frame(
            at=entry["at"],
            cowstail=entry["cowstail"] == "yes",
            lifeline=entry["lifeline"] == "yes",
            say=entry["say"],
        )
        for entry in entries
    )
