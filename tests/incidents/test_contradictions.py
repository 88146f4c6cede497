"""What a leader must, and must not, be told where one answer could speak against itself, or against
what is known: the worst first. A step that is a branch counts by its condition.
"""

import re

import pytest
from rehearsed import certain, open_lines, response

SOUND = "the line is sound"
TIRED = ("tired.losing-grip", "tired.sit-back", "tired.assist", "tired.lower")
HELD = {"where": "middle", "worn_out": "yes", "can_hold_on": "no", "answers": "yes"}
LOWERABLE = {"base_safe": "yes", "line_runs_free": "yes", "line_reaches_base": "yes"}
CUT, EXHAUSTED, AIR = "lifeline cut or damaged", "exhausted on the ladder", "bad air"
LIMP, WATER, LEG = "unconscious on the lifeline", "water rising", "leg trapped in the ladder"
HANGING, WEDGED, BASE = "hanging on the lifeline", "wedged in the rock", "person hurt at the base"
LAST, NO_BELAY, ANCHOR = "last person cannot climb", "climbing with no belay", "anchor moving"
ILL, COLD = "medical collapse on the ladder", "cold casualty"

# (what, also, facts, how many, the certain steps that stand among the first so many, the steps of
# which none may stand)
ANSWERS = [
    (CUT, EXHAUSTED, HELD | LOWERABLE, 2, "cut.stop cut.onto-something", TIRED),
    (
        CUT,
        HANGING,
        LOWERABLE,
        2,
        "cut.stop cut.onto-something",
        ("hanging.lower", "hanging.raise", "first.hold-and-lock"),
    ),
    (
        CUT,
        EXHAUSTED,
        {"second_line_available": "yes"},
        4,
        "cut.second-line cut.on-the-second",
        TIRED,
    ),
    (
        LIMP,
        AIR,
        {"helper_on_own_line": "yes"},
        3,
        "air.leave-calmly air.raise-the-climber",
        (
            "unconscious.lower",
            "unconscious.receive",
            "unconscious.helper-down",
            "unconscious.rungs-or-loops",
        ),
    ),
    (
        LIMP,
        CUT,
        {"conscious": "no"},
        4,
        "cut.stop cut.limp",
        ("cut.onto-something", "cut.second-line", "cut.no-second"),
    ),
    (
        AIR,
        EXHAUSTED,
        {"can_hold_on": "yes", "answers": "yes"},
        3,
        "air.leave-calmly air.raise-the-climber",
        ("tired.arm-through", "tired.short-target", "tired.sit-back", "tired.lower"),
    ),
    (
        LIMP,
        "lifeline jammed or crossed",
        {"line_runs_free": "no", "conscious": "no", "second_line_available": "yes"},
        8,
        "line.limp line.limp-then",
        ("line.go-back", "line.stand-by", "line.flick", "line.second-from-top"),
    ),
    (
        ANCHOR,
        HANGING,
        {"moving_anchor": "lifeline anchor", "sound_anchor_left": "yes"} | LOWERABLE,
        6,
        "anchor.loaded anchor.then-move",
        ("first.hold-and-lock", "anchor.stay-on-ladder", "hanging.lower"),
    ),
    (
        BASE,
        WATER,
        {"hurt": "spine suspected"},
        1,
        "water.carry-the-hurt",
        ("base.keep-still", "base.one-stays"),
    ),
    (
        WATER,
        LEG,
        {"water_on_the_ladder": "yes", "still_trapped": "yes"},
        2,
        "water.leg-first",
        ("freed.carry-on", "first.falling-water"),
    ),
    (
        NO_BELAY,
        "frozen or panicked",
        {"on_the_line": "no"},
        2,
        "nobelay.say-so nobelay.line-down",
        ("frozen.feel-the-line", "nobelay.second-person"),
    ),
    (
        NO_BELAY,
        EXHAUSTED,
        {"on_the_line": "no"} | HELD | LOWERABLE,
        4,
        "nobelay.line-down nobelay.then",
        (*TIRED, "first.hold-and-lock", "first.nobody-answers"),
    ),
    (
        WEDGED,
        EXHAUSTED,
        {"still_trapped": "yes", "helpers_at_top": "4", "haul": "three to one"} | HELD,
        8,
        "wedged.hold-snug wedged.foot wedged.take-off",
        (*TIRED, "tired.raise-by-stages", "haul.anchors", "haul.capture"),
    ),
    (
        ILL,
        LEG,
        {"still_trapped": "yes", "symptom": "breathing trouble"},
        2,
        "first.hold-and-lock",
        ("freed.carry-on",),
    ),
    (
        WATER,
        EXHAUSTED,
        {"water_on_the_ladder": "yes", "can_hold_on": "yes"},
        3,
        "water.off-the-ladder water.climber-first",
        ("tired.arm-through", "tired.short-target", "tired.sit-back", "trap.up-not-down"),
    ),
    (
        ILL,
        WATER,
        {"water_on_the_ladder": "yes", "symptom": "fit"},
        2,
        "water.off-the-ladder",
        ("ill.fit-hold", "ill.fit-after"),
    ),
    (
        ANCHOR,
        EXHAUSTED,
        {"moving_anchor": "ladder anchor", "can_hold_on": "yes", "answers": "yes"},
        5,
        "anchor.tight-and-gentle",
        ("tired.arm-through", "tired.short-target", "tired.assist"),
    ),
    (
        "lifeline too short",
        HANGING,
        {"base_safe": "yes", "line_runs_free": "yes", "second_line_available": "yes"},
        8,
        "short.onto-something short.join",
        ("hanging.lower",),
    ),
    (
        "harness or attachment wrong",
        HANGING,
        {"held_by": "belt or chest loop alone", "base_safe": "no"},
        6,
        "first.belt-or-chest harness.raise-second",
        ("hanging.raise", "hanging.move-legs", "hanging.weight-off"),
    ),
    (
        AIR,
        BASE,
        {},
        3,
        "air.leave-calmly air.casualty-below",
        (
            "base.nobody-above",
            "base.check",
            "base.one-stays",
            "base.keep-still",
            "injured.insulate",
            "wait.send-comfort-early",
        ),
    ),
    (
        AIR,
        "leader incapacitated",
        {},
        3,
        "air.leave-calmly air.casualty-below",
        ("leader.airway", "leader.group-safe", "leader.on-the-ladder"),
    ),
    (
        "rockfall",
        "injured on the ladder",
        {"hurt": "one limb", "danger_continues": "yes"},
        3,
        "rock.shelter rock.leave-sideways",
        ("rock.freeze",),
    ),
    (
        LAST,
        WATER,
        {},
        4,
        "water.last-high",
        ("last.no-more-tries", "last.stay-with-them", "last.rest", "last.haul"),
    ),
    (WEDGED, WATER, {}, 2, "water.wedged-first", ()),
    (
        COLD,
        EXHAUSTED,
        {"confused": "yes", "worn_out": "yes", "can_hold_on": "no"},
        3,
        "cold.off-the-ladder",
        ("cold.shelter", "cold.dry-and-feed", "tired.sit-back"),
    ),
    (
        LAST,
        COLD,
        {"worn_out": "yes", "confused": "yes"},
        7,
        "cold.lie-still",
        ("last.rest", "last.line-on", "last.help-each-move", "last.haul"),
    ),
    (
        "ladder broken or come off",
        "two people on the ladder",
        {},
        4,
        "broken.two",
        ("two.upper-first", "two.lower-on-line"),
    ),
    (
        "ladder broken or come off",
        LAST,
        {},
        4,
        "broken.last",
        ("last.line-on", "last.help-each-move", "last.rest"),
    ),
]


@pytest.mark.parametrize("what, also, facts, within, first, never", ANSWERS)
def test_the_first_steps_stand_and_none_speaks_against_them(
    what, also, facts, within, first, never
):
    answer = response(what, also=also, **facts)
    steps = [step.rule for step in answer.steps]
    assert set(first.split()) <= set(certain(answer)[:within])
    assert not set(never) & set(steps)


def test_lower_and_haul_wait_until_they_are_free():
    facts = {"helpers_at_top": "4", "haul": "three to one", "worn_out": "yes"} | LOWERABLE
    branches = open_lines(response(WEDGED, also=EXHAUSTED, **facts))
    for rule in ("tired.lower", "haul.anchors", "haul.capture", "haul.stop-at-lip"):
        assert branches[rule] == "they are free", rule
    freed = certain(response(WEDGED, also=EXHAUSTED, still_trapped="no", **facts))
    assert {"tired.lower", "haul.anchors"} <= set(freed)


def test_a_line_of_which_the_anchor_may_move_is_loaded_once_it_is_known_sound():
    asked = open_lines(response(ANCHOR, also=HANGING, **LOWERABLE))
    assert asked["hanging.lower"] == SOUND
    told = response(ANCHOR, also=HANGING, moving_anchor="ladder anchor", **LOWERABLE)
    assert "hanging.lower" in certain(told)


def texts(answer, part="steps"):
    return " ".join(line.text for line in getattr(answer, part))


@pytest.mark.parametrize("also", [LEG, EXHAUSTED, HANGING, BASE])
def test_nobody_is_both_frozen_and_sent_out_of_the_fall_line(also):
    answer = response("rockfall", also=also, danger_continues="yes")
    assert not re.search(r"[Nn]obody (else )?moves(?! at the edge)", texts(answer))


def test_whoever_hangs_helpless_is_lowered_even_into_a_trap():
    answer = response(LIMP, conscious="no", trap_below="yes", **LOWERABLE)
    assert "unconscious.lower" in certain(answer)
    assert "the helpless, faint or hurt go down all the same" in texts(answer, "do_not")


def test_nobody_alone_is_told_to_lower_into_harm():
    for what in (AIR, BASE, COLD):
        assert "haul.none-alone" not in {s.rule for s in response(what, helpers_at_top="0").steps}
    alone = response(LEG, helpers_at_top="0", can_hold_on="no")
    assert "if free, on a sound line, to a safe base" in texts(alone)


@pytest.mark.parametrize("what", [BASE, COLD, LIMP, HANGING, "fall held on the lifeline"])
def test_no_line_is_sent_to_whoever_lies_at_the_base_or_is_on_one(what):
    assert "first.line-before-moving" not in {s.rule for s in response(what).steps}


@pytest.mark.parametrize(
    "what, also, call",
    [
        (WATER, LEG, "held.call"),
        (ILL, WEDGED, "held.call"),
        (LAST, WATER, "water.call-last"),
        ("party overdue", WATER, "overdue.call-water"),
        (AIR, BASE, "air.call"),
    ],
)
def test_two_such_troubles_are_a_call_without_waiting(what, also, call):
    assert call in certain(response(what, also=also), "call_now")


def test_what_bleeds_heavily_is_pressed_on_first():
    assert certain(response(BASE, bleeding_heavily="yes"))[0] == "base.press-now"


@pytest.mark.parametrize(
    "what, sooner, later",
    [
        ("injured on the ladder", "trapped.let-ladder-down", "injured.lower"),
        (HANGING, "trapped.let-ladder-down", "hanging.lower"),
        (ILL, "trapped.let-ladder-down", "ill.fit-hold"),
    ],
)
def test_what_frees_stands_before_what_moves(what, sooner, later):
    facts = {"still_trapped": "yes", "can_hold_on": "no", "conscious": "yes", "symptom": "fit"}
    told = certain(response(what, also=LEG, tether__form="releasable hitch", **facts, **LOWERABLE))
    assert told.index(sooner) < told.index(later)


def test_two_at_the_top_do_not_both_leave():
    few = response(LIMP, helpers_at_top="1", calling_rescue="yes", way_out_open="yes")
    assert "first.one-goes" in certain(few) and "first.send-two" not in certain(few)
