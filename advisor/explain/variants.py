"""A case with some facts changed."""

from __future__ import annotations

from typing import NamedTuple

from msgspec.structs import replace

from advisor.decide.names import value_text
from advisor.facts.values import Fact
from advisor.facts.world import KNOWN
from advisor.faults import Place


class Change(NamedTuple):
    """One fact given another value (in the engine's form); `text` says it in words."""

    entity: str
    key: str
    value: object
    text: str

    @property
    def fact(self) -> tuple:
        """(entity, key): what is changed."""
        return self.entity, self.key


def with_changes(case, base, changes):
    """A copy of a case with the changes made; the case itself is untouched."""
    facts = dict(case.facts)
    for c in changes:
        facts[c.fact] = Fact(c.entity, c.key, KNOWN, c.value, c.text, "what if", Place("what if"))
    return replace(case, facts=facts)


def change_of(base, attribute, entity, value) -> Change:
    """A Change with its words."""
    return Change(entity, attribute.key, value, value_text(base, attribute, value))
