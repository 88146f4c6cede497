"""The queue against the times of the facts: every wait and every climb as long as it takes, on one
scale for both ways; nothing is drawn of a time that is not known.
"""

import pytest
from drawn import plans, sheets, view_at, view_with
from test_section_geometry import one, span

from advisor.mechanics.time import queue_waits

QUEUE = "queue"
PLAN = "plan/arrival-left"


def minutes(view, key):
    """A time that is known to the minute, in seconds."""
    found = span(view, key)
    return None if found is None or found[1] - found[0] > 60 else sum(found) / 2


def due(view):
    """{way: (people, seconds before the first, seconds of each)} of what is known."""
    people = one(view, "group.size")
    down, up = minutes(view, "plan.each down"), minutes(view, "plan.each up")
    whole = minutes(view, "plan.time down")
    found = {}
    if people and down is not None and whole is not None:
        found["down"] = int(people), whole - people * down, down
    if people and up is not None:
        found["up"] = int(people), 0.0, up
    return found


@plans
def test_waits_and_climbs_are_as_long_as_their_times(path):
    view = view_at(path)
    sheet = sheets(view).get(QUEUE)
    wanted = {} if view.choice("pitch", "pitch.rigged in two") == "yes" else due(view)
    if not wanted:
        assert sheet is None
        return
    drawn = {way for way in ("down", "up") if sheet.rects(f"climb-{way}")}
    assert drawn == set(wanted)
    scales = set()
    for way, (people, before, each) in wanted.items():
        climbs, waits = sheet.rects(f"climb-{way}"), sheet.rects(f"wait-{way}")
        scale = climbs[0].width / each
        scales.add(round(scale, 5))
        assert len(climbs) == people and len(waits) == people - 1
        (axis,) = sheet.lines(f"axis-{way}")
        left = axis.points[0][0]
        oracle = queue_waits([each] * people, 1)
        for bar, wait in zip(climbs, oracle, strict=True):
            assert bar.width == pytest.approx(each * scale, rel=0.01)
            assert (bar.x - left) / scale == pytest.approx(before + wait, abs=30)
        for bar, wait in zip(waits, oracle[1:], strict=True):
            assert bar.width == pytest.approx(wait * scale, abs=0.5)
        rigging = sheet.rects(f"rigging-{way}")
        assert sum(r.width for r in rigging) == pytest.approx(before * scale, abs=0.5)
        assert axis.length == pytest.approx((before + people * each) * scale, rel=0.01)
    assert len(scales) == 1


def test_the_heading_tells_the_times_of_the_advice():
    """10:00 and 67 minutes, 13:00 and 51 minutes; the last of eight waits 45 of these."""
    (down,) = sheets(view_with(PLAN))[QUEUE].texts("heading-down")
    (up,) = sheets(view_with(PLAN))[QUEUE].texts("heading-up")
    assert down[2].startswith("DOWN: 10:00 to 11:07; the last waits 62 min above")
    assert up[2] == "UP: 13:00 to 13:51; the last waits 45 min below"


@pytest.mark.parametrize("unknown", ["group.size", "group.novices"])
def test_without_times_nothing_is_drawn(unknown):
    assert QUEUE not in sheets(view_with(PLAN, f"{unknown}=unknown"))


def test_a_way_whose_time_is_open_is_said_and_not_drawn():
    sheet = sheets(view_with(PLAN, "plan.rigging time=unknown"))[QUEUE]
    assert not sheet.rects("climb-down") and sheet.rects("climb-up")
    assert "Not known, so not drawn: the way down" in sheet.words


@pytest.mark.parametrize("people", [1, 2, 24, 40])
def test_any_number_of_rows_has_room(people):
    others = ("group.novices=0", "plan.people in all=unknown", "plan.minutes per person=unknown")
    sheet = sheets(view_with(PLAN, f"group.size={people}", *others))[QUEUE]
    bars = sheet.rects("climb-down")
    assert len(bars) == people and all(bar.height > 0.5 for bar in bars)
    assert all(a.y + a.height <= b.y for a, b in zip(bars, bars[1:]))
    _, (_, y, _) = sheet.texts("heading-down"), sheet.texts("heading-up")[0]
    assert bars[-1].y + bars[-1].height < y - 12


def test_more_people_than_can_be_told_apart_are_not_drawn():
    others = ("group.novices=0", "plan.people in all=unknown")
    assert QUEUE in sheets(view_with(PLAN, "group.size=40", *others))
    assert QUEUE not in sheets(view_with(PLAN, "group.size=41", *others))
