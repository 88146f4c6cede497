"""Figures and lookups against published equipment standards."""

import pytest

from advisor.mechanics import catch, chain, textile

ACCESSORY_CORD = {
    4: 3.2,
    5: 5.0,
    6: 7.2,
    7: 9.8,
    8: 12.8,
}  # mm, kN: EN 564 as tabled on a maker's standards page


def test_cord_by_the_accessory_cord_standard(figure, record):
    """4 to 8 mm and no other size: d^2/5 must not be stretched beyond the standard."""
    table = figure("cord polyamide minimum strength")
    assert sorted(table) == [size / 1000 for size in ACCESSORY_CORD]
    for size, strength in ACCESSORY_CORD.items():
        got = table[size / 1000]
        record("figure cord polyamide", "EN 564 table", got, strength * 1000, rel=1e-12)
        record("figure cord polyamide", "d^2/5 kN, fits EN 564", got, size**2 / 5 * 1000, rel=1e-12)


@pytest.mark.parametrize(
    "name, key, kilonewtons, source",
    [
        ("tape minimum strength", None, 10, "EN 565:2017 cl. 4.2"),
        ("lanyard textile minimum strength", None, 22, "EN 354:2010"),
        ("lanyard metal minimum strength", None, 15, "EN 354:2010"),
        ("sewn sling minimum strength", None, 22, "EN 566, forum's account"),
        ("connector closed strength", "basic B", 20, "EN 12275:2013"),
        ("connector closed strength", "Italian hitch H", 20, "EN 12275:2013"),
        ("connector closed strength", "via ferrata K", 25, "EN 12275:2013"),
        ("connector closed strength", "screw link Q", 25, "EN 12275:2013"),
        ("connector closed strength", "oval X", 18, "EN 12275:2013"),
        ("connector open gate strength", "Italian hitch H", 6, "EN 12275:2013"),
        ("connector open gate strength", "via ferrata K", 8, "EN 12275:2013"),
        ("connector open gate strength", "oval X", 5, "EN 12275:2013"),
        ("connector cross strength", "screw link Q", 10, "EN 12275:2013"),
        ("work connector closed strength", "screw link Q", 25, "EN 362:2004"),
        ("work connector unlocked strength", "basic B", 15, "EN 362:2004"),
        ("work connector cross strength", "multi-use M", 15, "EN 362:2004"),
        ("rock anchor radial strength", None, 25, "EN 959:2018 cl. 4.3.2"),
        ("rock anchor axial strength", None, 15, "EN 959:2018 cl. 4.3.1"),
        ("work anchor strength", None, 12, "EN 795:2012"),
        ("rope clamp load", None, 4, "EN 567:2013"),
        ("low-stretch rope static strength", "A", 22, "EN 1891:1998"),
        ("low-stretch rope static strength", "B", 18, "EN 1891:1998"),
        ("low-stretch rope strength with knots", "A", 15, "EN 1891:1998"),
        ("low-stretch rope strength with knots", "B", 12, "EN 1891:1998"),
        ("dynamic rope impact limit", "half", 8, "EN 892"),
        ("body force limit", None, 6, "Physics for Roping Technicians 2022 p. 30"),
    ],
)
def test_strength_figures(name, key, kilonewtons, source, figure, record):
    got = figure(name) if key is None else figure(name)[key]
    record(f"figure {name}", source, got, kilonewtons * 1000, rel=1e-12)


def test_open_screw_link_has_no_strength(figure):
    # EN 12275 gives no open-gate value for class Q.
    assert "screw link Q" not in figure("connector open gate strength")


def test_figure_of_eight_keeps_what_the_rope_standard_asks(figure, record):
    # EN 1891: 15 of 22 kN (type A) and 12 of 18 kN (type B) with figure-of-eight ends.
    for kind in "AB":
        whole = figure("low-stretch rope static strength")[kind]
        asked = figure("low-stretch rope strength with knots")[kind]
        record(
            textile.knotted_strength,
            "EN 1891 knotted strength",
            textile.knotted_strength(whole, 1, asked / whole, 1),
            asked,
            rel=1e-12,
        )
        assert figure("knot factor figure-of-eight") <= asked / whole


@pytest.mark.parametrize(
    "knot, lowest_read",
    [
        ("figure-of-eight", 12 / 18),  # EN 1891 type B
        ("bowline", 0.60),  # a rescue team's training page
        ("alpine butterfly", 0.57),  # same
        ("double fisherman's", 0.68),  # same
        ("water knot", 0.64),  # same
        ("fisherman's", 0.50),  # ranges of a cordage trade institute
        ("round turn and two half hitches", 0.60),  # same
        ("unknown knot", 0.5),  # Physics for Roping Technicians 2022 p. 30
    ],
)
def test_knot_default_is_not_above_the_lowest_published_figure(knot, lowest_read, figure):
    assert 0 < figure(f"knot factor {knot}") <= lowest_read


def test_weakest_part_of_a_made_up_chain_of_standard_parts(figure, record):
    # Worked from EN 12277, EN 1891, EN 12275 and EN 564 minima: 9.8 kN cord with a knot at one half
    # is the weakest.
    cord = textile.knotted_strength(figure("cord polyamide minimum strength")[0.007], 1, 0.5, 1)
    parts = [
        ("harness", 15e3),
        ("rope", 22e3 * 0.682),
        ("screw link", figure("connector closed strength")["screw link Q"]),
        ("cord", cord),
    ]
    name, strength = chain.weakest_link(parts)
    assert name == "cord"
    record(chain.weakest_link, "standard minima, worked", strength, 4900, rel=1e-12)


def test_weakest_part_agrees_with_largest_flow():
    # scipy's maximum flow through a line of pipes is the capacity of the narrowest.
    import scipy.sparse.csgraph as graph
    from scipy import sparse

    strengths = [15000, 15004, 25000, 4900, 9800]
    pipes = sparse.csr_matrix((strengths, (range(5), range(1, 6))), shape=(6, 6), dtype="int32")
    parts = [(str(place), strength) for place, strength in enumerate(strengths)]
    assert graph.maximum_flow(pipes, 0, 5).flow_value == chain.weakest_link(parts)[1]


def test_modulus_band_follows_from_the_rope_standards(figures, record):
    # EN 1891: at most 5 % from 50 to 150 kg, below 6 kN at factor 0.3 with 100 kg (A) or 80 kg (B).
    # EN 892: 12 kN at factor 1.77 with 80 kg. Expected values were worked out separately from those
    # limits.
    record(
        catch.modulus_from_elongation,
        "EN 1891 limits",
        catch.modulus_from_elongation(100, 0.05),
        19613,
        rel=1e-4,
    )
    record(
        catch.modulus_from_impact,
        "EN 1891 limits",
        catch.modulus_from_impact(6000, 100, 0.3),
        41.18e3,
        rel=1e-3,
    )
    record(
        catch.modulus_from_impact,
        "EN 1891 limits",
        catch.modulus_from_impact(6000, 80, 0.3),
        56.5e3,
        rel=1e-3,
    )
    record(
        catch.modulus_from_impact,
        "EN 892 limits",
        catch.modulus_from_impact(12000, 80, 1.77),
        45.1e3,
        rel=1e-3,
    )
    record(
        catch.modulus_from_impact,
        "EN 892 limits",
        catch.modulus_from_impact(9000, 80, 1.77),
        24.1e3,
        rel=2e-3,
    )
    assert figures["low-stretch rope modulus"]["range"] == ["19.6 kN", "41.2 kN"]


def test_weight_of_a_person(record):
    # Physics for Roping Technicians 2022 p. 8: 100 kg weighs 981 N.
    record(
        chain.expected_load,
        "Physics for Roping Technicians 2022 p. 8",
        chain.expected_load(100, 1),
        981,
        rel=1e-3,
    )
