"""Advice as JSON: the same bytes for the same facts and rule base."""

from __future__ import annotations

import json


def render(advice: dict) -> str:
    """Sorted keys, two spaces, a final newline."""
    return json.dumps(advice, indent=2, sort_keys=True, ensure_ascii=False) + "\n"
