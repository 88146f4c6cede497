"""What would change it: the smallest sets of fact changes that bring another outcome. Searched on the compiled engine, confirmed by both."""
from __future__ import annotations

from itertools import combinations
from typing import NamedTuple

from advisor.explain.targets import bearing_on, reached, state_of
from advisor.explain.variants import Candidates, change_of, with_changes


class Search(NamedTuple):
    """found: minimal sets of changes with the outcome they bring; tried: evaluations; complete: up to which size nothing was left out."""

    found: list
    tried: int
    complete: int
    candidates: int


class Finding(NamedTuple):
    """A minimal set of changes and what the target comes to with them."""

    changes: tuple
    state: object


def possible_changes(advisor, case, target):
    """Single changes that a person could make, find out or be wrong about, and that bear on the target."""
    keys, candidates, world = bearing_on(advisor, target), Candidates(advisor.base), advisor.world(case)
    found = []
    for key in sorted(keys):
        attribute = advisor.base.vocabulary.attribute(key)
        for entity, value in world.columns[key].items():
            fact = case.facts.get((entity, key))
            now = fact.value if fact and fact.state == 2 else None
            found += [change_of(attribute, entity, v) for v in candidates.values(attribute, now, world)]
    return found


def search(advisor, case, target, size=2, progress=None) -> Search:
    """All minimal sets of up to `size` changes; `progress(done, total, size)` is called now and then.

    KeyboardInterrupt ends the search early with what was found so far.
    """
    before = state_of(advisor, target, *advisor.run(case, [advisor.plain]))
    singles = possible_changes(advisor, case, target)
    found, tried, complete = [], 0, 0
    try:
        for count in range(1, size + 1):
            spots = [s for s in singles if not any(f.changes == (s,) for f in found)]
            total = _count(spots, count)
            for number, changes in enumerate(_sets(spots, count)):
                if progress and number % 500 == 0:
                    progress(number, total, count)
                if any(set(f.changes) <= set(changes) for f in found):
                    continue
                tried += 1
                now = state_of(advisor, target, *advisor.run(with_changes(case, advisor.base, changes), [advisor.plain]))
                if reached(target, before, now):
                    found.append(Finding(changes, now))
            complete = count
    except KeyboardInterrupt:
        pass
    return Search([f for f in found if _confirmed(advisor, case, target, f)], tried, complete, len(singles))


def _sets(spots, count):
    """Sets of changes to different facts."""
    for changes in combinations(spots, count):
        if len({(c.entity, c.key) for c in changes}) == count:
            yield changes


def _count(spots, count):
    from math import comb

    return comb(len(spots), count)


def _confirmed(advisor, case, target, finding) -> bool:
    """The finding once more with both engines; a disagreement is raised, never shown."""
    return state_of(advisor, target, *advisor.run(with_changes(case, advisor.base, finding.changes))) == finding.state
