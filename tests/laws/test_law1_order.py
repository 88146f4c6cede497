"""Law 1: the same facts in any order, in any process, give byte-identical JSON."""

import os
import random
import subprocess
import sys
from pathlib import Path

from depth import examples, not_quick, sampled, some_numbers
from facts_strategy import advisor, cases, copy, told, worked_cases
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from advisor.model.record import as_json

ROOT = Path(__file__).resolve().parents[2]
PROGRAM = """
import sys
sys.path[:0] = [{root!r}, {here!r}]
from facts_strategy import advisor, worked_cases
from advisor.model.record import as_json
import hashlib
total = hashlib.sha256()
for case in worked_cases()[::4]:
    total.update(as_json(advisor().advise(case)).encode())
print(total.hexdigest())
"""


def shuffled(case, seed):
    """The same case, with entities and facts told in another order."""
    other, order = copy(case), random.Random(seed)
    facts, kinds = list(other.facts.items()), list(other.names.items())
    order.shuffle(facts)
    order.shuffle(kinds)
    other.facts, other.names = (
        dict(facts),
        {k: set(order.sample(sorted(v), len(v))) for k, v in kinds},
    )
    return other


@some_numbers
def test_order_of_facts_changes_no_byte_of_a_worked_case(number):
    case = worked_cases()[number]
    first = as_json(advisor().advise(case))
    assert all(as_json(advisor().advise(shuffled(case, seed))) == first for seed in range(2))


@not_quick
@settings(
    max_examples=examples(12, 167),
    deadline=None,
    derandomize=True,
    suppress_health_check=list(HealthCheck),
)
@given(cases(), st.integers(0, 10**6))
def test_order_of_facts_changes_no_byte_of_a_random_case(case, seed):
    assert as_json(advisor().advise(shuffled(case, seed))) == as_json(advisor().advise(case)), told(
        case
    )


@not_quick
def test_hash_seed_and_process_change_no_byte():
    text = PROGRAM.format(root=str(ROOT), here=str(Path(__file__).parent))
    found = set()
    for seed in sampled(("0", "1", "4242"), normal=2):
        environment = {**os.environ, "PYTHONHASHSEED": seed}
        run = subprocess.run(
            [sys.executable, "-c", text], capture_output=True, text=True, env=environment, cwd=ROOT
        )
        assert run.returncode == 0, run.stderr
        found.add(run.stdout)
    assert len(found) == 1 and len(found.pop()) == 65


def test_another_fact_changes_the_bytes():
    """The comparison would hold emptily if the facts were not in the answer."""
    case = worked_cases()[0]
    less = copy(case)
    less.facts.pop(next(iter(less.facts)))
    assert as_json(advisor().advise(less)) != as_json(advisor().advise(case))
