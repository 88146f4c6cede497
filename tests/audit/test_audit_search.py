"""The search against plain enumeration of every fact of the minimal base, on random conditions."""

import itertools
from random import Random

import pytest
from depth import sampled, sweep
from planted_base import write

from advisor.audit.bench import Bench
from advisor.audit.goals import FALSE, SURE, Goal
from advisor.audit.scene import Scene, truth_in
from advisor.model.conditions import AllOf, AnyOf, Compare, InValues, Not
from advisor.model.ref import Ref

KEYS = {
    "pitch.depth": ("pitch", "num"),
    "pitch.water": ("pitch", "in"),
    "anchor.moves": ("a", "in"),
    "anchor.sound": ("a", "in"),
}


def condition(rng, depth=3):
    """A random condition over the four attributes."""
    kind = rng.choice(("leaf", "all", "any", "not")) if depth else "leaf"
    if kind == "not":
        return Not(condition(rng, depth - 1))
    if kind != "leaf":
        return {"all": AllOf, "any": AnyOf}[kind](
            tuple(condition(rng, depth - 1) for _ in range(rng.randint(1, 3)))
        )
    key = rng.choice(sorted(KEYS))
    variable, sort = KEYS[key]
    if sort == "num":
        op = rng.choice((">=", ">", "<=", "<", "==", "!="))
        return Compare(Ref(variable, key), op, rng.choice((10000, 200000)))
    return InValues(Ref(variable, key), rng.randint(1, 2 if key != "pitch.water" else 6))


@pytest.fixture(scope="module")
def bench(tmp_path_factory):
    return Bench(write(tmp_path_factory.mktemp("base")))


def every_scene(bench):
    """All combinations of values of the stated facts, with one anchor."""
    cells = [("pitch", "pitch.depth"), ("pitch", "pitch.water"), ("anchor a", "anchor.moves")]
    for values in itertools.product(*(bench.space.known(key) for _, key in cells)):
        yield Scene({"pitch": ("pitch",), "anchor": ("anchor a",)}, dict(zip(cells, values)))


@pytest.mark.parametrize("want, truth", [(SURE, 2), (FALSE, 0)])
@sweep("seed", lambda: sampled(range(60), 6, None))
def test_the_search_finds_facts_exactly_where_there_are_any(bench, seed, want, truth):
    node, bound = AllOf((condition(Random(seed)),)), {"a": "anchor a"}
    found = bench.scene([Goal(node, bound, want, {})], ("anchor a",))
    there = any(
        truth_in(bench.space, bench.plain, scene, node, bound) == truth
        for scene in every_scene(bench)
    )
    assert bool(found) == there
    assert not found or truth_in(bench.space, bench.plain, found, node, bound) == truth
