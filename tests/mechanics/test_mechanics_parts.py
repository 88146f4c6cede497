"""Choices, chains and lengths: small cases worked by hand, and laws that must always hold."""

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.mechanics import (
    Interval,
    catch,
    chain,
    hauling,
    lengths,
    rating,
    selection,
    spread,
    textile,
    time,
    wire,
)

LADDERS = st.lists(st.integers(20, 120).map(lambda tenths: tenths / 10), max_size=7)


@given(LADDERS, st.integers(10, 400).map(lambda tenths: tenths / 10))
def test_no_other_set_of_ladders_is_better(ladders, needed):
    tenths = [round(10 * length) for length in ladders]
    sets = [
        c
        for n in range(1, len(ladders) + 1)
        for c in itertools.combinations(range(len(ladders)), n)
    ]
    enough = [
        (sum(tenths[i] for i in c) - round(10 * needed), len(c))
        for c in sets
        if sum(tenths[i] for i in c) >= round(10 * needed)
    ]
    chosen = selection.choose_ladders(ladders, needed)
    assert (chosen is None) == (not enough)
    if chosen is not None:
        assert (sum(tenths[i] for i in chosen) - round(10 * needed), len(chosen)) == min(enough)


def test_ladders_are_added_as_written():
    # 0.1 and 0.2 do not make 0.3 in binary; ten and twenty centimetres do make thirty.
    assert selection.choose_ladders([0.1, 0.2, 5.0], 0.3) == (0, 1)
    assert selection.joined_length([0.1, 0.2, 5.0], (0, 1)) == 0.3


def test_fewer_joins_win_between_equal_surplus_and_joins_can_be_limited():
    assert selection.choose_ladders([5.0, 5.0, 10.0], 10.0) == (2,)
    assert selection.choose_ladders([6.0, 6.0, 15.0], 12.0) == (0, 1)
    assert selection.choose_ladders([6.0, 6.0, 15.0], 12.0, most_joins=0) == (2,)
    assert selection.choose_ladders([6.0, 6.0], 12.5) is None


@pytest.mark.parametrize("ladders, needed", [([5.0] * 17, 3), ([5.0, 0.0], 3), ([5.0], 0)])
def test_impossible_stock_is_refused(ladders, needed):
    with pytest.raises(ValueError, match="name|give"):
        selection.choose_ladders(ladders, needed)


def test_lengths_worked_by_hand():
    assert lengths.ladder_length_needed(10, 1.5, 1, 0.3, 1, 0.5) == pytest.approx(11.7)
    assert lengths.lifeline_from_top(
        10, 1, 1, 3, lengths.reserve_length(10, 5, 0.15)
    ) == pytest.approx(20)
    assert lengths.lifeline_doubled(
        10, 1, 4, 2, lengths.reserve_length(40, 5, 0.15)
    ) == pytest.approx(34)
    assert lengths.lifeline_self_lining(10, 1, 2, 2) == pytest.approx(15)
    assert lengths.slab_extra(4, 30) == pytest.approx(4)
    assert lengths.tether_let_out(3, 1.2) == pytest.approx(1.8)
    assert lengths.tether_let_out(0.5, 1.2) == 0
    assert lengths.length_to_spare(30, 34) == -4
    assert lengths.mass_of_length(60, 0.065) == pytest.approx(3.9)


@given(
    st.lists(st.tuples(st.text(), st.floats(0, 1e5)), min_size=1),
    st.tuples(st.text(), st.floats(0, 1e5)),
)
def test_another_part_never_makes_a_chain_stronger(parts, more):
    assert chain.weakest_link([*parts, more])[1] <= chain.weakest_link(parts)[1]


def test_parts_that_could_be_weakest():
    parts = [("link", Interval(2.9, 3.5)), ("wire", Interval(4, 6)), ("cord", Interval(3.2, 8))]
    assert chain.weakest_links(parts) == (Interval(2.9, 3.5), ("link", "cord"))
    with pytest.raises(ValueError, match="no parts"):
        chain.weakest_link([])
    with pytest.raises(ValueError, match="strength of wire"):
        chain.weakest_link([("wire", -1.0)])


@given(st.floats(0.5, 1), st.floats(100, 3e4))
def test_unequal_sharing_never_makes_a_pair_stronger(share, side):
    assert wire.pair_strength(side, share) <= wire.pair_strength(side, 0.5)


@given(st.floats(0, 85), st.floats(0.1, 85))
def test_unequal_legs_hold_the_load_up_and_do_not_pull_aside(own, other):
    first, second = spread.unequal_leg_load(1, own, other), spread.unequal_leg_load(1, other, own)
    a, b = math.radians(own), math.radians(other)
    assert first * math.cos(a) + second * math.cos(b) == pytest.approx(1)
    assert first * math.sin(a) == pytest.approx(second * math.sin(b), abs=1e-9)


@given(st.floats(0, 85))
def test_three_legs_in_one_plane_hold_the_load_up(angle):
    side, middle = spread.side_leg_load(1, angle), spread.middle_leg_load(1, angle)
    assert middle + 2 * side * math.cos(math.radians(angle)) == pytest.approx(1)


@given(st.floats(0.2, 4), st.floats(40, 130), st.floats(2, 60), st.floats(1.5e4, 6e4))
def test_allowed_slack_uses_up_the_allowed_drop(allowed, mass, rope_out, modulus):
    slack = catch.slack_allowed(allowed, mass, rope_out, modulus)
    drop = catch.drop_length(mass, slack, rope_out, modulus, 0)
    assert drop == pytest.approx(allowed) if slack > 1e-9 else drop >= allowed - 1e-6


def test_peak_force_depends_on_slack_over_rope_only():
    assert catch.peak_force(80, 0.3, 6, 3e4) == pytest.approx(catch.peak_force(80, 1, 20, 3e4))
    assert catch.landing_clearance(2, catch.drop_length(80, 0.5, 20, 20e3, 0.3)) == pytest.approx(
        -0.768, abs=1e-3
    )
    assert catch.fall_factor(0.3, 6) == pytest.approx(0.05)


def test_hauls_worked_by_hand():
    assert (
        hauling.haulers_needed(400, 200) == 2
        and hauling.haulers_needed(401, 200) == 3
        and hauling.haulers_needed(0, 200) == 0
    )
    assert hauling.haulers_needed(1.1, 0.1) == 11  # 11.000000000000002 in binary
    assert hauling.haul_time(30, 0.1, 2, 30) == pytest.approx(750)
    assert hauling.haul_time(31, 0.1, 2, 30) == pytest.approx(
        790
    )  # a part stroke needs a whole reset
    assert hauling.counterbalance_pull(60, 100, 1, 0.9) == 0


def test_times_worked_by_hand():
    assert time.person_time(10, 0.05, 180) == pytest.approx(380)
    assert time.lanes(2, 1) == 1
    assert [time.queue_wait(place, 100, 2) for place in (1, 2, 3, 5)] == [0, 0, 100, 200]
    assert time.queue_waits([100, 10, 10, 10], 2) == (0, 0, 10, 20)
    assert time.latest_start(36000, 3600, 1800) == 30600
    assert time.time_to_spare(600, 900) == -300
    assert time.people_per_leader(9, 2) == 4.5


def test_strands_share_only_as_said():
    assert textile.knotted_strength(7200, 2, 0.55, 0.8) == pytest.approx(7920)
    assert textile.bend_factor(0.3, 0.003, {1: 0.5, 2: 0.65}) == 0.65


def test_a_rating_needs_more_than_one_break():
    with pytest.raises(ValueError, match="at least two"):
        rating.three_sigma_rating([9000])
