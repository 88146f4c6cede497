"""Rules made needless by another: the same effects, and a condition that implies the other's."""

from __future__ import annotations

from advisor.audit.bench import finding
from advisor.audit.effects import matched, shape
from advisor.audit.goals import NOT_SURE, fires
from advisor.model.conditions import looks_at_choice

KIND = "redundant"


def rules_that_add_nothing(bench):
    """A finding for each rule that adds nothing to another; of two that say the same, the later.
    To a rule of last resort a rule adds its own words, in place of which that is told.
    """
    groups, last = {}, bench.base.screen.last_resort
    for rule in bench.base.rules:
        groups.setdefault(
            (rule.about, tuple(sorted(map(repr, (shape(rule, e) for e in rule.effects))))), []
        ).append(rule)
    found = []
    for rules in groups.values():
        gone = set()
        for rule in reversed(rules if len(rules) > 1 else ()):
            other = next(
                (
                    r
                    for r in rules
                    if r is not rule
                    and r.id not in gone
                    and r.id not in last
                    and _implied(bench, rule, r)
                ),
                None,
            )
            if other:
                gone.add(rule.id)
                found.append(_told(bench, rule, other))
    return found


def _implied(bench, rule, other):
    """Whether there is no scene in which the rule fires and the other does not."""
    bound = bench.bound(rule)
    kept = matched(rule, rule.effects[0], other, other.effects[0], bound)
    return bench.firing(rule, fires(other, kept, NOT_SURE)) is None


def _told(bench, rule, other):
    facts = (
        bench.facts(bench.firing(rule), bench.holds(rule))
        if not looks_at_choice(rule.condition)
        else ()
    )
    return finding(
        KIND,
        rule,
        f"this rule adds nothing: whenever it fires, {other.id} has the same effects; drop one, or"
        " let them differ.",
        facts,
    )
