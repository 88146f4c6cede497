"""When a referral may rightly go as a fact gets worse: a stop takes its place, or the fact is
judged at both of its ends.

A stop: the referral asks whether something may be done; a stop that rests on the same fact
answers it. This holds on every
set of facts, since the search (see laws) looks for facts with neither.
Both ends: the order of caution of a number has one worse end. Where a stop of the same topic
judges that end and a referral
the other, beyond it, a value between the two is better than both, and the order says nothing of
the referral: oxygen is worse
when less, and a reading above what air can hold means a meter out of order. Each such referral is
named with every audit.
"""

from __future__ import annotations

from advisor.audit.goals import NOT_SURE, fires
from advisor.audit.leaves import leaves
from advisor.audit.space import keys_of
from advisor.model.conditions import Compare
from advisor.model.effects import Refer, Stop

WORSE_END = {"more": (">", ">="), "less": ("<", "<=")}
BETTER_END = {"more": WORSE_END["less"], "less": WORSE_END["more"]}


def rests_on(space, node, key) -> bool:
    """Whether a condition looks at a fact, itself or through what rules conclude."""
    keys = keys_of(node)
    return key in keys or key in {
        k for own in keys for r in space.concluding.get(own, ()) for k in keys_of(r.condition)
    }


def stops(bench, rule, effect, key) -> list:
    """The rules that may take the place of a referral: stops of the same topic that rest on the
    same fact.
    """
    return (
        [r for r in _stops(bench, rule) if rests_on(bench.space, r.condition, key)]
        if isinstance(effect, Refer)
        else []
    )


def nothing_graver(bench, rule, effect, key, held) -> list:
    """Goals that none of these stops surely fires for anyone, with a fact held at its
    worse value.
    """
    return [fires(stop, {}, NOT_SURE, held) for stop in stops(bench, rule, effect, key)]


def other_end(bench, rule, effect, key) -> str:
    """The id of a stop that judges the worse end of a number of which a referral judges the better
    end; '' where there is none.
    """
    attribute = bench.space.vocabulary.attribute(key)
    if not isinstance(effect, Refer) or not attribute.is_number or not attribute.worse:
        return ""
    sign = 1 if attribute.worse == "more" else -1
    mine = [sign * mark for mark in _figures(rule, key, BETTER_END[attribute.worse])]
    for stop in _stops(bench, rule) if mine else ():
        if any(
            sign * mark >= max(mine) for mark in _figures(stop, key, WORSE_END[attribute.worse])
        ):
            return stop.id
    return ""


def at_both_ends(bench) -> list:
    """[(rule id, attribute key, id of the stop at the other end)] of the whole base."""
    found = [
        (rule.id, key, other_end(bench, rule, effect, key))
        for rule in bench.base.rules
        for effect in rule.gives(Refer)
        for key in sorted(keys_of(rule.condition))
    ]
    return [entry for entry in found if entry[2]]


def _stops(bench, rule):
    return [r for r in bench.base.rules if r.about == rule.about and r.gives(Stop)]


def _figures(rule, key, operators):
    return [
        node.steps
        for _, node, positive in leaves(rule.condition)
        if positive and isinstance(node, Compare) and node.ref.key == key and node.op in operators
    ]
