"""Goals written out for every entity there may be, as one formula: the way to an exact answer
where branching takes too long.

A formula is True, False, ("and", parts), ("or", parts) or an atom: ("fact", cell, allowed
values), ("pair", goal, cells),
("name", cell, name, wanted) or ("there", entity, wanted). A cell is a Ref.
"""

from __future__ import annotations

from itertools import combinations

from msgspec.structs import replace

from advisor.audit.goals import OPPOSITE, Every, Goal, concluded, meets
from advisor.audit.pairs import cells_of, holds
from advisor.audit.scene import CHOICE
from advisor.audit.space import MOST, truth_of
from advisor.model.conditions import AllOf, Chosen, Group, InValues, Not, PointsAt, Some, TwoFacts
from advisor.model.ref import Ref


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
    return sum(1 << i for i, truth in enumerate(space.truths(node)) if meets(truth, want))


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
        if not isinstance(goal, Goal):
            return (conjunction if isinstance(goal, Every) else disjunction)(
                [self.formula(g) for g in goal.goals]
            )
        key = (id(goal.condition), tuple(sorted(goal.bound.items())), goal.want, id(goal.held))
        if key not in self.memo:
            # The goal is kept, so that no other object takes the ids of its parts.
            self.memo[key] = (self._written(goal), goal)
        return self.memo[key][0]

    def _written(self, goal):
        node, bound = goal.condition, goal.bound
        if isinstance(node, Not):
            return self.formula(goal.of(node.part, OPPOSITE[goal.want]))
        if isinstance(node, Group):
            parts = [self.formula(goal.of(child)) for child in node.parts]
            return (
                conjunction(parts)
                if isinstance(node, AllOf) == goal.positive
                else disjunction(parts)
            )
        if isinstance(node, Some):
            return self._some(goal)
        if isinstance(node, Chosen):
            option = bound[node.option] if node.is_variable else node.option
            return ("name", Ref(CHOICE + node.decision, ""), option, goal.positive)
        if isinstance(node, PointsAt):
            target = bound.get(node.target, node.target)
            return ("name", node.ref.at(bound), target, node.same == goal.positive)
        return self._pair(goal) if isinstance(node, TwoFacts) else self._fact(goal)

    def _some(self, goal):
        """At least so many entities, or (the other way round) all but fewer than so many."""
        node = goal.condition
        free = [e for e in self.kinds[node.kind] if e not in goal.bound.values()]
        wanted = node.number if goal.positive else len(free) - node.number + 1
        if wanted <= 0:
            return True
        each = [
            self._one(e, self.formula(goal.within(node.variable, e)), goal.positive) for e in free
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

    def _fact(self, goal):
        node, want, held = goal.condition, goal.want, goal.held
        cell = node.ref.at(goal.bound)
        if cell in held:
            return meets(truth_of(node, held[cell]), want)
        if self.space.never_known(cell.key):
            return meets(
                truth_of(node, (0, self.space.vocabulary.attribute(cell.key).everything)), want
            )
        if isinstance(node, InValues) and self.space.concluded(cell.key):
            return self.formula(concluded(self.space, *cell, node.mask, want, held))
        mask = allowed(self.space, node, want)
        return ("fact", cell, mask) if mask else False

    def _pair(self, goal):
        held, cells = dict(goal.held), cells_of(goal)
        for cell in cells:
            if self.space.never_known(cell.key):
                held.setdefault(cell, (0, self.space.vocabulary.attribute(cell.key).everything))
        goal = replace(goal, held=held)
        if all(cell in held for cell in cells):
            return holds(goal, cells, {}, held)
        open_ = tuple(dict.fromkeys(cell for cell in cells if cell not in held))
        if len(open_) == 1:
            values = self.space.values(open_[0].key)
            mask = sum(
                1 << i
                for i, value in enumerate(values)
                if holds(goal, cells, {open_[0]: value}, held)
            )
            return ("fact", open_[0], mask) if mask else False
        return ("pair", goal, cells)


def counted(space, goals) -> dict:
    """{kind: the most entities of it that conditions count together with those bound} over goals
    and what they rest on.
    """
    found: dict[str, int] = {}
    seen: set[str] = set()
    queue = list(goals)
    while queue:
        goal = queue.pop()
        if isinstance(goal, Goal):
            kinds = tuple(space.vocabulary.split(name)[0].name for name in goal.bound.values())
            _count(space, goal.condition, found, seen, kinds)
        else:
            queue += goal.goals
    return found


def _count(space, node, found, seen, bound=()):
    if isinstance(node, Some):
        found[node.kind] = max(found.get(node.kind, 0), node.number + bound.count(node.kind))
        bound = (*bound, node.kind)
    for child in node.children:
        _count(space, child, found, seen, bound)
    if isinstance(node, PointsAt):
        for name in space.vocabulary.attribute(node.ref.key).of:
            if space.vocabulary.entities[name].many:
                found.setdefault(name, 1)
    elif isinstance(node, InValues) and space.concluded(node.ref.key) and node.ref.key not in seen:
        seen.add(node.ref.key)
        for rule in space.concluding[node.ref.key]:
            _count(space, rule.condition, found, seen, tuple(k for _, k in rule.variables))
            for _, name in rule.variables:
                found.setdefault(name, 1)
