"""Conditions told as sentences, in the vocabulary's own words."""

from __future__ import annotations

from advisor.facts.times import show_time
from advisor.facts.units import show
from advisor.model.conditions import (
    AllOf,
    AnyOf,
    Chosen,
    Compare,
    CompareRefs,
    InValues,
    Not,
    PointsAt,
    SameWord,
    Some,
    State,
)

LONG_LIST = 6  # more values than this are told by those left out, where they are fewer
BOUND = {
    ">=": "is at least",
    "<=": "is at most",
    ">": "is above",
    "<": "is below",
    "==": "is",
    "!=": "is not",
}


def who(base, variable, bound) -> str:
    """The name of the entity a variable stands for, or the variable's kind when it stands for
    none.
    """
    from advisor.decide.firing import name_of

    return (
        name_of(base, bound[variable])
        if variable in bound
        else f"the {variable}"
        if variable in base.vocabulary.entities
        else variable
    )


def attribute_of(base, ref, bound) -> str:
    """'depth of the pitch'."""
    return f"{ref.attribute} of {who(base, ref.entity, bound)}"


def sentence(base, node, bound) -> str:
    """One condition as a sentence, without a full stop."""
    return _FORMS[type(node)](base, node, bound)


def _join(base, nodes, bound, word):
    texts = [sentence(base, n, bound) for n in nodes]
    return (
        f" {word} ".join(texts)
        if len(texts) < 3
        else ", ".join(texts[:-1]) + f" {word} {texts[-1]}"
    )


def _all(base, node, bound):
    return _join(base, node.parts, bound, "and")


def _any(base, node, bound):
    return _join(base, node.parts, bound, "or")


def _not(base, node, bound):
    inner = node.part
    if isinstance(inner, AllOf) and len(inner.parts) == 1:
        (inner,) = inner.parts
    if isinstance(inner, Some):
        rest = _where(base, inner, bound)
        return (
            f"there is no {inner.kind}{rest}"
            if inner.number == 1
            else f"there are fewer than {inner.number} {inner.kind}s{rest}"
        )
    return f"not: {sentence(base, inner, bound)}"


def _some(base, node, bound):
    kind, rest = node.kind, _where(base, node, bound)
    return (
        f"there is {'an' if kind[0] in 'aeiou' else 'a'} {kind}{rest}"
        if node.number == 1
        else f"there are at least {node.number} {kind}s{rest}"
    )


def _where(base, node, bound):
    nodes = node.where.children
    if not nodes:
        return ""
    text = _join(base, nodes, {**bound, node.variable: f"{node.kind} it"}, "and")
    return f" such that {text}"


def _in(base, node, bound):
    attribute = base.vocabulary.attribute(node.ref.key)
    words = [v for i, v in enumerate(attribute.values) if node.mask >> i & 1]
    if len(words) == 1 and words[0] in attribute.says:
        return attribute.says[words[0]].replace("{it}", who(base, node.ref.entity, bound))
    rest = [v for v in attribute.values if v not in words]
    if len(rest) == 1 or len(rest) < len(words) > LONG_LIST:
        return f"{attribute_of(base, node.ref, bound)} is not {' or '.join(rest)}"
    return f"{attribute_of(base, node.ref, bound)} is {' or '.join(words)}"


def _compare(base, node, bound):
    attribute = base.vocabulary.attribute(node.ref.key)
    value = show_time(node.steps) if attribute.type == "time" else show(node.steps, attribute.unit)
    return f"{attribute_of(base, node.ref, bound)} {BOUND[node.op]} {value}"


def _compare_refs(base, node, bound):
    factor = "" if node.times == node.per else f"{node.times / node.per:g} times "
    return (
        f"{attribute_of(base, node.ref, bound)} {BOUND[node.op]} {factor}the"
        f" {attribute_of(base, node.other, bound)}"
    )


def _same(base, node, bound):
    return (
        f"{attribute_of(base, node.ref, bound)} is {'' if node.same else 'not '}the same as"
        f" the {attribute_of(base, node.other, bound)}"
    )


def _points_at(base, node, bound):
    return (
        f"{attribute_of(base, node.ref, bound)} is"
        f" {'' if node.same else 'not '}{who(base, node.target, bound)}"
    )


def _state(base, node, bound):
    return f"{attribute_of(base, node.ref, bound)} is {node.word}"


def _chosen(base, node, bound):
    option = who(base, node.option, bound) if node.is_variable else node.option
    return f"the {node.decision} chosen is {option}"


_FORMS = {
    InValues: _in,
    Compare: _compare,
    CompareRefs: _compare_refs,
    SameWord: _same,
    PointsAt: _points_at,
    State: _state,
    Chosen: _chosen,
    Some: _some,
    Not: _not,
    AllOf: _all,
    AnyOf: _any,
}
