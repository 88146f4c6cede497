"""The senses of phrases, as they are kept between starts."""

from __future__ import annotations


class Phrases:
    """Phrases by their stems, kept as plain tuples and made into senses only when they are asked
    for.
    """

    def __init__(self, plain: dict, make):
        self._plain, self._make = plain, make
        self._made: dict = {}

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
