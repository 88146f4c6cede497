"""Friction and hauling against published tables, worked examples and bench tests."""

import math

import pytest

from advisor.mechanics import friction, hauling
from advisor.mechanics.haul_systems import SYSTEMS, Rope, forces

TURNS = [
    (0.25, 1.32),
    (0.5, 1.73),
    (1, 3.00),
    (2, 9.02),
    (3, 27.08),
    (4, 81.31),
    (5, 244.15),
    (6, 733.15),
]
HANDS = [(0.25, 75.97), (0.5, 57.71), (1, 33.30), (2, 11.09), (3, 3.69), (4, 1.23), (5, 0.41)]


@pytest.mark.parametrize("turns, ratio", TURNS)
def test_turns_round_a_bar(turns, ratio, figure, record):
    # Physics for Roping Technicians 2022 p. 88, aluminium bar.
    got = friction.holding_ratio(figure("friction of rope on aluminium bar"), turns * 360)
    record(
        friction.holding_ratio, "Physics for Roping Technicians 2022 p. 88", got, ratio, rel=0.003
    )


@pytest.mark.parametrize("turns, kilograms", HANDS)
def test_hand_that_holds_100_kg(turns, kilograms, record):
    # Same page; the last rows are printed to two digits.
    got = friction.hand_force(100, friction.holding_ratio(0.175, turns * 360))
    record(
        friction.hand_force,
        "Physics for Roping Technicians 2022 p. 88",
        got,
        kilograms,
        abs=0.006 if turns > 1 else 0.05,
    )


def test_one_turn_at_three_tenths(record):
    # A published page on friction and belt drives: mu 0.3, one turn, 6.6.
    record(
        friction.holding_ratio,
        "page on belt drives",
        friction.holding_ratio(0.3, 360),
        6.6,
        rel=0.005,
    )


@pytest.mark.parametrize(
    "up, down, wrap, coefficient",
    [
        (98, 50, 90, 0.21),
        (88, 35, 180, 0.15),
        (89, 49, 90, 0.19),
        (127, 29, 180, 0.24),
        (140, 31, 180, 0.24),
        (179, 17, 180, 0.37),
        (135, 34, 90, 0.44),
    ],
)
def test_raising_and_lowering_over_one_bar(up, down, wrap, coefficient, record):
    """Raising takes the load times the ratio, lowering the load divided by it."""
    # Physics for Roping Technicians 2022 p. 88, seven surfaces, coefficients printed to two digits.
    record(
        friction.holding_ratio,
        "Physics for Roping Technicians 2022 p. 88",
        friction.holding_ratio(coefficient, 2 * wrap),
        up / down,
        rel=0.035,
    )


def test_three_to_one_of_the_rope_access_manual(record):
    # A rope-access manual: 8 % lost at each pulley, 1 kN, 10 m lift: gain 2.77, pull 0.36 kN, 30 m
    # of rope.
    gain = hauling.haul_gain("3:1", 0.92)
    record(hauling.haul_gain, "rope-access manual, 3:1", gain, 2.77, rel=0.005)
    record(
        hauling.haul_pull,
        "rope-access manual, 3:1",
        hauling.haul_pull(1000 / 9.80665, 1, gain),
        360,
        rel=0.005,
    )
    record(
        hauling.haul_gain,
        "rope-access manual, 3:1",
        gain / hauling.haul_gain("3:1", 1),
        0.92,
        rel=0.005,
    )
    record(
        hauling.rope_pulled,
        "rope-access manual, 3:1",
        hauling.rope_pulled(10, hauling.haul_gain("3:1", 1)),
        30,
        rel=1e-12,
    )


@pytest.mark.parametrize("efficiency, gain", [(0.5, 2.50), (0.9, 4.42), (1, 5.00)])
def test_five_to_one_with_second_cord(efficiency, gain, record):
    # An article on karabiners as pulleys, 2020: 1 + 2P + 2P^2.
    record(
        hauling.haul_gain,
        "article on karabiners as pulleys 2020",
        hauling.haul_gain("5:1 with second cord", efficiency),
        gain,
        rel=1e-12,
    )


@pytest.mark.parametrize(
    "efficiency, gain", [(0.95, 4.52), (0.90, 4.10), (0.85, 3.71), (0.66, 2.57), (0.50, 1.94)]
)
def test_simple_five_to_one(efficiency, gain, record):
    # Worked from 1 + e + e^2 + e^3 + e^4.
    record(
        hauling.haul_gain,
        "geometric series, worked",
        hauling.haul_gain("5:1 simple", efficiency),
        gain,
        abs=0.006,
    )


def test_three_to_one_at_85_per_cent(record):
    # Input of a rescue maker's article on actual advantage; the answer is worked: 2.572.
    record(
        hauling.haul_gain,
        "article on actual advantage",
        hauling.haul_gain("3:1", 0.85),
        2.572,
        abs=5e-4,
    )


@pytest.mark.parametrize(
    "name, ideal",
    [
        ("1:1 redirect", 1),
        ("2:1", 2),
        ("3:1", 3),
        ("4:1", 4),
        ("5:1 simple", 5),
        ("5:1 with second cord", 5),
        ("6:1", 6),
        ("9:1", 9),
    ],
)
def test_ideal_gain_is_the_name_of_the_system(name, ideal, record):
    record(hauling.haul_gain, "name of the system", hauling.haul_gain(name, 1), ideal, rel=1e-12)


def test_compound_systems_multiply(record):
    # Compound gain is the product of the simple gains (published rule of the T-method).
    for efficiency in (0.5, 0.82, 0.95):
        two, three = hauling.haul_gain("2:1", efficiency), hauling.haul_gain("3:1", efficiency)
        record(
            hauling.haul_gain,
            "product of simple gains",
            hauling.haul_gain("6:1", efficiency),
            two * three,
            rel=1e-12,
        )
        record(
            hauling.haul_gain,
            "product of simple gains",
            hauling.haul_gain("9:1", efficiency),
            three**2,
            rel=1e-12,
        )
        record(
            hauling.haul_gain,
            "product of simple gains",
            hauling.haul_gain("3:1 with redirect", efficiency),
            efficiency * three,
            rel=1e-12,
        )


def test_real_three_to_one_on_karabiners_is_about_two(figure):
    # Two published pages say that a 3:1 without pulleys gives about 2:1.
    assert 1.6 <= hauling.haul_gain("3:1", figure("efficiency of karabiner as pulley")) <= 2.1


@pytest.mark.parametrize(
    "pull, percent, name",
    [(0.188, 53, "efficiency of karabiner as pulley"), (0.12, 83, "efficiency of small pulley")],
)
def test_bench_of_pulley_and_karabiner(pull, percent, name, figure, record):
    # A bench test with a 0.1 kN bag: mean pulls 0.188 and 0.12 kN, published 53 % and 83 %.
    gain = hauling.haul_gain("1:1 redirect", percent / 100)
    record(
        hauling.haul_pull,
        "bench of pulley and karabiner",
        hauling.haul_pull(100 / 9.80665, 1, gain),
        pull * 1000,
        rel=0.01,
    )
    record(
        f"figure {name}", "bench of pulley and karabiner", figure(name), percent / 100, abs=0.035
    )


def test_anchors_of_a_ten_to_one(monkeypatch, record):
    # A rigging program's T-method puzzle, 10:1: load 100, hand 10 towards the load, anchors 110.
    monkeypatch.setitem(
        SYSTEMS,
        "10:1",
        (Rope(("anchor", 2), "anchor"), Rope(("load", "anchor", "load", "anchor"), "load")),
    )
    record(
        hauling.haul_gain, "T-method puzzle 10:1", hauling.haul_gain("10:1", 1), 100 / 10, rel=1e-12
    )
    record(
        hauling.haul_anchor_load,
        "T-method puzzle 10:1",
        hauling.haul_anchor_load("10:1", 100, 1),
        110,
        rel=1e-12,
    )


@pytest.mark.parametrize("name", SYSTEMS)
def test_forces_balance_in_every_system(name):
    # Statics: the anchors hold the load, with the hand's pull for or against it.
    for efficiency in (0.3, 0.5, 0.9, 1):
        taken = forces(name, efficiency)
        against = min(
            abs(taken["anchor"] - taken["load"] - 1), abs(taken["anchor"] - taken["load"] + 1)
        )
        assert against == pytest.approx(0, abs=1e-12)


@pytest.mark.parametrize("each, published", [(133.4, 7.5), (222.4, 4.5)])
def test_haulers_for_a_thousand_newtons(each, published):
    # A caving society paper: 30 lbf (133 N) by grip studies, 50 lbf (222 N) accepted; people are
    # whole.
    assert hauling.haulers_needed(1000, each) == math.ceil(published)


def test_ten_haulers(record):
    # The same paper: ten haulers give 300 to 500 lbf.
    for pounds, each in ((300, 30), (500, 50)):
        record(
            hauling.haulers_needed,
            "caving society paper on hauling",
            hauling.haulers_needed(pounds, each),
            10,
            rel=1e-12,
        )


@pytest.mark.parametrize(
    "name, newtons",
    [
        ("pull to start a load, men", 200),
        ("pull to keep a load moving, men", 100),
        ("pull to start a load, women", 150),
        ("pull to keep a load moving, women", 70),
    ],
)
def test_pulling_guideline(name, newtons, figure, record):
    # Health and Safety Executive, L23 push and pull risk filter.
    record(f"figure {name}", "HSE L23", figure(name), newtons, rel=1e-12)


def test_counterbalance_against_the_capstan(record):
    # The top point taken as a half turn on a bar: efficiency is 1 / ratio of the capstan formula.
    efficiency = 1 / friction.holding_ratio(0.175, 180)
    pull = hauling.counterbalance_pull(80, 70, 1, efficiency)
    record(
        hauling.counterbalance_pull,
        "capstan formula",
        pull,
        9.80665 * (80 * math.exp(0.175 * math.pi) - 70),
        rel=1e-12,
    )
