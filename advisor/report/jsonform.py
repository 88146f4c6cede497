"""Advice as JSON: the same bytes for the same facts and rule base."""

from __future__ import annotations

import json

from advisor.model.record import plain


def render(advice: object) -> str:
    """Sorted keys, two spaces, a final newline; takes a record, or records in dicts."""
    return json.dumps(plain(advice), indent=2, sort_keys=True, ensure_ascii=False) + "\n"
