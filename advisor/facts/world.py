"""All that the engines see: who there is, and for every attribute the set of values it may have.

A choice's value is a bit mask of possible values; a number's is (low, high) in steps; a 'named'
attribute's is a bit mask of entities, with one bit more for something the case does not name.
Unknown is simply 'everything possible'.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import reduce
from operator import or_
from typing import Protocol

from advisor.facts.vocabulary import Attribute, Value, Vocabulary

UNKNOWN, DOUBTFUL, KNOWN = 0, 1, 2
STATES = ("unknown", "doubtful", "known")


class Stated(Protocol):
    """As much of a stated fact (see facts.values) as the world takes."""

    @property
    def entity(self) -> str: ...
    @property
    def key(self) -> str: ...
    @property
    def state(self) -> int: ...
    @property
    def value(self) -> Value: ...


class World:
    """kinds: entity kind -> tuple of entity ids; columns: key -> {id: value}; states: (id, key)
    -> state where one was stated;
    bits: id -> bit used in 'named' masks; choices: decision -> option (filled after deciding);
    settled: (id, key) -> key of the answer that settled it (see facts.settle)."""

    __slots__ = ("kinds", "columns", "states", "bits", "choices", "settled")

    def __init__(self, vocabulary: Vocabulary, names: Mapping[str, Iterable[str]]) -> None:
        """names: entity kind -> iterable of the ids a case names. Everything starts unknown."""
        self.kinds: dict[str, tuple[str, ...]] = {
            e.name: tuple(sorted(names.get(e.name, ()))) if e.many else (e.name,)
            for e in vocabulary.entities.values()
        }
        self.bits = {
            entity: 1 << n
            for n, entity in enumerate(i for kind in sorted(self.kinds) for i in self.kinds[kind])
        }
        self.columns: dict[str, dict[str, Value]] = {}
        self.states: dict[tuple[str, str], int] = {}
        self.choices: dict[str, str | None] = {}
        self.settled: dict[tuple[str, str], str] = {}
        for attribute in vocabulary.testable:
            ids = self.kinds[attribute.entity]
            self.columns[attribute.key] = (
                dict.fromkeys(ids, self.anything(attribute)) if ids else {}
            )

    def state(self, fact: Stated) -> None:
        """Take a stated fact (see facts.values); free text is not looked at by rules."""
        if fact.key in self.columns:
            names = isinstance(fact.value, tuple) and isinstance(fact.value[0], str)
            self.columns[fact.key][fact.entity] = (
                reduce(or_, (self.bits[n] for n in fact.value)) if names else fact.value
            )
            self.states[fact.entity, fact.key] = fact.state

    def anything(self, attribute: Attribute) -> Value:
        """Every value the attribute can have in this case."""
        if attribute.type == "named":
            return sum(
                self.bits[i] for kind in attribute.of for i in self.kinds.get(kind, ())
            ) | 1 << len(self.bits)
        return attribute.everything

    def derived(self, attribute: Attribute, values: Mapping[str, Value]) -> None:
        """Set a derived attribute: entity id -> value (mask or interval)."""
        self.columns[attribute.key].update(values)
