"""Checks in a conversation: read out in groups at the head, answered by number, and only what was
read out is settled.
"""

import pytest
from depth import not_quick

from advisor.chat import faces
from advisor.chat.session import Session
from advisor.chat.store import Store, load
from advisor.facts.vocabulary import AT_HOME, AT_THE_HEAD
from advisor.faults import Faults
from advisor.load.case import read_case
from advisor.load.folder import find_folder
from advisor.model.advice import CLEAR, CLEAR_AT_HOME
from advisor.papers.checks import AT_A_TIME, check_lines, groups

SOUND = find_folder("cases") / "plan/arrival-left.yaml"


@pytest.fixture
def plan(session):
    """A conversation in which all was told of a sound plan that is known at home."""
    base = session.advisor.base
    facts = read_case(SOUND, base).facts.values()
    session.say(
        [(f.entity, f.key, f.raw) for f in facts if not base.vocabulary.by_key[f.key].on_the_spot]
    )
    assert session.advice.decisions["go"].choice == CLEAR_AT_HOME and session.advice.checks
    return session


def go(session):
    return session.advice.decisions["go"].choice


def numbered(reply):
    return [line for line in reply.question.split("\n") if line[:1].isdigit()]


def number_of(session, fact):
    """The number of the line on a fact in the group that is read out first."""
    lines = enumerate(groups(session.advice.checks)[0], 1)
    return next(n for n, line in lines if line.checks[0].fact == fact)


def test_at_home_nothing_is_asked_that_is_only_seen_at_the_head(plan, say):
    while question := say("skip").question:
        assert not plan.advisor.base.vocabulary.attribute(plan.question[1]).on_the_spot, question
    assert "clear at home" in faces.status(plan)


@pytest.mark.parametrize("words", ["at the head", "we are at the head now", "We're at the head."])
def test_at_the_head_the_groups_are_read_out_and_all_settles_each(plan, say, words):
    reply, read = say(words), []
    while numbered(reply):
        read.append(numbered(reply))
        assert len(read[-1]) <= AT_A_TIME and go(plan) != CLEAR
        reply = say("all")
    assert len(read) > 1 and go(plan) == CLEAR and not plan.advice.checks


@not_quick
def test_all_settles_what_was_read_out_and_nothing_else(plan, say):
    before = {check.fact for check in plan.advice.checks}
    read = groups(plan.advice.checks)[0]
    assert len(numbered(say("at the head"))) == len(read)
    reply = say("all")
    settled = {check.fact for line in read for check in line.checks}
    assert {fact["fact"] for fact in reply.facts} == settled
    # With no loose rock the belayer stands in no fall line either.
    assert settled <= before - {check.fact for check in plan.advice.checks}
    say("undo")
    assert {check.fact for check in plan.advice.checks} == before


@not_quick
@pytest.mark.parametrize("words", ["yes", "all", "all but 1", "1 no"])
def test_with_nothing_read_out_nothing_is_settled(plan, say, words):
    said = plan.said
    say(words)
    assert plan.said == said
    say("at the head")
    say("why")  # what was read out before it is no longer what is answered
    say(words)
    assert plan.said == said


@not_quick
def test_all_but_one_asks_for_that_one(plan, say):
    say("at the head")
    number, fact = number_of(plan, "site.air symptoms"), "site.air symptoms"
    reply = say(f"all but {number}")
    assert reply.question == next(q.text for q in plan.advice.open_questions if q.fact == fact)
    assert fact in {check.fact for check in plan.advice.checks}
    assert reply.facts and fact not in {fact["fact"] for fact in reply.facts}


@not_quick
def test_a_line_that_is_not_so_is_said_the_other_way(plan, say):
    say("at the head")
    reply = say(f"{number_of(plan, 'site.air symptoms')} no")
    assert [(f["fact"], f["value"]) for f in reply.facts] == [("site.air symptoms", "yes")]
    assert plan.advice.stops and any(line.startswith("STOP") for line in reply.changed)


def test_a_line_that_may_be_bad_in_more_ways_is_asked_for(plan, say):
    say("at the head")
    said = plan.said
    reply = say(f"{number_of(plan, 'pitch.water')} no")
    assert plan.said == said and plan.question == ("pitch", "pitch.water") and reply.question


def test_a_number_that_was_not_read_out_settles_nothing(plan, say):
    say("at the head")
    said = plan.said
    reply = say("all but 40")
    assert plan.said == said and "no line 40" in reply.answer[0] and numbered(reply)


def test_the_checks_can_be_listed_at_home_whole(plan, say):
    told = "\n".join(say("checks").answer)
    assert all(line.text in told for line in check_lines(plan.advice.checks))


@not_quick
def test_the_moment_changes_back_and_is_kept(plan, say, advisor):
    say("at the head")
    store = Store.new()
    store.save(plan)
    again = Session(advisor)
    load(store.path, again)
    assert again.at == AT_THE_HEAD and go(again) == go(plan)
    say("at home")
    assert plan.at == AT_HOME and go(plan) == CLEAR_AT_HOME


def test_who_checked_and_when_goes_with_the_answers(plan, say, tmp_path):
    """How, when and by whom is kept through a session's file, a case file and a fact said anew."""
    plan.clock = lambda: "2026-03-14 10:20"
    say("at the head")
    for name in ("Somebody Else", "Anna", "Tom"):
        assert "No name is kept" in " ".join(say(f"checked by {name}").answer)
    assert plan.checker == "" and "checked by AB" in " ".join(say("checked by a.b.").answer)
    read = [ref for refs in plan.read_out for ref in refs]
    say("all")
    words = "list read out at the head, 2026-03-14 10:20, by AB"
    facts = plan.case().facts
    assert {facts[ref].said_by for ref in read} == {words}
    assert facts["pitch", "pitch.depth"].said_by == "chat"

    say(f"export {tmp_path / 'mine.yaml'}")
    again = read_case(tmp_path / "mine.yaml", plan.advisor.base)
    assert {ref for ref, fact in again.facts.items() if fact.said_by == words} == set(read)
    changed = read_case(tmp_path / "mine.yaml", plan.advisor.base, [f"{_id(read[0])}=unknown"])
    assert read[0] not in changed.facts or changed.facts[read[0]].said_by == "command line"

    store = Store.new()
    store.save(plan)
    store.close()
    resumed = Session(plan.advisor)
    load(store.path, resumed)
    assert resumed.case().facts[read[0]].said_by == words and resumed.checker == "AB"

    raw = plan.said[read[0]]
    plan.say([(*read[0], raw)])  # the same, but said in so many words
    assert plan.case().facts[read[0]].said_by == "chat"
    plan.say([(*read[0], "unknown")])
    assert plan.case().facts.get(read[0]) is None or plan.case().facts[read[0]].said_by == "chat"


def _id(reference):
    return f"{reference[0]}.{reference[1].partition('.')[2]}"


def test_a_check_of_a_fact_that_is_not_given_is_a_fault(tmp_path, plan):
    path = tmp_path / "mine.yaml"
    path.write_text(
        'given: {pitch: {depth: 9 m}}\nchecked: {"list at the head, by AB": [pitch.dept]}\n'
    )
    with pytest.raises(Faults) as raised:
        read_case(path, plan.advisor.base)
    assert str(raised.value).startswith(f"{path}:2:")
    assert "Did you mean 'pitch.depth'?" in str(raised.value)
