"""Records that can be said as JSON. `to_json` is the only maker of such dicts."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass, fields
from types import MappingProxyType
from typing import Any

NOT_ASCII = re.compile("[^\n -~]")
# What a field's metadata may say of its place in the JSON.
KEPT_INSIDE: Mapping[str, object] = MappingProxyType({"kept inside": True})
LEFT_OUT_WHEN_EMPTY: Mapping[str, object] = MappingProxyType({"left out when empty": True})


def called(name: str) -> Mapping[str, object]:
    """Metadata of a field whose name in the JSON is a word that Python keeps for itself."""
    return {"name": name}


@dataclass(frozen=True)
class Record:
    """A record with a JSON form: its fields by name, tuples as lists, records within as dicts."""

    def to_json(self) -> dict[str, Any]:
        """The record as JSON types, freshly made."""
        return {
            str(field.metadata.get("name", field.name)): plain(value)
            for field in fields(self)
            if "kept inside" not in field.metadata
            for value in (getattr(self, field.name),)
            if value or "left out when empty" not in field.metadata
        }


def as_json(value: object) -> str:
    """A record, or records in dicts, as JSON text: sorted keys, two spaces, a final newline; the
    same bytes for the same record.
    """
    return visible(json.dumps(plain(value), indent=2, sort_keys=True, ensure_ascii=False)) + "\n"


def visible(text: str) -> str:
    """JSON text in which characters that do not show, or turn the direction of writing, are
    escaped.
    """
    return NOT_ASCII.sub(lambda m: m[0] if m[0].isprintable() else json.dumps(m[0])[1:-1], text)


def plain(value: object) -> Any:
    """A value of a record as JSON types."""
    if isinstance(value, Record):
        return value.to_json()
    if isinstance(value, Mapping):
        return {name: plain(part) for name, part in value.items()}
    if isinstance(value, (tuple, list)):
        return [plain(part) for part in value]
    return value
