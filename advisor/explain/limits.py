"""From values that were tried to limits: how far each number of a finding may go, no further."""

from __future__ import annotations

from itertools import product

from advisor.explain.nearest import Finding, confirm
from advisor.explain.targets import state_of
from advisor.explain.thresholds import least_step, pieces
from advisor.explain.values import Values
from advisor.explain.variants import Change, change_of
from advisor.model.thresholds import highest
from advisor.progress import Watch


def limits_of(run, target, search, watch=None) -> list:
    """The findings of a Search with the limits of their numbers; as they are where it was broken
    off, for then nobody waits for more.
    """
    watch = watch or Watch()
    if watch.stopped:
        return search.found
    return widened(run, search.cone, target, search.found, watch)


def widened(run, cone, target, findings, watch) -> list:
    """Findings whose numbers are all values, in words, that bring the same outcome, the others of
    the finding at either end of theirs. A finding that an earlier one holds is left out. The ends,
    and what is just beyond them, are run again with both engines. KeyboardInterrupt ends it early
    with those done so far.
    """
    found: list[Finding] = []
    limits = _Limits(run, cone, target)
    try:
        for done, finding in enumerate(findings):
            watch(done, len(findings), "limits")
            if not any(_holds(wide, finding) for wide in found):
                found.append(limits.of(finding))
    except KeyboardInterrupt:
        watch.stop()
    return found


def _holds(wide, finding) -> bool:
    """Whether every change of a finding is among those of a wider one."""
    if wide.state != finding.state or len(wide.changes) != len(finding.changes):
        return False
    return all(_within(w, c) for w, c in zip(wide.changes, finding.changes))


def _within(wide, change) -> bool:
    if wide.fact != change.fact or not _number(change):
        return wide.fact == change.fact and wide.value == change.value
    return wide.value[0] <= change.value[0] and change.value[1] <= wide.value[1]


def _number(change) -> bool:
    """Whether a change gives a number: (low, high) in steps."""
    return isinstance(change.value, tuple) and not isinstance(change.value[0], str)


class _Limits:
    """Finds the limits of the findings of one search."""

    def __init__(self, run, cone, target):
        self.run, self.cone, self.target = run, cone, target
        self.base, self.values = run.base, Values(run.base)

    def of(self, finding) -> Finding:
        """The finding with each number as wide as it may be."""
        ends = {c.fact: (c,) for c in finding.changes}
        said = {}
        for change in finding.changes:
            if _number(change):
                ends[change.fact], said[change.fact] = self._wide(change, ends, finding.state)
        changes = tuple(said.get(c.fact, c) for c in finding.changes)
        return Finding(changes, finding.state)

    def _wide(self, change, ends, state):
        """(changes to both ends, the change to all between in words) of one number."""
        attribute = self.base.vocabulary.attribute(change.key)
        others = [e for fact, e in ends.items() if fact != change.fact]

        def made(value):
            return change_of(self.base, attribute, change.entity, (value, value))

        def holds(value):
            return all(self._state((made(value), *rest)) == state for rest in product(*others))

        fact = self.run.case.facts.get(change.fact)
        given = fact.value if fact else None
        points = sorted({*self.values.along(attribute, given), change.value[0]})
        low, high = _around(holds, points, change.value[0], least_step(attribute))
        self._confirm(attribute, made, next(product(*others)), (low, high))
        scale = self.values.scale(attribute, fact)
        words = scale.span(low, high, points[0], points[-1])
        whole = Change(change.entity, change.key, (low, high), words)
        return tuple(made(v) for v in dict.fromkeys((low, high))), whole

    def _confirm(self, attribute, made, rest, span):
        """Both ends and what is just beyond them, with both engines."""
        (low, high), step = span, least_step(attribute)
        beyond = (low - step, high + step)
        for value in dict.fromkeys((low, high, *beyond)):
            if attribute.low <= value <= highest(attribute):
                changes = (made(value), *rest)
                confirm(self.run, self.target, changes, self._state(changes))

    def _state(self, changes):
        return state_of(self.base, self.target, *self.cone.run(changes))


def _around(holds, points, value, least) -> tuple:
    """(lowest, highest) value to which `holds` reaches from `value` without a break at any point;
    the break itself is found by halving.
    """
    place = points.index(value)
    return (
        _end(holds, points[place::-1], least),
        _end(holds, points[place:], least),
    )


def _end(holds, points, least) -> int:
    """The last value that holds, going along the points from the first, which does."""
    last = points[0]
    for point in points[1:]:
        if not holds(point):
            found = pieces(holds, sorted((last, point)), least)
            return found[0].high if last < point else found[-1].low
        last = point
    return last
