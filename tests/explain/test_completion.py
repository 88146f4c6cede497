"""Law 4 through the reasons' own engine: no way of settling what is open changes what is firm,
tried to the last way on small cases.
"""

import random

import pytest
from belied import belied, once_stated, until_known
from depth import not_quick, some_numbers
from small_base import (
    CASES,
    ENDS,
    advised,
    case_of,
    completions,
    outcomes,
    outcomes_of,
    program,
    shipped,
    small,
)

from advisor.decide.doubt import contradicted
from advisor.explain.cone import Cone
from advisor.explain.targets import Target, decision_state
from advisor.explain.values import Values
from advisor.explain.variants import change_of

UNTIL_KNOWN, ONCE_STATED = until_known(program().base), once_stated(program().base)
OPEN = (
    "{pitch: {water: drips}, anchor one: {moves: no, side: left, height: 1-2 m}, anchor two:"
    " {moves: no, side: left}}"
)


def rule_of(stop) -> str:
    """The rule of a stop, told with what it speaks of."""
    return stop.partition(" [")[0]


def taken_over(stop, now) -> bool:
    """An item stays out of use when a rule's own stop speaks of it instead."""
    return stop.startswith("out of use: ") and any(
        stop.removeprefix("out of use: ").split(", ")[0] in other for other in now
    )


@pytest.mark.parametrize("given", [*CASES, OPEN])
def test_every_completion_of_a_small_case_keeps_what_is_firm(given):
    advisor = small()
    case = case_of(advisor, given)
    advice = advisor.advise(case)
    before, firm = (
        outcomes_of(advice),
        [n for n, d in advice.decisions.items() if d.standing == "firm" and n != "go"],
    )
    go_firm = advice.decisions["go"].standing == "firm"
    tried, met = 0, set()
    for full in completions(advisor, case, ENDS):
        now, tried = outcomes(advisor, full), tried + 1
        assert all(now["decision", n] == before["decision", n] for n in firm)
        assert now["stops"] >= before["stops"] and not (go_firm and now["stops"])
        met |= {(n, now["decision", n]) for n in ("tether", "ladder anchor")}
    assert tried >= 1
    # What is called provisional in these cases can really come out otherwise: the exhaustion saw
    # it.
    turned = {n for n in ("tether", "ladder anchor") if len([1 for m, _ in met if m == n]) > 1}
    assert turned == {
        n for n, d in advice.decisions.items() if n != "go" and d.standing == "provisional"
    }


@not_quick
@some_numbers
def test_random_completions_of_a_worked_case_keep_what_is_firm(number):
    advisor, case, rng = program(), shipped()[number], random.Random(number)
    if any(fact.said is not None for fact in case.facts.values()):
        return  # what doubt alone brings goes when it is settled, and no slice looks at it
    cone, values = Cone(advisor, case, Target("all", "", "")), Values(advisor.base)
    outcome, choices = cone.run()
    before = outcomes_of(advised(number))
    go = any(n == "go" and d.standing == "firm" for n, d in advised(number).decisions.items())
    for share in (0.2, 0.6, 1.0):
        changes = tuple(c for c in settled(advisor.base, values, case, cone, rng, share))
        changes = consistent(advisor.base, cone, changes)
        _, then = cone.run(changes)
        for name, choice in choices.items():
            assert choice.standing != "firm" or decision_state(then[name]) == decision_state(
                choice
            ), (name, changes)
        now = stops(advisor.base, cone, changes)
        assert not {
            s
            for s in before["stops"] - now
            if rule_of(s) not in UNTIL_KNOWN and not taken_over(s, now)
        }
        assert not (
            go and not before["stops"] and {s for s in now if rule_of(s) not in ONCE_STATED}
        )


def consistent(base, cone, changes):
    """The changes without those that contradict others: what nobody can find is no completion."""
    while True:
        against = contradicted(base, cone.run(changes)[0])
        kept = tuple(c for c in changes if c.fact not in against)
        if len(kept) == len(changes):
            return changes
        changes = kept


def stops(base, cone, changes):
    from advisor.explain.targets import stop_ids

    return frozenset(stop_ids(base, *cone.run(changes)))


def settled(base, values, case, cone, rng, share):
    """One value for a share of what is not settled, within what was said."""
    for key in sorted(cone.keys):
        attribute = base.vocabulary.attribute(key)
        if belied(case, key) or attribute.settles:  # a summary would deny what is said in detail
            continue
        for entity, value in sorted(cone.start.columns[key].items()):
            fact = case.facts.get((entity, key))
            options = values.others(attribute, None, cone.start)
            if fact and attribute.is_choice:
                options = [v for v in options if v & value]
            elif fact and attribute.is_number:
                options = [v for v in options if value[0] <= v[0] and v[1] <= value[1]] + [
                    (value[0],) * 2,
                    (value[1],) * 2,
                ]
            elif fact:
                options = [(n,) for n in fact.value]
            unsettled = fact is None or (
                value[0] != value[1] if attribute.is_number else value & (value - 1)
            )
            if unsettled and options and rng.random() < share:
                yield change_of(base, attribute, entity, rng.choice(options))
