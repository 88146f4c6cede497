"""A small search with learning from conflicts over clauses: whether truth values can be given so
that every clause holds.

Variables are 1, 2, …; a literal is a variable or its negative; a clause is a list of literals of
which one must hold.
The method is the textbook one: propagation over two watched literals, learning at the first
unique implication point,
jumping back, restarts. It is deterministic.
"""

from __future__ import annotations

RESTART = 200  # conflicts before the first restart


class TooHard(Exception):
    """The search was given up after the conflicts allowed."""


def satisfy(count, clauses, most):
    """{variable: truth} that meets all clauses, or None where there is none; TooHard after `most`
    conflicts.
    """
    search = _Search(count)
    return search.run(most) if all(search.add(clause) for clause in clauses) else None


class _Search:
    def __init__(self, count):
        self.value, self.level, self.reason = (
            [0] * (count + 1),
            [0] * (count + 1),
            [None] * (count + 1),
        )
        self.weight, self.last = [0.0] * (count + 1), [-1] * (count + 1)
        self.watching = {literal: [] for v in range(1, count + 1) for literal in (v, -v)}
        self.trail, self.marks, self.ahead, self.step = [], [], 0, 1.0

    def holds(self, literal):
        return self.value[abs(literal)] * (1 if literal > 0 else -1)

    def add(self, clause) -> bool:
        """Take a clause; False when it cannot be met at all."""
        clause = list(dict.fromkeys(clause))
        if any(-literal in clause for literal in clause):
            return True
        if len(clause) > 1:
            self._watch(clause)
            return True
        if not clause or self.holds(clause[0]) < 0:
            return False
        if not self.holds(clause[0]):
            self._set(clause[0], None)
        return True

    def _watch(self, clause):
        self.watching[clause[0]].append(clause)
        self.watching[clause[1]].append(clause)

    def _set(self, literal, reason):
        variable = abs(literal)
        self.value[variable], self.level[variable], self.reason[variable] = (
            (1 if literal > 0 else -1),
            len(self.marks),
            reason,
        )
        self.trail.append(literal)

    def run(self, most):
        conflicts, restart = 0, RESTART
        while True:
            clash = self._propagate()
            if clash is None:
                if not self._decide():
                    return {v: self.value[v] > 0 for v in range(1, len(self.value))}
                continue
            conflicts += 1
            if not self.marks:
                return None
            if conflicts > most:
                raise TooHard
            self._learn(clash)
            if conflicts >= restart and self.marks:
                restart = conflicts + RESTART + conflicts // 2
                self._back(0)

    def _propagate(self):
        """The clause that cannot be met any more, or None."""
        while self.ahead < len(self.trail):
            false = -self.trail[self.ahead]
            self.ahead += 1
            waiting, self.watching[false] = self.watching[false], []
            for place, clause in enumerate(waiting):
                if not self._look(clause, false):
                    self.watching[false] += waiting[place + 1 :]
                    return clause
        return None

    def _look(self, clause, false) -> bool:
        """Find a clause another literal to watch, or conclude its last one; False when there is
        none.
        """
        if clause[0] == false:
            clause[0], clause[1] = clause[1], false
        if self.holds(clause[0]) <= 0:
            for place in range(2, len(clause)):
                if self.holds(clause[place]) >= 0:
                    clause[1], clause[place] = clause[place], false
                    self.watching[clause[1]].append(clause)
                    return True
        self.watching[false].append(clause)
        if self.holds(clause[0]) < 0:
            return False
        if not self.holds(clause[0]):
            self._set(clause[0], clause)
        return True

    def _decide(self) -> bool:
        free = [v for v in range(1, len(self.value)) if not self.value[v]]
        if not free:
            return False
        variable = max(free, key=self.weight.__getitem__)
        self.marks.append(len(self.trail))
        self._set(variable * self.last[variable], None)
        return True

    def _learn(self, clash):
        """Learn why the last decision cannot stand, jump back and conclude what follows."""
        seen, learnt, open_, place, literal = set(), [], 0, len(self.trail), None
        while True:
            for other in clash:
                variable = abs(other)
                if variable not in seen and self.level[variable]:
                    seen.add(variable)
                    self.weight[variable] += self.step
                    open_ += self.level[variable] == len(self.marks)
                    learnt += [other] if self.level[variable] < len(self.marks) else []
            while True:
                place -= 1
                literal = self.trail[place]
                if abs(literal) in seen:
                    break
            open_ -= 1
            if not open_:
                break
            clash = [o for o in self.reason[abs(literal)] if o != literal]
        self._conclude([-literal, *sorted(learnt, key=lambda o: -self.level[abs(o)])])

    def _conclude(self, clause):
        self.step *= 1.05
        if self.step > 1e100:
            self.weight, self.step = [w / self.step for w in self.weight], 1.0
        self._back(self.level[abs(clause[1])] if len(clause) > 1 else 0)
        if len(clause) > 1:
            self._watch(clause)
        self._set(clause[0], clause if len(clause) > 1 else None)

    def _back(self, level):
        if level < len(self.marks):
            for literal in self.trail[self.marks[level] :]:
                self.last[abs(literal)], self.value[abs(literal)] = (1 if literal > 0 else -1), 0
            del self.trail[self.marks[level] :], self.marks[level:]
            self.ahead = len(self.trail)
