"""The finite classes of values that a rule base can tell apart.

A choice has its values. A number has a class at, just below and just above every figure a rule
compares it with, and
the ends of its range; two numbers that rules compare with each other share their figures. That
makes answers about
stated facts exact. Limits (printed with every audit): LIMITS.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache

from advisor.audit.slice import Slice
from advisor.engine.truth import truth_alone
from advisor.facts.units import UNITS, in_steps
from advisor.facts.world import DOUBTFUL, KNOWN, UNKNOWN
from advisor.model.conditions import CompareRefs, OneFact, State
from advisor.model.thresholds import highest, thresholds

MOST = 3  # entities of one kind that a search may name
LIMITS = (
    f"up to {MOST} entities of a kind (more only where a rule counts more)",
    "numbers at, just below and just above each figure that rules compare them with",
    "chains of comparisons between three or more numbers only at those values",
    "facts worked out by a calculation are taken as free within their range",
    "what a decision comes to is taken as free",
)


class Space:
    """All values worth telling apart, by attribute key. A value is (state, mask or interval)."""

    def __init__(self, base):
        self.base, self.vocabulary = base, base.vocabulary
        self.concluding, self.marks, self.stated = {}, thresholds(base.rules), set()
        for rule in base.rules:
            if rule.derives:
                self.concluding.setdefault(rule.derives, []).append(rule)
            for node in rule.condition.walk():
                if isinstance(node, State):
                    self.stated.add(node.ref.key)
        self.worked = {
            output for calculation in base.calculations for output in calculation.outputs
        }
        self._share(
            [n for r in base.rules for n in r.condition.walk() if isinstance(n, CompareRefs)]
        )
        self.values = lru_cache(maxsize=None)(self._values)
        self.keys_of = lru_cache(maxsize=4096)(keys_of)
        self._truths = {}

    def _share(self, comparisons):
        """Numbers compared with each other get each other's figures, twice over for chains."""
        for _ in range(2):
            for node in comparisons:
                for key, other, factor in (
                    (node.ref.key, node.other.key, Fraction(node.times, node.per)),
                    (node.other.key, node.ref.key, Fraction(node.per, node.times)),
                ):
                    new = {
                        round(mark * factor)
                        for mark in self._ends(other) | self.marks.get(other, set())
                    }
                    self.marks.setdefault(key, set()).update(new)

    def _ends(self, key):
        attribute = self.vocabulary.attribute(key)
        return {attribute.low, attribute.high}

    def concluded(self, key) -> bool:
        """Whether rules conclude it."""
        return key in self.concluding

    def never_known(self, key) -> bool:
        """Derived, but nothing concludes it or works it out."""
        attribute = self.vocabulary.attribute(key)
        return attribute.derived and key not in self.concluding and key not in self.worked

    def is_name(self, key) -> bool:
        """Whether the attribute names another entity."""
        return self.vocabulary.attribute(key).type == "named"

    def _values(self, key):
        """Every (state, value) of an attribute; what is known comes first. A name is only told
        apart by being known.
        """
        attribute = self.vocabulary.attribute(key)
        if attribute.type == "named":
            return ((KNOWN, 0), (DOUBTFUL, 0), (UNKNOWN, 0))
        if attribute.is_choice:
            known = [(KNOWN, 1 << i) for i in range(len(attribute.values))]
            doubtful = [(DOUBTFUL, attribute.as_bad_as(i)) for i in range(len(attribute.values))]
        else:
            known = [(KNOWN, (s, s)) for s in self.points(attribute)]
            doubtful = [(DOUBTFUL, _doubtful(attribute, s)) for s in self.points(attribute)]
        return tuple(
            known + doubtful + [(UNKNOWN, attribute.everything)] if key in self.stated else known
        )

    def points(self, attribute) -> list:
        """The steps at, beside and between the figures of a number, and its ends."""
        grain = grain_of(attribute)
        top = highest(attribute)
        least = 60 if attribute.type == "time" else 1
        found = {
            mark + d
            for mark in self.marks.get(attribute.key, ())
            for d in (-grain, -least, 0, least, grain)
        }
        return sorted(s for s in found | {attribute.low, top} if attribute.low <= s <= top)

    def known(self, key) -> tuple:
        return tuple(v for v in self.values(key) if v[0] == KNOWN)

    def truths(self, node: OneFact) -> tuple:
        """The truth of a condition on one fact, for each of its values in order."""
        if node not in self._truths:
            self._truths[node] = tuple(truth_of(node, v) for v in self.values(node.ref.key))
        return self._truths[node]


def truth_of(node: OneFact, value) -> int:
    """The truth of a condition on a single fact that has this (state, value)."""
    entity, key = node.ref
    return truth_alone(node, {}, Slice({key: {entity: value[1]}}, {node.ref: value[0]}))


def _doubtful(attribute, steps):
    return {"more": (steps, attribute.high), "less": (attribute.low, steps)}.get(
        attribute.worse, (attribute.low, attribute.high)
    )


def grain_of(attribute) -> int:
    """How far beside a figure a person would write the next value: a tenth of the unit, a whole
    one where things are counted or timed.
    """
    if attribute.type == "time":
        return 60
    whole = in_steps(Fraction(1), attribute.unit)
    return max(
        1,
        int(
            whole
            if UNITS[attribute.unit][0].si in ("count", "s") and attribute.unit not in ("year", "h")
            else whole / 10
        ),
    )


def keys_of(condition) -> set:
    """Every attribute a condition looks at."""
    return {ref.key for ref in condition.references()}
