"""Replies to a single question: what is only thought, denied, or meant for something else is never
taken as said; asking back keeps the question open.
"""

import pytest

from advisor.language.group_reply import Line, read_group
from advisor.language.which_reply import read_which

METER = ("site", "site.gas meter")


@pytest.fixture
def asked(session, say):
    """asked(fact, value) -> a talk in which the fact of an entity is being asked for."""
    say("anchor left bolt kind: resin bolt")

    def put(entity, key):
        session.question = entity, key
        session.asked.add(session.question)
        return session

    return put


def came_to(session, reference):
    """The fact as it stands: its raw value, or None."""
    return session.said.get(reference)


@pytest.mark.parametrize(
    ("words", "raw"),
    [
        ("aye, course", "yes"),
        ("too right we do", "yes"),
        ("er no", "no"),
        ("not a chance, it's been that way since 1990", "no"),
        ("not yet", "no"),
        ("never bothered, so no", "no"),
        ("should be", "yes?"),
        ("I think so", "yes?"),
        ("yes but the battery's flat", "yes?"),
        ("don't think so", "no?"),
        ("not really", "no?"),
        ("no idea", "unknown"),
        ("yes and no", "yes?"),
        ("only if it rains", None),
        ("no problem", None),
        ("we could", None),
    ],
)
def test_yes_and_no_in_their_colours(asked, say, words, raw):
    session = asked(*METER)
    say(words)
    assert came_to(session, METER) == raw
    assert (session.question == METER) == (raw is None)


@pytest.mark.parametrize(
    ("fact", "words", "raw"),
    [
        (("group", "group.heaviest"), "about 16 stone kitted up", "about 16 st"),
        (("group", "group.heaviest"), "95, no, 105", "105"),
        (("group", "group.heaviest"), "95ish I think", "about 95?"),
        (("group", "group.heaviest"), "a few", None),
        (("group", "group.heaviest"), "1.8m tall", None),
        (("group", "group.heaviest"), "the rope's 95", None),
        (("group", "group.children"), "none, all adults", "0"),
        (("group", "group.children"), "all but two", None),
        (("lifeline", "lifeline.diameter"), "thick enough", None),
        (("plan", "plan.walk out"), "half hour", "0.5 h"),
        (("ladder main", "ladder.joins"), "it's all one length", "0"),
        (("ladder main", "ladder.joins"), "three 5m sections", "2"),
        (("ladder main", "ladder.breaking load"), "6", None),
        (("plan", "plan.turn time"), "half two in the afternoon", "14:30"),
        (("plan", "plan.turn time"), "half two", None),  # morning or afternoon is asked
        (("plan", "plan.turn time"), "tea time", None),
        (("pitch", "pitch.landing"), "2", "slope"),
        (("pitch", "pitch.landing"), "number 2 I think", "slope?"),
        (("pitch", "pitch.landing"), "floor, not a ledge", "floor"),
        (("pitch", "pitch.landing"), "not flat", None),
        (("pitch", "pitch.landing"), "9", None),
        (("lifeline", "lifeline.device"), "not a plate", None),
        (("group", "group.spare lights"), "3", None),  # lights, not the third answer
        (
            ("leader", "leader.practised tether"),
            "done the hitch but not the device",
            "releasable hitch",
        ),
        (("lifeline", "lifeline.class"), "semi-static or dynamic, can't remember", None),
    ],
)
def test_a_figure_or_a_choice_is_taken_only_where_it_is_plain(asked, say, fact, words, raw):
    session = asked(*fact)
    before = dict(session.said)
    say(words)
    assert came_to(session, fact) == raw
    others = {ref for ref in session.said if session.said[ref] != before.get(ref)} - {fact}
    assert not others, "a figure is bound to nothing but what was asked for"


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("why, it's a draughty cave?", "could bring"),
        ("why do you ask", "could bring"),
        ("what do you mean", "Say 'yes', 'no'"),
        ("same as last time", "in full"),
        ("purple monkeys", "Say 'yes', 'no'"),
    ],
)
def test_asking_back_keeps_the_question_open(session, say, words, told):
    say("a cave; 12 m pitch, eight in the group, left bolt is a resin bolt")
    while session.question != METER:
        assert say("skip").question or session.read_out
    answer = " ".join(say(words).answer)
    assert told in answer and session.question == METER and METER not in session.said
    say("nope")
    assert session.said[METER] == "no"


NAMES = ["left bolt", "middle bolt 1", "middle bolt 2", "right bolt"]


@pytest.mark.parametrize(
    ("words", "so", "perhaps"),
    [
        ("both middles", {2, 3}, set()),
        ("left and right", {1, 4}, set()),
        ("1 2 and 4", {1, 2, 4}, set()),
        ("all but the left", {2, 3, 4}, set()),
        ("all four", {1, 2, 3, 4}, set()),
        ("none of them", set(), set()),
        ("I think 2 and 3", set(), {2, 3}),
        ("left's for the ladder, lifeline's on the right", {4}, set()),
        ("2 or 3", None, None),
        ("middle bolt", None, None),
        ("not the left one", None, None),
        ("1 and 9", None, None),
    ],
)
def test_of_which_it_is_so_in_words(words, so, perhaps):
    found = read_which(words, NAMES, "Is it one of the lifeline's anchors?")
    assert (found and (set(found.so), set(found.perhaps))) == (so if so is None else (so, perhaps))


@pytest.mark.parametrize("words", ["ask me later", "I'll have to check", "will look tonight"])
def test_what_is_put_off_is_not_told(asked, say, session, words):
    asked(*METER)
    say(words)
    assert METER not in session.said and METER in session.skipped


def test_what_is_added_to_an_answer_is_taken_where_it_names_its_thing(asked, say, session):
    asked(*METER)
    reply = say("nope, and the rope's 11 mil, wibble wobble")
    assert session.said[METER] == "no" and session.said["lifeline", "lifeline.diameter"] == "11 mm"
    assert "wibble wobble" in " ".join(words for words, _ in reply.unclear) and reply.question


def test_a_reply_to_another_question_is_taken_and_the_question_stays(asked, say, session):
    asked("group", "group.heaviest")
    say("the lifeline is 11 mm")
    assert session.said["lifeline", "lifeline.diameter"] == "11 mm"
    assert ("group", "group.heaviest") not in session.said


LINES = [
    Line("The ladder was examined in date."),
    Line("No ladder found in place would be used."),
    Line("A belayer has a safe, roomy stance at the top.", frozenset({"poki"})),
    Line("Lowering and hauling have been rehearsed."),
]


@pytest.mark.parametrize(
    ("words", "so", "not_so", "left"),
    [
        ("the lot", {1, 2, 3, 4}, set(), set()),
        ("1 and 4 no rest yes", {2, 3}, {1, 4}, set()),
        ("all fine bar the third", {1, 2, 4}, set(), {3}),
        ("1,2 ok 3 no 4 dunno", {1, 2}, {3}, {4}),
        ("stance is a bit tight, rest yes", {1, 2, 4}, set(), {3}),
        ("first two yes, not sure about the rest", {1, 2}, set(), set()),
        ("2 no, the others I'd have to check", set(), {2}, set()),
        ("everything cept we haven't practised hauling yet", {1, 2, 3}, set(), {4}),
    ],
)
def test_which_lines_a_reply_says_are_so(words, so, not_so, left):
    found = read_group(words, LINES)
    assert found.sure and (set(found.so), set(found.not_so), set(found.left)) == (so, not_so, left)


@pytest.mark.parametrize(
    "words", ["I think so", "all I think", "most of them", "it's a bit odd, rest yes", "all bar 9"]
)
def test_a_reply_to_several_lines_is_not_guessed(words):
    found = read_group(words, LINES)
    assert found is None or not found.sure or not found.so


def test_what_was_taken_is_echoed_by_the_names_as_they_are_written():
    from advisor.chat.in_words import _which_told
    from advisor.language.which_reply import WhichReply

    names = ["ladder B", "L3", "old rail"]
    assert _which_told(names, WhichReply({1, 2}, set())) == "Yes: ladder B, L3; no: old rail."
    assert _which_told(names, WhichReply(set(), {2})) == "Perhaps: L3."
