"""A case with some facts changed, and which values are worth trying for a fact."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import NamedTuple

from advisor.decide.names import value_text
from advisor.facts.units import in_steps
from advisor.facts.values import Fact
from advisor.facts.world import KNOWN
from advisor.faults import Place
from advisor.model.conditions import Compare, CompareRefs

LATEST = 86340  # the last time of day that can be written, 23:59
SHARES = (0.5, 0.8, 1.25, 2)  # how far around a given number a calculation is tried


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


class Candidates:
    """Values to try for each attribute: every value of a choice; for a number the values at and
    beside every threshold
    of the rules, and where it enters a calculation or a comparison nine more, spread over its
    range and around what was given.
    """

    def __init__(self, base):
        self.base, self.thresholds, self.compared = base, {}, set()
        for rule in base.rules:
            for node in rule.condition.walk():
                if isinstance(node, Compare):
                    self.thresholds.setdefault(node.ref.key, set()).add(node.steps)
                elif isinstance(node, CompareRefs):
                    self.compared |= {ref.key for ref in node.own}
        for calculation in base.calculations:
            self.compared |= calculation.keys

    def values(self, attribute, now, world):
        """Engine values worth trying, without the one that holds now."""
        if attribute.is_choice:
            found = [1 << i for i in range(len(attribute.values))]
        elif attribute.is_number:
            found = [(v, v) for v in self.numbers(attribute, now)]
        else:
            found = [(name,) for kind in attribute.of for name in world.kinds.get(kind, ())]
        return [v for v in found if v != now]

    def numbers(self, attribute, now, spread: int = 4) -> list:
        """Steps worth trying for a number; `spread`: into how many parts its range is cut where a
        calculation works on it.
        """
        fine = grain(attribute)
        found = {c + d for c in self.thresholds.get(attribute.key, ()) for d in (-fine, 0, fine)}
        if attribute.key in self.compared:
            high = highest(attribute)
            found |= {
                attribute.low + (high - attribute.low) * n // spread // fine * fine
                for n in range(spread)
            } | {high}
            if now is not None and now != attribute.everything:
                found |= {int(now[0] * f) // fine * fine for f in SHARES}
        return sorted(v for v in found if attribute.low <= v <= highest(attribute))


def highest(attribute) -> int:
    """The highest value of a number that can be stated."""
    return min(attribute.high, LATEST) if attribute.type == "time" else attribute.high


def grain(attribute) -> int:
    """The smallest difference worth speaking of: a minute of the clock, a tenth of metres, hours
    and degrees, one of the rest.
    """
    return 60 if attribute.type == "time" else _grain(attribute.unit)


@cache
def _grain(unit: str) -> int:
    return max(
        1, int(in_steps(1, unit)) // (10 if unit in ("m", "kN", "h", "deg", "degC", "%") else 1)
    )
