"""One entry of the records, chained to the one before by its hash."""

from __future__ import annotations

import hashlib
import json
from typing import Any

from msgspec import Struct

FIRST = "0" * 64  # the hash before the first entry
CARD = "card"  # the kind of entry that makes a card


class New(Struct, frozen=True):
    """An entry to be added. `card`: its mark; `what`: its kind of card, 'told' or an event of
    rules/records.yaml; `on`: the day it is of, as 2026-03-14; `by`: initials; `body`: JSON types.
    """

    card: str
    what: str
    on: str
    body: dict[str, Any]
    by: str = ""


class Entry(New, frozen=True):
    """An entry as it is kept: its number, when it was written down, and the hashes."""

    number: int = 0
    written: str = ""
    before: str = FIRST
    hash: str = ""

    @property
    def proven(self) -> str:
        """The hash that its content and the entry before it come to."""
        content = [
            self.number,
            self.written,
            self.card,
            self.what,
            self.on,
            self.by,
            self.body,
            self.before,
        ]
        text = json.dumps(content, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
        return hashlib.sha256(text.encode()).hexdigest()

    @property
    def called(self) -> str:
        """What an entry is called where a fact names it."""
        return f"record {self.card} entry {self.number}, {self.on}"
