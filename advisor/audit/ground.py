"""Goals written out for every entity there may be, as one formula: the way to an exact answer
where branching takes too long.

A formula is True, False, ("and", parts), ("or", parts) or an atom: ("fact", cell, allowed
values), ("pair", goal, cells),
("name", cell, name, wanted) or ("there", entity, wanted). A cell is (entity, attribute key).
"""

from __future__ import annotations

from itertools import combinations

from advisor.audit.goals import NOT_FALSE, OPPOSITE, SURE, concluded, meets
from advisor.audit.pairs import cells_of, holds
from advisor.audit.scene import CHOICE
from advisor.audit.space import MOST, truth_of


def conjunction(parts):
    return _joined("and", parts, True)


def disjunction(parts):
    return _joined("or", parts, False)


def _joined(kind, parts, neutral):
    kept = tuple(dict.fromkeys(p for p in parts if p is not neutral))
    if (not neutral) in kept:
        return not neutral
    return (kind, kept) if len(kept) > 1 else kept[0] if kept else neutral


def allowed(space, node, want) -> int:
    """The values of one fact with which a condition on it is as wanted, a bit each."""
    return sum(
        1 << i
        for i, truth in enumerate(space.truths((node[0], "it", *node[2:]), node[2]))
        if meets(truth, want)
    )


class Ground:
    """Writes goals out over a fixed set of entities: those named and, up to the limit, some that
    may be there.
    """

    def __init__(self, space, names):
        self.space, self.kinds, self.given, self.memo = space, {}, set(names), {}
        for kind in space.vocabulary.entities.values():
            own = (
                [n for n in names if space.vocabulary.split(n)[0] is kind]
                if kind.many
                else [kind.name]
            )
            self.given.update(own)
            self.kinds[kind.name] = tuple(dict.fromkeys(own))

    def enlarge(self, wanted):
        """Entities that may be there: up to the limit of each kind that conditions speak of, more
        where they count more.
        """
        for name, number in wanted.items():
            fresh, kind = 1, self.kinds[name]
            while len(kind) < max(MOST, number):
                if f"{name} {fresh}" not in kind:
                    kind += (f"{name} {fresh}",)
                fresh += 1
            self.kinds[name] = kind

    def formula(self, goal):
        """The formula of a goal (see goals.py)."""
        if goal[0] in ("and", "or"):
            return (conjunction if goal[0] == "and" else disjunction)(
                [self.formula(g) for g in goal[1]]
            )
        node, bound, want, held = goal
        key = (id(node), tuple(sorted(bound.items())), want, id(held))
        if key not in self.memo:
            self.memo[key] = (
                self._written(node, bound, want, held),
                node,
                held,
            )  # kept, so that no other object takes its id
        return self.memo[key][0]

    def _written(self, node, bound, want, held):
        kind = node[0]
        if kind == "not":
            return self.formula((node[1], bound, OPPOSITE[want], held))
        if kind in ("all", "any"):
            parts = [self.formula((child, bound, want, held)) for child in node[1]]
            return (
                conjunction(parts)
                if (kind == "all") == (want in (SURE, NOT_FALSE))
                else disjunction(parts)
            )
        if kind == "some":
            return self._some(node, bound, want, held)
        if kind == "chosen":
            return (
                "name",
                (CHOICE + node[1], ""),
                bound[node[2]] if node[3] else node[2],
                want in (SURE, NOT_FALSE),
            )
        if kind == "is":
            return (
                "name",
                (bound.get(node[1], node[1]), node[2]),
                bound.get(node[3], node[3]),
                node[4] == (want in (SURE, NOT_FALSE)),
            )
        return (
            self._pair((node, bound, want, held))
            if kind in ("cmp", "same")
            else self._fact(node, bound, want, held)
        )

    def _some(self, node, bound, want, held):
        """At least so many entities, or (the other way round) all but fewer than so many."""
        _, number, variable, kind, body = node
        free = [e for e in self.kinds[kind] if e not in bound.values()]
        positive = want in (SURE, NOT_FALSE)
        wanted = number if positive else len(free) - number + 1
        if wanted <= 0:
            return True
        each = [
            self._one(e, self.formula((body, {**bound, variable: e}, want, held)), positive)
            for e in free
        ]
        return disjunction(conjunction(chosen) for chosen in combinations(each, wanted))

    def _one(self, entity, inside, positive):
        if entity in self.given:
            return inside
        return (
            conjunction([("there", entity, True), inside])
            if positive
            else disjunction([("there", entity, False), inside])
        )

    def _fact(self, node, bound, want, held):
        cell = (bound.get(node[1], node[1]), node[2])
        if cell in held:
            return meets(truth_of(node, held[cell]), want)
        if self.space.never_known(node[2]):
            return meets(
                truth_of(node, (0, self.space.vocabulary.attribute(node[2]).everything)), want
            )
        if node[0] == "in" and self.space.concluded(node[2]):
            return self.formula(concluded(self.space, *cell, node[3], want, held))
        mask = allowed(self.space, node, want)
        return ("fact", cell, mask) if mask else False

    def _pair(self, goal):
        held, cells = dict(goal[3]), cells_of(goal)
        for cell in cells:
            if self.space.never_known(cell[1]):
                held.setdefault(cell, (0, self.space.vocabulary.attribute(cell[1]).everything))
        goal = (*goal[:3], held)
        if all(cell in held for cell in cells):
            return holds(goal, cells, {}, held)
        open_ = tuple(dict.fromkeys(cell for cell in cells if cell not in held))
        if len(open_) == 1:
            values = self.space.values(open_[0][1])
            mask = sum(
                1 << i
                for i, value in enumerate(values)
                if holds(goal, cells, {open_[0]: value}, held)
            )
            return ("fact", open_[0], mask) if mask else False
        return ("pair", _Goal(goal), cells)


class _Goal(tuple):
    """A goal that is compared by what it is, not by what it says: its held facts cannot
    be hashed.
    """

    __slots__ = ()
    __hash__ = object.__hash__

    def __eq__(self, other):
        return self is other


def counted(space, goals) -> dict:
    """{kind: the most entities of it that conditions count together with those bound} over goals
    and what they rest on.
    """
    found, seen, queue = {}, set(), list(goals)
    while queue:
        goal = queue.pop()
        if goal[0] in ("and", "or"):
            queue += goal[1]
        else:
            _count(
                space,
                goal[0],
                found,
                seen,
                tuple(space.vocabulary.split(name)[0].name for name in goal[1].values()),
            )
    return found


def _count(space, node, found, seen, bound=()):
    kind = node[0]
    if kind in ("all", "any"):
        for child in node[1]:
            _count(space, child, found, seen, bound)
    elif kind == "not":
        _count(space, node[1], found, seen, bound)
    elif kind == "some":
        inner = (*bound, node[3])
        found[node[3]] = max(found.get(node[3], 0), node[1] + bound.count(node[3]))
        _count(space, node[4], found, seen, inner)
    elif kind == "is":
        for name in space.vocabulary.attribute(node[2]).of:
            if space.vocabulary.entities[name].many:
                found.setdefault(name, 1)
    elif kind == "in" and space.concluded(node[2]) and node[2] not in seen:
        seen.add(node[2])
        for rule in space.concluding[node[2]]:
            _count(space, rule.condition, found, seen, tuple(k for _, k in rule.variables))
            for _, name in rule.variables:
                found.setdefault(name, 1)
