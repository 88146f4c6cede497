"""Facts that meet goals, found by search: exact within the limits of the space.

The goals are written out as one formula (see ground), this as clauses, and a general-purpose SAT
solver looks for truth values that meet them all. Every answer is checked again by the callers.
"""

from __future__ import annotations

from pysat.solvers import Solver

from advisor.audit.ground import Ground, conjunction, counted
from advisor.audit.pairs import holds, ordered
from advisor.audit.scene import CHOICE, Scene

# Undecided truth values are tried as false first, so that a scene holds little beside what the
# goals need; the same goals bring the same scene every time.
SOLVER = "glucose4"


def search(space, goals, names=()) -> Scene | None:
    """A scene that meets the goals, None where none does; `names`: entities that are there, such
    as 'anchor a'.
    """
    ground = Ground(space, names)
    ground.enlarge(counted(space, goals))
    formula = conjunction(ground.formula(goal) for goal in goals)
    if formula is False:
        return None
    coding = _Coding(space, ground, formula)
    with Solver(SOLVER, bootstrap_with=coding.clauses) as solver:
        return coding.scene(set(solver.get_model())) if solver.solve() else None


class _Coding:
    """A formula as clauses.

    Only one direction of each part is needed, since nothing stands under a negation.
    """

    def __init__(self, space, ground, formula):
        self.space, self.ground, self.count, self.clauses = space, ground, 0, []
        self.masks, self.paired, self.names, self.parts, self.there = {}, set(), {}, {}, {}
        self._gather(formula, set())
        self.values = {
            cell: self._values(cell)
            for cell in sorted({*self.masks, *self.paired})
            if not space.is_name(cell[1])
        }
        self.named = {
            cell: self._names(cell)
            for cell in sorted({*self.names, *(c for c in self.masks if space.is_name(c[1]))})
        }
        self._fewest_first()
        self.clauses.append([self._literal(formula)])

    def _new(self):
        self.count += 1
        return self.count

    def _one_of(self, variables):
        self.clauses.append(list(variables))
        self.clauses += [[-a, -b] for i, a in enumerate(variables) for b in variables[:i]]

    def _gather(self, formula, seen):
        if formula in (True, False) or formula in seen:
            return
        seen.add(formula)
        if formula[0] in ("and", "or"):
            for part in formula[1]:
                self._gather(part, seen)
        elif formula[0] == "fact":
            self.masks.setdefault(formula[1], set()).add(formula[2])
        elif formula[0] == "pair":
            self.paired.update(c for c in formula[2] if c not in formula[1].held)
        elif formula[0] == "name":
            self.names.setdefault(formula[1], set()).add(formula[2])

    def _values(self, cell):
        """[(variable, values as a mask)]: values that nothing here tells apart share one
        variable.
        """
        classes = {}
        for i in range(len(self.space.values(cell[1]))):
            signature = (
                i
                if cell in self.paired
                else tuple(mask >> i & 1 for mask in sorted(self.masks[cell]))
            )
            classes[signature] = classes.get(signature, 0) | 1 << i
        coded = [(self._new(), mask) for mask in classes.values()]
        self._one_of([variable for variable, _ in coded])
        return coded

    def _names(self, cell):
        """{name or state: variable} of what a fact that names an entity, or a decision, may be."""
        if cell[0].startswith(CHOICE):
            options = [*sorted(self.names[cell]), None]
        else:
            options = [
                e
                for kind in self.space.vocabulary.attribute(cell[1]).of
                for e in self.ground.kinds[kind]
            ] + [1, 2]
        coded = {option: self._new() for option in options}
        self._one_of(list(coded.values()))
        for option, variable in coded.items():
            if (
                isinstance(option, str)
                and not cell[0].startswith(CHOICE)
                and option not in self.ground.given
            ):
                self.clauses.append([-variable, self._present(option)])
        return coded

    def _present(self, entity):
        if entity not in self.there:
            self.there[entity] = self._new()
        return self.there[entity]

    def _fewest_first(self):
        """Those that may be there are alike: the second is there only if the first is."""
        for entities in self.ground.kinds.values():
            fresh = [self._present(e) for e in entities if e not in self.ground.given]
            self.clauses += [[-second, first] for first, second in zip(fresh, fresh[1:])]

    def _literal(self, formula):
        if formula not in self.parts:
            self.parts[formula] = self._coded(formula)
        return self.parts[formula]

    def _coded(self, formula):
        kind = formula[0] if isinstance(formula, tuple) else formula
        if kind == "there":
            return self._present(formula[1]) * (1 if formula[2] else -1)
        own = self._new()
        if kind == "and":
            self.clauses += [[-own, self._literal(part)] for part in formula[1]]
        elif kind == "or":
            self.clauses.append([-own, *(self._literal(part) for part in formula[1])])
        elif kind == "fact":
            self.clauses.append([-own, *self._fact(*formula[1:])])
        elif kind == "name":
            self.clauses.append([-own, *self._name(*formula[1:])])
        elif kind == "pair":
            self._pair(own, *formula[1:])
        else:
            self.clauses.append([own if kind else -own])
        return own

    def _fact(self, cell, mask):
        if self.space.is_name(cell[1]):
            return [
                v
                for option, v in self.named[cell].items()
                if mask >> (option if isinstance(option, int) else 0) & 1
            ]
        return [v for v, values in self.values[cell] if values & mask == values]

    def _name(self, cell, name, wanted):
        coded = self.named[cell]
        if wanted:
            return [coded[name]] if name in coded else []
        return [
            v
            for option, v in coded.items()
            if option != name and (isinstance(option, str) or option is None)
        ]

    def _pair(self, own, goal, cells):
        """For each value of the first fact, those of the second with which the comparison comes
        out as wanted.
        """
        first, second = cells
        here, there = self.space.values(first[1]), self.space.values(second[1])
        for variable, mask in self.values[first]:
            value = here[mask.bit_length() - 1]
            fitting = [
                v
                for v, other in self.values[second]
                if holds(
                    goal, cells, {first: value, second: there[other.bit_length() - 1]}, goal.held
                )
            ]
            self.clauses.append([-own, -variable, *fitting])

    def scene(self, true):
        """The scene that the true variables stand for; of values that nothing tells apart, the
        most natural one.
        """
        kinds = {
            kind: tuple(e for e in entities if e in self.ground.given or self._present(e) in true)
            for kind, entities in self.ground.kinds.items()
        }
        there = {e for entities in kinds.values() for e in entities}
        values = {
            cell: ordered(self.space, cell[1], mask)[0]
            for cell, coded in self.values.items()
            for v, mask in coded
            if v in true and cell[0] in there
        }
        named = {
            cell: option
            for cell, coded in self.named.items()
            for option, v in coded.items()
            if v in true
            and isinstance(option, str)
            and (cell[0] in there or cell[0].startswith(CHOICE))
        }
        return Scene(kinds, values, named)
