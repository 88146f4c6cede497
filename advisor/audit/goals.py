"""Goals of a search: a condition, for some entities, that is to be sure or false, perhaps with
one fact held at a value.

A goal is (node, bound, want, held). `held` maps (entity, key) -> (state, value): the condition is
looked at as if the fact
had that value, whatever the scene says. Goals combine as ("and", goals) and ("or", goals).
"""

from __future__ import annotations

SURE, FALSE, NOT_SURE, NOT_FALSE = "sure", "false", "not sure", "not false"
OPPOSITE = {
    SURE: FALSE,
    FALSE: SURE,
    NOT_SURE: NOT_FALSE,
    NOT_FALSE: NOT_SURE,
}  # what 'not' asks of its inside
CONTRARY = {SURE: NOT_SURE, NOT_SURE: SURE, FALSE: NOT_FALSE, NOT_FALSE: FALSE}
NOTHING = {}


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


def both(goals):
    return ("and", tuple(goals))


def either(goals):
    return ("or", tuple(goals))


def contrary(goal):
    """The goal that holds exactly where this one does not."""
    if goal[0] in ("and", "or"):
        return ("or" if goal[0] == "and" else "and", tuple(map(contrary, goal[1])))
    return (goal[0], goal[1], CONTRARY[goal[2]], goal[3])


def fires(rule, bound, want=SURE, held=NOTHING):
    """The goal that a rule fires for the entities given; its other variables stand for any
    entities.
    """
    node = rule.condition
    for variable, kind in reversed(rule.variables):
        if variable not in bound:
            node = ("some", 1, variable, kind, node)
    return (node, bound, want, held)


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
        details = rule.effects[0][1]
        rules.setdefault(details["value"], []).append(
            (
                rule,
                (
                    {details["var"]: entity}
                    if rule.variables and details["var"] in dict(rule.variables)
                    else {}
                ),
            )
        )
    parts = [_kept_out(attribute, rules, value, held) for value in rules if not mask >> value & 1]
    if not mask >> attribute.otherwise & 1:
        parts.append(either(fires(r, b, SURE, held) for group in rules.values() for r, b in group))
    inside = both(parts)
    return inside if want == SURE else contrary(inside)


def _kept_out(attribute, rules, value, held):
    """A value is not possible: no rule may conclude it, or one surely concludes something worse."""
    none = both(fires(r, b, FALSE, held) for r, b in rules[value])
    worse = [
        fires(r, b, SURE, held)
        for other, group in rules.items()
        if attribute.ranks[other] > attribute.ranks[value]
        for r, b in group
    ]
    return either([none, *worse])
