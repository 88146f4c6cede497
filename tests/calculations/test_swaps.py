"""Swapping one thing changes the advice through a number, and the reason quotes the number.

The numbers expected are worked here by hand: cord minima from EN 564 (5 mm 5.0 kN, 6 mm 7.2 kN),
half for the knot (common practice),
leg loads as published for Y-hangs (60 degrees 58 %, above 120 degrees more than the whole load),
steady pull of one person 133 N
(a national caving society's paper on hauling, as kept in rules/figures).
"""

import pytest
from shipped import advice, said

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
    assert f"{2500 / LOAD:.2f}" in second["hang-strength.margin-too-small"]
    assert "hang-strength.tether-low" not in said(advice(PLAN))


@pytest.mark.parametrize("strands, cord", [(1, "3.6 kN"), (2, "7.2 kN")])
def test_doubling_thin_cord_doubles_its_strength(strands, cord):
    told = said(advice(PLAN, "tether.diameter=6 mm", f"tether.strands={strands}"))
    assert ("hang-strength.tether-weakest" in told) == (strands == 1)
    assert strands == 2 or cord in told["hang-strength.tether-weakest"]


def test_wide_angle_between_the_legs():
    first, second, differ = changed(PLAN, ["pitch head.angle=60 deg"], ["pitch head.angle=130 deg"])
    assert {"line-load.wide-angle", "line-load.no-gain"} <= differ and not {
        "line-load.wide-angle",
        "line-load.no-gain",
    } & set(first)
    assert "2.2 kN" in second["line-load.no-gain"]  # 1.863 kN / (2 cos 65 degrees)
    assert "1.86 kN" in second["line-load.no-gain"]


def test_fourteen_novices_for_eight():
    first, second, differ = changed(
        PLAN, ["group.size=8", "group.novices=8"], ["group.size=14", "group.novices=14"]
    )
    assert "ratio.six" in differ and "ratio.six" not in first
    assert "for each leader: 7" in second["ratio.six"]  # 14 novices, 2 leaders
    assert "49 min" in first["standing.too-long"]  # 7 others at 3 min + 12 m / 3 m/min
    assert "91 min" in second["standing.too-long"]  # 13 others


def test_turn_time_breaks_with_the_larger_group():
    first, second, _ = changed(
        PLAN, ["plan.turn time=14:00"], ["plan.turn time=14:00", "group.size=14"]
    )
    assert "time-up.turn-earlier" not in first
    assert "13:03" in second["time-up.turn-earlier"]  # 16:00 less 30 min walk and 1.5 x 14 x 7 min


def test_one_helper_for_two():
    first, second, differ = changed("numbers/raise-with-two", [], ["incident.helpers at top=1"])
    assert {"raise-hands.five-to-one", "raise-hands.none"} <= differ and not {
        "raise-hands.five-to-one",
        "raise-hands.none",
    } & set(first)
    assert "needs: 2, helpers: 1" in second["raise-hands.none"]
    assert (
        "2 people" in second["raise-hands.five-to-one"]
        and "247 N" in second["raise-hands.five-to-one"]
    )
    assert "3 people" in first["raise-hands.three-to-one"]
