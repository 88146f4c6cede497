"""What would change it: the smallest sets of fact changes that bring another outcome. Searched in
the question's cone, confirmed by both engines.
"""

from __future__ import annotations

from itertools import combinations
from math import prod
from time import perf_counter
from typing import NamedTuple

from advisor.explain.cone import Cone
from advisor.explain.targets import reached, state_of
from advisor.explain.variants import Candidates, change_of, with_changes
from advisor.faults import Disagreement

OFTEN = 500  # evaluations between two calls of `progress`
CONFIRMED = 200  # findings run again with both engines


class Finding(NamedTuple):
    """A minimal set of changes and what the target comes to with them."""

    changes: tuple
    state: object


class Search(NamedTuple):
    """found: minimal sets of changes; tried: evaluations; complete: up to which size nothing was
    left out; candidates: single
    changes looked at; confirmed: findings run again with both engines; rate: evaluations a second
    (0 when none).
    """

    found: list
    tried: int
    complete: int
    candidates: int
    confirmed: int
    rate: int


def possible_changes(advisor, case, cone) -> list:
    """Single changes that a person could make, find out or be wrong about, and that bear on the
    question.
    """
    candidates, found = Candidates(advisor.base), []
    for key in sorted(cone.keys):
        attribute = advisor.base.vocabulary.attribute(key)
        for entity in cone.start.columns[key]:
            fact = case.facts.get((entity, key))
            now = fact.value if fact and fact.state == 2 else None
            found += [
                change_of(advisor.base, attribute, entity, v)
                for v in candidates.values(attribute, now, cone.start)
            ]
    return found


def search(advisor, case, target, size=2, progress=None) -> Search:
    """All minimal sets of up to `size` changes; `progress(done, total, size, rate)` is called now
    and then.

    KeyboardInterrupt ends the search early with what was found so far.
    """
    cone, hunt = Cone(advisor, case, target), None
    try:
        hunt = Hunt(advisor.base, cone, target, possible_changes(advisor, case, cone), progress)
        for count in range(1, size + 1):
            hunt.sets_of(count)
    except KeyboardInterrupt:
        if hunt is None:
            raise
    rate = int(hunt.tried / max(perf_counter() - hunt.began, 1e-6)) if hunt.tried else 0
    return Search(
        hunt.found,
        hunt.tried,
        hunt.complete,
        len(hunt.singles),
        _confirm(advisor, case, target, hunt.found),
        rate,
    )


class Hunt:
    """The sets of changes tried so far, smallest first."""

    def __init__(self, base, cone, target, singles, progress):
        self.base, self.cone, self.target, self.singles, self.progress = (
            base,
            cone,
            target,
            singles,
            progress,
        )
        self.before = state_of(base, target, *cone.run())
        self.found, self.tried, self.complete, self.began = [], 0, 0, perf_counter()
        self.smaller = set()  # minimal sets, to pass over what holds one of them

    def sets_of(self, count):
        """Try every set of `count` changes to different facts that holds no smaller finding."""
        alone = {s for found in self.smaller if len(found) == 1 for s in found}
        spots = [s for s in self.singles if s not in alone]
        total = how_many(spots, count)
        for number, changes in enumerate(sets(spots, count)):
            if self.progress and number % OFTEN == 0:
                self.progress(
                    number, total, count, int(self.tried / max(perf_counter() - self.began, 1e-6))
                )
            if not any(
                frozenset(part) in self.smaller
                for less in range(2, count)
                for part in combinations(changes, less)
            ):
                self._try(changes)
        self.complete = count

    def _try(self, changes):
        self.tried += 1
        now = state_of(self.base, self.target, *self.cone.run(changes))
        if reached(self.target, self.before, now):
            self.found.append(Finding(changes, now))
            self.smaller.add(frozenset(changes))


def sets(spots, count):
    """Sets of changes to different facts, in a fixed order."""
    for changes in combinations(spots, count):
        if len({c.fact for c in changes}) == count:
            yield changes


def how_many(spots, count) -> int:
    """How many such sets there are."""
    sizes = {}
    for spot in spots:
        sizes[spot.fact] = sizes.get(spot.fact, 0) + 1
    return sum(prod(chosen) for chosen in combinations(sizes.values(), count))


def _confirm(advisor, case, target, found) -> int:
    """The first findings once more on the whole rule base with both engines; raises Disagreement
    when the search was wrong.
    """
    for finding in found[:CONFIRMED]:
        confirm(advisor, case, target, finding.changes, finding.state)
    return min(len(found), CONFIRMED)


def confirm(advisor, case, target, changes, state):
    """One outcome of the cone against the whole rule base with both engines; a difference is an
    internal fault, never shown as an answer.
    """
    full = state_of(advisor.base, target, *advisor.run(with_changes(case, advisor.base, changes)))
    if full != state:
        raise Disagreement(f"the search for {target.kind} {target.name}", [state], [full])
