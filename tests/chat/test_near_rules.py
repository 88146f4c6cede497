"""What comes near a question in the rules: the rule that a leader would want is among those shown,
and a question tells no fact. The questions were typed by outside hands who knew no rule.
"""

import pytest
from worked import program

from advisor.advise import Advisor
from advisor.chat import intents, nearest, topics
from advisor.chat.session import Session
from advisor.chat.turn import take

WANTED = {
    "Is it acceptable to belay novices with a body belay on a 5 m pitch, as I was taught in the"
    " seventies?": "line-device.no-body-no-teeth",
    "can i tie the lifeline round the waist with a bowline if we're short a harness": (
        "line-tie.harness"
    ),
    "What if the rain starts while half of us are below the pitch?": (
        "water-plan.rain-and-flood-not-known"
    ),
    "whats the biggest person you'd put on a normal wire ladder, got a bloke who reckons hes 20"
    " stone": "person.too-heavy",
    "what if one of them cant get back up, can two of us haul them": "haul.anchors",
    "can I use the same bolt for the ladder and the lifeline its a bomber resin one": (
        "anchors.one-for-both"
    ),
    "How many leaders I need for 9 children of 11 years on ladder of 6 meters?": (
        "ratio.under-18s"
    ),
}


def asked(line):
    session = Session(program())
    return session, take(session, line)


@pytest.mark.parametrize("line", WANTED)
def test_the_rule_that_is_wanted_is_among_those_shown(line):
    session, reply = asked(line)
    told = "\n".join(reply.answer)
    assert nearest.NEAREST in reply.answer or topics.EACH in reply.answer
    assert f"[{WANTED[line]}]" in told
    assert not session.said


def test_it_is_said_once_however_much_is_asked():
    _, reply = asked("can we share a rope? can we leave it rigged overnight?")
    assert reply.answer.count(nearest.NEAREST) == 1


def test_what_is_missing_is_said_once():
    _, reply = asked("is it ok to leave the tackle in the cave overnight its bomber kit")
    assert reply.answer.count(intents.NOTHING_YET) == 1


def test_a_rule_of_local_guidance_takes_no_place(tmp_path):
    path = tmp_path / "own.yaml"
    title = "Only a made harness, never a waist line"
    path.write_text(LOCAL.replace("TITLE", title), "utf-8")
    local = Advisor(local_file=str(path))
    line = "can i tie the lifeline round the waist with a bowline if we're short a harness"
    assert local.base.rule("local.waist")
    found = nearest.Nearest(local.base).of(line)
    assert found == nearest.Nearest(program().base).of(line)


LOCAL = """local guidance: Our own
issued by: A centre (invented)
date: 2026-03-01
topic: Rules of our own
about: plan
rules:
  - id: local.waist
    title: TITLE
    if: {pitch.depth: {above: 0 m}}
    then: {require: {text: "A waist line, where a harness is short.", strength: must}}
    because: The waist holds.
    source: local-guidance
    status: read in the source
    authority: local rule
"""


def test_few_rules_are_told_and_none_with_a_gap_where_a_figure_stood():
    for rule in program().base.rules:
        assert "{" not in nearest.told(rule)
    for line in WANTED:
        found = nearest.nearest(program().base, line)
        assert 1 < len(found) <= nearest.SHOWN + 1


def test_what_the_rules_do_not_speak_of_has_nothing_near_it():
    assert nearest.nearest(program().base, "do the kids need sunglasses") == []
    assert nearest.nearest(program().base, "") == []


def test_without_full_text_search_nothing_is_near_and_nothing_breaks(monkeypatch):
    monkeypatch.setattr(nearest, "TABLE", "create virtual table rules using no_such_module(a)")
    monkeypatch.setattr(nearest, "_NEAREST", {})
    assert nearest.nearest(program().base, next(iter(WANTED))) == []


def test_only_rules_of_a_kind_are_told_where_that_was_asked():
    from advisor.model.effects import CallNow

    index = nearest.Nearest(program().base)
    found = index.of("when do we call if someone is unconscious on the rope", (CallNow,))
    assert found
    assert all(any(isinstance(e, CallNow) for e in rule.effects) for rule in found)


@pytest.mark.parametrize(
    ("words", "is_one"),
    [
        ("can two of us haul them", True),
        ("so what if it rains", True),
        ("20 m of rope?", True),
        ("two of us", False),
        ("the rope is old", False),
        ("", False),
    ],
)
def test_what_is_a_question(words, is_one):
    assert nearest.asks(words) is is_one
