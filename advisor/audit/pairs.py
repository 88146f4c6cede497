"""Comparisons between two facts, and the values of one fact, the most natural to name first."""

from __future__ import annotations

from advisor.audit.goals import meets
from advisor.audit.slice import Slice
from advisor.audit.space import grain_of
from advisor.engine.truth import truth_alone


def cells_of(goal):
    return tuple(ref.at(goal.bound) for ref in goal.condition.own)


def holds(goal, pair, given, held):
    columns = {}
    for cell in pair:
        value = goal.held.get(cell) or given.get(cell) or held[cell]
        columns.setdefault(cell[1], {})[cell[0]] = value[1]
    return meets(truth_alone(goal.condition, goal.bound, Slice(columns)), goal.want)


def ordered(space, key, domain) -> list:
    """The values in a domain, the most natural one to name first: near the figures rules test,
    written in round numbers.
    """
    values = space.values(key)
    allowed = [v for i, v in enumerate(values) if domain >> i & 1]
    known = [v for v in allowed if v[0] == 2]
    attribute = space.vocabulary.attribute(key)
    if not attribute.is_number or not known:
        return allowed
    ends = [v[1][0] for v in space.known(key)]
    steps = [v[1][0] for v in known]
    if steps[0] == ends[0] and steps[-1] != ends[-1]:
        known.reverse()
    elif steps[0] == ends[0] and len(known) > 2:
        known = known[1:] + known[:1]
    grain = grain_of(attribute)
    known[:3] = sorted(known[:3], key=lambda v: v[1][0] % grain != 0)
    return known + [v for v in allowed if v[0] != 2]
