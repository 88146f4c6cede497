"""What follows from where anchors, lip and landing are, and what is said when a stated figure does
not fit. Numbers are worked by hand in the comments.
"""

import pytest
from shipped import advice, said, worked

PLAN = "plan/arrival-left"
LADDERS = ("left ladder bolt", "right ladder bolt")


def places(height, back):
    """Settings that put both ladder bolts at one place."""
    return [
        f"anchor {name}.{what}={value}"
        for name in LADDERS
        for what, value in (("height", height), ("distance from lip", back))
    ]


def against(found, rule):
    """What contradicts something, in words."""
    return " ".join(c.text for c in found.contradictions if c.rule == rule)


def result(name, settings, identity):
    found = worked(name, *settings)[identity].result
    return found.low, found.high


@pytest.mark.parametrize(
    "height, back, needed",  # 12 + run + 1 - 0.3 - 0.3
    [("1.6 m", "0.5 m", 14.08), ("0 m", "2 m", 14.4), ("1.2 m", "1.6 m", 14.4)],
)
def test_the_ladder_needed_follows_from_the_anchors_places(height, back, needed):
    settings = [*places(height, back), "pitch head.run to lip=unknown"]
    low, high = result(PLAN, settings, "ladder-needed")
    assert low == high == pytest.approx(needed, abs=0.005)


def test_a_stated_run_gives_way_to_the_anchors_places():
    """The line is worked out with them too: 12 + 1.68 + 1 + 3 + 5 = 22.68 m."""
    settings = ["pitch head.run to lip=0.5 m"]
    assert result(PLAN, settings, "ladder-needed")[0] == pytest.approx(14.08, abs=0.005)
    assert result(PLAN, settings, "line-from-top")[0] == pytest.approx(22.68, abs=0.005)
    told = against(advice(PLAN, *settings), "stated.run")
    assert "0.5 m" in told and "1.7 m" in told


def test_a_run_that_fits_is_not_complained_of():
    assert not against(advice(PLAN, "pitch head.run to lip=1.7 m"), "stated.run")
    assert not against(advice(PLAN, "pitch head.run to lip=unknown"), "stated.run")


def test_a_stated_run_that_is_longer_counts():
    """Straight is the least: a line may take a longer way."""
    assert result(PLAN, ["pitch head.run to lip=2 m"], "ladder-needed")[0] == pytest.approx(14.4)


def test_without_places_the_stated_run_is_taken():
    settings = [
        f"anchor {n}.height=unknown" for n in (*LADDERS, "belay left bolt", "belay right bolt")
    ]
    low, high = result(PLAN, [*settings, "pitch head.run to lip=2 m"], "ladder-needed")
    assert low == high == pytest.approx(14.4)


def test_a_thirteen_metre_ladder_is_too_short_and_by_how_much():
    """14.08 m are needed with the spare, 13.08 m to the landing: it ends 0.08 m above it, to be put
    right before novices step on; 12.7 m end 0.38 m above it, more than a rung, and stop.
    """
    found = advice(PLAN, "ladder main.length=13 m")
    told = said(found)
    stop = told["ladder-length.off-the-floor"]
    assert not found.stops and [f.rule for f in found.first] == ["ladder-length.off-the-floor"]
    shorter = advice(PLAN, "ladder main.length=12.7 m")
    assert "ladder-length.short-of-landing" in {s.rule for s in shorter.stops}
    for part in ("too short", "ends 0.1 m above", "floor: 13.1 m", "spare: 14.1 m", "hand: 13 m"):
        assert part in stop
    assert "1.1 m too short" in told["ladder-length.no-spare"]


def test_the_practised_step_up_half_a_metre_and_no_more():
    """13.08 m to the landing: 12.7 m end 0.38 m above it, 12.5 m end 0.58 m above it."""
    among_equals = ["group.novices=0", "group.children=0"]
    short = {
        length: "ladder-length.short-of-landing"
        in {s.rule for s in advice(PLAN, *among_equals, f"ladder main.length={length}").stops}
        for length in ("12.7 m", "12.5 m")
    }
    assert short == {"12.7 m": False, "12.5 m": True}


def test_a_ladder_that_just_lies_on_the_floor_lacks_only_its_spare():
    """13.3 m less 13.08 m leave 0.22 m on the floor: no stop, but 0.8 m of spare is missing."""
    found = advice(PLAN, "ladder main.length=13.3 m")
    assert not found.stops
    assert "0.8 m too short" in said(found)["ladder-length.no-spare"]


@pytest.mark.parametrize("leg", ["unknown", "70 mm", "400 mm"])
def test_a_ladder_short_whatever_the_bridle_stops(leg):
    """12 + 1.7 - 0.3 - (0 to 0.4) is 13 to 13.4 m to the landing: 11 m end 2 m or more above it."""
    settings = ["ladder main.length=11 m", f"tether.bridle leg={leg}"]
    stops = {s.rule: s.text for s in advice(PLAN, *settings).stops}
    assert "too short" in stops["ladder-length.short-of-landing"]
    if leg == "unknown":
        assert "ends 2.1 m above" in stops["ladder-length.short-of-landing"]  # 0.3 m as usual


def test_a_bridle_that_decides_is_asked_for():
    """At 13.2 m the bounds of the bridle say neither stop nor enough."""
    found = advice(PLAN, "ladder main.length=13.2 m", "tether.bridle leg=unknown")
    assert "ladder-length.short-of-landing" not in {s.rule for s in found.stops}
    assert "tether.bridle leg" in {q.fact for q in found.open_questions}


def test_a_stated_surplus_gives_way_to_what_is_worked_out():
    """15 m less 13.08 m to the landing leave 1.92 m, not the 4 m stated."""
    found = advice(PLAN, "ladder main.length=15 m", "ladder main.surplus at foot=4 m")
    told = against(found, "stated.surplus")
    assert "4 m" in told and "1.9 m" in told
    assert "1.9 m" in said(found)["ladder-length.surplus-coil"]
    assert "ladder-length.surplus-up" not in said(found)
    assert found.decisions["go"].choice == "not yet"


def test_far_too_much_ladder_is_told_with_its_length():
    """20 m against 13.08 m to the landing and 14.08 m with the spare."""
    told = said(advice(PLAN, "ladder main.length=20 m"))["ladder-length.surplus-up"]
    assert "6.9 m" in told and "5.9 m" in told


LEGS = ["pitch head.leg spacing=400 mm", "pitch head.master point height=1.2 m"]


def test_angle_and_drop_follow_from_places():
    """Legs of sqrt(0.2^2 + 0.4^2) = 0.447 m stand at 53.1 degrees and drop 0.047 m if one fails."""
    assert result(PLAN, LEGS, "leg-angle")[0] == pytest.approx(53.13, abs=0.05)
    assert result(PLAN, LEGS, "drop-by-places")[0] == pytest.approx(0.0472, abs=1e-4)


def test_of_a_stated_angle_and_one_by_places_the_wider_is_acted_on():
    """With the master point 0.1 m below anchors 0.4 m apart the legs stand at 127 degrees."""
    settings = ["pitch head.leg spacing=400 mm", "pitch head.master point height=1.5 m"]
    found = advice(PLAN, *settings, "pitch head.angle=50 deg")
    assert "belay.angle-120" in {s.rule for s in found.stops}
    told = against(found, "stated.angle")
    assert "127°" in told and "50°" in told


def test_two_points_only():
    """With a third anchor in the lifeline spacing and heights leave no one angle."""
    settings = [*LEGS, "anchor left ladder bolt.in lifeline=yes", "pitch head.angle=40 deg"]
    assert result(PLAN, settings, "leg-angle") == (40, 40)
