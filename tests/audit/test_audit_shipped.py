"""The rules that come with the program: clean, and exercised by generated situations."""
from functools import lru_cache

import pytest

from advisor.audit.audit import audit
from advisor.audit.bench import Bench
from advisor.audit.coverage import cover
from advisor.audit.scene import truth_in


@lru_cache(maxsize=None)
def bench():
    return Bench()


@lru_cache(maxsize=None)
def covered():
    return [cover(bench(), rule) for rule in bench().base.rules]


def test_the_shipped_rules_have_no_findings():
    report = audit(base=bench().base)
    assert [(f["place"], f["kind"], f["rule"], f["message"]) for f in report["findings"]] == []


def test_every_rule_fires_and_is_blocked_in_some_situation():
    """A rule that no values keep from firing (found by exhaustive search) is listed by the coverage report instead."""
    assert [c.rule.id for c in covered() if not c.fired or c.blocked is False] == []
    assert sum(c.blocked is None for c in covered()) <= 0.01 * len(covered())


def test_nineteen_of_twenty_conditions_are_shown_to_decide_alone():
    shown = sum(len(c.pairs) for c in covered())
    assert shown >= 0.95 * (shown + sum(len(c.missing) for c in covered()))


@pytest.mark.parametrize("number", range(8))
def test_situations_are_what_they_claim(number):
    for one in covered()[number::8]:
        bound = bench().bound(one.rule)
        for _, first, second, _ in one.pairs:
            before, after = (truth_in(bench().space, bench().plain, s, one.rule.condition, bound) for s in (first, second))
            assert before > 0 and after == 0, one.rule.id
