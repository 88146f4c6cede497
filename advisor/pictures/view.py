"""A case after it was run, asked for values to draw and to print: a number with its range, a word,
or how little is known.
"""

from __future__ import annotations

from advisor.decide.firing import known_value, name_of
from advisor.facts.units import UNITS
from advisor.facts.values import ASSUMED
from advisor.facts.world import DOUBTFUL

NOT_KNOWN = "not known"


class View:
    """base, case, world and advice of one run.

    Lengths come in metres, everything else in its SI unit.
    """

    def __init__(self, base, case, world, advice):
        self.base, self.case, self.world, self.advice = base, case, world, advice

    def entities(self, kind: str) -> tuple:
        """The ids of one kind that the case names."""
        return self.world.kinds.get(kind, ())

    def name(self, entity: str) -> str:
        """The user's name for an entity."""
        return name_of(self.base, entity)

    def span(self, entity: str, key: str):
        """(low, high) in SI of a number that is known at least roughly; None when it could be
        anything.
        """
        attribute = self.base.vocabulary.attribute(key)
        value = self.world.columns.get(key, {}).get(entity)
        if attribute is None or value is None or value == self.world.anything(attribute):
            return None
        steps = UNITS[attribute.unit][0].steps
        return value[0] / steps, value[1] / steps

    def middle(self, entity: str, key: str):
        """The middle of the span, None when not known."""
        span = self.span(entity, key)
        return None if span is None else (span[0] + span[1]) / 2

    def doubtful(self, entity: str, key: str) -> bool:
        """Whether the fact was given with a doubt."""
        return self.world.states.get((entity, key)) == DOUBTFUL

    def choice(self, entity: str, key: str) -> str:
        """The one value of a choice that is certain, '' else."""
        value = self.world.columns.get(key, {}).get(entity)
        if value is None or value & (value - 1):
            return ""
        return known_value(self.base, self.world, entity, key)

    def told(self, entity: str, key: str) -> str:
        """The value as it is printed: the words given, marked when doubtful; 'not known' rather
        than nothing.
        """
        fact = self.case.facts.get((entity, key))
        if fact is not None:
            doubt = " (doubtful)" if self.doubtful(entity, key) else ""
            only = f" ({ASSUMED})" if fact.said_by == ASSUMED else ""
            return f"{fact.text or NOT_KNOWN}{doubt}{only}"
        if key not in self.world.columns or entity not in self.world.columns[key]:
            return NOT_KNOWN
        return known_value(self.base, self.world, entity, key)

    def decided(self, decision: str) -> str:
        """What a decision came to, '' when it came to nothing."""
        found = self.advice.decisions.get(decision)
        return (found.choice or "") if found else ""
