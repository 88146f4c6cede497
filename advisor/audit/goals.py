"""Goals of a search: a condition, for some entities, that is to be sure or false, perhaps with
one fact held at a value.

Goals combine: all of some (Every), any of some (Either).
"""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct
from msgspec.structs import replace

from advisor.model.conditions import Condition, Some

SURE, FALSE, NOT_SURE, NOT_FALSE = "sure", "false", "not sure", "not false"
OPPOSITE = {
    SURE: FALSE,
    FALSE: SURE,
    NOT_SURE: NOT_FALSE,
    NOT_FALSE: NOT_SURE,
}  # what 'not' asks of its inside
CONTRARY = {SURE: NOT_SURE, NOT_SURE: SURE, FALSE: NOT_FALSE, NOT_FALSE: FALSE}
NOTHING: dict = {}


class Goal(Struct, frozen=True, eq=False):
    """A condition, for the entities `bound` to its variables, that is to be as wanted.

    `held` maps facts to (state, value): the condition is looked at as if the fact had that value,
    whatever the scene says.
    """

    condition: Condition
    bound: dict
    want: str
    held: dict

    @property
    def positive(self) -> bool:
        """Whether the condition is to hold, rather than to fail."""
        return self.want in (SURE, NOT_FALSE)

    def of(self, condition, want=None) -> Goal:
        """The same asked of another condition."""
        return Goal(condition, self.bound, want or self.want, self.held)

    def within(self, variable, entity) -> Goal:
        """What a Some asks of one entity."""
        (where,) = self.condition.children
        return Goal(where, {**self.bound, variable: entity}, self.want, self.held)


class Every(Struct, frozen=True, eq=False):
    """All of some goals."""

    goals: tuple


class Either(Struct, frozen=True, eq=False):
    """Any of some goals."""

    goals: tuple


def meets(truth: int, want: str) -> bool:
    """Whether a truth (0 false, 1 possible, 2 sure) is what is wanted."""
    return (
        truth == 2
        if want == SURE
        else truth == 0
        if want == FALSE
        else truth < 2
        if want == NOT_SURE
        else truth > 0
    )


def every(goals: Iterable) -> Every:
    return Every(tuple(goals))


def either(goals: Iterable) -> Either:
    return Either(tuple(goals))


def contrary(goal):
    """The goal that holds exactly where this one does not."""
    if isinstance(goal, Goal):
        return replace(goal, want=CONTRARY[goal.want])
    return (Either if isinstance(goal, Every) else Every)(tuple(map(contrary, goal.goals)))


def fires(rule, bound, want=SURE, held=NOTHING) -> Goal:
    """The goal that a rule fires for the entities given; its other variables stand for any
    entities.
    """
    node = rule.condition
    for variable, kind in reversed(rule.variables):
        if variable not in bound:
            node = Some(1, variable, kind, node)
    return Goal(node, bound, want, held)


def concluded(space, entity, key, mask, want, held):
    """What must hold of the rules that conclude a fact so that its possible values lie within
    `mask` (see driver.combine).
    """
    attribute = space.vocabulary.attribute(key)
    if want == FALSE:
        mask, want = attribute.everything & ~mask, SURE
    elif want == NOT_FALSE:
        mask, want = attribute.everything & ~mask, NOT_SURE
    rules = {}
    for rule in space.concluding[key]:
        variable = rule.conclusion.ref.entity
        rules.setdefault(rule.conclusion.value, []).append(
            (
                rule,
                ({variable: entity} if variable in dict(rule.variables) else {}),
            )
        )
    parts = [_kept_out(attribute, rules, value, held) for value in rules if not mask >> value & 1]
    if not mask >> attribute.otherwise & 1:
        parts.append(either(fires(r, b, SURE, held) for group in rules.values() for r, b in group))
    inside = every(parts)
    return inside if want == SURE else contrary(inside)


def _kept_out(attribute, rules, value, held):
    """A value is not possible: no rule may conclude it, or one surely concludes something worse."""
    none = every(fires(r, b, FALSE, held) for r, b in rules[value])
    worse = [
        fires(r, b, SURE, held)
        for other, group in rules.items()
        if attribute.ranks[other] > attribute.ranks[value]
        for r, b in group
    ]
    return either([none, *worse])
