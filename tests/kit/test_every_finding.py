"""Every finding is told with a reason of its own, and so is the past of a piece."""

import pytest
from depth import not_quick
from scenes import KNOWN, LIFE, ORDER, ROPE, case, of_type, program, texts, verdict

from advisor.papers.one_screen.screen import shown

RUNG = "item: ladder main, part: rung, what:"


def screen(advice):
    return " ".join(shown(program().base, advice, 80, False).split())


def told(advice):
    return {ground.found for item in advice.items for ground in item.grounds}


def test_each_finding_has_its_reason_on_the_screen_whatever_is_worse():
    advice = case(
        {
            "ladder main": KNOWN,
            "finding crack": f"{RUNG} cracked",
            "finding powder": f"{RUNG} white powder",
            "finding mud": f"{RUNG} dirt",
        }
    )
    assert verdict(advice, "ladder main") == "retire"
    assert told(advice) == {"cracked (rung)", "white powder (rung)", "dirt (rung)"}
    assert "A crack grows" in screen(advice) and "aluminium eaten away" in screen(advice)
    assert "Dirt (rung): " in screen(advice)


def test_a_finding_for_the_same_reason_is_told_with_its_like():
    advice = case(
        {
            "ladder main": KNOWN,
            "finding kink": "item: ladder main, part: side wire, what: kink",
            "finding crush": "item: ladder main, part: side wire, what: flattened",
        }
    )
    assert "Kink (side wire), flattened (side wire): " in screen(advice).replace(
        "Flattened (side wire), kink (side wire)", "Kink (side wire), flattened (side wire)"
    )
    assert "does not come out of wire again" in texts(advice)


def test_the_past_is_told_beside_a_fault_that_is_graver():
    advice = case(
        {
            "kit red": ORDER.replace("record: in order", "record: none")
            + ", type: sling, made by: home-made without papers",
            "finding cut": "item: kit red, what: cut stitching",
        }
    )
    assert verdict(advice, "red") == "retire"
    assert "Home-made kit without papers" in screen(advice) and "Hang nobody on red" in texts(
        advice
    )


def test_what_rests_on_the_same_fact_is_told_once():
    advice = case({"ladder main": KNOWN.replace("standing: in use", "standing: retired")})
    (item,) = advice.items
    assert [g.rule for g in item.grounds] == ["ladder.retired-already"]


def test_a_rule_of_last_resort_gives_way_to_the_rule_that_knows():
    base = program().base
    for kind, what in (("pulley", "burr"), ("sling", "melted"), ("helmet", "cracked")):
        advice = case({"kit x": of_type(kind), "finding f": f"item: kit x, what: {what}"})
        assert not {g.rule for i in advice.items for g in i.grounds} & {*base.screen.last_resort}


@pytest.mark.parametrize(
    "kind, what, comes_to, beside",
    [
        ("sling", "faded and hard", "retire", "same light"),
        ("rope", "faded and hard", "retire", "same light"),
        ("sling", "pen or paint on it", "set aside for a competent person", "on its label"),
        ("harness", "altered", "retire", "same hands"),
        ("harness", "stretched", "retire", "held the same load"),
        ("connector", "no strength mark", "retire", "Hang nobody on x"),
        ("connector", "white powder", "set aside for a competent person", "stored or used with x"),
        ("connector", "rust that brushes off", "clean and look again", "oil x"),
        ("screw link", "burr", "set aside for a competent person", "ran over x"),
        ("belay device", "does not hold", "set aside for a competent person", "its maker allows"),
        ("pulley", "wheel does not turn", "set aside for a competent person", "Free the wheel"),
        ("rope clamp", "teeth worn", "retire", "ran over x"),
        ("helmet", "liner crushed", "retire", "same blow"),
        ("light", "fails or flickers", "set aside for a competent person", "another light"),
        ("rope", "colour stain", "set aside for a competent person", "cutting off the stain"),
    ],
)
def test_a_finding_comes_to_its_verdict_and_what_lay_beside_is_looked_at(
    kind, what, comes_to, beside
):
    advice = case({"kit x": of_type(kind), "finding f": f"item: kit x, what: {what}"})
    assert verdict(advice, "x") == comes_to and beside in texts(advice)


@pytest.mark.parametrize("what", ["recalled by its maker", "mark below the papers"])
def test_a_recall_or_a_wrong_mark_counts_for_a_ladder_too(what):
    advice = case(
        {"ladder main": KNOWN, "finding f": f"item: ladder main, part: whole, what: {what}"}
    )
    assert verdict(advice, "ladder main") == "set aside for a competent person"
    assert "of ladder main" in texts(advice)


@pytest.mark.parametrize("contact, stopped", [("not known", True), ("no", False), ("yes", True)])
def test_a_rope_kept_near_fumes_waits_until_contact_is_ruled_out(contact, stopped):
    rope = ROPE.replace("chemical contact: no", f"chemical contact: {contact}")
    advice = case({"kit long": f"{rope}, storage: near salt or fumes"})
    assert ("kit.chemical-not-excluded" in {s.rule for s in advice.stops}) == stopped


def test_what_comes_back_from_a_loan_is_asked_about_and_looked_at():
    for item, facts in (("ladder main", KNOWN), ("kit long", ROPE)):
        advice = case({item: f"{facts}, lent out: yes"})
        assert advice.items[0].verdict == "clean and look again"
        assert "Ask whoever had" in texts(advice)


@not_quick
def test_nobody_is_asked_of_rare_things():
    connector = f"{ORDER}, type: connector, history: known from new,{LIFE}"
    asked = {
        q.fact.rpartition(".")[2]
        for facts in ({"kit gate": connector}, {"ladder main": KNOWN}, {"kit long": ROPE})
        for q in case(facts).open_questions
    }
    assert not asked & {"made by", "lent out"}


def test_no_mark_that_can_be_read_means_that_nobody_hangs_on_it():
    advice = case({"kit gate": "type: connector, identity: no"})
    assert "Hang nobody on gate" in texts(advice) and "bought with gate" in texts(advice)


def test_tarnish_is_kept_and_noted():
    advice = case(
        {
            "ladder main": KNOWN,
            "finding t": "item: ladder main, part: side wire, what: light tarnish",
        }
    )
    assert verdict(advice, "ladder main") == "keep" and "Log the tarnish" in texts(advice)
