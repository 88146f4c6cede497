"""Swapping one thing changes the advice through a number, and the reason quotes the number.

The numbers expected are worked here by hand: cord minima from EN 564 (5 mm 5.0 kN, 6 mm 7.2 kN),
half for the knot (common practice),
leg loads as published for Y-hangs (60 degrees 58 %, above 120 degrees more than the whole load),
pull of one person 250 N
(as kept in rules/figures).
"""

import pytest
from shipped import advice, said, worked

PLAN = "plan/arrival-left"
LOAD = 95 * 9.80665 * 2  # heaviest person, climbing factor 2 (common practice, no source)


def changed(name, before, after):
    """Rules and words of two advices that differ."""
    first, second = said(advice(name, *before)), said(advice(name, *after))
    return (
        first,
        second,
        {rule for rule in first.keys() | second.keys() if first.get(rule) != second.get(rule)},
    )


def test_five_for_six_millimetre_cord():
    first, second, differ = changed(PLAN, ["tether.diameter=6 mm"], ["tether.diameter=5 mm"])
    assert (
        "hang-strength.margin-too-small" in differ and "hang-strength.margin-too-small" not in first
    )
    assert (
        "3.6 kN" in first["hang-strength.tether-low"]
        and "7.2 kN" in first["hang-strength.tether-low"]
    )
    assert (
        "2.5 kN" in second["hang-strength.margin-small"]
        and "tether" in second["hang-strength.margin-small"]
    )
    assert f"{2500 / LOAD:.1f} times" in second["hang-strength.margin-too-small"]
    assert "hang-strength.tether-low" not in said(advice(PLAN))


@pytest.mark.parametrize("strands, cord", [(1, "3.6 kN"), (2, "7.2 kN")])
def test_doubling_thin_cord_doubles_its_strength(strands, cord):
    told = said(advice(PLAN, "tether.diameter=6 mm", f"tether.strands={strands}"))
    assert ("hang-strength.tether-weakest" in told) == (strands == 1)
    assert strands == 2 or cord in told["hang-strength.tether-weakest"]


def test_wide_angle_between_the_legs():
    measured = "pitch head.leg spacing=unknown"  # else the places say what the angle is
    first, second, differ = changed(
        PLAN, [measured, "pitch head.angle=60 deg"], [measured, "pitch head.angle=130 deg"]
    )
    assert {"line-load.wide-angle", "line-load.no-gain"} <= differ and not {
        "line-load.wide-angle",
        "line-load.no-gain",
    } & set(first)
    assert "2.2 kN" in second["line-load.no-gain"]  # 1.863 kN / (2 cos 65 degrees)
    assert "1.9 kN" in second["line-load.no-gain"]


def test_fourteen_novices_for_eight():
    first, second, differ = changed(
        PLAN,
        ["group.size=8", "group.novices=8"],
        ["group.size=14", "group.novices=14", "plan.people in all=16"],
    )
    assert "ratio.six" in differ and "ratio.six" not in first
    assert "for each leader: 7" in second["ratio.six"]  # 14 novices, 2 leaders
    assert "49 min" in first["standing.too-long"]  # 7 others at 3 min + 12 m / 3 m/min
    assert "91 min" in second["standing.too-long"]  # 13 others


def test_the_margin_goes_with_the_larger_group():
    """Out at 16:00 + 8 x 7 + 30 min = 17:26 with eight novices, with 14 at 18:08 or 8 min too late;
    the call-out is at 18:00.
    """
    turn = "plan.turn time=16:00"
    first, second, _ = changed(
        PLAN,
        [turn, "group.novices=8"],
        [turn, "group.size=14", "group.novices=14", "plan.people in all=16"],
    )
    assert "17:26" in first["time-margin.small"] and "34 min" in first["time-margin.small"]
    assert "time-margin.too-small" not in first
    assert "8 min too late" in second["time-margin.too-small"]


def test_one_helper_for_two():
    """80 kg over a roller (1.1), small pulleys (0.82): 863 N over 1 + 0.82 + 0.82^2 is 346 N, two
    people at 250 N; a 1:1 takes 863 / 0.82 = 1052 N, five.
    """
    first, second, differ = changed("numbers/raise-with-two", [], ["incident.helpers at top=1"])
    told = "raise-hands.three-to-one"
    assert told in differ and told not in first
    assert "pull: 2, helpers: 1" in second[told] and "350 N" in second[told]
    assert "1:1 needs: 5, 3:1: 2" in first["haul.by-hands"]
    assert "raise-hands.none" not in second


def test_no_two_lines_on_hauling_contradict_each_other():
    """Each rig's number of people is the same wherever it is told, with any number of helpers."""
    for helpers in range(7):
        told = said(advice("numbers/raise-with-two", f"incident.helpers at top={helpers}"))
        enough = {"straight-pull": 5, "three-to-one": 2, "five-to-one": 1, "none": 1}
        for rig, people in enough.items():
            assert (f"raise-hands.{rig}" in told) == (helpers < people), (rig, helpers)
        assert "Four or more" not in " ".join(told.values())


def test_the_anchors_carry_all_of_the_load_while_a_rig_is_reset():
    """A 5:1 pulls with its load: its anchors carry less, but not while it is reset."""
    item = worked("numbers/raise-with-two")["five-to-one-anchors"].result
    load = worked("numbers/raise-with-two")["raise-load"].result
    assert item.low == pytest.approx(load.low, abs=1)
    assert load.low == pytest.approx(80 * 9.80665 * 1.1, abs=1)
