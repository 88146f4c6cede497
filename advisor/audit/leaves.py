"""The simple conditions of a rule by their path, how they are told in one line, and conditions
with one of them replaced.
"""

from __future__ import annotations

from advisor.audit.scene import words
from advisor.facts.values import show_value
from advisor.model.conditions import AllOf, Compare, Group, InValues, Leaf, Not, OneFact, State

OPERATORS = {
    ">=": "at least ",
    "<=": "at most ",
    ">": "above ",
    "<": "below ",
    "==": "",
    "!=": "not ",
}


def flat(condition):
    """The conditions that must all hold, nested 'all's opened."""
    if isinstance(condition, AllOf):
        for child in condition.parts:
            yield from flat(child)
    else:
        yield condition


def leaves(node, path=(), positive=True):
    """(path, simple condition, whether it speaks for the rule) of every simple condition."""
    if isinstance(node, Leaf):
        yield path, node, positive
        return
    for number, child in enumerate(node.children):
        yield from leaves(child, (*path, number), positive != isinstance(node, Not))


def groups(node, path=()):
    """(path, node) of every 'all' or 'any' of two or more, and every 'not' and 'some'."""
    if not isinstance(node, Leaf) and not (isinstance(node, Group) and len(node.parts) < 2):
        yield path, node
    for number, child in enumerate(node.children):
        yield from groups(child, (*path, number))


def replaced(node, path, new):
    """A condition with the part at a path replaced."""
    if not path:
        return new
    children, (step, *rest) = list(node.children), path
    children[step] = replaced(children[step], rest, new)
    return node.with_children(tuple(children))


def told(space, rule, node) -> str:
    """One condition as 'anchor a.side = left or middle'; what is not simple as a sentence."""
    kinds = dict(rule.variables)
    if isinstance(node, OneFact):
        entity, attribute = node.ref.entity, space.vocabulary.attribute(node.ref.key)
        name = f"{kinds[entity]} {entity}" if entity in kinds else entity
        return f"{name}.{attribute.name} = {_value(attribute, node)}"
    from advisor.decide.sentences import sentence

    return sentence(
        space.base, node, {variable: f"{kind} {variable}" for variable, kind in rule.variables}
    )


def _value(attribute, node) -> str:
    """What a condition on one fact wants of it."""
    match node:
        case InValues():
            return show_value(attribute, node.mask)
        case Compare():
            return OPERATORS[node.op] + words(attribute, (2, (node.steps, node.steps)))
        case State():
            return node.word
    raise TypeError(node)
