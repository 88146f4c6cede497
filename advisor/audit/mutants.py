"""Small mistakes put into a rule on purpose: a condition dropped or turned round, a figure
shifted, an effect swapped.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import NamedTuple

from advisor.audit.leaves import FALSE_NODE, TRUE, groups, leaves, replaced
from advisor.decide.verdicts import VERDICTS
from advisor.facts.units import in_steps
from advisor.knowledge.rule import references

FLIPS = {
    ">=": (">", "<"),
    ">": (">=", "<="),
    "<=": ("<", ">"),
    "<": ("<=", ">="),
    "==": ("!=",),
    "!=": ("==",),
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
        if any(True for _ in references(condition)) or condition != rule.condition:
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
            f"drop {leaf[0]} at {path}",
            replaced(condition, path, FALSE_NODE if parent[0] == "any" else TRUE),
        )
        yield from (
            (change, replaced(condition, path, new)) for change, new in _leaf(base, leaf, path)
        )
    for path, node in groups(condition):
        if node[0] in ("all", "any"):
            yield (
                f"{node[0]} turned round at {path}",
                replaced(condition, path, ("any" if node[0] == "all" else "all", node[1])),
            )
        elif node[0] == "not":
            yield f"'not' dropped at {path}", replaced(condition, path, node[1])
        else:
            yield (
                f"one more entity wanted at {path}",
                replaced(condition, path, ("some", node[1] + 1, *node[2:])),
            )


def _at(condition, path):
    for step in path:
        condition = (
            condition[1][step]
            if condition[0] in ("all", "any")
            else condition[1]
            if condition[0] == "not"
            else condition[4]
        )
    return condition


def _leaf(base, leaf, path):
    """Turned round, or its figure shifted by one unit."""
    kind = leaf[0]
    if kind == "in":
        everything = base.vocabulary.attribute(leaf[2]).everything
        yield f"other values at {path}", (*leaf[:3], everything & ~leaf[3])
    elif kind in ("num", "cmp"):
        yield from (
            (f"{leaf[3]} made {op} at {path}", (*leaf[:3], op, *leaf[4:])) for op in FLIPS[leaf[3]]
        )
    elif kind in ("is", "same"):
        yield f"turned round at {path}", (*leaf[:-1], not leaf[-1])
    if kind == "num":
        attribute = base.vocabulary.attribute(leaf[2])
        unit = 60 if attribute.type == "time" else int(in_steps(Fraction(1), attribute.unit))
        yield from (
            (
                f"figure {'+' if d > 0 else '-'}1 {attribute.unit} at {path}",
                (*leaf[:4], leaf[4] + d),
            )
            for d in (-unit, unit)
        )


def _effects(base, rule, effect):
    kind, details = effect
    for name, order in GRADES.items():
        if details.get(name) in order and not (kind == "require" and name == "give"):
            wanted = [
                g
                for g in order
                if g != details[name] and not (kind in ("prefer", "disfavour") and g == "must")
            ]
            yield from ((f"{name} made {g}", (kind, {**details, name: g})) for g in wanted)
    if "option" in details and not details["variable"]:
        others = [
            o for o in base.decisions[details["decision"]]["options"] if o != details["option"]
        ]
        yield from ((f"option made {o}", (kind, {**details, "option": o})) for o in others)
    if kind in ("prefer", "disfavour"):
        yield f"{kind} turned round", ("disfavour" if kind == "prefer" else "prefer", details)
    if kind == "derive":
        count = len(base.vocabulary.attribute(details["key"]).values)
        yield from (
            (f"value {v} concluded", (kind, {**details, "value": v}))
            for v in range(count)
            if v != details["value"]
        )
