"""What a trained leader would do at once stands first, whatever has happened."""

import re
import textwrap

import pytest
from depth import not_quick
from rehearsed import KINDS, certain, open_lines, program, response

# The first three certain lines where the facts on which they turn are stated.
FIRST = {
    "leg trapped in the ladder": ("first.stop", "first.hold-and-lock", "first.look-and-ask"),
    "cowstail or clothing caught": ("first.stop", "first.hold-and-lock", "first.look-and-ask"),
    "lifeline jammed or crossed": ("first.stop", "line.hold-on-and-stop", "line.find-it"),
    "exhausted on the ladder": ("first.stop", "first.hold-and-lock", "tired.arm-through"),
    "frozen or panicked": ("first.stop", "frozen.feel-the-line", "frozen.one-voice"),
    "unconscious on the lifeline": (
        "unconscious.stop-and-lock",
        "unconscious.not-caught",
        "unconscious.lower",
    ),
    "fall held on the lifeline": (
        "first.stop",
        "first.hold-and-lock",
        "fall.neither-in-nor-out",
    ),
    "injured on the ladder": ("first.stop", "first.hold-and-lock", "injured.find-out"),
    "ladder broken or come off": ("broken.call-below", "first.stop", "first.hold-and-lock"),
    "ladder tangled or hooked": (
        "hooked.stop-pulling",
        "hooked.climber-holds",
        "first.hold-whoever-is-on",
    ),
    "belay device or hitch jammed": (
        "first.stop",
        "device.say-so",
        "device.friction-hitch",
    ),
    "rockfall": ("rock.shelter", "first.hold-whoever-is-on", "rock.freeze"),
    "water rising": ("water.stop-descents", "water.off-the-ladder", "water.count"),
    "light failure": ("light.belayer-locks", "light.leader-first", "light.climber-by-voice"),
    "last person cannot climb": (
        "last.no-more-tries",
        "last.stay-with-them",
        "last.rest",
    ),
    "leader incapacitated": ("leader.line-first", "leader.take-charge", "leader.airway"),
    "anchor moving": ("anchor.yourself-first", "first.stop", "anchor.nobody-else"),
    "communication lost": ("word.keep-snug", "word.repeat", "word.assume-stopped"),
    "person hurt at the base": (
        "base.nobody-above",
        "first.hold-whoever-is-on",
        "base.shield",
    ),
    "hanging on the lifeline": ("first.stop", "first.hold-and-lock", "hanging.move-legs"),
    "lifeline too short": ("first.stop", "first.hold-and-lock", "short.knot-the-end"),
    "tether slipped or let go": ("broken.call-below", "first.stop", "first.hold-and-lock"),
    "swinging or spinning": ("first.stop", "swing.steady-line", "swing.stop-the-spin"),
    "bad air": ("air.leave-calmly", "air.raise-on-line", "air.back-from-the-mouth"),
    "cold casualty": ("cold.shelter", "cold.dry-and-feed", "cold.look-for-confusion"),
    "harness or attachment wrong": (
        "harness.stop",
        "harness.snug-only",
        "harness.nearer-end",
    ),
    "two people on the ladder": ("two.stay-still", "two.lower-on-line", "two.upper-first"),
    "party overdue": ("overdue.try-them", "overdue.wait-for-the-time", "overdue.at-the-phone"),
    "medical collapse on the ladder": (
        "first.stop",
        "first.hold-and-lock",
        "first.look-and-ask",
    ),
    "wedged in the rock": ("first.stop", "wedged.hold-snug", "first.look-and-ask"),
    "climbing with no belay": (
        "nobelay.say-so",
        "nobelay.second-person",
        "nobelay.take-in",
    ),
    "lifeline cut or damaged": ("cut.stop", "cut.onto-something", "cut.second-line"),
}
STATED = {
    "exhausted on the ladder": {"can_hold_on": "yes"},
    "lifeline jammed or crossed": {"can_hold_on": "yes"},
    "unconscious on the lifeline": {
        "still_trapped": "no",
        "caught_part": "hair or cloth in the device",
        "base_safe": "yes",
        "line_runs_free": "yes",
        "line_reaches_base": "yes",
    },
    "ladder tangled or hooked": {"someone_on_the_ladder": "yes"},
    "belay device or hitch jammed": {"weight_on_it": "yes"},
    "rockfall": {"someone_on_the_ladder": "yes"},
    "water rising": {"someone_on_the_ladder": "yes"},
    "light failure": {"whose_light": "leader", "someone_on_the_ladder": "yes"},
    "anchor moving": {"moving_anchor": "belayer's own anchor"},
    "communication lost": {"minutes_since_it_began": "3 min"},
    "person hurt at the base": {"someone_on_the_ladder": "yes", "danger_continues": "yes"},
    "bad air": {"on_the_line": "yes", "feels_faint": "yes"},
    "harness or attachment wrong": {
        "can_hold_on": "yes",
        "on_a_load_point": "no",
        "where": "lower part",
    },
    "party overdue": {"call-out_time_passed": "no"},
    "lifeline cut or damaged": {"second_line_available": "yes"},
}


def test_every_incident_has_its_first_steps_written_down():
    assert set(FIRST) == set(KINDS)


@pytest.mark.parametrize("what", KINDS)
def test_what_is_done_at_once_stands_first(what):
    assert tuple(certain(response(what, **STATED.get(what, {})))[:3]) == FIRST[what]


def told(advice):
    """The headline and the titles of the sections, in order."""
    from advisor.papers.blocks import Heading
    from advisor.papers.outline import outline

    blocks = outline(advice)
    return blocks[0].text, [block.text for block in blocks if isinstance(block, Heading)]


def test_nothing_of_planning_stands_above_the_response():
    from advisor.words import SECTIONS

    program_ = program()
    case = program_.read("cases/incident/unconscious-over-water.yaml")
    headline, titles = told(program_.advise(case))
    assert headline.startswith("Unconscious on the lifeline")
    assert titles[:3] == [SECTIONS[name] for name in ("call", "do_not", "steps")]


def test_a_stop_of_the_plan_does_not_stand_above_what_has_happened():
    from advisor.words import HEADLINES

    advice = program().advise(program().read("cases/accidents/one-anchor-in-soft-rock.yaml"))
    headline, titles = told(advice)
    assert advice.stops and headline.startswith("Hanging on the lifeline")
    assert titles.index("Steps") < titles.index(HEADLINES["stop"])


PLANNING = {"plan", "planned", "rehearse", "practise", "beforehand", "brief", "assessment"}


@pytest.mark.parametrize("what", KINDS)
def test_no_line_speaks_of_planning_and_each_fits_two_lines(what):
    answer = response(what)
    for part in ("call_now", "say", "do_not", "steps"):
        for line in getattr(answer, part):
            assert not PLANNING & set(re.findall("[a-z]+", line.text.lower())), line.text
            shown = textwrap.wrap(f"  12. {line.text}", 76, subsequent_indent=" " * 6)
            assert len(shown) <= 2, line.text


def test_nobody_who_cannot_hold_on_is_told_to_hold_on():
    tired = response("exhausted on the ladder", can_hold_on="no")
    assert "tired.losing-grip" in certain(tired)
    wrong = response("harness or attachment wrong", can_hold_on="no")
    assert "harness.losing-grip" in certain(wrong)
    for answer in (tired, wrong, response("leg trapped in the ladder", can_hold_on="no")):
        texts = [s.text.lower() for s in answer.steps]
        assert not [t for t in texts if "hug" in t or "arm through" in t or "arms round" in t]


def test_what_the_plan_says_is_no_branch_any_more():
    asked = open_lines(response("ladder broken or come off", people_below="3"))
    assert asked["broken.another-way"] == "there is another way out"
    for known in ("yes", "no"):
        planned = response(
            "ladder broken or come off", people_below="3", pitch__other_way_out=known
        )
        assert "broken.another-way" not in open_lines(planned)
        assert ("broken.another-way" in certain(planned)) == (known == "yes")
    said = response(
        "ladder broken or come off",
        people_below="3",
        pitch__other_way_out="yes",
        second_way_out="no",
    )
    assert "broken.another-way" not in certain(said), "what was said of the day stands"


def test_a_doubtful_plan_settles_nothing():
    asked = response("ladder broken or come off", people_below="3", pitch__other_way_out="yes?")
    assert asked and "broken.another-way" in open_lines(asked)


def test_only_what_is_still_open_of_a_branch_is_said():
    asked = open_lines(response("cowstail or clothing caught", weight_on_it="yes"))
    assert asked["caught.let-ladder-down"] == "the tether lets out under load"
    asked = open_lines(response("cowstail or clothing caught", tether__form="releasable hitch"))
    assert asked["caught.let-ladder-down"] == "their weight hangs on it"


@not_quick
def test_rare_facts_bring_their_step_only_when_they_are_stated():
    quiet, water = response("frozen or panicked"), {"water_on_the_ladder": "yes"}
    for rule, facts in (
        ("first.falling-water", water),
        ("first.belt-or-chest", {"held_by": "belt or chest loop alone"}),
        ("haul.caught", {"load_catches": "yes"}),
        ("reach.fetch-the-kit", {"reaching_kit": "elsewhere"}),
    ):
        what = "hanging on the lifeline"
        assert rule not in {s.rule for s in quiet.steps + response(what).steps}
        assert rule in certain(response(what, **facts)), rule
    planned = response("hanging on the lifeline", pitch__water="stream")
    assert "first.falling-water" in certain(planned)


@not_quick
def test_what_is_said_to_rescue_comes_with_every_call():
    for what in set(KINDS) - {"party overdue", "ladder tangled or hooked"}:
        answer = response(what)
        assert answer.call_now and certain(answer, "say") == ["first.what-to-say"], what
