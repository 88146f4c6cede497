"""The register, ranges and checks: what they refuse and in which words."""

import math
import pickle

import pytest

from advisor.mechanics import CALCULATIONS, Interval, over, registered
from advisor.mechanics.registry import calculation


@pytest.mark.parametrize(
    "ends", [(2, 1), (math.nan, 1), (0, math.inf), ("1", 2), (True, 2), (None, 1)]
)
def test_bad_ranges_are_refused(ends):
    with pytest.raises(ValueError, match="^A range .*give"):
        Interval(*ends)


def test_ranges_are_values():
    assert Interval(1, 2) == Interval(1.0, 2.0) and hash(Interval(1, 2)) == hash(Interval(1.0, 2.0))
    assert 1.5 in Interval(1, 2) and 2.1 not in Interval(1, 2)
    assert pickle.loads(pickle.dumps(Interval(1, 2))) == Interval(1, 2)


@pytest.mark.parametrize(
    "declared",
    [{"rises": ("a",)}, {"rises": ("a", "b"), "falls": ("b",)}, {"rises": ("a", "b", "c")}],
)
def test_every_input_is_declared_once(declared):
    with pytest.raises(TypeError, match="declare each input once"):

        @calculation(formula="a + b", unit="m", **declared)
        def not_kept(a, b):
            return a + b

    assert "not_kept" not in CALCULATIONS


def test_a_name_is_used_once():
    with pytest.raises(TypeError, match="each name once"):

        @calculation(formula="a", unit="m", rises=("a",))
        def peak_force(a):
            return a


@pytest.mark.parametrize("value", [math.nan, math.inf, "12", None, True])
def test_only_finite_numbers_are_taken(value):
    with pytest.raises(ValueError, match="climbing factor is .*give a finite number"):
        registered("expected_load").function(80, climbing_factor=value)


@pytest.mark.parametrize(
    "inputs, words",
    [
        ({"mass": 80}, "needs climbing_factor"),
        ({"mass": 80, "climbing_factor": 2, "speed": 1}, "knows no speed"),
    ],
)
def test_inputs_missing_or_unknown(inputs, words):
    with pytest.raises(ValueError, match=words):
        over("expected_load", **inputs)


def test_unknown_calculation():
    with pytest.raises(ValueError, match="no calculation named guesswork"):
        over("guesswork")


@pytest.mark.parametrize(
    "name, inputs",
    [
        (
            "ladder_length_needed",
            {
                "depth": 0,
                "run": 1,
                "tether_out": 0,
                "bridle_out": 0,
                "foot_spare": 1,
                "slab_extra": 0,
            },
        ),
        (
            "ladder_length_needed",
            {
                "depth": 2,
                "run": 0,
                "tether_out": 3,
                "bridle_out": 1,
                "foot_spare": 0,
                "slab_extra": 0,
            },
        ),
        ("slab_extra", {"height": 3, "slope_angle": 0}),
        ("bridle_angle", {"gap": 0.5, "leg": 0.25}),
        ("equal_leg_load", {"load": 1, "included_angle": 180}),
        ("legs_strength", {"leg_strength": 1, "leg_share": 0.4}),
        ("unequal_leg_load", {"load": 1, "own_angle": 100, "other_angle": 80}),
        ("drop_on_losing_point", {"kept_leg": 0.4, "lost_leg": 0.4, "spacing": 1}),
        ("drop_on_losing_point", {"kept_leg": 2, "lost_leg": 0.5, "spacing": 1.8}),
        ("pair_strength", {"side_strength": 1, "larger_share": 0.4}),
        ("bend_factor", {"bend_diameter": 1, "rope_diameter": 1, "table": {1: 0.5, 2: 0.4}}),
        ("peak_force", {"mass": 80, "slack": -0.1, "rope_out": 5, "modulus": 1e4}),
        ("modulus_from_impact", {"impact_force": 1000, "mass": 80, "fall_factor": 1}),
        ("hand_force", {"load": 1, "ratio": 0.9}),
        ("holding_ratio", {"friction": 1, "wrap_angle": 1e6}),
        ("haul_gain", {"system": "17:1", "efficiency": 0.9}),
        ("haul_gain", {"system": "3:1", "efficiency": 0}),
        ("group_time", {"people": 3, "each": 60, "lanes_open": 0, "rigging": 0}),
        ("people_per_leader", {"people": 6, "leaders": 0}),
        ("run_to_lip", {"height": 1.6, "setback": -0.5}),
        ("leg_to_master", {"spacing": 0.4, "height": 1.2, "master_height": 1.6}),
        ("angle_between_legs", {"left_leg": 0.4, "right_leg": 0.4, "spacing": 1}),
        ("wind_chill", {"air_temperature": 9, "wind_speed": 3}),
    ],
)
def test_inputs_out_of_range_give_one_clear_sentence(name, inputs):
    with pytest.raises(ValueError) as refused:
        registered(name).function(**inputs)
    words = str(refused.value)
    assert words[0].isupper() and words.endswith(".") and "\n" not in words and len(words) < 300
