"""The phrase index kept between starts, under the hash of the rule files: reading it back costs a
small part of building it.
"""

from __future__ import annotations

from pathlib import Path

from advisor.load import kept

HERE = Path(__file__).resolve().parent
BUILDING = ("index.py", "tokens.py", "words.py", "kept.py")


class Phrases:
    """Phrases by their stems, kept as plain tuples and made into senses only when they are asked
    for.
    """

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
    return kept.read(_name(sha256))


def write(sha256: str, plain: dict):
    """Keep the index's plain data."""
    kept.write(_name(sha256), plain)


def _name(sha256) -> str:
    return f"{sha256[:32]}-phrases-{kept.stamp(*(HERE / part for part in BUILDING))}"
