"""An estimate's result holds every exact one's; a worse input never gives a better number; what is
not known is never assumed.
"""

import pytest
from depth import not_quick
from shipped import advice, program, worked

from advisor.engine.calculate import joined_ranges
from advisor.mechanics.interval import Interval

PLAN, SLAB, RAISE = "plan/arrival-left", "numbers/slab-and-three-pieces", "numbers/raise-with-two"
# (case, fact, estimate, exact values inside it)
ESTIMATES = [
    (PLAN, "pitch.depth", "11-13 m", ["11 m", "12.3 m", "13 m"]),
    (PLAN, "group.heaviest", "70-100 kg", ["70 kg", "83 kg", "100 kg"]),
    (PLAN, "tether.diameter", "5-7 mm", ["5 mm", "6 mm", "7 mm"]),
    (PLAN, "tether.diameter", "5.5-6.5 mm", ["5.5 mm", "6 mm", "6.5 mm"]),
    (PLAN, "tether.ends", ["sewn or spliced", "loop knot"], ["sewn or spliced", "loop knot"]),
    (PLAN, "tether.bridle leg", "200-400 mm", ["200 mm", "310 mm", "400 mm"]),
    (PLAN, "pitch head.angle", "40-60 deg", ["48 deg", "53 deg", "58 deg"]),
    (PLAN, "lifeline.slack", "0.1-0.6 m", ["0.1 m", "0.35 m", "0.6 m"]),
    (
        PLAN,
        "lifeline.way",
        ["from the top", "doubled from below"],
        ["from the top", "doubled from below"],
    ),
    (PLAN, "group.size", "7-9", ["7", "8", "9"]),
    (PLAN, "plan.walk out", "20-40 min", ["20 min", "33 min", "40 min"]),
    (SLAB, "pitch.slab slope", "45-60 deg", ["45 deg", "52 deg", "60 deg"]),
    (SLAB, "ladder long.length", "9-11 m", ["9 m", "10.2 m", "11 m"]),
    (SLAB, "pitch.depth", "12-16 m", ["12 m", "13 m", "14.8 m", "16 m"]),
    (RAISE, "raise.mass", "60-90 kg", ["60 kg", "77 kg", "90 kg"]),
    (RAISE, "raise.pulleys", ["small pulleys", "karabiners"], ["small pulleys", "karabiners"]),
    (RAISE, "raise.lift", "2-5 m", ["2 m", "3.3 m", "5 m"]),
]


def stated(name, fact, value):
    """{calculation: (low, high)} in steps with one fact stated; a list states several possible
    values.
    """
    from advisor.load.case import build_case
    from advisor.load.folder import find_folder
    from advisor.load.tree import read_document

    document = read_document(find_folder("cases") / f"{name}.yaml")
    entity, _, attribute = fact.rpartition(".")
    document.data.setdefault("given", {}).setdefault(entity, {})[attribute] = value
    outcome, _ = program().run(build_case(document, program().base))
    found = {}
    for done in outcome.worked:
        if done.low is not None:
            for key in done.calculation.outputs:
                entity = done.calculation.gives(key, done.bound).entity
                found[entity, key] = outcome.world.columns[key][entity]
    return found


def inside(exact, wide):
    """Whether one set of possible values lies in another."""
    return (
        exact & ~wide == 0
        if isinstance(exact, int)
        else wide[0] <= exact[0] and exact[1] <= wide[1]
    )


@pytest.mark.parametrize(
    "name, fact, estimate, values", ESTIMATES, ids=lambda v: str(v) if isinstance(v, str) else None
)
def test_an_estimate_holds_every_exact_result(name, fact, estimate, values):
    wide = stated(name, fact, estimate)
    exact = [stated(name, fact, value) for value in values]
    assert any(one != exact[0] for one in exact[1:]), "the fact moves nothing"
    for one in exact:
        outside = [key for key in one if key in wide and not inside(one[key], wide[key])]
        assert not outside
    assert any(key in wide and wide[key] != exact[0][key] for key in exact[0])


WORSE = [
    (PLAN, "pitch.depth", ["8 m", "10 m", "12 m", "15 m", "18 m"]),
    (PLAN, "anchor left ladder bolt.distance from lip", ["0.4 m", "1 m", "3 m"]),
    (PLAN, "group.heaviest", ["60 kg", "80 kg", "120 kg"]),
    (PLAN, "group.size", ["6", "8", "9"]),  # six of them novices
    (PLAN, "tether.diameter", ["8 mm", "7.5 mm", "7 mm", "6 mm", "5.5 mm", "5 mm", "4 mm", "3 mm"]),
    (
        PLAN,
        "tether.ends",
        ["sewn or spliced", "triple fisherman's", "loop knot", "water knot or other"],
    ),
    (PLAN, "anchor left ladder bolt.rating", ["25 kN", "8 kN", "2 kN"]),
    (PLAN, "ladder main.breaking load", ["9 kN", "6 kN", "2 kN"]),
    (PLAN, "ladder main.wire diameter", ["4 mm", "3 mm", "2 mm"]),
    (PLAN, "lifeline.length", ["40 m", "30 m", "10 m"]),
    (PLAN, "pitch head.angle", ["20 deg", "90 deg", "150 deg"]),
    (PLAN, "group.wet", ["dry", "damp", "wet"]),
    (SLAB, "pitch.slab height", ["2 m", "4 m", "9 m"]),
    (RAISE, "raise.mass", ["40 kg", "80 kg", "120 kg"]),
    (RAISE, "raise.pulleys", ["good pulleys", "small pulleys", "karabiners"]),
    (RAISE, "raise.lip", ["roller or high redirect", "rounded edge", "rough edge"]),
]


@not_quick
@pytest.mark.parametrize(
    "name, fact, values", WORSE, ids=lambda v: str(v) if isinstance(v, str) else None
)
def test_a_worse_input_never_gives_a_better_number(name, fact, values):
    steps = [stated(name, fact, value) for value in values]
    moved = False
    for better, worse in zip(steps, steps[1:]):
        for (entity, key), value in better.items():
            attribute = program().base.vocabulary.attribute(key)
            if attribute.worse and (entity, key) in worse:
                after = worse[entity, key]
                moved |= after != value
                better_ends = zip(value, after) if attribute.worse == "more" else zip(after, value)
                assert all(low <= high for low, high in better_ends), (fact, key, value, after)
    assert moved


UNKNOWN = [
    (PLAN, "group.heaviest", "expected-load", "group.heaviest"),
    (
        PLAN,
        "tether.ends",
        "tether-knotted",
        None,
    ),  # every kind of end has a figure: a range, not nothing
    (PLAN, "tether.diameter", "tether-cord", "tether.diameter"),
    (PLAN, "tether.material", "tether-cord", "tether.material"),
    (PLAN, "lifeline.class", "catch-at-lip", "lifeline.class"),
    (PLAN, "plan.call-out time", "out-by", "plan.call-out time"),
    (RAISE, "raise.mass", "raise-load", "raise.mass"),
]


@pytest.mark.parametrize("name, fact, identity, named", UNKNOWN, ids=lambda v: str(v))
def test_what_is_not_known_gives_no_result_and_is_named(name, fact, identity, named):
    item = worked(name, f"{fact}=unknown").get(identity)
    if named is None:
        assert item.result.low < item.result.high
    elif item:  # a calculation of which nothing at all is known is not listed
        assert item.result is None and named in item.missing
    else:
        assert identity in worked(name) and worked(name)[identity].result


def test_an_unrated_part_is_named_as_judged_and_not_counted():
    item = worked(PLAN, "ladder main.breaking load=unknown")["ladder-chain [ladder main]"]
    assert item.named == ("side wires",) and "not counted: maker's figure" in item.text
    settings = ["anchor left ladder bolt.kind=tree", "anchor left ladder bolt.rating=unknown"]
    hang = worked(PLAN, *settings)["hang-weakest [anchor left ladder bolt]"]
    assert hang.result.low == hang.result.high == 6000
    assert "not counted: anchor" in hang.text and "0 N" not in hang.text


def test_a_cord_beyond_the_table_is_not_guessed():
    """EN 564 lists 4 to 8 mm: between sizes the next smaller and larger bound it, beyond the
    largest nothing is said.
    """
    assert worked(PLAN, "tether.diameter=9 mm")["tether-cord"].result is None
    between = worked(PLAN, "tether.diameter=5.5 mm")["tether-cord"].result
    assert (between.low, between.high) == (5000, 7200)
    below = worked(PLAN, "tether.diameter=3 mm")["tether-cord"].result
    assert (below.low, below.high) == (0, 3200)


def test_wind_chill_says_why_it_is_not_worked_outside_its_chart():
    item = worked(SLAB, "pitch.temperature=9 degC")["wind-chill"]
    assert item.result is None and "-50 to 5 degrees" in item.missing


@pytest.mark.parametrize(
    "lengths, needed",
    [
        (((10, 12), (15, 15)), (11, 11)),
        (((5, 6), (5, 6), (8, 9)), (10, 13)),
        (((4, 5),), (6, 7)),
        (((1, 60), (10, 10)), (9, 9)),
    ],
)
def test_joined_ranges_hold_every_exact_choice(lengths, needed):
    """Held against the exact choice on a grid of lengths inside the ranges."""
    from itertools import product

    made, surplus, joins = joined_ranges(
        [Interval(*map(float, pair)) for pair in lengths], Interval(*map(float, needed))
    )
    grid = [[low + (high - low) * k / 4 for k in range(5)] for low, high in (*lengths, needed)]
    for *exact, want in product(*grid):
        one = joined_ranges([Interval.point(float(x)) for x in exact], Interval.point(float(want)))
        for wide, point in zip((made, surplus, joins), one):
            assert wide.lo - 1e-9 <= point.lo <= wide.hi + 1e-9, (exact, want)


def test_a_ladder_of_unknown_length_never_makes_the_rest_too_short():
    settings = ["ladder main.length=8 m", "ladder spare.inspection=none"]
    found = advice(PLAN, *settings)
    assert "ladder-length.short-of-landing" not in {s.rule for s in found.stops}
    assert "ladder spare.length" in {q.fact for q in found.open_questions}
    assert "ladder-length.short-of-landing" in {s.rule for s in advice(PLAN, settings[0]).stops}
