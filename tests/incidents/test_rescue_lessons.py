"""What rescue and first aid teach for the first minutes, and what is not asked or told there."""

import pytest
from rehearsed import certain, open_lines, program, response, told

BASE, COLD, LIMP = "person hurt at the base", "cold casualty", "unconscious on the lifeline"
OVERDUE, CAUGHT, FROZEN = "party overdue", "cowstail or clothing caught", "frozen or panicked"
WORD, WEDGED, ROCK = "communication lost", "wedged in the rock", "rockfall"
NOT_BREATHING = {"conscious": "no", "breathing_normally": "no"}

# (what, facts, how many, the certain steps that stand among the first so many, in this order)
FIRST = [
    (BASE, NOT_BREATHING, 1, "base.resuscitate"),
    (BASE, NOT_BREATHING | {"symptom": "under water"}, 2, "drowned.reach drowned.breaths"),
    (BASE, NOT_BREATHING | {"symptom": "struck by lightning"}, 1, "lightning.leave"),
    (BASE, {"hurt": "serious"}, 6, "base.check base.keep-still base.stay-down"),
    (ROCK, {"hurt": "serious", "where": "at the base"}, 3, "base.keep-still"),
    (COLD, {"confused": "yes"}, 3, "cold.shelter cold.lie-still"),
    (COLD, {"conscious": "no"}, 2, "cold.shelter cold.not-awake"),
    (LIMP, {"load_catches": "yes", "haul": "three to one"}, 2, "haul.caught"),
    (WORD, {"line_state": "drawn out"}, 2, "word.keep-snug word.drawn-out"),
    (
        WORD,
        {"someone_on_the_ladder": "yes", "lifeline__belayer": "novice with back-up"},
        4,
        "word.keep-snug first.able-hands word.eyes",
    ),
    (WEDGED, {"helper_on_own_line": "yes"}, 8, "wedged.hold-snug wedged.send-helper"),
    (
        CAUGHT,
        {
            "caught_part": "hair or cloth in the device",
            "where": "middle",
            "helper_on_own_line": "yes",
        },
        6,
        "caught.send-helper caught.free-the-device",
    ),
    (
        "bad air",
        {"on_the_line": "no", "conscious": "no"},
        3,
        "air.on-no-line air.back-from-the-mouth",
    ),
    (FROZEN, {"all_counted": "no"}, 6, "wait.all-counted"),
    ("exhausted on the ladder", NOT_BREATHING, 40, "hanging.cpr"),
    ("injured on the ladder", {"water_on_the_ladder": "yes"}, 40, "cold.then-shelter"),
    (OVERDUE, {}, 4, "overdue.ask-those-out"),
]


@pytest.mark.parametrize("what, facts, many, due", FIRST)
def test_the_first_minutes(what, facts, many, due):
    steps, due = certain(response(what, **facts))[:many], due.split()
    assert [s for s in steps if s in due] == due


# (what, facts, steps that must not be told, not as a branch either)
NEVER = [
    (
        FROZEN,
        {"also": "anchor moving", "conscious": "yes", "answers": "no"},
        "first.nobody-answers",
    ),
    (COLD, {"conscious": "no"}, "cold.dry-and-feed cold.warm-before-climbing"),
    (LIMP, {"load_catches": "yes"}, "unconscious.haul"),
    (
        "water rising",
        {"people_below": "4", "helpers_at_top": "0", "way_out_open": "no"},
        "wait.send-comfort-early water.those-above",
    ),
    (BASE, {}, "trap.rig-before-helping base.resuscitate drowned.reach lightning.leave"),
    (
        CAUGHT,
        {"caught_part": "hair or cloth in the device", "helper_on_own_line": "yes"},
        "caught.send-helper",
    ),
    (BASE, NOT_BREATHING | {"also": "bad air", "symptom": "under water"}, "drowned.breaths"),
]


@pytest.mark.parametrize("what, facts, never", NEVER)
def test_what_would_be_wrong_there_is_not_told(what, facts, never):
    answer = response(what, **facts)
    assert not {*certain(answer), *open_lines(answer)} & {*never.split()}


def test_an_overdue_party_is_not_asked_how_it_breathes():
    facts = {
        "incident.what": OVERDUE,
        "incident.call-out time passed": "yes",
        "incident.contact made": "no",
    }
    advice = program().advise(told(facts))
    assert not advice.open_questions
    assert certain(advice.response, "call_now") == ["overdue.call"]


@pytest.mark.parametrize("held", [{"can_hold_on": "no"}, {"worn_out": "yes"}])
def test_rescue_is_called_at_once_for_whoever_is_spent_in_falling_water(held):
    what = "exhausted on the ladder"
    wet = response(what, water_on_the_ladder="yes", **held)
    assert "held.call-in-water" in certain(wet, "call_now")
    assert "held.call-in-water" not in certain(response(what, **held), "call_now")


def test_the_hurt_and_the_confused_are_kept_off_the_ladder():
    assert "base.not-unaided" in certain(response(BASE, hurt="one limb"), "do_not")
    assert "cold.not-confused" in certain(response(COLD, confused="yes"), "do_not")
    assert "cold.not-confused" in certain(response(COLD, conscious="no"), "do_not")


RAISES = {"hanging.raise", "fall.raise", "tired.raise-by-stages"}


@pytest.mark.parametrize("second", ["yes", "no", ""])
@pytest.mark.parametrize("what", ["hanging on the lifeline", "fall held on the lifeline"])
def test_nobody_is_raised_against_a_jam(what, second):
    """Pulled, a jam tightens: the second line moves them, or they stand till it comes."""
    facts = {"line_runs_free": "no", "conscious": "yes", "within_reach": "no"}
    facts |= {"second_line_available": second} if second else {}
    answer = response(what, also="lifeline jammed or crossed", **facts)
    steps = {*certain(answer), *open_lines(answer)}
    assert not steps & RAISES
    ways = {"yes": {"line.on-the-second"}, "no": {"line.no-second"}}
    assert ways.get(second, {"line.on-the-second", "line.no-second"}) <= steps
