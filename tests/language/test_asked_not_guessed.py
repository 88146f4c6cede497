"""What a line leaves open is asked about: figures without a unit, denials of denials, and words of
two clauses run together.
"""

from __future__ import annotations

import pytest
from talk import context

from advisor.language.parts import Said, Unclear
from advisor.language.understand import understand


def told(line, *before):
    """(facts as 'ENTITY.NAME=VALUE', stretches not understood, what is offered for them)."""
    parts = understand(line, context(before=before)).parts
    facts = {
        f"{p.entity}.{p.key.partition('.')[2]}={p.raw}"
        for p in parts
        if isinstance(p, Said) and p.raw != "unknown"
    }
    unclear = [p for p in parts if isinstance(p, Unclear)]
    return facts, [p.words for p in unclear], [r for p in unclear for r in p.readings]


@pytest.mark.parametrize(
    "line, facts, left",
    [
        ("two 10 m ladders and a 30 m rope", {"lifeline.length=30 m"}, ()),
        ("two 10 m ladders and a 5 foot tether", {"tether.cord length=5 ft"}, ()),
        ("two 10 m ladders and a 20 m handline", set(), ("20 m",)),
        ("two 10 m ladders and a 12 m shaft", {"pitch.depth=12 m"}, ()),
    ],
)
def test_what_stands_beside_two_ladders_is_no_third(line, facts, left):
    found, unclear, _ = told(line)
    assert found == {"ladder 1.length=10 m", "ladder 2.length=10 m"} | facts
    assert set(left) <= set(unclear)


@pytest.mark.parametrize(
    "line, facts",
    [
        ("a 10 m ladder and a 5 m tether", {"tether.cord length=5 m"}),
        ("a 10 m ladder and a 2 m strop", set()),
        ("a 10 m ladder and 20 m of tape", set()),
        ("a 10 m ladder and a 9 m drop", {"pitch.depth=9 m"}),
        ("a 10 m ladder and a 5 m one", {"ladder second.length=5 m"}),
    ],
)
def test_a_length_before_its_own_noun_is_no_ladders(line, facts):
    assert told(line)[0] == {"ladder main.length=10 m"} | facts


def test_three_pieces_are_heard():
    assert told("two ten metre ladders and a five")[0] == {
        "ladder 1.length=10 m",
        "ladder 2.length=10 m",
        "ladder 3.length=5 m",
    }


@pytest.mark.parametrize(
    "line, before, offers",
    [
        (
            "pitch is forty, ladder 50 ft, rope 100 ft",
            (),
            ["pitch depth: 40 m", "pitch depth: 40 ft"],
        ),
        ("pitch is forty", ("ladder 50 ft",), ["pitch depth: 40 m", "pitch depth: 40 ft"]),
        (
            "heaviest 14 stone, lightest is 40",
            (),
            ["group lightest: 40 kg", "group lightest: 40 st"],
        ),
    ],
)
def test_a_bare_figure_among_others_in_another_unit_is_asked_about(line, before, offers):
    facts, _, offered = told(line, *before)
    assert offered == offers
    assert not any(o.replace(": ", "=").replace(" depth", ".depth") in facts for o in offers)


def test_a_bare_figure_alone_keeps_the_unit_of_its_thing():
    assert told("pitch is forty, ladder 50 m")[0] >= {"pitch.depth=40 m"}


@pytest.mark.parametrize(
    "line",
    [
        "nobody here is not hurt",
        "nobody isn't tired",
        "none of them isn't a novice",
        "there is nobody who isn't a novice",
        "the lip isn't not sharp",
        "pitch isn't not dry",
        "there's never no water on the pitch",
        "left bolt never doesn't move",
        "access isn't not allowed",
        "not one of them has not practised",
        "nobody hasn't practised",
        "no-one can't climb",
    ],
)
def test_a_denial_of_a_denial_is_never_taken(line):
    facts, unclear, _ = told(line)
    assert {f for f in facts if ".side=" not in f} == set() and unclear


@pytest.mark.parametrize(
    "line, fact",
    [
        ("there's no loose rock nowhere", "pitch.loose rock=no"),
        ("he is not out cold just will not talk", "incident.answers=no"),
        ("no helper no signal", "leader.assistants=0"),
    ],
)
def test_two_denials_each_for_itself_stand(line, fact):
    assert fact in told(line)[0]


@pytest.mark.parametrize(
    "line, never",
    [
        (
            "left bolt backed up there's also a flake on the right",
            "anchor right flake.backed up=yes",
        ),
        ("right one is rusty a thread on the right", "anchor right thread.worst sign"),
        ("the left bolt is sound right bolt on the left", "anchor right bolt.side=left"),
        ("two bolts expansion bit of rust on one", "anchor expansion.kind"),
        ("bleeding, but not badly breathing's fine", "incident.breathing normally=no"),
        ("nobody below I've locked the lifeline off", "incident.line locked=no"),
        ("sling faded and hard people come in from the right", "finding faded and hard.place"),
        ("hangers are both resin flake could lift off", "anchor flake.kind=resin"),
    ],
)
def test_words_of_one_thing_are_not_told_of_the_next(line, never):
    before = ("resin bolt on the left", "expansion bolt on the right")
    facts = told(line, *before)[0]
    assert not any(f.startswith(never) for f in facts), facts


@pytest.mark.parametrize(
    "line, never",
    [
        ("the bolts are on the left wall, two of them, a foot and a half apart", "group.size"),
        ("there is one alternative exit, passable by all", "group.size"),
        ("bolt moving, 2 kids yet to come up", "group.children"),
        ("only me has done a ladder", "leader.number"),
        ("no bolts, just a big thread", "plan.placing anchors"),
        ("the rope is stiff and the core is showing at one end", "finding core showing.count"),
        ("there's a wee ledge ten foot up", "pitch.landing"),
        ("can't get the ladder closer than a foot to the wall", "incident.what"),
        ("had them hang in the harness two minutes each", "incident.what"),
        ("the left bolt's just pulled out, other bolt holding", "anchor bolt.trusted for two"),
        ("a bolt from 2015 and one natural bridge of rock", "anchor bolt.kind=natural"),
        ("at the bottom is a lake of 1,5 m deep", "pitch.depth"),
        ("six helmets, two with cracked shells", "finding cracked.item"),
        ("krab bent and the thread is crossed", "anchor thread"),
        ("found a kink, 4 strands out of 19 broke", "tether.strands"),
        ("is 7 mm accessory cord strong enough for the tether", "tether.material"),
        ("8,10 m ladder", "ladder main.length=10 m"),
        ("all four bolts are resin, 80 mm deep", "pitch.depth"),
        ("the lifeline has its own anchors", "pitch head.stance"),
        ("there is a ledge at the head 3 m across", "pitch.ledge depth"),
        ("we are practising the release tonight", "leader.release practised within a year"),
        ("the krab was bought last month", "pitch.seen this season"),
        ("tail of the ladder hanging free half a metre off the floor", "pitch.hang"),
        ("rope never dropped in acid", "lifeline.sent down"),
        ("wet with a light spray", "light"),
        ("some spray paint on the ladder", "pitch.water"),
        ("no sign of anyone having been here", "incident.what=party"),
        ("the ladder bolt is moving", "incident.what=ladder broken"),
        ("shes stuck halfway up arms gone cant move lifeline is tight", "incident.line state"),
    ],
)
def test_what_a_line_does_not_say_is_not_taken(line, never):
    facts = told(line)[0]
    assert not any(f.startswith(never) for f in facts), facts


@pytest.mark.parametrize(
    "line, fact",
    [
        ("7,5 m pitch", "pitch.depth=7.5 m"),
        ("heaviest 82,5 kg", "group.heaviest=82.5 kg"),
        ("lad is hanging by one leg, head down", "incident.what=leg trapped in the ladder"),
        ("dropped the descender, about 8 m onto concrete", "kit descender.dropped=yes"),
        ("found a kink, 4 strands out of 19 broke", "finding broken wire.count=4"),
        ("lad fell off the ladder no lifeline", "incident.what=person hurt at the base"),
        ("lad fell off, no line, not waking up", "incident.answers=no"),
        ("they were due out at four, no sign of them", "incident.what=party overdue"),
        ("watters comin up fast", "incident.what=water rising"),
        ("the ladder bolt just pulled out", "incident.what=ladder broken or come off"),
    ],
)
def test_what_a_line_says_is_taken(line, fact):
    assert fact in told(line)[0]


@pytest.mark.parametrize(
    "line, never",
    [
        ("forecast clear till tea time, we're in by ten", "group.size"),
        ("water's up to your knees at the bottom, ladder dangles in it", "incident.what"),
        ("i'm 80kg, heaviest novice 110", "group.novices"),
        ("ladder's an old one, twelve inches between rungs", "ladder main.length"),
        ("landing is a ledge of 2 m by 1, six can stand on it", "pitch.ledge depth"),
        ("four hours underground all in, two pitches", "group.fatigue"),
        ("a resin on the left and a rusty spit on the right", "pitch.water"),
        ("lined from above, tied in with a figure of eight", "tether.ends"),
        ("15 m ladder; the minimum age is ten", "ladder main.age"),
        ("three krabs with grooves, about 1 mm deep", "pitch.depth"),
        ("three krabs with grooves, about 1 mm deep", "finding groove.item"),
        ("two pitches, the second one is 6 m", "pitch.depth"),
        ("rope 2 retired, cut 3 m off rope 5", "lifeline.state"),
        ("helmet got dropped down 8 m shaft", "pitch.depth"),
        ("stone's come down, missed everyone", "finding missing"),
    ],
)
def test_a_word_that_stands_for_something_else_tells_nothing(line, never):
    facts = told(line)[0]
    assert not any(f.startswith(never) for f in facts), facts


def test_being_late_is_told_and_not_asked():
    assert "incident.what=party overdue" in told("we're an hour late, one's cold")[0]


def test_good_kit_is_no_part_of_a_finding_on_another():
    before = ("ladder called wire, 10 m, one broken wire in a side wire",)
    facts, left, _ = told("the rope is 11 mm low stretch, sheath good", *before)
    assert not any(".part=" in fact for fact in facts) and "sheath" in left


def test_a_figure_of_what_was_not_understood_is_not_given_to_what_came_last():
    before = ("ladder called wire, 10 m, one broken wire in a side wire",)
    facts, left, _ = told("a sit harness, twelve years old", *before)
    assert not any("age" in fact for fact in facts) and "twelve years old" in left


def test_a_way_of_saying_behind_a_possessive_is_survived():
    assert told("ladder's wires are ok but every third rung spins")[1]


@pytest.mark.parametrize(
    "line, never",
    [
        ("loose rubble on the ledge 15 m ladder, no record", "pitch.ledge depth"),
        ("lifeline 11 mm ladder tethered with an Italian hitch", "tether.diameter"),
        ("bleeding, but not badly rescue's been called", "incident.bleeding heavily=yes"),
        ("nothing wrong with the left bolt right bolt not checked", "anchor left bolt right bolt"),
        ("the webbing of the harness rope never took a fall", "kit harness rope"),
        (
            "hangers are both resin thread bridge thick as my thigh",
            "anchor left hanger.kind=natural",
        ),
        ("the flake rocks when you push it thread's thick as my arm", "anchor thread.moves"),
    ],
)
def test_two_things_run_together_are_kept_apart(line, never):
    before = ("left hanger and right hanger are resin bolts", "there's a flake, there's a thread")
    facts = told(line, *before)[0]
    assert not any(f.startswith(never) for f in facts), facts


def test_figures_that_each_follow_their_noun_stay_theirs():
    facts = told("pitch 12 m ladder 15 m rope 40 m")[0]
    assert facts >= {"pitch.depth=12 m", "ladder main.length=15 m"}


@pytest.mark.parametrize(
    "line, never",
    [
        ("the pitch has 7,5 m, we are 6 with guide", "leader.number"),
        ("ladder 3 is 12 m, ladder 4 is 8 m with a kink at rung 9", "ladder 3.length=8 m"),
        ("tether 9 mm polyamide, 2 m long", "lifeline.length"),
        ("tether is polyamide, tied off with a slipped hitch", "leader.practised tether"),
        ("the ladder is hanging 2 m below the lip", "incident.what"),
    ],
)
def test_a_figure_or_word_beside_a_thing_is_not_of_another(line, never):
    facts = told(line)[0]
    assert not any(f.startswith(never) for f in facts), facts


@pytest.mark.parametrize(
    "line", ["she's let go, hanging 2 m below the lip, talking", "kid's hanging 3 m down"]
)
def test_one_who_hangs_so_far_below_is_told_at_once(line):
    assert "incident.what=hanging on the lifeline" in told(line)[0]
