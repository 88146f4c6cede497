"""Which values are worth trying for a fact: one list for every search."""

from __future__ import annotations

from fractions import Fraction
from functools import cache

from advisor.explain.bounds import Scale
from advisor.facts.units import in_steps
from advisor.model.conditions import CompareRefs
from advisor.model.thresholds import highest, thresholds

SHARES = (0.5, 0.8, 1.25, 2)  # how far around a given number a calculation is tried
SPREAD = 24  # parts of a number's range where all of it is looked at and a calculation works on it


class Values:
    """Values worth trying for each attribute: every value of a choice; for a number the values at
    and beside every threshold of the rules, and where it enters a calculation or a comparison
    more, spread over its range and around what was given.
    """

    def __init__(self, base):
        self.base, self.thresholds = base, thresholds(base.rules)
        self.compared = {key for calculation in base.calculations for key in calculation.keys}
        for rule in base.rules:
            for node in rule.condition.walk():
                if isinstance(node, CompareRefs):
                    self.compared |= {ref.key for ref in node.own}

    def scale(self, attribute, fact=None) -> Scale:
        """How bounds of a number are said, as its fact was written."""
        figures = self.thresholds.get(attribute.key, ())
        return Scale(attribute, figures, fact.raw if fact else None)

    def others(self, attribute, now, world) -> list:
        """Engine values worth trying, without the one that holds now."""
        found: list
        if attribute.is_choice:
            found = [1 << i for i in range(len(attribute.values))]
        elif attribute.is_number:
            found = [(v, v) for v in self.numbers(attribute, now)]
        else:
            found = [(name,) for kind in attribute.of for name in world.kinds.get(kind, ())]
        return [v for v in found if v != now]

    def settling(self, attribute, fact, world) -> list:
        """Engine values that an answer may have; a doubtful or double answer is settled within
        what was said.
        """
        found = self.others(attribute, None, world)
        return [v for v in found if v & fact.value] if fact and attribute.is_choice else found

    def along(self, attribute, given=None) -> list:
        """Steps of a number to look at over its whole range: its ends and what was given too."""
        top = highest(attribute)
        found = {attribute.low, top, *self.numbers(attribute, given, SPREAD), *(given or ())}
        return sorted(v for v in found if v <= top)

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


def grain(attribute) -> int:
    """The smallest difference worth speaking of: a minute of the clock, a tenth of metres, hours
    and degrees, one of the rest.
    """
    return 60 if attribute.type == "time" else _grain(attribute.unit)


@cache
def _grain(unit: str) -> int:
    return max(
        1,
        int(in_steps(Fraction(1), unit))
        // (10 if unit in ("m", "kN", "h", "deg", "degC", "%") else 1),
    )
