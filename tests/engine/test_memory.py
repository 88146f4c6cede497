"""Memory stays flat over thousands of evaluations: the core never gives a session's memory back by
itself.
"""

from __future__ import annotations

import gc
import os
from pathlib import Path

import pytest
import real
from compare import engines
from depth import most, not_quick, only_all

from advisor.advise import Advisor
from advisor.decide.run import run
from advisor.facts.world import World
from advisor.load.case import read_case
from advisor.load.folder import find_folder

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


@not_quick
@pytest.mark.skipif(not STATM.exists(), reason="resident memory is read from /proc")
def test_local_guidance_read_again_takes_no_more_memory():
    """The core is given once what local guidance leaves as it is."""
    example = str(find_folder("rules") / "local" / "example.yaml")
    plan = sorted((CASES / "plan").glob("*.yaml"))[0]

    def once():
        local = Advisor(local_file=example)
        assert local.advise(local.read(plan)).local

    for _ in range(3):
        once()
    before = resident()
    for _ in range(5):
        once()
    assert resident() - before < 10 * LIMIT
