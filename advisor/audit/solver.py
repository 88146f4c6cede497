"""A small backtracking search for facts that meet goals, in the manner of an analytic tableau.

Conditions on one fact narrow its class of values; alternatives branch, the narrowest first;
entities are named as needed.
Without an answer the goals cannot be met within the limits of `space`. Every answer is checked
again by the callers.
"""

from __future__ import annotations

from itertools import combinations

from advisor.audit import exact
from advisor.audit.clauses import TooHard
from advisor.audit.goals import NOT_FALSE, OPPOSITE, SURE, concluded, meets
from advisor.audit.pairs import TooManyValues, settle
from advisor.audit.scene import CHOICE, Scene
from advisor.audit.space import MOST, truth_of

CONFLICTS = 5000  # what the second search may run into before it is given up


class Undecided(Exception):
    """The search was given up before it was through."""


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
        if goal[0] == "and":
            queue.extend(goal[1])
            return True
        if goal[0] == "or":
            state.ors += (goal[1],)
            return True
        node, bound, want, held = goal
        kind = node[0]
        if kind == "not":
            queue.append((node[1], bound, OPPOSITE[want], held))
        elif kind in ("all", "any"):
            parts = tuple((child, bound, want, held) for child in node[1])
            if (kind == "all") == (want in (SURE, NOT_FALSE)):
                queue.extend(parts)
            else:
                state.ors += (parts,)
        elif kind == "some":
            self._some(goal, state)
        elif (
            kind == "in"
            and self.space.concluded(node[2])
            and (bound.get(node[1], node[1]), node[2]) not in held
        ):
            queue.append(
                concluded(self.space, bound.get(node[1], node[1]), node[2], node[3], want, held)
            )
        else:
            return self._leaf(goal, state)
        return True

    def _some(self, goal, state):
        want = goal[2]
        if want in (SURE, NOT_FALSE):
            state.ors += ((("there", goal),),)
        else:
            state.everyone += (goal,)

    def _leaf(self, goal, state):
        node, bound, want, held = goal
        kind = node[0]
        if kind == "chosen":
            return self._name(
                state,
                (CHOICE + node[1], ""),
                bound[node[2]] if node[3] else node[2],
                want in (SURE, NOT_FALSE),
            )
        cell = (bound.get(node[1], node[1]), node[2])
        if kind == "is":
            return self._name(
                state, cell, bound.get(node[3], node[3]), node[4] == (want in (SURE, NOT_FALSE))
            )
        if kind in ("cmp", "same"):
            state.pairs += (goal,)
            return True
        allowed = self._allowed(node, want) & state.domains.get(cell, -1)
        state.domains[cell] = allowed
        return allowed != 0 and (cell not in state.fixed or allowed & 1 == 1)

    def _allowed(self, node, want):
        return sum(
            1 << i
            for i, truth in enumerate(self.space.truths((node[0], "it", *node[2:]), node[2]))
            if meets(truth, want)
        )

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
        if goal[0] in ("and", "or"):
            return self._fold([self._quick(g, state) for g in goal[1]], goal[0] == "and")
        if goal[0] == "there":
            return None
        node, bound, want, held = goal
        kind = node[0]
        if kind == "not":
            return self._quick((node[1], bound, OPPOSITE[want], held), state)
        if kind in ("all", "any"):
            return self._fold(
                [self._quick((child, bound, want, held), state) for child in node[1]],
                (kind == "all") == (want in (SURE, NOT_FALSE)),
            )
        return None if kind == "some" else self._quick_leaf(node, bound, want, held, state)

    @staticmethod
    def _fold(answers, conjunction):
        if conjunction:
            return False if False in answers else None if None in answers else True
        return True if True in answers else None if None in answers else False

    def _quick_leaf(self, node, bound, want, held, state):
        kind = node[0]
        positive = want in (SURE, NOT_FALSE)
        if kind == "chosen":
            return self._quick_name(
                state, (CHOICE + node[1], ""), bound[node[2]] if node[3] else node[2], positive
            )
        cell = (bound.get(node[1], node[1]), node[2])
        if kind == "is":
            return self._quick_name(state, cell, bound.get(node[3], node[3]), node[4] == positive)
        if kind in ("cmp", "same"):
            return None
        if cell in held:
            return meets(truth_of(node, held[cell]), want)
        if self.space.never_known(node[2]):
            return meets(
                truth_of(node, (0, self.space.vocabulary.attribute(node[2]).everything)), want
            )
        if self.space.concluded(node[2]):
            return None
        domain, allowed = state.domains.get(cell, -1), self._allowed(node, want)
        return (
            False
            if not domain & allowed
            else True
            if domain != -1 and not domain & ~allowed
            else None
        )

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
        if best[0][0] == "there":
            return self._there(best[0][1], state)
        return [lambda new, part=part: [part] for part in best]

    @staticmethod
    def _width(parts):
        return 9 if parts[0][0] == "there" else len(parts)

    def _there(self, goal, state):
        """Every way of choosing entities for 'there is': those already named first, then
        new ones.
        """
        (_, number, variable, kind, body), bound, want, held = goal
        free = [e for e in state.kinds[kind] if e not in bound.values()]
        most = max(self.most, number + sum(e in state.kinds[kind] for e in bound.values()))
        ways = []
        for new in range(number + 1):
            if len(state.kinds[kind]) + new <= most:
                ways += [(chosen, new) for chosen in combinations(free, number - new)]

        def go(state, chosen, new):
            chosen = [*chosen, *(self._fresh(state, kind, variable) for _ in range(new))]
            return [(body, {**bound, variable: e}, want, held) for e in chosen]

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
        for place, goal in enumerate(state.everyone):
            (_, number, _, kind, _), bound = goal[:2]
            free = [e for e in state.kinds[kind] if e not in bound.values()]
            seen = goal[4] if len(goal) > 4 else 0
            if len(free) > seen and len(free) >= number:
                return self._exempt(state, place, goal[:4], free)
        for cell in (*state.excluded, *(c for c in state.domains if self.space.is_name(c[1]))):
            if (
                cell not in state.fixed
                and not cell[0].startswith(CHOICE)
                and state.domains.get(cell, 1) & 1
            ):
                return self._namings(state, cell)
        return None

    def _exempt(self, state, place, goal, free):
        (_, number, variable, kind, body), bound, want, held = goal
        state.everyone = (*state.everyone[:place], (*goal, len(free)), *state.everyone[place + 1 :])
        return [
            lambda new, spared=spared: [
                (body, {**bound, variable: e}, want, held) for e in free if e not in spared
            ]
            for spared in combinations(free, number - 1)
        ]

    def _namings(self, state, cell):
        attribute = self.space.vocabulary.attribute(cell[1])

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
