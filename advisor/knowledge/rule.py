"""A rule in the neutral form that both engines read, and its conditions as plain tuples.

Condition nodes (var is a variable of the rule or the name of a single entity; key is
'entity.attribute'):
    ("in", var, key, mask)                          some of the choice values in mask
    ("num", var, key, op, steps)                    op one of >= <= > < == !=
    ("cmp", var, key, op, var2, key2, num, den)     value op value2 * num / den
    ("same", var, key, var2, key2, pairs, want)     pairs[i] = index of the same word in the
      second choice, or -1
    ("is", var, key, var2, want)                    a 'named' attribute points at (or away from)
      an entity
    ("state", var, key, word)                       word one of known, unknown, doubtful
    ("chosen", decision, option, is_variable)       what a decision came to
    ("all", nodes)  ("any", nodes)  ("not", node)
    ("some", number, var, kind, node)               at least `number` entities of a kind such that
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from advisor.faults import Place

TEMPLATE = re.compile(r"\{([^{}]*)\}")  # {a} or {a.height} in a text
LEAVES = ("in", "num", "cmp", "same", "is", "state", "chosen")
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
    condition: tuple
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


def references(node):
    """Every (var, key) a condition looks at, in order, with repeats."""
    kind = node[0]
    if kind in ("in", "num", "state"):
        yield node[1], node[2]
    elif kind == "cmp":
        yield node[1], node[2]
        yield node[4], node[5]
    elif kind == "same":
        yield node[1], node[2]
        yield node[3], node[4]
    elif kind == "is":
        yield node[1], node[2]
    elif kind in ("all", "any"):
        for child in node[1]:
            yield from references(child)
    elif kind == "not":
        yield from references(node[1])
    elif kind == "some":
        yield from references(node[4])


def walk(node):
    """The node and all below it."""
    yield node
    children = (
        node[1]
        if node[0] in ("all", "any")
        else (node[1],)
        if node[0] == "not"
        else (node[4],)
        if node[0] == "some"
        else ()
    )
    for child in children:
        yield from walk(child)
