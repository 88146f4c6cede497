"""The program's own rule base, for tests that need it whole, and random fact sets over it."""

from __future__ import annotations

from functools import cache
from random import Random

from generate import topics, world

from advisor.decide.run import run
from advisor.load.base import read_base
from advisor.load.folder import find_folder
from advisor.model.conditions import Compare


@cache
def base():
    """rules/ as it stands."""
    return read_base(find_folder("rules"))


@cache
def thresholds():
    """key -> the figures its rules test, so that random facts fall on, just below and just above
    them.
    """
    found = {}
    for rule in base().rules:
        for node in rule.condition.walk():
            if isinstance(node, Compare):
                found.setdefault(node.ref.key, set()).add(node.steps)
    return {key: sorted(figures) for key, figures in found.items()}


def facts(seed: int):
    """(random world, topics) over the real vocabulary; how much is stated varies from hardly
    anything to nearly all.
    """
    rng = Random(seed)
    return world(
        rng,
        base().vocabulary,
        thresholds(),
        crowd=(0, 1, 2, 3, 4),
        stated=rng.choice((0.1, 0.5, 0.9, 1.0)),
    ), topics(rng)


def outcome(engines, seed: int):
    """Evaluate one random fact set, deciding as the program does."""
    found, wanted = facts(seed)
    return run(base(), engines, found, wanted)[0]
