"""A rule in the neutral form that both engines read."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeVar

from msgspec import Struct

from advisor.faults import Place
from advisor.model.conditions import Condition
from advisor.model.effects import Derive, Effect

Form = TypeVar("Form", bound=Effect)


class Rule(Struct, frozen=True):
    """One rule.

    `variables`: ((name, entity kind), …); `when`: ((number of a condition, or -1 for the whole,
    its words), …) for what is still open of a branch.
    """

    id: str
    title: str
    topic: str
    about: str
    variables: tuple[tuple[str, str], ...]
    condition: Condition
    effects: tuple[Effect, ...]
    because: str
    sources: tuple[str, ...]
    status: str
    authority: str
    when: tuple[tuple[int, str], ...]
    place: Place

    def bind(self, entities: Iterable[str]) -> dict[str, str]:
        """{variable: entity} for the entities of an instance."""
        return {variable: entity for (variable, _), entity in zip(self.variables, entities)}

    def gives(self, *forms: type[Form]) -> tuple[Form, ...]:
        """Its effects of some forms."""
        return tuple(e for e in self.effects if isinstance(e, forms))

    @property
    def derives(self) -> str:
        """The key of the attribute it concludes, or ''."""
        first = self.effects[0]
        return first.ref.key if isinstance(first, Derive) else ""

    @property
    def conclusion(self) -> Derive:
        """What it concludes; only for a rule that derives a fact."""
        first = self.effects[0]
        assert isinstance(first, Derive), self.id
        return first
