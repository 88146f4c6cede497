"""The phrase index kept between starts, beside the rule base's own cache: reading it back costs a small part of building it.

Python's own form for compiled modules (marshal), under the hash of the rule files. One that cannot be read or written is silently done without.
"""
from __future__ import annotations

import marshal
import os
import sys
from pathlib import Path


class Phrases:
    """Phrases by their stems, kept as plain tuples and made into senses only when they are asked for."""

    def __init__(self, plain: dict, make):
        self._plain, self._make, self._made = plain, make, {}

    def __contains__(self, stems) -> bool:
        return stems in self._plain

    def __getitem__(self, stems):
        found = self._made.get(stems)
        if found is None:
            found = self._made[stems] = tuple(self._make(row) for row in self._plain[stems])
        return found

    def get(self, stems, otherwise=()):
        return self[stems] if stems in self._plain else otherwise

    def items(self):
        return ((stems, self[stems]) for stems in self._plain)


def read(sha256: str) -> dict | None:
    """The index's plain data, or None."""
    try:
        return marshal.loads(_store(sha256).read_bytes())
    except (OSError, ValueError, EOFError, TypeError):
        return None


def write(sha256: str, plain: dict):
    """Keep the index's plain data; a folder that cannot be written is no matter."""
    store = _store(sha256)
    try:
        store.parent.mkdir(parents=True, exist_ok=True)
        draft = store.with_suffix(f".{os.getpid()}")
        draft.write_bytes(marshal.dumps(plain))
        draft.replace(store)
    except (OSError, ValueError):
        return


def _store(sha256: str) -> Path:
    home = os.environ.get("XDG_CACHE_HOME") or (os.environ.get("LOCALAPPDATA") if os.name == "nt" else None) or Path.home() / ".cache"
    here = Path(__file__).resolve().parent
    stamp = sum(int((here / part).stat().st_mtime_ns) for part in ("index.py", "tokens.py", "words.py", "kept.py"))
    return Path(home) / "ladder-pitch-advisor" / f"{sha256[:32]}-phrases-{stamp % 10**12}-{sys.implementation.cache_tag}"
