"""Small mistakes put into a rule on purpose: a condition dropped or turned round, a figure
shifted, an effect swapped.
"""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from msgspec.structs import replace

from advisor.audit.leaves import groups, leaves, replaced
from advisor.decide.verdicts import VERDICTS
from advisor.facts.units import in_steps
from advisor.model.conditions import (
    ALWAYS,
    NEVER,
    AllOf,
    AnyOf,
    Chosen,
    Compare,
    CompareRefs,
    Group,
    InValues,
    Not,
    PointsAt,
    SameWord,
    State,
)
from advisor.model.effects import Derive, Disfavour, OnOption, Prefer, Weigh

FLIPS = {
    ">=": (">", "<"),
    ">": (">=", "<="),
    "<=": ("<", ">"),
    "<": ("<=", ">="),
    "==": ("!=",),
    "!=": ("==",),
}
NAMES = {
    InValues: "values",
    Compare: "figure",
    CompareRefs: "comparison",
    SameWord: "same word",
    PointsAt: "name",
    State: "state",
    Chosen: "choice",
}
GRADES = {
    "strength": ("must", "should", "may"),
    "severity": ("danger", "caution", "note"),
    "give": VERDICTS,
}


class Mutant(NamedTuple):
    """A changed rule and what was changed; `sort` is condition or effect."""

    sort: str
    change: str
    rule: object


def mutants(base, rule):
    """Every mutant of a rule."""
    for change, condition in _conditions(base, rule.condition):
        if any(True for _ in condition.references()) or condition != rule.condition:
            yield Mutant("condition", change, replace(rule, condition=condition))
    for number, effect in enumerate(rule.effects):
        for change, new in _effects(base, rule, effect):
            yield Mutant(
                "effect",
                change,
                replace(rule, effects=(*rule.effects[:number], new, *rule.effects[number + 1 :])),
            )


def _conditions(base, condition):
    for path, leaf, _ in leaves(condition):
        parent = _at(condition, path[:-1])
        yield (
            f"drop {NAMES[type(leaf)]} at {path}",
            replaced(condition, path, NEVER if isinstance(parent, AnyOf) else ALWAYS),
        )
        yield from (
            (change, replaced(condition, path, new)) for change, new in _leaf(base, leaf, path)
        )
    for path, node in groups(condition):
        if isinstance(node, Group):
            every = isinstance(node, AllOf)
            yield (
                f"{'all' if every else 'any'} turned round at {path}",
                replaced(condition, path, (AnyOf if every else AllOf)(node.parts)),
            )
        elif isinstance(node, Not):
            yield f"'not' dropped at {path}", replaced(condition, path, node.part)
        else:
            yield (
                f"one more entity wanted at {path}",
                replaced(condition, path, replace(node, number=node.number + 1)),
            )


def _at(condition, path):
    for step in path:
        condition = condition.children[step]
    return condition


def _leaf(base, leaf, path):
    """Turned round, or its figure shifted by one unit."""
    if isinstance(leaf, InValues):
        everything = base.vocabulary.attribute(leaf.ref.key).everything
        yield f"other values at {path}", replace(leaf, mask=everything & ~leaf.mask)
    elif isinstance(leaf, (Compare, CompareRefs)):
        yield from (
            (f"{leaf.op} made {op} at {path}", replace(leaf, op=op)) for op in FLIPS[leaf.op]
        )
    elif isinstance(leaf, (PointsAt, SameWord)):
        yield f"turned round at {path}", replace(leaf, same=not leaf.same)
    if isinstance(leaf, Compare):
        attribute = base.vocabulary.attribute(leaf.ref.key)
        unit = 60 if attribute.type == "time" else int(in_steps(Fraction(1), attribute.unit))
        yield from (
            (
                f"figure {'+' if d > 0 else '-'}1 {attribute.unit} at {path}",
                replace(leaf, steps=leaf.steps + d),
            )
            for d in (-unit, unit)
        )


def _effects(base, rule, effect):
    for name, order in GRADES.items():
        grade = getattr(effect, name, None)
        if grade in order:
            wanted = [
                g for g in order if g != grade and not (isinstance(effect, Weigh) and g == "must")
            ]
            yield from ((f"{name} made {g}", replace(effect, **{name: g})) for g in wanted)
    if isinstance(effect, OnOption) and not effect.is_variable:
        others = [o for o in base.decisions[effect.decision]["options"] if o != effect.option]
        yield from ((f"option made {o}", replace(effect, option=o)) for o in others)
    if isinstance(effect, Weigh):
        contrary = Disfavour if isinstance(effect, Prefer) else Prefer
        yield (
            f"{effect.kind} turned round",
            contrary(
                effect.decision, effect.option, effect.is_variable, effect.strength, effect.concern
            ),
        )
    if isinstance(effect, Derive):
        count = len(base.vocabulary.attribute(effect.ref.key).values)
        yield from (
            (f"value {v} concluded", replace(effect, value=v))
            for v in range(count)
            if v != effect.value
        )
