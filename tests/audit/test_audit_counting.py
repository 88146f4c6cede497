"""The search against plain enumeration: random conditions that count entities of the minimal
base.
"""

import itertools
from random import Random

import pytest
from depth import sampled, sweep
from planted_base import write
from test_audit_search import condition

from advisor.audit.bench import Bench
from advisor.audit.goals import FALSE, NOT_FALSE, NOT_SURE, SURE, Goal, meets
from advisor.audit.scene import Scene, truth_in
from advisor.model.conditions import AllOf, AnyOf, InValues, Not, Some
from advisor.model.ref import Ref


@pytest.fixture(scope="module")
def bench(tmp_path_factory):
    bench = Bench(write(tmp_path_factory.mktemp("base")))
    bench.space.stated.add("anchor.moves")  # so that not being known is told apart
    return bench


def counting(rng):
    """A condition that counts anchors besides 'anchor a', perhaps turned round, with something
    said of 'anchor a' or the pitch.
    """

    def counted():
        number, key = rng.randint(1, 2), f"anchor.{rng.choice(('moves', 'sound'))}"
        node = Some(number, "b", "anchor", InValues(Ref("b", key), rng.randint(1, 2)))
        return Not(node) if rng.random() < 0.5 else node

    both, either = (form((counted(), counted())) for form in (AllOf, AnyOf))
    return AllOf((rng.choice((both, either)), condition(rng, 1)))


def scenes(bench):
    """Every way in which one to three anchors move or stand, or nobody knows, in every water and
    depth.
    """
    everything = bench.space.vocabulary.attribute("anchor.moves").everything
    moves, water = (
        [*bench.space.known("anchor.moves"), (0, everything)],
        [*bench.space.known("pitch.water")],
    )
    for more in range(3):
        names = ("anchor a", "anchor 1", "anchor 2")[: more + 1]
        for depth, wet in itertools.product(bench.space.known("pitch.depth"), water):
            for each in itertools.combinations_with_replacement(moves, more):
                for own in moves:
                    cells = dict(zip(((n, "anchor.moves") for n in names), (own, *each)))
                    yield Scene(
                        {"pitch": ("pitch",), "anchor": names},
                        {("pitch", "pitch.depth"): depth, ("pitch", "pitch.water"): wet, **cells},
                    )


@pytest.fixture(scope="module")
def all_scenes(bench):
    return list(scenes(bench))


@pytest.mark.parametrize("want", [SURE, FALSE, NOT_SURE, NOT_FALSE])
@sweep("seed", lambda: sampled(range(25), 5, None))
def test_counted_entities_are_found_exactly_where_there_are_any(bench, all_scenes, seed, want):
    node, bound = counting(Random(seed)), {"a": "anchor a"}
    found = bench.scene([Goal(node, bound, want, {})], ("anchor a",))
    there = any(
        meets(truth_in(bench.space, bench.plain, scene, node, bound), want) for scene in all_scenes
    )
    assert bool(found) == there
    assert not found or meets(truth_in(bench.space, bench.plain, found, node, bound), want)
