"""Running both engines side by side, for several test files."""

from __future__ import annotations

from random import Random

from generate import Universe, choices, topics, universe, world

from advisor.engine.driver import evaluate
from advisor.engine.plain import PlainEngine
from advisor.engine.rete import ReteEngine
from advisor.faults import Disagreement
from advisor.model.conditions import Chosen, Compare, CompareRefs, PointsAt, SameWord, Some


def engines(base: Universe) -> list:
    """Both engines on one rule base."""
    return [
        PlainEngine(base.rules, base.strata),
        ReteEngine(base.rules, base.strata, base.vocabulary),
    ]


def outcome(base, pair, found, wanted, chosen):
    """Evaluate one world; `chosen` stands for the decisions."""
    return evaluate(
        base, pair, found, wanted, lambda base_, world_, instances: world_.choices.update(chosen)
    )


def run_seed(seed: int, pair_of=engines):
    """One random rule base on one random world: (universe, outcome); raises Disagreement when the
    engines differ.
    """
    base, rng = universe(seed), Random(-seed - 1)
    found = world(rng, base.vocabulary)
    pair = pair_of(base)
    return base, outcome(base, pair, found, topics(rng), choices(rng, found))


def disagreements(seeds, pair_of=engines) -> list:
    """The seeds on which the engines differ."""
    found = []
    for seed in seeds:
        try:
            run_seed(seed, pair_of)
        except Disagreement:
            found.append(seed)
    return found


def shapes(rule) -> set:
    """What a rule's condition is made of, each sort of comparison by itself."""
    sorts = set()
    for node in rule.condition.walk():
        sorts.add(type(node).__name__)
        if isinstance(node, Compare):
            sorts.add("Compare " + node.op)
        elif isinstance(node, CompareRefs):
            factor = "times" if (node.times, node.per) != (1, 1) else "as it stands"
            sorts |= {"CompareRefs " + node.op, "CompareRefs " + factor}
        elif isinstance(node, SameWord):
            sorts |= {
                "SameWord: some shared" if -1 in node.pairs else "SameWord: all shared",
                f"SameWord {node.same}",
            }
        elif isinstance(node, PointsAt):
            sorts.add(f"PointsAt {node.same}")
        elif isinstance(node, Chosen):
            sorts.add("Chosen: a variable" if node.is_variable else "Chosen: a word")
        elif isinstance(node, Some):
            sorts.add(f"Some: at least {node.number}")
    return sorts
