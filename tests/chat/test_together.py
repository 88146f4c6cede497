"""Questions read out together at home: only what was read out is settled, and what was put off
comes back.
"""

import pytest
from depth import not_quick

from advisor.chat.questions import split_fact
from advisor.chat.talk import Talk
from advisor.chat.turn import Reply

PLAN = (
    "a cave; 12 m pitch, hangs free, dry; eight in the group, six novices, two leaders; ladder is"
    " 15 m; lifeline is 30 m; left bolt is a resin bolt, right bolt is a resin bolt"
)


@pytest.fixture
def read(say, session):
    """A plan in which a group of sentences was just read out."""
    reply = say(PLAN)
    assert session.read_out and not session.choosing
    return reply


def test_all_says_yes_to_what_was_read_out_and_to_nothing_else(read, say, session):
    before, shown = dict(session.said), {ref for line in session.read_out for ref in line}
    reply = say("all")
    assert set(session.said) - set(before) == shown and len(reply.facts) == len(shown)
    assert len(read.question.split("\n")) <= 11  # a title, nine lines, how to answer


def test_each_sentence_that_is_read_out_is_the_better_answer(read, say, session):
    vocabulary = session.advisor.base.vocabulary
    asked = [ref for line in session.read_out for ref in line]
    say("all")
    for entity, key in asked:
        attribute = vocabulary.attribute(key)
        worst = max(attribute.ranks)
        assert attribute.ranks[attribute.values.index(session.said[entity, key])] < worst, key


def test_what_is_excepted_is_asked_alone(read, say, session):
    line = session.read_out[1]
    reply = say("all but 2")
    assert session.question in line and reply.question.endswith("?")
    assert not any(ref in session.said for ref in line)


def test_a_sentence_denied_is_taken_the_other_way(read, say, session):
    number, (ref,) = next((n, line) for n, line in enumerate(session.read_out, 1) if len(line) == 1)
    good = session.advisor.base.vocabulary.attribute(ref[1])
    say(f"{number} no")
    assert session.said[ref] != good.values[good.ranks.index(min(good.ranks))]


@not_quick
def test_what_is_put_off_comes_back_once(read, say, session):
    put_off = {ref for line in session.read_out for ref in line}
    assert say("skip").answer == ("Put off; it comes back.",) and not put_off & set(session.said)
    seen = []
    for _ in range(400):
        asked = {ref for line in session.read_out for ref in line} | {session.question}
        seen.append(put_off & asked)
        if not say("skip").question:
            break
    else:
        pytest.fail("questions that nobody answers are put for ever")
    assert set().union(*seen) == put_off
    assert sum(map(bool, seen)) <= len(put_off), "no more than once each"


def test_which_of_them_is_answered_by_number(read, say, session):
    reply = say("all")
    assert reply.question.startswith("Which of these is one of the lifeline's anchors?")
    lines = session.read_out
    say("2")
    assert [session.said[line[0]] for line in lines] == ["no", "yes"]


@not_quick
@pytest.mark.parametrize("words", ["7", "1 and 9", "hello"])
def test_a_number_that_was_not_read_out_says_nothing(read, say, session, words):
    say("all")
    lines = session.read_out
    say(words)
    assert not any(line[0] in session.said for line in lines)


def test_a_sentence_that_another_answer_may_spare_is_not_read_out(read, say, session):
    """How pieces match means nothing while nobody said that there are joins."""
    shown = {key for line in session.read_out for _, key in line}
    asked = {split_fact(session.advisor.base, q.fact)[1] for q in session.advice.blocking}
    assert "ladder.matched pieces" in asked - shown


def test_a_line_that_tells_of_something_else_says_yes_to_nothing(read, say, session):
    """'With all my gear on' is not 'all'."""
    shown = {ref for line in session.read_out for ref in line}
    say("heaviest is me at about 95 kilos with all my gear on")
    assert not shown & set(session.said) and session.said["group", "group.heaviest"]


def test_what_is_read_out_is_never_cut(read, session, capsys):
    """A yes counts for what was seen."""
    talk = Talk(session, None, "text", True)
    talk.rows = lambda: 8
    talk.show(Reply(1, (), (), (), (), (), (), read.question, session.advice))
    shown = " ".join(capsys.readouterr().out.split())
    assert all(" ".join(text.split()) in shown for text in session.read_texts)
    assert "more step" not in shown
