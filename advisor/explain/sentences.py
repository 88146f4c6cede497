"""Conditions told as sentences, in the vocabulary's own words."""

from __future__ import annotations

from advisor.facts.times import show_time
from advisor.facts.units import show

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


def attribute_of(base, variable, key, bound) -> str:
    """'depth of the pitch'."""
    return f"{key.partition('.')[2]} of {who(base, variable, bound)}"


def sentence(base, node, bound) -> str:
    """One condition as a sentence, without a full stop."""
    return _FORMS[node[0]](base, node, bound)


def _join(base, nodes, bound, word):
    texts = [sentence(base, n, bound) for n in nodes]
    return (
        f" {word} ".join(texts)
        if len(texts) < 3
        else ", ".join(texts[:-1]) + f" {word} {texts[-1]}"
    )


def _not(base, node, bound):
    inner = node[1]
    if inner[0] == "all" and len(inner[1]) == 1:
        inner = inner[1][0]
    if inner[0] == "some":
        _, number, variable, kind, body = inner
        rest = _where(base, body, variable, kind, bound)
        return (
            f"there is no {kind}{rest}"
            if number == 1
            else f"there are fewer than {number} {kind}s{rest}"
        )
    return f"not: {sentence(base, inner, bound)}"


def _some(base, node, bound):
    _, number, variable, kind, body = node
    rest = _where(base, body, variable, kind, bound)
    return (
        f"there is {'an' if kind[0] in 'aeiou' else 'a'} {kind}{rest}"
        if number == 1
        else f"there are at least {number} {kind}s{rest}"
    )


def _where(base, body, variable, kind, bound):
    if not body[1]:
        return ""
    text = _join(base, body[1], {**bound, variable: f"{kind} it"}, "and")
    return f" such that {text}"


def _in(base, node, bound):
    attribute = base.vocabulary.attribute(node[2])
    words = [v for i, v in enumerate(attribute.values) if node[3] >> i & 1]
    name = who(base, node[1], bound)
    if len(words) == 1 and words[0] in attribute.says:
        return attribute.says[words[0]].replace("{it}", name)
    rest = [v for v in attribute.values if v not in words]
    if len(rest) == 1 or len(rest) < len(words) > LONG_LIST:
        return f"{attribute_of(base, node[1], node[2], bound)} is not {' or '.join(rest)}"
    return f"{attribute_of(base, node[1], node[2], bound)} is {' or '.join(words)}"


def _num(base, node, bound):
    attribute = base.vocabulary.attribute(node[2])
    value = show_time(node[4]) if attribute.type == "time" else show(node[4], attribute.unit)
    return f"{attribute_of(base, node[1], node[2], bound)} {BOUND[node[3]]} {value}"


def _cmp(base, node, bound):
    factor = "" if node[6] == node[7] else f"{node[6] / node[7]:g} times "
    return (
        f"{attribute_of(base, node[1], node[2], bound)} {BOUND[node[3]]} {factor}the"
        f" {attribute_of(base, node[4], node[5], bound)}"
    )


def _same(base, node, bound):
    return (
        f"{attribute_of(base, node[1], node[2], bound)} is {'' if node[6] else 'not '}the same as"
        f" the {attribute_of(base, node[3], node[4], bound)}"
    )


def _is(base, node, bound):
    return (
        f"{attribute_of(base, node[1], node[2], bound)} is"
        f" {'' if node[4] else 'not '}{who(base, node[3], bound)}"
    )


def _chosen(base, node, bound):
    return f"the {node[1]} chosen is {who(base, node[2], bound) if node[3] else node[2]}"


_FORMS = {
    "in": _in,
    "num": _num,
    "cmp": _cmp,
    "same": _same,
    "is": _is,
    "chosen": _chosen,
    "some": _some,
    "not": _not,
    "state": lambda base, n, bound: f"{attribute_of(base, n[1], n[2], bound)} is {n[3]}",
    "all": lambda base, n, bound: _join(base, n[1], bound, "and"),
    "any": lambda base, n, bound: _join(base, n[1], bound, "or"),
}
