"""What kills in minutes, or by one wrong pull, is told where it holds and not where it does not."""

import pytest
from rehearsed import certain, response

LOWERABLE = {"base_safe": "yes", "line_runs_free": "yes", "line_reaches_base": "yes"}
FREE = {"where": "middle", "can_hold_on": "no", "still_trapped": "no"} | LOWERABLE
CAUGHT, HANGING, BASE = (
    "cowstail or clothing caught",
    "hanging on the lifeline",
    "person hurt at the base",
)
ANCHOR, TIRED, SHORT = "anchor moving", "exhausted on the ladder", "lifeline too short"
WET = FREE | {"water_on_the_ladder": "yes"}
STILL = {"conscious": "no", "site__still_air": "yes", "site__air_checked": "no"}
BOTH = {"moving_anchor": "both", "someone_on_the_ladder": "yes", "can_hold_on": "yes"}
COWSTAIL = {
    "caught_part": "cowstail",
    "weight_on_it": "yes",
    "line_locked": "yes",
    "on_a_load_point": "yes",
}

# (what, the facts in which the step is certain, what of them made another and it is told no more)
HELD = [
    ("first.lower-out-of-water", HANGING, WET, {"water_on_the_ladder": "no"}),
    ("first.lower-out-of-water", HANGING, WET, {"line_reaches_base": "no"}),
    ("first.lower-out-of-water", TIRED, WET, {"also": "leg trapped in the ladder"}),
    ("tired.down-now", TIRED, FREE, {"can_hold_on": "yes"}),
    ("tired.down-now", TIRED, FREE, {"trap_below": "yes"}),
    ("base.still-and-air", BASE, STILL, {"site__air_checked": "yes"}),
    ("base.still-and-air", BASE, STILL | {"site__still_air": "no", "site__kind": "mine"},
     {"site__kind": "cave"}),
    ("base.alone-in-air", BASE, STILL | {"people_below": "1"}, {"people_below": "3"}),
    ("anchor.back-over-the-lip", ANCHOR, BOTH | {"where": "near the top"}, {"where": "middle"}),
    ("anchor.sound-one-first", ANCHOR, BOTH | {"where": "middle", "sound_anchor_left": "yes"},
     {"sound_anchor_left": "no"}),
    ("caught.cut-cowstail", CAUGHT, COWSTAIL | {"still_trapped": "yes"}, {"line_locked": "no"}),
    ("caught.cut-cowstail", CAUGHT, COWSTAIL | {"still_trapped": "yes"},
     {"caught_part": "clothing or strap"}),
    ("short.knot-the-end", SHORT, FREE, None),
    ("harness.the-others", "harness or attachment wrong", {}, None),
]  # fmt: skip


@pytest.mark.parametrize("step, what, facts, otherwise", HELD)
def test_told_where_it_holds_only(step, what, facts, otherwise):
    assert step in certain(response(what, **facts))
    if otherwise:
        assert step not in {s.rule for s in response(what, **facts | otherwise).steps}


def test_air_that_nobody_spoke_of_brings_no_order():
    assert "base.still-and-air" not in {s.rule for s in response(BASE, conscious="no").steps}


def test_nobody_is_sent_beside_whoever_lies_in_such_air():
    told = response(
        BASE, **STILL, people_below="1", helper_on_own_line="yes", danger_continues="no"
    )
    beside = {"base.check", "base.one-stays", "base.first-aider", "first.watch-them"}
    assert not beside & {s.rule for s in told.steps}
    assert "base.still-and-air" in certain(told, "call_now")


def test_no_pull_on_a_line_whose_anchor_moves():
    assert "anchor.no-pull" in certain(response(ANCHOR, **BOTH), "do_not")
    ladder = response(ANCHOR, moving_anchor="ladder anchor")
    assert "anchor.no-pull" not in {s.rule for s in ladder.do_not}


@pytest.mark.parametrize(
    "what, facts, first, later",
    [
        (CAUGHT, {"weight_on_it": "yes", "caught_part": "cowstail", "still_trapped": "yes"},
         "caught.unload", "first.look-and-ask"),
        (CAUGHT, {"caught_part": "hair or cloth in the device", "still_trapped": "yes"},
         "caught.free-the-device", "first.look-and-ask"),
        (TIRED, FREE, "tired.down-now", "first.look-and-ask"),
        (BASE, STILL, "base.still-and-air", "base.nobody-above"),
    ],
)  # fmt: skip
def test_the_step_that_saves_comes_first(what, facts, first, later):
    told = certain(response(what, **facts))
    assert told.index(first) < told.index(later)


def test_no_first_aider_goes_down_into_air_that_nobody_has_read():
    facts = {"helper_on_own_line": "yes", "danger_continues": "no", "people_below": "3"}
    quiet = response(BASE, conscious="no", **facts)
    assert "base.first-aider" in certain(quiet)
    told = {s.rule for s in response(BASE, **STILL, **facts).steps}
    assert not {"base.first-aider", "base.one-stays"} & told
