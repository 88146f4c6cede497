"""Memory stays flat over thousands of evaluations: the core never gives a session's memory back by
itself.
"""

from __future__ import annotations

import gc
import os
from pathlib import Path

import pytest
import real
from compare import close, engines
from depth import most, not_quick, only_all

from advisor.decide.run import run
from advisor.facts.world import World
from advisor.load.case import read_case

STATM = Path("/proc/self/statm")
WARM_UP, RUNS, LIMIT = 100, most(300, 300) or 2000, 2 * 2**20
CASES = Path(__file__).resolve().parents[2] / "cases"


def resident() -> int:
    """Resident memory in bytes."""
    gc.collect()
    return int(STATM.read_text().split()[1]) * os.sysconf("SC_PAGE_SIZE")


@pytest.mark.skipif(not STATM.exists(), reason="resident memory is read from /proc")
@pytest.mark.parametrize(
    "folder", [pytest.param("plan", marks=not_quick), pytest.param("incident", marks=only_all)]
)
def test_resident_memory_is_flat(folder):
    base = real.base()
    case, pair = read_case(sorted((CASES / folder).glob("*.yaml"))[0], base), engines(base)

    def once():
        world, topics = World(base.vocabulary, case.names), frozenset(case.topics)
        for fact in case.facts.values():
            world.state(fact)
        return run(base, pair, world, topics)[0]

    assert once().instances
    for _ in range(WARM_UP):
        once()
    before = resident()
    for _ in range(RUNS):
        once()
    assert resident() - before < LIMIT
    close(pair)
