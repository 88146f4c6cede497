"""Turns of a conversation: what is heard is said back, a supposition changes nothing, no question
comes twice.
"""

import pytest
from depth import not_quick

from advisor.chat.faces import lines_of, shown
from advisor.chat.intents import HELP

PLAN = "14 m shaft, dripping, nine of them plus me and a helper"


def test_every_fact_heard_is_said_back_with_its_value(say):
    reply = say(PLAN)
    assert {"pitch depth: 14 m", "pitch water: drips", "group size: 9"} <= set(reply.heard)


def test_a_fact_that_replaces_another_says_what_it_replaces(say):
    say("14 m shaft")
    assert say("sorry, 16 not 14").heard == ("pitch depth: 16 m (was 14 m)",)


def test_a_doubtful_fact_is_said_back_as_doubtful(say):
    reply = say("anchor flake kind: spike?")
    assert "doubtful" in reply.heard[0] and reply.facts[0]["doubtful"]


def test_words_not_understood_are_said_back_word_for_word_and_change_nothing(say, session):
    say(PLAN)
    before = dict(session.said)
    reply = say("qwe rty uiop")
    assert (
        [words for words, _ in reply.unclear] == ["qwe rty uiop"]
        and session.said == before
        and not reply.question
    )


def test_after_a_turn_only_the_changes_are_told(say):
    say(PLAN)
    reply = say("anchor left bolt kind: resin bolt")
    assert any(line.startswith("ladder anchor: nothing -> left bolt") for line in reply.changed)
    assert not any("another way or no pitch" in line for line in reply.changed), (
        "an unchanged decision is not told again"
    )


def test_a_new_stop_is_told_first_and_its_end_too(say):
    say(PLAN)
    assert say("pitch water: stream").changed[0].startswith("STOP: ")
    assert say("undo").changed[0].startswith("No longer a stop: ")


def test_stops_that_stand_are_not_forgotten_by_later_turns(say):
    say("pitch water: stream")
    assert any(line.startswith("Still 1 STOP") for line in say("pitch depth: 12 m").changed)


def test_the_whole_advice_comes_on_request(say):
    say(PLAN)
    whole = say("what should I do").answer
    assert "THE RIG SO FAR; THE ABOVE MAY CHANGE IT" in whole and "say 'everything'" in whole[-1]
    assert len(say("everything").answer) > len(whole)


@not_quick
@pytest.mark.parametrize(
    "line",
    ["suppose the water is a stream", "what if it were 30 m deep", "say we use a fixed cord"],
)
def test_a_supposition_never_changes_the_plan(say, session, line):
    say(PLAN)
    said, advice = dict(session.said), session.advice
    reply = say(line)
    assert reply.intents == ("what if",) and reply.answer[0].startswith("Supposing ")
    assert not reply.heard and session.said == said and session.advice is advice


@not_quick
def test_a_supposition_can_be_taken_over(say, session):
    say(PLAN)
    say("suppose the water is a stream")
    assert say("use that").changed[0].startswith("STOP")
    assert session.said["pitch", "pitch.water"] == "stream"
    say("undo")
    assert session.said["pitch", "pitch.water"] == "drips"


def test_an_old_supposition_is_not_taken_over_by_accident(say, session):
    say(PLAN)
    say("suppose the water is a stream")
    say("pitch hang: free")
    say("use that")
    assert session.said["pitch", "pitch.water"] == "drips"


def test_plans_are_kept_compared_used_and_dropped(say, session):
    say(PLAN)
    say("suppose the water is a stream")
    assert "Kept what was supposed as 'plan b'" in say("keep that as plan B").answer[0]
    table = say("compare with plan B").answer
    assert any(
        row.split("|")[0].strip() == "pitch water" and "drips" in row and "stream" in row
        for row in table
    )
    assert any(row.startswith("stops") and "none found" in row for row in table)
    assert session.said["pitch", "pitch.water"] == "drips", "comparing changes nothing"
    say("use plan B")
    assert session.said["pitch", "pitch.water"] == "stream"
    say("drop plan B")
    assert say("plans").answer[0].startswith("No plan is kept")


def test_no_question_is_asked_twice(say, session):
    say(PLAN)
    asked = [say("skip").question for _ in range(40)]
    asked = [q for q in asked if q]
    assert len(asked) > 30 and len(set(asked)) == len(asked)


def test_a_thing_is_asked_for_its_kind_before_its_details(say):
    asked = [say("anchor left bolt side: left").question] + [
        say("skip").question for _ in range(60)
    ]
    details = (
        "How thick is the trunk of left bolt?",
        "What does left bolt sit on?",
        "How thick is the rock bridge of left bolt?",
    )
    asked = [question.split("\n")[0] for question in asked]  # without the choices below it
    assert all(asked.index("What kind of anchor is left bolt?") < asked.index(d) for d in details)


def test_the_answer_to_a_question_may_be_bare_even_after_asking_back(say, session):
    say("anchor left bolt kind: resin bolt")
    attribute = session.advisor.base.vocabulary.attribute
    while session.question and (
        attribute(session.question[1]) is None or attribute(session.question[1]).type != "yes/no"
    ):
        say("skip")
    question = session.question
    assert "could bring" in say("why do you ask").answer[0]
    say("yes")
    assert session.said[question] == "yes"


def test_just_tell_me_ends_the_questions_and_tells(say):
    say(PLAN)
    reply = say("just tell me")
    assert not reply.question and "THE RIG SO FAR; THE ABOVE MAY CHANGE IT" in reply.answer
    assert not say("pitch hang: free").question


@not_quick
def test_undo_and_redo_go_through_all_steps(say, session):
    lines = ["14 m deep", "pitch hang: free", "group size: 9"]
    states = [dict(session.said)]
    for line in lines:
        say(line)
        states.append(dict(session.said))
    for state in reversed(states[:-1]):
        say("undo")
        assert session.said == state
    assert say("undo").answer == ("There is nothing to take back.",)
    for state in states[1:]:
        say("redo")
        assert session.said == state


def test_start_again_can_be_undone(say, session):
    say(PLAN)
    said = dict(session.said)
    say("start again")
    assert not session.said
    say("undo")
    assert session.said == said


def test_words_that_look_like_a_file_order_are_talk(say):
    assert "load" not in say("load is 80 kg").intents


def test_words_that_look_like_keeping_a_plan_are_talk(say, session):
    say(PLAN)
    say("keep as much rope as needed at the top")
    assert not session.branches


def test_a_case_file_loads_as_one_step(say, session):
    reply = say("load cases/plan/arrival-left.yaml")
    assert reply.intents == ("load",) and session.advice.decisions["ladder anchor"].choice
    say("undo")
    assert not session.said


def test_a_file_that_is_missing_or_bad_changes_nothing(say, session, tmp_path):
    bad = tmp_path / "bad.yaml"
    bad.write_text("case: x\ngiven: {pitch: {depth: -4 m}}\n", "utf-8")
    for name in (tmp_path / "none.yaml", bad):
        reply = say(f"load {name}")
        assert reply.answer[-1] == "Nothing was loaded." and not session.said


def test_help_fits_on_the_smallest_screen():
    assert len(HELP) <= 22 and max(map(len, HELP)) <= 60


def test_names_that_cannot_be_shown_are_refused(say, session):
    reply = say(f"anchor {'x' * 80} side: left")
    assert (
        not session.said
        and any("name is too long" in line for line in reply.answer)
        and not reply.heard
    )


def test_outside_questions_name_whom_to_ask(say):
    reply = say("is her ankle broken")
    assert "outside" in reply.intents and "doctor" in reply.answer[-1]


def test_an_answer_before_any_fact_says_what_to_tell_first(say):
    assert say("what should I do").answer[0].startswith("Tell me something first")


@pytest.mark.parametrize(
    "line",
    [
        "",
        "\x00",
        "\x1b[2Jhello",
        "\u202eevil",
        "a" * 100_000,
        "🪢" * 500,
        "anchor \x07 side: left",
        ";;;;",
        "\ud800",
    ],
)
def test_odd_lines_neither_raise_nor_change_the_plan_without_saying_so(say, session, line):
    say(PLAN)
    before = dict(session.said)
    reply = say(line)
    assert session.said == before or reply.heard
    assert all(c.isprintable() or c == "\n" for c in shown(lines_of(reply))) and reply.turn == 2


@not_quick
@pytest.mark.parametrize(
    "line, told",
    [
        (
            "how sure is the method",
            "depth of the pitch, 12 m: below 0.5 m: another way or no pitch; above 18 m: another"
            " way or no pitch",
        ),
        ("what would change the method", "depth of the pitch: below 0.5 m or above 18 m"),
        ("what should I find out", "up to 24 min: nothing changes yet"),
    ],
)
def test_limits_are_told_in_the_talk_as_on_the_command_line(say, line, told):
    """Above 18 m: rules/pitch/method.yaml; the minutes: tests/calculations hold the times."""
    say("load cases/plan/arrival-left.yaml")
    answer = say(line).answer
    assert any(told in text for text in answer)
    assert not [text for text in answer if "--all" in text or text.startswith("1. ")]
