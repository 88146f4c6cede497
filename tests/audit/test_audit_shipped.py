"""The rules that come with the program: clean, and exercised by generated situations."""

from functools import cache

import pytest
from depth import not_quick, sampled

from advisor.audit.audit import audit
from advisor.audit.bench import Bench
from advisor.audit.coverage import cover
from advisor.audit.leaves import leaves
from advisor.audit.referral import at_both_ends
from advisor.audit.scene import truth_in
from advisor.model.conditions import State


@cache
def bench():
    return Bench()


@cache
def covered():
    return [cover(bench(), rule) for rule in sampled(bench().base.rules, 10, 300)]


@cache
def report():
    return audit(base=bench().base)


@not_quick
def test_the_shipped_rules_have_no_findings():
    assert [(f["place"], f["kind"], f["rule"], f["message"]) for f in report()["findings"]] == []


@not_quick
def test_search_and_engine_agree_on_the_shipped_rules():
    assert report()["undecided"] == []


@not_quick
def test_one_referral_is_let_off_the_order_of_caution():
    """Oxygen above what air can hold is no better for being less; the fact is judged at
    both ends.
    """
    assert at_both_ends(bench()) == [("air-alarm.oxygen-high", "site.oxygen", "air-alarm.reading")]


@not_quick
def test_every_rule_fires_and_is_blocked_in_some_situation():
    assert [c.rule.id for c in covered() if not c.fired] == []
    assert [c.rule.id for c in covered() if not c.blocked and not beside_a_verdict(c.rule)] == []


def beside_a_verdict(rule):
    """Whether a rule tells only what a verdict brings: it fires for any item, and the verdict
    blocks what it tells.
    """
    return all(getattr(effect, "with_verdict", ()) for effect in rule.effects)


@not_quick
def test_nearly_every_condition_on_a_fact_is_shown_to_decide_alone():
    """What only asks whether a fact is known stands beside a condition on that fact, and cannot
    turn while that stays.
    """
    on_facts = {
        (c.rule.id, path)
        for c in covered()
        for path, leaf, _ in leaves(c.rule.condition)
        if not isinstance(leaf, State)
    }
    shown = {(c.rule.id, path) for c in covered() for path, *_ in c.pairs} & on_facts
    assert len(shown) >= 0.98 * len(on_facts)


@not_quick
@pytest.mark.parametrize("number", range(8))
def test_situations_are_what_they_claim(number):
    for one in covered()[number::8]:
        bound = bench().bound(one.rule)
        for _, first, second, _ in one.pairs:
            before, after = (
                truth_in(bench().space, bench().plain, s, one.rule.condition, bound)
                for s in (first, second)
            )
            assert before > 0 and after == 0, one.rule.id
