"""What a colleague would say first of a plan told in five minutes, with the right figure in it.
Figures are worked by hand in the comments.
"""

import pytest
from shipped import advice, said


def first(found):
    return {f.rule: f.text for f in found.first}


def stops(found):
    return {s.rule: s for s in found.stops}


@pytest.mark.parametrize("leg", [None, "100 mm", "400 mm"])
def test_a_ladder_short_whatever_the_bridle_says_its_lengths(leg):
    """8 + 3 - 1.2 - 0.3 = 9.5 m to the floor, 10.5 m with its spare; 8 m end 1.5 m up. Bridles of
    0 to 0.4 m leave 1.4 to 1.8 m.
    """
    settings = [f"tether.bridle leg={leg}"] if leg else []
    stop = stops(advice("plan/short-from-a-spike", *settings))["ladder-length.short-of-landing"]
    if leg is None:
        for part in ("1.5 m above", "floor: 9.5 m", "spare: 10.5 m", "hand: 8 m"):
            assert part in stop.text
        assert "0.3 m of bridle" in stop.because and "1.4 m to 1.8 m" in stop.because
    else:
        assert {"100 mm": "ends 1.7 m", "400 mm": "ends 1.4 m"}[leg] in stop.text


def test_the_sharp_lip_is_settled_for_the_ladder_once_its_wires_are_spoken_of():
    case, rule = "plan/short-from-a-spike", "pitch.sharp-lip-under-the-ladder"
    assert rule in first(advice(case))
    told = advice(case, "anchor spike.wires at lip=on a rounded or padded edge")
    assert rule not in first(told)


def test_small_people_six_to_a_leader_and_an_hour_of_standing_come_first():
    """12 under-18s, 2 leaders: 6 each. Each takes 3 min and 6 m at 3 m/min: 11 others, 55 min."""
    told = first(advice("plan/twelve-cubs"))
    assert "lightest: 29 kg" in told["harness-fit.light"]
    assert "12 under-18s to 2 leaders" in told["ratio.under-18s"]
    assert "55 min" in told["cold-plan.children-wait"]


@pytest.mark.parametrize(
    "settled, rule",
    [
        ("group.harness type=full body", "harness-fit.light"),
        ("group.within local numbers=yes", "ratio.under-18s"),
        ("leader.number=3", "ratio.under-18s"),  # 12 / 3 = 4 each
        ("group.shelter for the queue=yes", "cold-plan.children-wait"),
    ],
)
def test_what_comes_first_is_settled_by_one_fact(settled, rule):
    before = first(advice("plan/twelve-cubs"))
    after = first(advice("plan/twelve-cubs", settled))
    assert rule in before and rule not in after


def test_the_wet_wait_of_half_an_hour_is_told_with_its_cold():
    """6 people, each 3 min and 9 m at 3 m/min: 5 others, 30 min."""
    case = "plan/spray-and-a-long-queue"
    told = first(advice(case))
    assert "30 min at 7 °C" in told["cold-plan.long-wait"]
    assert "out of the spray" in told["water-plan.spray-and-novices"]
    assert "cold-plan.long-wait" not in first(advice(case, "group.size=4", "group.novices=4"))
    assert "water-plan.spray-and-novices" not in first(advice(case, "pitch.water=drips"))


def test_too_much_ladder_says_how_much():
    """12 + 1.6 - 0.4 - 0.3 + 1 = 13.9 m with its spare; 18 m are 4.1 m too much."""
    told = said(advice("plan/two-open-linked-pieces"))
    assert "4.1 m too much" in told["ladder-length.surplus-up"]
    assert "joins: 1" in told["ladder-join.open-links"]
    screwed = advice(
        "plan/two-open-linked-pieces",
        "ladder red.links=screw links",
        "ladder blue.links=screw links",
    )
    assert "ladder-join.open-links" not in said(screwed)


def test_the_second_pitch_below_a_ledge_has_its_own_depth():
    """15 - 9 = 6 m."""
    case = "plan/ledge-then-a-second-drop"
    assert "9 m to the ledge, then 6 m" in first(advice(case))["pitch.ledge-depth"]
    assert "pitch.ledge-depth" not in first(advice(case, "pitch.rigged in two=yes"))
    unmeasured = first(advice(case, "pitch.ledge depth=unknown"))
    assert "Measure" in unmeasured["pitch.ledge-not-measured"]


@pytest.mark.parametrize(
    "hang, depth, stopped",
    [("free", "23 m", True), ("touching", "23 m", False), ("free", "20 m", False)],
)
def test_novices_do_not_climb_twenty_metres_hanging_free(hang, depth, stopped):
    found = advice("plan/free-shaft-of-twenty-three", f"pitch.hang={hang}", f"pitch.depth={depth}")
    assert ("pitch.free-hang-far-too-deep" in stops(found)) == stopped


@pytest.mark.parametrize(
    "changed, anchor",
    [(None, "rail"), ("worst sign=deep rust", None), ("examined=no", None), ("backed up=no", None)],
)
def test_only_sound_iron_takes_the_ladder_off_the_bolts(changed, anchor):
    settings = [f"anchor rail.{changed}"] if changed else []
    chosen = advice("plan/rail-for-the-ladder", *settings).decisions["ladder anchor"].choice
    assert (chosen == "rail") == (anchor == "rail")


def test_a_small_sound_plan_is_rigged_and_used():
    found = advice("plan/short-climb-from-a-tree")
    assert not found.stops and not found.first and not found.blocking
    assert "new ones (2)" in said(found)["person.novices-practise"]


PAPER = (
    "plan.licence settled",
    "plan.highest risk left",
    "plan.smallest user limit",
    "plan.time budget",
    "group.within local numbers",
)


@pytest.mark.parametrize("fact", PAPER)
def test_paper_that_nobody_spoke_of_blocks_no_plan(fact):
    found = advice("plan/arrival-left", f"{fact}=unknown", "group.children=1", "group.novices=6")
    assert fact not in {q.fact for q in found.blocking}
    assert not found.stops


def test_going_on_beyond_the_pitch_asks_who_holds_the_last_and_the_first():
    told = said(advice("plan/arrival-left", "plan.going beyond=yes"))
    assert "last one down and the first one up" in told["order.beyond-the-pitch"]
    assert "order.beyond-the-pitch" not in said(advice("plan/arrival-left"))
