"""When two effects are the same: kind, words and the entities they speak of, whatever letters the
rules use for them.
"""

from __future__ import annotations

from msgspec.structs import replace

from advisor.decide.verdicts import VERDICTS
from advisor.model.effects import First, Refer, Require, Stop, Verdict, Warn

GRAVE = (Stop, First, Require, Warn, Refer, Verdict)  # what the laws of caution speak of


def spoken_of(rule, effect) -> tuple:
    """The variables of a rule that an effect speaks of, in order of mention."""
    variables = dict(rule.variables)
    return tuple(dict.fromkeys(name for name in effect.speaks_of if name in variables))


def shape(rule, effect):
    """A comparable form of one effect, its variables numbered by kind."""
    kinds = dict(rule.variables)
    return effect.renamed(
        {name: f"<{n} {kinds[name]}>" for n, name in enumerate(spoken_of(rule, effect))}
    )


def matched(rule, effect, other, other_effect, bound) -> dict:
    """The entities of `bound` for the variables of the other rule's same effect."""
    return {
        theirs: bound[mine]
        for mine, theirs in zip(spoken_of(rule, effect), spoken_of(other, other_effect))
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


def as_grave(rule, verdict, other, other_verdict) -> bool:
    """Whether another verdict is on the same part (or the whole) of the same kind of item and at
    least as grave.
    """
    mine = shape(rule, replace(verdict, give=""))
    wanted = (mine, shape(rule, replace(verdict, give="", part="", ref=None)))
    return shape(other, replace(other_verdict, give="")) in wanted and VERDICTS.index(
        other_verdict.give
    ) >= VERDICTS.index(verdict.give)


def same_effect(base, rule, effect):
    """[(other rule, its effect)] that give the same effect (a verdict: at least as grave), the
    rule itself among them.
    """
    alike = [(r, e) for r in base.rules if r.about == rule.about for e in r.gives(type(effect))]
    if isinstance(effect, Verdict):
        return [(r, e) for r, e in alike if as_grave(rule, effect, r, e)]
    wanted = shape(rule, effect)
    return [(r, e) for r, e in alike if shape(r, e) == wanted]
