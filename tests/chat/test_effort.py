"""How many answers a leader must give, on two plans told through the real conversation (see
tests/effort.py). The limits are an aim of the program: 45 answers at home, six groups at the head.
"""

import re

import effort
import pytest
from depth import not_quick

from advisor.chat import faces
from advisor.model.advice import CLEAR

AT_HOME, AT_THE_HEAD, SCREEN = 45, 6, 42


@not_quick
@pytest.mark.parametrize("name", ["arrival-left", "all-natural"])
def test_a_sound_plan_takes_few_answers_and_none_in_vain(advisor, name):
    run = effort.play(advisor, name)
    assert not run.what, run.what
    assert run.clear == CLEAR
    assert run.at_home <= AT_HOME and run.at_the_head <= AT_THE_HEAD
    assert run.screen <= SCREEN


@not_quick
def test_the_whole_talk_is_shown_among_the_samples(advisor):
    """tests/samples/talk-effort.txt shows every line that is counted here; `python tests/effort.py
    --write` writes it anew.
    """
    shown = re.findall(r"^> (.*)$", effort.SAMPLE.read_text("utf-8"), flags=re.M)
    assert shown == [line for line, _ in effort.play(advisor, effort.SHOWN).lines]


@not_quick
def test_the_leader_notices_a_question_put_in_vain(advisor, session):
    leader = effort.Leader(session, effort.plans(advisor.base)["arrival-left"])
    leader.say(*leader.plan.opening, of_its_own=True)
    leader.judge("group", "group.youngest")  # "no children" was said
    leader.judge("pitch", "pitch.depth")
    leader.judge("anchor left bolt", "anchor.moves")
    assert set(leader.run.wrong) == {"absurd", "implied", "later"}


@not_quick
def test_the_status_line_fits_and_tells_the_moment_and_what_is_left(advisor, session):
    leader = effort.Leader(session, effort.plans(advisor.base)["arrival-left"])
    leader.say(*leader.plan.opening, of_its_own=True)
    assert faces.status(session).startswith("depth 12 m | group 8 | NOT YET | home: ")
    leader.until("clear at home")
    assert faces.status(session).endswith(
        f"clear at home | head: {len(session.advice.checks)} checks"
    )
    leader.say("at the head")
    assert f"| NOT YET | head: {len(session.advice.checks)} checks" in faces.status(session)
    leader.until(CLEAR)
    assert faces.status(session).endswith(f"{CLEAR} | head: nothing left")
    assert len(faces.status(session)) <= 80
