"""Times: the group's own minutes win, novices are slower, and one margin stands before the
call-out, which local guidance may set.
"""

import pytest
from depth import not_quick
from shipped import advice, said, worked

PLAN = "plan/arrival-left"


def minutes(identity, *settings):
    return worked(PLAN, *settings)[identity].result.high / 60


def test_stated_minutes_win():
    """8 people at 10 minutes each."""
    assert minutes("time-up", "plan.minutes per person=10 min") == 80
    assert minutes("time-down", "plan.minutes per person=10 min") == 105  # with 25 min of rigging


@pytest.mark.parametrize(
    "novices, each",  # 3 min and 12 m at 3 m/min, or at 8 m/min
    [(8, 7), (0, 4.5), (4, 5.75)],
)
def test_novices_climb_slower(novices, each):
    assert minutes("each-up", f"group.novices={novices}") == pytest.approx(each)


# With eight novices 56 min up and 30 min out: out 86 min after the turn; the call-out is at 18:00.
MARGINS = [
    ("15:34", 60, set()),
    ("15:35", 59, {"time-margin.small"}),
    ("16:04", 30, {"time-margin.small"}),
    ("16:05", 29, {"time-margin.small", "time-margin.too-small"}),
]


def test_a_call_out_after_midnight_is_the_next_days():
    """Down 79 min from 22:30; up 56, out 30: out 01:15, 105 min before 03:00."""
    settings = ("plan.start=22:30", "plan.turn time=23:00", "plan.call-out time=03:00")
    assert minutes("in-hand", *settings) == 27 * 60 - (minutes("out-at", *settings))
    assert minutes("in-hand", *settings) > 0


@pytest.mark.parametrize("turn, left, rules", MARGINS)
def test_one_margin_before_the_call_out(turn, left, rules):
    found = advice(PLAN, f"plan.turn time={turn}", "group.novices=8")
    told = said(found)
    assert {r for r in told if r.startswith("time-margin.")} == rules
    assert all(f"{left} min" in told[r] for r in rules)
    assert ("time-margin.too-small" in {s.rule for s in found.stops}) == (left < 30)


def test_out_79_minutes_before_the_call_out_is_no_stop():
    found = advice(PLAN, "plan.turn time=15:15", "group.novices=8")
    assert not {r for r in said(found) if r.startswith(("time-margin.", "time-up."))}


def test_of_a_stated_margin_and_the_times_the_less_is_acted_on():
    """Turning at 13:00 leaves 219 min; stated are 20, or, with a turn at 16:35, 120 against 4."""
    for stated, turn in (("20 min", "13:00"), ("120 min", "16:35")):
        found = advice(PLAN, f"plan.margin before call-out={stated}", f"plan.turn time={turn}")
        assert stated in said(found)["stated.margin"]
        assert "time-margin.too-small" in {s.rule for s in found.stops}


def test_a_stated_margin_serves_where_no_times_are_known():
    found = advice(PLAN, "plan.walk out=unknown", "plan.margin before call-out=20 min")
    assert "time-margin.too-small" in {s.rule for s in found.stops}


@not_quick
def test_local_guidance_sets_the_margin(tmp_path):
    from shipped import program

    from advisor.advise import Advisor
    from advisor.load.case import read_case
    from advisor.load.folder import find_folder

    file = tmp_path / "local.yaml"
    file.write_text(
        "local guidance: A wider margin\nissued by: An invented centre\ndate: 2026-03-01\n"
        "figures: {least margin before the call-out: 60 min}\n"
    )
    case = read_case(
        find_folder("cases") / f"{PLAN}.yaml",
        program().base,
        ("plan.turn time=15:35", "group.novices=8"),
    )
    stops = {s.rule for s in Advisor(local_file=str(file)).advise(case).stops}
    assert "time-margin.too-small" in stops


def test_nothing_is_said_of_cooling_by_the_degree():
    found = advice(PLAN, "group.lightest=30 kg")
    assert "degree" not in " ".join(c.text for c in found.calculations)


def test_all_who_are_there_count_as_hands():
    """A 5:1 over a rounded edge takes two; nine go in, so eight are left to pull."""
    assert "raise-plan.hands" not in said(advice(PLAN))
    few = said(advice(PLAN, "plan.people in all=2", "group.size=1", "group.novices=1"))
    assert "needs: 2, there are: 1" in few["raise-plan.hands"]
