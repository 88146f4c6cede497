"""When two effects are the same: kind, words and the entities they speak of, whatever letters the
rules use for them.
"""

from __future__ import annotations

import re

from advisor.decide.verdicts import VERDICTS

TEMPLATE = re.compile(r"\{([^{}]*)\}")
GRAVE = ("stop", "require", "warn", "refer", "verdict")  # what the laws of caution speak of


def spoken_of(rule, kind, details) -> tuple:
    """The variables of a rule that an effect speaks of, in order of mention."""
    variables, found = dict(rule.variables), []
    candidates = [
        details.get("var"),
        details.get("on"),
        (details.get("ref") or [None])[0],
        details.get("option") if details.get("variable") else None,
    ]
    for text in (details.get(k) for k in ("text", "do", "about")):
        candidates += [inside.partition(".")[0] for inside in TEMPLATE.findall(text or "")]
    for name in candidates:
        if name in variables and name not in found:
            found.append(name)
    return tuple(found)


def shape(rule, kind, details) -> tuple:
    """A comparable form of one effect, its variables numbered by kind."""
    names = {
        variable: f"<{n} {dict(rule.variables)[variable]}>"
        for n, variable in enumerate(spoken_of(rule, kind, details))
    }

    def plain(value):
        if isinstance(value, str):
            text = TEMPLATE.sub(
                lambda m: (
                    "{"
                    + ".".join(
                        [
                            names.get(m.group(1).partition(".")[0], m.group(1).partition(".")[0]),
                            m.group(1).partition(".")[2],
                        ]
                    )
                    + "}"
                ),
                value,
            )
            return names.get(text, text)
        return tuple(map(plain, value)) if isinstance(value, (list, tuple)) else value

    return (
        kind,
        tuple(
            sorted(
                (k, plain(v) if k != "ref" and k != "part" else part_of(names, v))
                for k, v in details.items()
            )
        ),
    )


def part_of(names, value):
    """A verdict's part, with its variable numbered."""
    if isinstance(value, (list, tuple)):
        return tuple(names.get(v, v) for v in value)
    head, dot, rest = (value or "").partition(".")
    return names.get(head, head) + dot + rest


def matched(rule, effect, other, other_effect, bound) -> dict:
    """The entities of `bound` for the variables of the other rule's same effect."""
    return {
        theirs: bound[mine]
        for mine, theirs in zip(spoken_of(rule, *effect), spoken_of(other, *other_effect))
    }


def same_entities(rule, effect, other, other_effect, bound) -> dict:
    """As `matched`; the other rule's further variables stand for this rule's entities of the same
    kind, as far as there are any.
    """
    found = matched(rule, effect, other, other_effect, bound)
    for variable, kind in other.variables:
        free = [
            bound[mine]
            for mine, own in rule.variables
            if own == kind and bound[mine] not in found.values()
        ]
        if variable not in found and free:
            found[variable] = free[0]
    return found


def as_grave(rule, details, other, other_details) -> bool:
    """Whether another verdict is on the same part (or the whole) of the same kind of item and at
    least as grave.
    """
    mine = {**details, "give": ""}
    wanted = (
        shape(rule, "verdict", mine),
        shape(rule, "verdict", {**mine, "part": "", "ref": None}),
    )
    return shape(other, "verdict", {**other_details, "give": ""}) in wanted and VERDICTS.index(
        other_details["give"]
    ) >= VERDICTS.index(details["give"])


def same_effect(base, rule, effect):
    """[(other rule, its effect)] that give the same effect (a verdict: at least as grave), the
    rule itself among them.
    """
    kind, details = effect
    if kind == "verdict":
        return [
            (r, e)
            for r in base.rules
            for e in r.effects
            if e[0] == "verdict" and r.about == rule.about and as_grave(rule, details, r, e[1])
        ]
    wanted = shape(rule, kind, details)
    return [
        (r, e)
        for r in base.rules
        for e in r.effects
        if e[0] == kind and r.about == rule.about and shape(r, *e) == wanted
    ]
