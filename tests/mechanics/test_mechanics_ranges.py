"""Every calculation on ranges: the answer holds every point result, and each declared direction
is true.

DOMAINS gives, for each calculation, the range from which each number is drawn and the tables or
texts to pass.
A whole number range is written with ints.
"""

import itertools

import pytest
from depth import examples
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from advisor.mechanics import CALCULATIONS, Interval, over
from advisor.mechanics.haul_systems import SYSTEMS

METRES, LONG, NEWTONS, SHARE, MASS = (0.0, 5.0), (0.5, 60.0), (0.0, 3e4), (0.05, 1.0), (20.0, 150.0)
SECONDS, COUNT, MODULUS = (0.0, 5000.0), (1, 12), (5e3, 9e4)
CATCH = {"mass": MASS, "slack": METRES, "rope_out": LONG, "modulus": MODULUS}
BENDS = {"table": {0.5: 0.3, 1.0: 0.5, 2.0: 0.65, 10.0: 0.86, 40.0: 0.95}}

DOMAINS = {
    "ladder_length_needed": {
        "depth": (5.0, 60.0),
        "run": METRES,
        "tether_out": (0.0, 2.0),
        "bridle_out": (0.0, 1.0),
        "foot_spare": METRES,
        "slab_extra": METRES,
    },
    "run_to_lip": {"height": (-2.0, 5.0), "setback": METRES},
    "length_taken": {"length": LONG},
    "wider_of": {"first": (0.0, 180.0), "second": (0.0, 180.0)},
    "longer_time": {"first": SECONDS, "second": SECONDS},
    "shorter_time": {"first": SECONDS, "second": SECONDS},
    "force_taken": {"force": NEWTONS},
    "time_taken": {"time": SECONDS},
    "longer_of": {"first": LONG, "second": LONG},
    "greater_force": {"first": NEWTONS, "second": NEWTONS},
    "force_short": {"load": NEWTONS, "strength": NEWTONS},
    "count_less_one": {"people": COUNT},
    "length_apart": {"stated": METRES, "worked": METRES},
    "angle_apart": {"stated": (0.0, 180.0), "worked": (0.0, 180.0)},
    "time_apart": {"stated": SECONDS, "worked": SECONDS},
    "leg_to_master": {"spacing": (0.1, 3.0), "height": (1.0, 3.0), "master_height": (-0.5, 1.0)},
    "angle_between_legs": {
        "left_leg": (0.5, 2.0),
        "right_leg": (0.5, 2.0),
        "spacing": (0.1, 1.0),
    },
    "catch_with_slip": {"catch": NEWTONS, "slips_at": NEWTONS},
    "mean_person_time": {
        "people": COUNT,
        "novices": (0, 12),
        "depth": LONG,
        "novice_rate": (0.01, 0.1),
        "practised_rate": (0.05, 0.3),
        "overhead": SECONDS,
    },
    "end_time": {"start": SECONDS, "way": SECONDS, "after": SECONDS},
    "later_of": {"first": SECONDS, "second": SECONDS},
    "slab_extra": {"height": LONG, "slope_angle": (5.0, 90.0)},
    "reserve_length": {"depth": LONG, "least_reserve": METRES, "reserve_share": (0.0, 0.5)},
    "lifeline_from_top": {
        "depth": LONG,
        "run": METRES,
        "tie_in": METRES,
        "belay_side": METRES,
        "reserve": METRES,
    },
    "lifeline_doubled": {
        "depth": LONG,
        "run": METRES,
        "stand_off": METRES,
        "tie_ins": METRES,
        "reserve": METRES,
    },
    "lifeline_self_lining": {
        "depth": LONG,
        "run": METRES,
        "anchor_tail": METRES,
        "foot_spare": METRES,
    },
    "tether_let_out": {"tail": METRES, "lock_off_use": METRES},
    "length_to_spare": {"have": LONG, "needed": LONG},
    "mass_of_length": {"length": LONG, "mass_per_metre": (0.01, 0.5)},
    "wire_breaking_force": {
        "breaking_factor": (0.25, 0.4),
        "diameter": (0.002, 0.01),
        "grade": (1.5e9, 2.1e9),
    },
    "side_wire_strength": {
        "breaking_force": NEWTONS,
        "termination_factor": SHARE,
        "bend_factor": SHARE,
    },
    "pair_strength": {"side_strength": NEWTONS, "larger_share": (0.5, 1.0)},
    "knotted_strength": {
        "strength": NEWTONS,
        "strands": (1, 4),
        "knot_factor": SHARE,
        "bend_factor": SHARE,
    },
    "bend_factor": {"bend_diameter": (0.005, 0.2), "rope_diameter": (0.002, 0.01), **BENDS},
    "expected_load": {"mass": MASS, "climbing_factor": (1.0, 3.0)},
    "strength_margin": {"strength": NEWTONS, "load": (100.0, 5000.0)},
    "equal_leg_load": {"load": NEWTONS, "included_angle": (0.0, 175.0)},
    "legs_strength": {"leg_strength": NEWTONS, "leg_share": (0.5, 20.0)},
    "horizontal_pull": {"load": NEWTONS, "included_angle": (0.0, 175.0)},
    "included_angle": {"from_horizontal": (1.0, 90.0)},
    "bridle_angle": {"gap": (0.0, 0.5), "leg": (0.26, 2.0)},
    "unequal_leg_load": {"load": NEWTONS, "own_angle": (0.0, 89.0), "other_angle": (0.0, 89.0)},
    "symmetric_leg_load": {"load": NEWTONS, "legs": (1, 4), "angle": (0.0, 85.0)},
    "middle_leg_load": {"load": NEWTONS, "side_angle": (0.0, 85.0)},
    "side_leg_load": {"load": NEWTONS, "side_angle": (0.0, 85.0)},
    "deviation_force": {"tension": NEWTONS, "turned_angle": (0.0, 180.0)},
    "turning_point_force": {
        "tension": NEWTONS,
        "strand_ratio": (0.0, 1.0),
        "strand_angle": (0.0, 180.0),
    },
    "drop_on_losing_point": {"kept_leg": (0.6, 1.2), "lost_leg": (0.6, 1.2), "spacing": (0.3, 2.0)},
    "swing_on_losing_point": {
        "kept_leg": (0.6, 1.2),
        "lost_leg": (0.6, 1.2),
        "spacing": (0.3, 2.0),
    },
    "load_after_losing_point": {
        "load": NEWTONS,
        "points_left": (1, 4),
        "angle": (0.0, 85.0),
        "shock_factor": (1.0, 3.0),
    },
    "peak_force": CATCH,
    "fall_factor": {"slack": METRES, "rope_out": LONG},
    "resting_stretch": {"mass": MASS, "rope_out": LONG, "modulus": MODULUS},
    "drop_length": {**CATCH, "settling": (0.0, 0.5)},
    "landing_clearance": {"height": LONG, "drop": METRES},
    "slack_allowed": {"allowed_drop": METRES, "mass": MASS, "rope_out": LONG, "modulus": MODULUS},
    "modulus_from_impact": {
        "impact_force": (3000.0, 12000.0),
        "mass": (40.0, 150.0),
        "fall_factor": (0.1, 2.0),
    },
    "modulus_from_elongation": {"added_mass": MASS, "elongation": (0.01, 0.4)},
    "holding_ratio": {"friction": (0.0, 0.6), "wrap_angle": (0.0, 2000.0)},
    "hand_force": {"load": NEWTONS, "ratio": (1.0, 50.0)},
    "load_held": {"hand_limit": NEWTONS, "ratio": (1.0, 50.0)},
    "hand_to_spare": {"limit": NEWTONS, "force": NEWTONS},
    "haul_gain": {"system": list(SYSTEMS), "efficiency": SHARE},
    "haul_anchor_load": {"system": list(SYSTEMS), "load": NEWTONS, "efficiency": SHARE},
    "haul_pull": {"mass": MASS, "lip_factor": (1.0, 3.0), "gain": (0.3, 9.0)},
    "haulers_needed": {"pull": NEWTONS, "pull_of_one": (50.0, 500.0)},
    "rope_pulled": {"lift": LONG, "ideal_gain": (1.0, 9.0)},
    "haul_time": {
        "rope": LONG,
        "pull_speed": (0.02, 0.5),
        "stroke": (0.3, 5.0),
        "reset_time": (0.0, 90.0),
    },
    "counterbalance_pull": {
        "mass": MASS,
        "counterweight": (0.0, 150.0),
        "lip_factor": (1.0, 3.0),
        "efficiency": SHARE,
    },
    "person_time": {"depth": LONG, "rate": (0.01, 0.3), "overhead": SECONDS},
    "lanes": {"ladders": (0, 4), "lifelines": (0, 4)},
    "group_time": {"people": (0, 20), "each": SECONDS, "lanes_open": (1, 3), "rigging": SECONDS},
    "queue_wait": {"place": (1, 20), "each": SECONDS, "lanes_open": (1, 3)},
    "latest_start": {
        "out_by": (0.0, 9e4),
        "way_up": SECONDS,
        "after": SECONDS,
    },
    "time_to_spare": {"limit": SECONDS, "needed": SECONDS},
    "people_per_leader": {"people": (0, 20), "leaders": COUNT},
    "wind_chill": {"air_temperature": (-50.0, 5.0), "wind_speed": (1.39, 22.2)},
}


def drawn(draw, name, domain):
    """One input as (what to pass on a range, two points of it)."""
    if name in ("table",):
        return domain, domain, domain
    if isinstance(domain, list):
        choice = draw(st.sampled_from(domain), label=name)
        return choice, choice, choice
    numbers = st.integers(*domain) if isinstance(domain[0], int) else st.floats(*domain)
    low, middle, high = sorted(draw(st.tuples(numbers, numbers, numbers), label=name))
    return Interval(low, high), middle, high


def at(calculation, point):
    """The point result, or None where the calculation is not defined."""
    try:
        return calculation.function(**point)
    except ValueError:
        return None


def slack_of(*results):
    return 1e-9 * max(1.0, *(abs(result) for result in results))


@pytest.mark.parametrize("name", sorted(CALCULATIONS))
@settings(max_examples=examples(60), deadline=None, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_range_holds_every_point(name, data):
    calculation = CALCULATIONS[name]
    inputs = {key: drawn(data.draw, key, DOMAINS[name][key]) for key in calculation.parameters}
    try:
        answer = over(calculation.name, **{key: given[0] for key, given in inputs.items()})
    except ValueError:
        assume(False)
    for pick in itertools.product((1, 2), repeat=min(3, len(inputs))):
        picks = dict(zip(inputs, itertools.chain(pick, itertools.repeat(1))))
        result = at(calculation, {key: given[picks[key]] for key, given in inputs.items()})
        if result is not None:
            assert answer.lo - slack_of(result) <= result <= answer.hi + slack_of(result)


@pytest.mark.parametrize(
    "name, key",
    [
        (name, key)
        for name, calculation in sorted(CALCULATIONS.items())
        for key in calculation.rises + calculation.falls
    ],
)
@settings(max_examples=examples(40), deadline=None, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_declared_direction_is_true(name, key, data):
    calculation = CALCULATIONS[name]
    point = {
        other: drawn(data.draw, other, DOMAINS[name][other])[1] for other in calculation.parameters
    }
    span, _, _ = drawn(data.draw, key, DOMAINS[name][key])
    low, high = at(calculation, {**point, key: span.lo}), at(calculation, {**point, key: span.hi})
    assume(low is not None and high is not None)
    rise = high - low if key in calculation.rises else low - high
    assert rise >= -slack_of(low, high)


@pytest.mark.parametrize("name", sorted(CALCULATIONS))
def test_every_calculation_is_described(name):
    calculation = CALCULATIONS[name]
    text = calculation.function.__doc__
    assert calculation.purpose.endswith(".") and calculation.unit
    for word in ("Error", "Source", "nput"):
        assert word in text or ("as for" in text and word == "nput") or "limits and" in text, (
            name,
            word,
        )
    assert set(DOMAINS[name]) == set(calculation.parameters)


def test_the_turning_point_inside_a_range_is_found():
    # Least load on a leg at own = 90 - other: a corner-only answer would miss it.
    answer = over("unequal_leg_load", load=1000, own_angle=Interval(10, 80), other_angle=45)
    assert answer.lo == pytest.approx(1000 * 2**-0.5)
    ends = [CALCULATIONS["unequal_leg_load"].function(1000, own, 45) for own in (10, 80)]
    assert answer.lo < min(ends) and answer.hi == max(ends)
    turned = over(
        "turning_point_force", tension=1000, strand_ratio=Interval(0, 1), strand_angle=120
    )
    assert turned.lo == pytest.approx(1000 * 0.75**0.5)
    dropped = over("drop_on_losing_point", kept_leg=Interval(0.8, 1.3), lost_leg=1, spacing=3**0.5)
    ends = [CALCULATIONS["drop_on_losing_point"].function(kept, 1, 3**0.5) for kept in (0.8, 1.3)]
    assert dropped.lo == pytest.approx(0.5) and dropped.lo < min(ends) - 0.05


def test_points_give_points():
    answer = over("peak_force", mass=80, slack=0.5, rope_out=Interval.point(20), modulus=20e3)
    assert answer.is_point and answer.lo == pytest.approx(1968, rel=1e-3)
