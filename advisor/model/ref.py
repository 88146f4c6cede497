"""What is looked at: an attribute of something."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple, TypeAlias

Bound: TypeAlias = Mapping[str, str]  # the entity that stands for each variable


class Ref(NamedTuple):
    """An attribute (by its key, 'anchor.side') of an entity.

    In a rule the entity may be a variable, which `at` puts an entity in the place of. A pair, so
    that facts can be looked up by it and both engines can name what they looked at alike.
    """

    entity: str
    key: str

    @property
    def attribute(self) -> str:
        """The attribute's own name, 'side'."""
        return self.key.partition(".")[2]

    def at(self, bound: Bound) -> Ref:
        """The same of the entity that a variable stands for."""
        entity = bound.get(self.entity)
        return self if entity is None else Ref(entity, self.key)
