"""Records that can be said as JSON. `to_json` is the only maker of such dicts."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from functools import cache
from typing import Any, ClassVar

from msgspec import Struct

NOT_ASCII = re.compile("[^\n -~]")


class Record(Struct, frozen=True):
    """A record with a JSON form: its fields by name, tuples as lists, records within as dicts.

    A field whose name Python keeps for itself has another in the JSON (`field(name=…)`).
    """

    left_out_when_empty: ClassVar[tuple[str, ...]] = ()  # of the fields of this class, as are
    kept_inside: ClassVar[tuple[str, ...]] = ()  # those which do not stand in the JSON

    def to_json(self) -> dict[str, Any]:
        """The record as JSON types, freshly made."""
        return {
            called: plain(value)
            for name, called, may_be_left_out in _shown(type(self))
            for value in (getattr(self, name),)
            if value or not may_be_left_out
        }


@cache
def _shown(form: type[Record]) -> list[tuple[str, str, bool]]:
    """The fields that stand in the JSON: (name, name there, whether left out when empty)."""
    inside, empty = (
        {name for kind in form.__mro__ for name in vars(kind).get(said, ())}
        for said in ("kept_inside", "left_out_when_empty")
    )
    named = zip(form.__struct_fields__, form.__struct_encode_fields__)
    return [(name, called, name in empty) for name, called in named if name not in inside]


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
