"""Where lines run and how legs stand, against general solvers that know nothing of the formulas."""

import math

import numpy
import pytest
from scipy import optimize

from advisor.mechanics import lengths, point_lost, spread

PLACES = [(1.6, 0.5), (0.3, 2.0), (0.0, 1.5), (2.2, 0.0), (1.2, 3.0)]


def taut(height, setback, depth):
    """Length of the shortest line from an anchor, past a lip, to a landing straight below where it
    leaves the take-off, m (scipy: the best place to leave it, on the lip or out over the drop).
    """

    def way(out):
        return math.hypot(height, setback + out) + depth

    return optimize.minimize_scalar(
        way, bounds=(0, 5), method="bounded", options={"xatol": 1e-9}
    ).fun


@pytest.mark.parametrize("height, setback", PLACES)
def test_run_against_the_shortest_way(height, setback, record):
    record(
        lengths.run_to_lip,
        "scipy, shortest way over the edge",
        lengths.run_to_lip(height, setback) + 12,
        taut(height, setback, 12),
        rel=1e-6,
    )


def hung(left, right, legs):
    """Where a load hangs by two legs from two anchors (scipy: as low as the legs allow)."""
    within = [
        {"type": "ineq", "fun": lambda p, a=a, leg=leg: leg**2 - sum((p - numpy.array(a)) ** 2)}
        for a, leg in zip((left, right), legs)
    ]
    start = [(left[0] + right[0]) / 2, min(left[1], right[1])]
    return optimize.minimize(
        lambda p: p[1], start, constraints=within, method="SLSQP", options={"ftol": 1e-12}
    ).x


LEGS = [(0.447, 0.447, 0.4), (0.6, 0.5, 0.5), (1.0, 1.0, 1.6), (0.9, 0.7, 0.8)]


@pytest.mark.parametrize("left, right, spacing", LEGS)
def test_angle_and_drop_against_a_load_that_hangs(left, right, spacing, record):
    anchors = (0.0, 0.0), (spacing, 0.0)
    point = hung(*anchors, (left, right))
    ways = [numpy.array(anchor) - point for anchor in anchors]
    cosine = ways[0] @ ways[1] / (numpy.linalg.norm(ways[0]) * numpy.linalg.norm(ways[1]))
    record(
        spread.angle_between_legs,
        "scipy, a load hung as low as its legs allow",
        spread.angle_between_legs(left, right, spacing),
        math.degrees(math.acos(cosine)),
        abs=0.02,
    )
    record(
        point_lost.drop_on_losing_point,
        "scipy, a load hung as low as its legs allow",
        point_lost.drop_on_losing_point(right, left, spacing),
        right - abs(point[1]),
        abs=1e-4,
    )


def test_equal_legs_against_a_load_that_hangs(record):
    leg = spread.leg_to_master(0.4, 1.6, 1.2)
    point = hung((0.0, 1.6), (0.4, 1.6), (leg, leg))
    record(
        spread.leg_to_master, "scipy, a load hung as low as its legs allow", point[1], 1.2, abs=1e-4
    )
