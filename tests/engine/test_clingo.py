"""A third, outside oracle: clingo, a general-purpose answer set solver, must come to the same
firings as the two engines.

It reads the same rules as a logic program over single values ('sure: every value meets it'),
works out derived facts itself and
shares no code with the engines; the driver, which the engines do share, is checked by it too.
"""

from __future__ import annotations

from collections import Counter
from random import Random

import pytest
import real
from asp import Oracle
from compare import engines, outcome
from depth import not_quick, sampled
from generate import choices, topics, universe, world

from advisor.engine import driver, truth
from advisor.model.conditions import Compare

BASES, WORLDS = 60, 5


def fired(instances) -> set:
    """Instances without the facts looked at, which mean nothing to the solver."""
    return {(i.rule, i.bound, i.truth) for i in instances}


def both(base, pair, oracle, rng):
    """(what our engines say, what clingo says) of one random world."""
    found, wanted = world(rng, base.vocabulary), topics(rng)
    chosen = choices(rng, found)
    atoms = oracle.facts(
        found, wanted, every_value=True
    )  # before our own engines add what they derive
    ours = fired(outcome(base, pair, found, wanted, chosen).instances)
    return ours, oracle.fired(atoms, chosen, found)


@pytest.mark.parametrize("chunk", sampled(range(6), 1, 4))
def test_random_rule_bases(chunk):
    seen = Counter()
    for seed in range(50_000 + chunk * BASES, 50_000 + (chunk + 1) * BASES):
        base, rng = universe(seed), Random(seed)
        pair, oracle = engines(base), Oracle(base)
        for _ in range(WORLDS):
            ours, theirs = both(base, pair, oracle, rng)
            assert ours == theirs, seed
            seen.update(level for _, _, level in ours)
            seen.update("derived" for number, _, _ in ours if base.rules[number].derives)
    assert seen[1] > 100 and seen[2] > 100 and seen["derived"] > 50


@pytest.fixture(scope="module")
def own():
    base = real.base()
    pair = engines(base)
    return base, pair, Oracle(base)


@not_quick
@pytest.mark.parametrize("seed", sampled(range(60_000, 60_030), 2, 8))
def test_real_rules_on_random_facts(own, seed):
    base, pair, oracle = own
    outcome_ = real.outcome(pair, seed)
    # Calculated facts are taken as given; everything that rules derive the solver derives anew.
    atoms = oracle.facts(outcome_.world, real.facts(seed)[1])
    assert oracle.fired(atoms, outcome_.world.choices, outcome_.world) == fired(outcome_.instances)


def _conclusion_without_floor(patch):
    patch.setattr(
        driver,
        "combine",
        lambda attribute, concluded: (
            sum(1 << v for v in {v for _, v in concluded}) or 1 << attribute.otherwise
        ),
    )


def _best_value_stands(patch):
    kept = driver.combine

    def combine(attribute, concluded):
        sure = [v for t, v in concluded if t == 2]
        return 1 << min(sure) if sure else kept(attribute, concluded)

    patch.setattr(driver, "combine", combine)


def _sure_by_the_best_case(patch):
    patch.setitem(
        truth._LEAF,
        Compare,
        lambda node, bound, world: 2 if truth._number(node, bound, world) else 0,
    )


@not_quick
@pytest.mark.parametrize(
    "plant", [_conclusion_without_floor, _best_value_stands, _sure_by_the_best_case]
)
def test_a_planted_bug_is_found(plant, monkeypatch):
    plant(monkeypatch)
    for seed in range(50_000, 50_060):
        base, rng = universe(seed), Random(seed)
        pair = engines(base)
        ours, theirs = both(base, pair[1:], Oracle(base), rng)
        if ours != theirs:
            return
    pytest.fail("clingo did not notice")
