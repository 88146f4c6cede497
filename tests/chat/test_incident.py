"""Incident mode: first things first, one screen, no reasons unless asked, the notice that a real
emergency comes first.
"""

import re

import pytest
from worked import program

from advisor.chat.faces import fitted, lines_of, shown, styled
from advisor.chat.incident import REAL

WHAT = program().base.vocabulary.attribute("incident.what").values


@pytest.mark.parametrize("what", WHAT)
@pytest.mark.parametrize("columns", [60, 80, 200])
def test_every_incident_fits_one_screen_and_more_tells_the_rest(say, session, what, columns):
    lines = lines_of(say(f"incident what: {what}"))
    assert REAL in lines
    steps = [line for line in lines if re.match(r"\d+\. ", line)]
    assert [int(s.split(".")[0]) for s in steps] == list(range(1, len(steps) + 1)) and len(
        steps
    ) >= 3
    cut, rest = fitted(lines, 24, columns)
    assert shown(cut, columns).count("\n") <= 22 or len(steps) - len(rest) == 3
    assert [line for line in cut if re.match(r"\d+\. ", line)] + list(rest) == steps, (
        "nothing is lost between the screen and 'more'"
    )
    session.rest = rest
    assert say("more").answer == (rest or ("There is no more of it.",))


def test_calls_stand_before_the_steps_and_stand_out(say):
    lines = lines_of(say("she is hanging unconscious on the lifeline"))
    call = next(n for n, line in enumerate(lines) if line.startswith("CALL NOW: "))
    assert call < next(n for n, line in enumerate(lines) if line.startswith("1. "))
    assert styled(lines[call] + "\n", lines[call], True).startswith(
        "\x1b[1;7m"
    ) and "\x1b" not in styled(lines[call], lines[call], False)


def test_a_stop_stands_out_also_in_a_supposition():
    assert styled("  - STOP: no\n", "  - STOP: no", True) == "\x1b[1;31m  - STOP: no\x1b[0m\n"


def test_no_reasons_unless_asked(say):
    reply = say("foot jammed between the rungs")
    assert "Because:" not in "".join(reply.answer)
    assert all("Because:" in line for line in say("why").answer)


def test_steps_are_not_repeated_while_they_stay_and_told_anew_when_they_change(say):
    first = say("foot jammed between the rungs").answer
    assert say("group size: 7").answer != first
    changed = say("tether form: releasable hitch").answer
    assert changed and not any("cannot be let out" in line for line in changed)


def test_only_questions_of_the_response_are_asked(say, session):
    say("14 m shaft, nine of them")
    say("foot jammed between the rungs")
    asked = []
    while session.question:
        asked.append(session.question[0])
        say("skip")
    assert asked and set(asked) <= {
        "incident",
        "tether",
        "group",
        "leader",
        "raise",
        "lifeline",
    }, asked


def test_a_drill_question_gives_the_steps(say):
    say("foot jammed between the rungs")
    answer = say("what should I do").answer
    assert answer[0] == REAL and any(line.startswith("1. ") for line in answer)
