"""The numbers at which rules turn."""

from __future__ import annotations

from collections.abc import Iterable

from advisor.facts.vocabulary import Attribute
from advisor.model.conditions import Compare
from advisor.model.rule import Rule

LATEST = 86340  # the last time of day that can be written, 23:59


def thresholds(rules: Iterable[Rule]) -> dict[str, set[int]]:
    """Attribute key -> every figure, in steps, that a rule compares it with."""
    found: dict[str, set[int]] = {}
    for rule in rules:
        for node in rule.condition.walk():
            if isinstance(node, Compare):
                found.setdefault(node.ref.key, set()).add(node.steps)
    return found


def highest(attribute: Attribute) -> int:
    """The highest value of a number that can be stated."""
    return min(attribute.high, LATEST) if attribute.type == "time" else attribute.high
