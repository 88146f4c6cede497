"""A small backtracking search for facts that meet goals, in the manner of an analytic tableau.

Conditions on one fact narrow its class of values; alternatives branch, the narrowest first;
entities are named as needed.
Without an answer the goals cannot be met within the limits of `space`. Every answer is checked
again by the callers.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

from advisor.audit import exact
from advisor.audit.clauses import TooHard
from advisor.audit.goals import OPPOSITE, Every, Goal, concluded, meets
from advisor.audit.ground import allowed
from advisor.audit.pairs import TooManyValues, settle
from advisor.audit.scene import CHOICE, Scene
from advisor.audit.space import MOST, truth_of
from advisor.model.conditions import (
    AllOf,
    Chosen,
    Group,
    InValues,
    Not,
    PointsAt,
    Some,
    TwoFacts,
)
from advisor.model.ref import Ref

CONFLICTS = 5000  # what the second search may run into before it is given up


class Undecided(Exception):
    """The search was given up before it was through."""


@dataclass(frozen=True, slots=True, eq=False)
class There:
    """An alternative not yet laid out: which entities are there of whom a goal holds."""

    goal: Goal


@dataclass(frozen=True, slots=True, eq=False)
class Spared:
    """A goal that fewer than so many may meet; `seen`: how many were there when it was last
    looked at.
    """

    goal: Goal
    seen: int = 0


def _naming(goal):
    """(fact or decision, name, whether it is to be that one) of a goal on a name."""
    node, bound = goal.condition, goal.bound
    if isinstance(node, Chosen):
        option = bound[node.option] if node.is_variable else node.option
        return Ref(CHOICE + node.decision, ""), option, goal.positive
    target = bound.get(node.target, node.target)
    return node.ref.at(bound), target, node.same == goal.positive


class State:
    """A branch of the search: who there is and what each fact may still be."""

    __slots__ = ("kinds", "domains", "fixed", "excluded", "pairs", "everyone", "ors")

    def __init__(self, kinds):
        self.kinds, self.domains, self.fixed, self.excluded = kinds, {}, {}, {}
        self.pairs, self.everyone, self.ors = (), (), ()

    def copy(self):
        new = State(dict(self.kinds))
        new.domains, new.fixed = dict(self.domains), dict(self.fixed)
        new.excluded = dict(self.excluded)
        new.pairs, new.everyone, new.ors = self.pairs, self.everyone, self.ors
        return new


class Solver:
    """`solve(goals, names)` gives a Scene or None. After `limit` branches the goals are written
    out as clauses, whose
    search learns from its conflicts; after CONFLICTS of these it raises Undecided."""

    def __init__(self, space, limit=200):
        self.space, self.limit, self.branches, self.most = space, limit, 0, MOST

    def solve(self, goals, names=()):
        """names: entities there are from the start, such as ('anchor a', 'anchor b')."""
        self.branches = 0
        kinds = {
            e.name: () if e.many else (e.name,) for e in self.space.vocabulary.entities.values()
        }
        for name in names:
            kind = self.space.vocabulary.split(name)[0]
            if kind.many:
                kinds[kind.name] += (name,)
        try:
            return self._search(State(kinds), list(goals))
        except (Undecided, TooManyValues):
            return self._exactly(goals, names)

    def _exactly(self, goals, names):
        try:
            return exact.solve(self.space, goals, names, CONFLICTS)
        except TooHard:
            raise Undecided from None

    def _search(self, state, queue):
        self.branches += 1
        if self.branches > self.limit:
            raise Undecided
        while queue:
            if not self._take(queue.pop(), state, queue):
                return None
        alternatives = self._narrowest(state)
        if alternatives is None:
            alternatives = self._open(state)
        if alternatives is None:
            return self._finish(state)
        for change in alternatives:
            new = state.copy()
            found = self._search(new, change(new))
            if found:
                return found
        return None

    def _finish(self, state):
        values = settle(self.space, state)
        return None if values is None else Scene(state.kinds, values, dict(state.fixed.items()))

    # Taking one goal: True when it is noted, False when it cannot be met any more.

    def _take(self, goal, state, queue):
        quick = self._quick(goal, state)
        if quick is not None:
            return quick
        if not isinstance(goal, Goal):
            self._together(goal.goals, isinstance(goal, Every), state, queue)
            return True
        node = goal.condition
        if isinstance(node, Not):
            queue.append(goal.of(node.part, OPPOSITE[goal.want]))
        elif isinstance(node, Group):
            parts = tuple(goal.of(child) for child in node.parts)
            self._together(parts, isinstance(node, AllOf) == goal.positive, state, queue)
        elif isinstance(node, Some):
            self._some(goal, state)
        elif isinstance(node, InValues) and self._is_concluded(goal):
            cell = node.ref.at(goal.bound)
            queue.append(concluded(self.space, *cell, node.mask, goal.want, goal.held))
        else:
            return self._leaf(goal, state)
        return True

    @staticmethod
    def _together(goals, conjunction, state, queue):
        if conjunction:
            queue.extend(goals)
        else:
            state.ors += (goals,)

    def _is_concluded(self, goal):
        """Whether what a condition looks at comes of rules."""
        ref = goal.condition.ref
        return self.space.concluded(ref.key) and ref.at(goal.bound) not in goal.held

    @staticmethod
    def _some(goal, state):
        if goal.positive:
            state.ors += ((There(goal),),)
        else:
            state.everyone += (Spared(goal),)

    def _leaf(self, goal, state):
        node, bound = goal.condition, goal.bound
        if isinstance(node, (Chosen, PointsAt)):
            return self._name(state, *_naming(goal))
        if isinstance(node, TwoFacts):
            state.pairs += (goal,)
            return True
        cell = node.ref.at(bound)
        values = allowed(self.space, node, goal.want) & state.domains.get(cell, -1)
        state.domains[cell] = values
        return values != 0 and (cell not in state.fixed or values & 1 == 1)

    @staticmethod
    def _name(state, cell, name, want):
        if want:
            if (
                state.fixed.setdefault(cell, name) != name
                or name in state.excluded.get(cell, ())
                or not state.domains.get(cell, 1) & 1
            ):
                return False
        elif state.fixed.get(cell) == name:
            return False
        else:
            state.excluded[cell] = state.excluded.get(cell, frozenset()) | {name}
        return True

    # Looking at a goal without changing anything: True it holds, False it cannot, None it is open.

    def _quick(self, goal, state):
        if isinstance(goal, There):
            return None
        if not isinstance(goal, Goal):
            return self._fold([self._quick(g, state) for g in goal.goals], isinstance(goal, Every))
        node = goal.condition
        if isinstance(node, Not):
            return self._quick(goal.of(node.part, OPPOSITE[goal.want]), state)
        if isinstance(node, Group):
            return self._fold(
                [self._quick(goal.of(child), state) for child in node.parts],
                isinstance(node, AllOf) == goal.positive,
            )
        return None if isinstance(node, Some) else self._quick_leaf(goal, state)

    @staticmethod
    def _fold(answers, conjunction):
        if conjunction:
            return False if False in answers else None if None in answers else True
        return True if True in answers else None if None in answers else False

    def _quick_leaf(self, goal, state):
        node, want = goal.condition, goal.want
        if isinstance(node, (Chosen, PointsAt)):
            return self._quick_name(state, *_naming(goal))
        if isinstance(node, TwoFacts):
            return None
        cell = node.ref.at(goal.bound)
        if cell in goal.held:
            return meets(truth_of(node, goal.held[cell]), want)
        if self.space.never_known(cell.key):
            return meets(
                truth_of(node, (0, self.space.vocabulary.attribute(cell.key).everything)), want
            )
        if self.space.concluded(cell.key):
            return None
        domain, values = state.domains.get(cell, -1), allowed(self.space, node, want)
        if not domain & values:
            return False
        return True if domain != -1 and not domain & ~values else None

    @staticmethod
    def _quick_name(state, cell, name, want):
        if cell in state.fixed:
            return (state.fixed[cell] == name) == want
        return (not want) if name in state.excluded.get(cell, ()) else None

    # Branching.

    def _narrowest(self, state):
        """The alternatives of the narrowest open choice as functions of a new state; [] when one
        cannot be met; None when none is open.
        """
        best, kept = None, []
        for parts in state.ors:
            answers = [(part, self._quick(part, state)) for part in parts]
            if any(answer for _, answer in answers):
                continue
            left = tuple(part for part, answer in answers if answer is None)
            if not left:
                return []
            kept.append(left)
            if best is None or (self._width(left), len(left)) < (self._width(best), len(best)):
                best = left
        if best is None:
            state.ors = ()
            return None
        rest = list(kept)
        rest.remove(best)
        state.ors = tuple(rest)
        if isinstance(best[0], There):
            return self._there(best[0].goal, state)
        return [lambda new, part=part: [part] for part in best]

    @staticmethod
    def _width(parts):
        return 9 if isinstance(parts[0], There) else len(parts)

    def _there(self, goal, state):
        """Every way of choosing entities for 'there is': those already named first, then
        new ones.
        """
        node, bound = goal.condition, goal.bound
        number, kind = node.number, node.kind
        free = [e for e in state.kinds[kind] if e not in bound.values()]
        most = max(self.most, number + sum(e in state.kinds[kind] for e in bound.values()))
        ways = []
        for new in range(number + 1):
            if len(state.kinds[kind]) + new <= most:
                ways += [(chosen, new) for chosen in combinations(free, number - new)]

        def go(state, chosen, new):
            chosen = [*chosen, *(self._fresh(state, kind, node.variable) for _ in range(new))]
            return [goal.within(node.variable, e) for e in chosen]

        return [lambda s, c=c, n=n: go(s, c, n) for c, n in ways]

    @staticmethod
    def _fresh(state, kind, variable=""):
        names, number = state.kinds[kind], 1
        name = f"{kind} {variable or 1}"
        while name in names:
            number += 1
            name = f"{kind} {variable}{number}"
        state.kinds[kind] = (*names, name)
        return name

    def _open(self, state):
        """What is left once no alternative is open: 'there is no …' for everyone there, and names
        not yet given.
        """
        for place, spared in enumerate(state.everyone):
            node = spared.goal.condition
            free = [e for e in state.kinds[node.kind] if e not in spared.goal.bound.values()]
            if len(free) > spared.seen and len(free) >= node.number:
                return self._exempt(state, place, spared.goal, free)
        for cell in (*state.excluded, *(c for c in state.domains if self.space.is_name(c.key))):
            if (
                cell not in state.fixed
                and not cell.entity.startswith(CHOICE)
                and state.domains.get(cell, 1) & 1
            ):
                return self._namings(state, cell)
        return None

    def _exempt(self, state, place, goal, free):
        node, everyone = goal.condition, list(state.everyone)
        everyone[place] = Spared(goal, len(free))
        state.everyone = tuple(everyone)
        return [
            lambda new, spared=spared: [
                goal.within(node.variable, e) for e in free if e not in spared
            ]
            for spared in combinations(free, node.number - 1)
        ]

    def _namings(self, state, cell):
        attribute = self.space.vocabulary.attribute(cell.key)

        def give(new, name):
            new.fixed[cell] = name
            return []

        def create(new, kind):
            return give(new, self._fresh(new, kind))

        there = [
            e
            for kind in attribute.of
            for e in state.kinds[kind]
            if e not in state.excluded.get(cell, ())
        ]
        ways = [lambda new, name=name: give(new, name) for name in there]
        return ways + [
            lambda new, kind=kind: create(new, kind)
            for kind in attribute.of
            if self.space.vocabulary.entities[kind].many and len(state.kinds[kind]) < self.most + 1
        ]
