"""Findings on kit as clubs and centres have reported them: the verdict and what goes with it."""

import pytest
from scenes import CORD, KNOWN, LADDER, LIFE, ORDER, ROPE, case, texts, verdict


def test_a_borrowed_ladder_goes_back_and_is_not_cut_up():
    advice = case({"ladder main": f"{LADDER}, history: borrowed without its history"})
    assert verdict(advice, "ladder main") == "set aside for a competent person"
    assert "Give ladder main back" in texts(advice)
    assert "Cut ladder main" not in texts(advice)


def test_our_own_ladder_without_history_is_retired_and_only_disposed_of():
    advice = case(
        {"ladder main": f"{LADDER}, history: no known history, storage: near salt or fumes"}
    )
    assert verdict(advice, "ladder main") == "retire"
    told = texts(advice)
    assert "Cut ladder main" in told and "if it is yours" in told
    assert "Store" not in told and "Move ladder" not in told and "record" not in told.lower()


@pytest.mark.parametrize("kind", ["fixed sling", "rope", "cord"])
def test_what_hangs_there_is_never_cut_away(kind):
    advice = case({"kit tat": f"type: {kind}, found in place: yes"})
    assert verdict(advice, "tat") == "retire"
    assert "do not cut it away" in texts(advice) and "into short pieces" not in texts(
        advice
    ).replace("into short pieces if it is yours", "")


@pytest.mark.parametrize("what, most", [("worn, how much: 5 %", "keep and watch")])
def test_slight_wear_is_watched_and_not_forbidden(what, most):
    advice = case(
        {"ladder main": KNOWN, "finding wear": f"item: ladder main, part: rung, what: {what}"}
    )
    assert verdict(advice, "ladder main") == most
    assert "DO NOT USE" not in texts(advice) and not advice.stops


def test_a_rope_sided_ladder_has_a_verdict_and_no_wires():
    sides = KNOWN.replace("wire core: steel core", "kind: rope sides, age: 3 year")
    advice = case({"ladder main": sides})
    assert verdict(advice, "ladder main") == "keep"
    looked = case({"ladder main": sides.replace("full by fingertip", "quick look")})
    assert "side ropes" in texts(looked) and "both wires" not in texts(looked)
    cut = case(
        {"ladder main": sides, "finding cut": "item: ladder main, part: whole, what: sheath cut"}
    )
    assert verdict(cut, "ladder main") == "retire"


def test_an_unknown_kind_of_ladder_is_walked_like_a_wire_ladder():
    assert "both wires" in texts(case({"ladder main": KNOWN.replace("full by fingertip", "none")}))


def test_a_missing_spreader_is_replaced_and_the_ladder_kept():
    advice = case(
        {"ladder main": KNOWN, "finding gap": "item: ladder main, part: spreader, what: missing"}
    )
    assert verdict(advice, "ladder main, spreader") == "replace part"
    assert verdict(advice, "ladder main") == "keep"


@pytest.mark.parametrize("what", ["wires uneven", "rungs uneven"])
def test_sides_and_rungs_that_differ_set_a_ladder_aside(what):
    advice = case(
        {"ladder main": KNOWN, "finding odd": f"item: ladder main, part: whole, what: {what}"}
    )
    assert verdict(advice, "ladder main") == "set aside for a competent person"


def test_a_rung_that_slipped_casts_doubt_on_its_batch_alone():
    advice = case(
        {
            "ladder new": KNOWN,
            "ladder old": f"{KNOWN}, age: 20 year",
            "finding slip": "item: ladder new, part: rung, what: rung moves",
        }
    )
    assert verdict(advice, "ladder new") == "retire" and verdict(advice, "ladder old") == "keep"
    assert "same make and batch" in texts(advice)


def test_dirt_alone_retires_nothing():
    for item in ("ladder main", "kit long"):
        facts = (KNOWN if item == "ladder main" else ROPE).replace("clean: yes", "clean: no")
        assert verdict(case({item: facts}), item.removeprefix("kit ")) == "clean and look again"


@pytest.mark.parametrize(
    "size, given, stopped",
    [("1 mm", None, False), ("3 mm", "retire", True)],
)
def test_a_bolt_that_flexes_a_millimetre_passes_and_one_that_turns_does_not(size, given, stopped):
    bolt = (
        "type: fixed bolt, inspection: full by fingertip, found in place: no, chemical contact: no"
    )
    advice = case(
        {
            "kit bolt": bolt,
            "finding turn": f"item: kit bolt, what: bolt turns or lifts, size: {size}",
        }
    )
    assert (verdict(advice, "bolt") == given) if stopped else not advice.stops
    assert bool(advice.stops) == stopped


def test_a_bolt_that_turns_by_nobody_knows_how_much_is_not_used():
    advice = case(
        {
            "kit bolt": "type: fixed bolt",
            "finding turn": "item: kit bolt, what: bolt turns or lifts",
        }
    )
    assert "in-place.bolt-turn-not-measured" in {s.rule for s in advice.stops}


def test_a_frayed_cord_is_not_tied_again():
    advice = case(
        {"kit hitch": CORD, "finding fray": "item: kit hitch, what: frayed edge, part: sheath"}
    )
    assert verdict(advice, "hitch") == "retire" and "tying it again mends nothing" in texts(advice)


def test_a_ladder_found_hanging_with_broken_wires_comes_out_and_is_reported():
    advice = case(
        {
            "ladder there": "left in place: yes, history: no known history",
            "finding wires": "item: ladder there, part: side wire, what: broken wire, count: 4",
        }
    )
    assert verdict(advice, "ladder there") == "retire"
    assert "cave rescue" in texts(advice) and "Brush" not in texts(advice)


def test_a_fibre_core_from_a_damp_store_is_not_kept():
    advice = case(
        {"ladder old": KNOWN.replace("steel core", "fibre core") + ", storage: damp or closed"}
    )
    assert verdict(advice, "ladder old") == "retire"


def test_wear_on_a_connector_that_nobody_measured_stops_its_use():
    connector = f"{ORDER}, type: screw link, history: known from new,{LIFE}"
    advice = case(
        {"kit oval": connector, "finding wear": "item: kit oval, part: body, what: groove"}
    )
    assert "connector.wear-not-measured" in {s.rule for s in advice.stops}
    assert "Find what wore oval" in texts(advice)


def test_a_connector_loaded_across_is_set_aside():
    connector = f"{ORDER}, type: connector, history: known from new,{LIFE}"
    assert verdict(case({"kit gate": connector}), "gate") == "keep"
    crossed = case({"kit gate": f"{connector}, misloaded: yes"})
    assert verdict(crossed, "gate") == "set aside for a competent person"


def test_a_broken_off_inspection_starts_again():
    for item, facts in (("ladder main", KNOWN), ("kit long", ROPE)):
        advice = case({item: facts.replace("full by fingertip", "broken off")})
        assert "Start the inspection" in texts(advice) and advice.stops


def test_a_ladder_rated_for_less_than_a_climber_is_set_aside():
    assert verdict(case({"ladder main": f"{KNOWN}, rating: 2 kN"}), "ladder main") == "keep"
    weak = case({"ladder main": f"{KNOWN}, rating: 1 kN"})
    assert verdict(weak, "ladder main") == "set aside for a competent person"
