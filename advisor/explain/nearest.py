"""What would change it: the smallest sets of fact changes that bring another outcome. Searched in
the question's cone, confirmed by both engines.
"""

from __future__ import annotations

from itertools import combinations
from math import prod
from typing import NamedTuple

from advisor.explain.cone import Cone
from advisor.explain.targets import reached, state_of
from advisor.explain.values import Values
from advisor.explain.variants import change_of, with_changes
from advisor.facts.world import KNOWN
from advisor.faults import Disagreement
from advisor.progress import Watch

OFTEN = 20  # evaluations between two looks of the watch
CONFIRMED = 200  # findings run again with both engines


class Finding(NamedTuple):
    """A minimal set of changes and what the target comes to with them."""

    changes: tuple
    state: object


class Search(NamedTuple):
    """found: minimal sets of changes; tried: evaluations; complete: up to which size nothing was
    left out; candidates: single changes looked at; confirmed: findings run again with both
    engines; cone: in which it was searched.
    """

    found: list
    tried: int
    complete: int
    candidates: int
    confirmed: int
    cone: Cone


def possible_changes(run, cone) -> list:
    """Single changes that a person could make, find out or be wrong about, and that bear on the
    question.
    """
    values, found = Values(run.base), []
    for key in sorted(cone.keys):
        attribute = run.base.vocabulary.attribute(key)
        for entity in cone.start.columns[key]:
            fact = run.case.facts.get((entity, key))
            now = fact.value if fact and fact.state == KNOWN else None
            found += [
                change_of(run.base, attribute, entity, v)
                for v in values.others(attribute, now, cone.start)
            ]
    return found


def search(run, target, size=2, watch=None) -> Search:
    """All minimal sets of up to `size` changes; the Watch looks on.

    KeyboardInterrupt ends the search early with what was found so far.
    """
    watch = watch or Watch()
    cone, hunt = Cone(run.advisor, run.case, target), None
    try:
        hunt = Hunt(run.base, cone, target, possible_changes(run, cone), watch)
        for count in range(1, size + 1):
            hunt.sets_of(count)
    except KeyboardInterrupt:
        if hunt is None:
            raise
        watch.stop()
    confirmed = _confirmed(run, target, hunt.found[:CONFIRMED], watch)
    return Search(hunt.found, hunt.tried, hunt.complete, len(hunt.singles), confirmed, cone)


def _confirmed(run, target, findings, watch) -> int:
    """How many of these findings were run again with both engines: all, unless broken off."""
    done = 0
    try:
        for finding in findings:
            watch(done, len(findings), "findings again")
            confirm(run, target, finding.changes, finding.state)
            done += 1
    except KeyboardInterrupt:
        watch.stop()
    return done


class Hunt:
    """The sets of changes tried so far, smallest first."""

    def __init__(self, base, cone, target, singles, watch):
        self.base, self.cone, self.target, self.singles, self.watch = (
            base,
            cone,
            target,
            singles,
            watch,
        )
        self.before = state_of(base, target, *cone.run())
        self.found, self.tried, self.complete = [], 0, 0
        self.smaller = set()  # minimal sets, to pass over what holds one of them

    def sets_of(self, count):
        """Try every set of `count` changes to different facts that holds no smaller finding."""
        alone = {s for found in self.smaller if len(found) == 1 for s in found}
        spots = [s for s in self.singles if s not in alone]
        total = how_many(spots, count)
        for number, changes in enumerate(sets(spots, count)):
            if number % OFTEN == 0:
                self.watch(number, total, f"sets of {count}" if count > 1 else "changes")
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
    sizes: dict[tuple, int] = {}
    for spot in spots:
        sizes[spot.fact] = sizes.get(spot.fact, 0) + 1
    return sum(prod(chosen) for chosen in combinations(sizes.values(), count))


def confirm(run, target, changes, state):
    """One outcome of the cone against the whole rule base with both engines; a difference is an
    internal fault, never shown as an answer.
    """
    case = with_changes(run.case, run.base, changes)
    full = state_of(run.base, target, *run.advisor.run(case))
    if full != state:
        raise Disagreement(f"the search for {target.kind} {target.name}", [state], [full])
