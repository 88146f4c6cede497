"""Rules that can never fire, and steps that are always replaced by others."""

from __future__ import annotations

from advisor.audit.bench import finding
from advisor.audit.goals import NOT_SURE, SURE, Goal, fires
from advisor.audit.leaves import flat, told
from advisor.model.conditions import AllOf, InValues
from advisor.model.effects import Step

KIND = "never fires"
REPLACED = "never reached"


def rules_that_never_fire(bench):
    """A finding for each rule whose condition no facts can meet, with the fewest conditions that
    cannot stand together.
    """
    found = []
    for rule in bench.base.rules:
        if bench.firing(rule) is None:
            core = _core(bench, rule)
            found.append(
                finding(
                    KIND, rule, _why(bench, core), [told(bench.space, rule, node) for node in core]
                )
            )
        else:
            found += _replaced(bench, rule)
    return found


def _core(bench, rule):
    """The fewest of a rule's conditions that no facts can meet together."""
    core = list(flat(rule.condition))
    for node in list(core):
        rest = [n for n in core if n is not node]
        if rest and _meet(bench, rule, rest) is None:
            core = rest
    return core


def _meet(bench, rule, nodes):
    bound = bench.bound(rule)
    goal = Goal(AllOf(tuple(nodes)), bound, SURE, {})
    return bench.scene([goal], bound.values())


def _why(bench, core):
    if len(core) == 1 and isinstance(core[0], InValues):
        key = core[0].ref.key
        if bench.space.never_known(key):
            return (
                f"this rule can never fire: it looks at {key}, which no rule or calculation gives;"
                " write a rule that derives it, or drop the condition."
            )
        if bench.space.concluded(key):
            return (
                f"this rule can never fire: no rule gives {key} the value it wants; write one, or"
                " change the condition."
            )
    return (
        "this rule can never fire: no facts meet these conditions together; change or drop one of"
        " them."
    )


def _replaced(bench, rule):
    """A step that another step always stands in for."""
    if not rule.gives(Step):
        return []
    stands_in = [
        r for r in bench.base.rules for step in r.gives(Step) if rule.id in step.instead_of
    ]
    if not stands_in:
        return []
    bound = bench.bound(rule)
    free = bench.scene(
        [fires(rule, bound, SURE), *(fires(r, {}, NOT_SURE) for r in stands_in)],
        bound.values(),
    )
    if free is not None:
        return []
    facts = bench.facts(bench.firing(rule), bench.holds(rule))
    return [
        finding(
            REPLACED,
            rule,
            "this step is never reached: whenever it applies,"
            f" {' or '.join(r.id for r in stands_in)} stands in for it.",
            facts,
        )
    ]
