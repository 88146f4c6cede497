"""Conditions told as sentences, in the vocabulary's own words."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from advisor.decide.firing import name_of
from advisor.facts.times import show_time
from advisor.facts.units import show
from advisor.model.base import Base
from advisor.model.conditions import (
    AllOf,
    AnyOf,
    Chosen,
    Compare,
    CompareRefs,
    Condition,
    InValues,
    Not,
    PointsAt,
    SameWord,
    Some,
    State,
)
from advisor.model.ref import Ref

LONG_LIST = 6  # more values than this are told by those left out, where they are fewer
BOUND = {
    ">=": "is at least",
    "<=": "is at most",
    ">": "is above",
    "<": "is below",
    "==": "is",
    "!=": "is not",
}


def who(base: Base, variable: str, bound: Mapping[str, str]) -> str:
    """The name of the entity a variable stands for, or the variable's kind when it stands for
    none.
    """
    return (
        name_of(base, bound[variable])
        if variable in bound
        else f"the {variable}"
        if variable in base.vocabulary.entities
        else variable
    )


def attribute_of(base: Base, ref: Ref, bound: Mapping[str, str]) -> str:
    """'depth of the pitch'."""
    return f"{ref.attribute} of {who(base, ref.entity, bound)}"


def sentence(base: Base, node: Condition, bound: Mapping[str, str]) -> str:
    """One condition as a sentence, without a full stop."""
    return _FORMS[type(node)](base, node, bound)


def _join(base: Base, nodes: Sequence[Condition], bound: Mapping[str, str], word: str) -> str:
    texts = [sentence(base, n, bound) for n in nodes]
    return (
        f" {word} ".join(texts)
        if len(texts) < 3
        else ", ".join(texts[:-1]) + f" {word} {texts[-1]}"
    )


def _all(base: Base, node: AllOf, bound: Mapping[str, str]) -> str:
    return _join(base, node.parts, bound, "and")


def _any(base: Base, node: AnyOf, bound: Mapping[str, str]) -> str:
    return _join(base, node.parts, bound, "or")


def _not(base: Base, node: Not, bound: Mapping[str, str]) -> str:
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


def _some(base: Base, node: Some, bound: Mapping[str, str]) -> str:
    kind, rest = node.kind, _where(base, node, bound)
    return (
        f"there is {'an' if kind[0] in 'aeiou' else 'a'} {kind}{rest}"
        if node.number == 1
        else f"there are at least {node.number} {kind}s{rest}"
    )


def _where(base: Base, node: Some, bound: Mapping[str, str]) -> str:
    nodes = node.where.children
    if not nodes:
        return ""
    text = _join(base, nodes, {**bound, node.variable: f"{node.kind} it"}, "and")
    return f" such that {text}"


def _in(base: Base, node: InValues, bound: Mapping[str, str]) -> str:
    attribute = base.vocabulary.by_key[node.ref.key]
    words = [v for i, v in enumerate(attribute.values) if node.mask >> i & 1]
    if len(words) == 1 and words[0] in attribute.says:
        return attribute.says[words[0]].replace("{it}", who(base, node.ref.entity, bound))
    rest = [v for v in attribute.values if v not in words]
    if len(rest) == 1 or len(rest) < len(words) > LONG_LIST:
        return f"{attribute_of(base, node.ref, bound)} is not {' or '.join(rest)}"
    return f"{attribute_of(base, node.ref, bound)} is {' or '.join(words)}"


def _compare(base: Base, node: Compare, bound: Mapping[str, str]) -> str:
    attribute = base.vocabulary.by_key[node.ref.key]
    value = show_time(node.steps) if attribute.type == "time" else show(node.steps, attribute.unit)
    return f"{attribute_of(base, node.ref, bound)} {BOUND[node.op]} {value}"


def _compare_refs(base: Base, node: CompareRefs, bound: Mapping[str, str]) -> str:
    factor = "" if node.times == node.per else f"{node.times / node.per:g} times "
    return (
        f"{attribute_of(base, node.ref, bound)} {BOUND[node.op]} {factor}the"
        f" {attribute_of(base, node.other, bound)}"
    )


def _same(base: Base, node: SameWord, bound: Mapping[str, str]) -> str:
    return (
        f"{attribute_of(base, node.ref, bound)} is {'' if node.same else 'not '}the same as"
        f" the {attribute_of(base, node.other, bound)}"
    )


def _points_at(base: Base, node: PointsAt, bound: Mapping[str, str]) -> str:
    return (
        f"{attribute_of(base, node.ref, bound)} is"
        f" {'' if node.same else 'not '}{who(base, node.target, bound)}"
    )


def _state(base: Base, node: State, bound: Mapping[str, str]) -> str:
    return f"{attribute_of(base, node.ref, bound)} is {node.word}"


def _chosen(base: Base, node: Chosen, bound: Mapping[str, str]) -> str:
    option = who(base, node.option, bound) if node.is_variable else node.option
    return f"the {node.decision} chosen is {option}"


_FORMS: dict[type[Condition], Callable[[Base, Any, Mapping[str, str]], str]] = {
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
