"""A rule in the neutral form that both engines read."""

from __future__ import annotations

import re
from dataclasses import dataclass

from advisor.faults import Place
from advisor.model.conditions import Condition

TEMPLATE = re.compile(r"\{([^{}]*)\}")  # {a} or {a.height} in a text
OPTION_EFFECTS = ("rule out", "prefer", "disfavour")
UNKNOWN_MAY = (
    "stop",
    "require",
    "warn",
    "refer",
    "ask",
)  # effects that may turn on a fact being unknown
CHOICE_MAY = ("require", "warn", "refer", "ask")  # effects that may turn on a decision


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule. `variables`: ((name, entity kind), …); `effects`: ((kind, details), …)."""

    id: str
    title: str
    topic: str
    about: str
    variables: tuple
    condition: Condition
    effects: tuple
    because: str
    sources: tuple
    status: str
    authority: str
    when: str
    place: Place

    def bind(self, entities) -> dict:
        """{variable: entity} for the entities of an instance."""
        return {variable: entity for (variable, _), entity in zip(self.variables, entities)}

    @property
    def derives(self) -> str:
        """The key of the attribute it concludes, or ''."""
        return self.effects[0][1]["key"] if self.effects[0][0] == "derive" else ""
