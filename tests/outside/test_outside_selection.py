"""The choice of ladders against a general integer program solver (scipy, mixed-integer linear
programming).
"""

import random

import pytest
from scipy import optimize

from advisor.mechanics import selection


def solved(decimetres, needed):
    """Least surplus, then fewest ladders, as (total, count); None if it cannot be done. Lengths in
    whole decimetres.
    """
    weight = 1000  # one decimetre of surplus outweighs any number of ladders
    run = optimize.milp(
        c=[weight * length + 1 for length in decimetres],
        integrality=[1] * len(decimetres),
        bounds=optimize.Bounds(0, 1),
        constraints=optimize.LinearConstraint([decimetres], lb=needed),
    )
    if not run.success:
        return None
    taken = [round(share) for share in run.x]
    return sum(length * take for length, take in zip(decimetres, taken)), sum(taken)


@pytest.mark.parametrize("seed", range(12))
def test_choice_against_integer_program(seed, record):
    chance = random.Random(seed)
    decimetres = [
        chance.choice([30, 46, 50, 61, 76, 91, 100, 107]) for _ in range(chance.randint(1, 9))
    ]
    needed = chance.randint(20, 260)
    chosen, best = (
        selection.choose_ladders([length / 10 for length in decimetres], needed / 10),
        solved(decimetres, needed),
    )
    assert (chosen is None) == (best is None)
    if chosen:
        assert len(chosen) == best[1]
        record(
            selection.choose_ladders,
            "scipy integer program",
            sum(decimetres[place] for place in chosen),
            best[0],
            rel=1e-12,
        )
