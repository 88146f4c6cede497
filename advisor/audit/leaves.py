"""The simple conditions of a rule by their path, how they are told in one line, and conditions
with one of them replaced.
"""

from __future__ import annotations

from advisor.audit.scene import words
from advisor.facts.values import show_value
from advisor.knowledge.rule import LEAVES

TRUE, FALSE_NODE = ("all", ()), ("any", ())
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
    if condition[0] == "all":
        for child in condition[1]:
            yield from flat(child)
    else:
        yield condition


def leaves(node, path=(), positive=True):
    """(path, simple condition, whether it speaks for the rule) of every simple condition."""
    if node[0] in LEAVES:
        yield path, node, positive
    elif node[0] in ("all", "any"):
        for number, child in enumerate(node[1]):
            yield from leaves(child, (*path, number), positive)
    elif node[0] == "not":
        yield from leaves(node[1], (*path, 0), not positive)
    else:
        yield from leaves(node[4], (*path, 0), positive)


def groups(node, path=()):
    """(path, node) of every 'all' or 'any' of two or more, and every 'not' and 'some'."""
    if node[0] in ("all", "any"):
        if len(node[1]) > 1:
            yield path, node
        for number, child in enumerate(node[1]):
            yield from groups(child, (*path, number))
    elif node[0] in ("not", "some"):
        yield path, node
        yield from groups(node[1] if node[0] == "not" else node[4], (*path, 0))


def replaced(node, path, new):
    """A condition with the part at a path replaced."""
    if not path:
        return new
    if node[0] in ("all", "any"):
        children = list(node[1])
        children[path[0]] = replaced(children[path[0]], path[1:], new)
        return (node[0], tuple(children))
    if node[0] == "not":
        return ("not", replaced(node[1], path[1:], new))
    return (*node[:4], replaced(node[4], path[1:], new))


def told(space, rule, node) -> str:
    """One condition as 'anchor a.side = left or middle'; what is not simple as a sentence."""
    kinds = dict(rule.variables)
    name = (
        f"{kinds[node[1]]} {node[1]}"
        if node[0] in LEAVES and node[1] in kinds
        else node[1]
        if node[0] in LEAVES
        else ""
    )
    if node[0] == "in":
        attribute = space.vocabulary.attribute(node[2])
        return f"{name}.{attribute.name} = {show_value(attribute, node[3])}"
    if node[0] == "num":
        attribute = space.vocabulary.attribute(node[2])
        return (
            f"{name}.{attribute.name} ="
            f" {OPERATORS[node[3]]}{words(attribute, (2, (node[4], node[4])))}"
        )
    if node[0] == "state":
        return f"{name}.{node[2].partition('.')[2]} = {node[3]}"
    from advisor.explain.sentences import sentence

    return sentence(
        space.base, node, {variable: f"{kind} {variable}" for variable, kind in rule.variables}
    )
