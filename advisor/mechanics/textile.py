"""Strength of cord, tape and rope with knots and bends."""

from collections.abc import Mapping, Sequence

from advisor.mechanics.check import above, at_least, share, whole
from advisor.mechanics.registry import calculation


@calculation(
    formula="F = strength x strands x min(knot, bend)",
    unit="N",
    rises=("strength", "strands", "knot_factor", "bend_factor"),
)
def knotted_strength(
    strength: float, strands: float, knot_factor: float, bend_factor: float
) -> float:
    """Strength of cord, tape or rope as rigged.

    Formula: F = strength x strands x min(knot, bend). Strands are those that share the load
    equally; where they may not, give 1.
    Knot and bend at different places do not multiply. Where the knot itself sits on a sharp bend,
    give the product as knot factor.
    Inputs: unknotted strength, N, 0 or more; strands, whole, at least 1; factors above 0 and at
    most 1. Answer: N.
    Errors: ValueError outside these ranges. Source: weakest place; definition of a knot factor in
    HSE contract report 364/2001.
    """
    at_least("The strength", strength, 0, "N")
    whole("The number of strands", strands, 1)
    share("The knot factor", knot_factor)
    share("The bend factor", bend_factor)
    return strength * strands * min(knot_factor, bend_factor)


@calculation(
    formula="factor from the table of D/d, linear between",
    unit="1",
    rises=("bend_diameter",),
    falls=("rope_diameter",),
    passed=("table",),
)
def bend_factor(bend_diameter: float, rope_diameter: float, table: Mapping[float, float]) -> float:
    """Strength left when a rope bends round a pin or a sheave.

    Formula: linear between the points of the table of the ratio D/d; at ratios above the last
    point, the last factor.
    Inputs: diameter of the pin D and of the rope d, m, above 0; table {ratio: factor} in which
    the factor never falls.
    Answer: ratio. Errors: ValueError below the smallest ratio of the table (not covered), or for
    a table that falls.
    Source: the table's own; linear interpolation.
    """
    above("The bend diameter", bend_diameter, 0, "m")
    above("The rope diameter", rope_diameter, 0, "m")
    points = sorted(table.items())
    if any(later[1] < earlier[1] for earlier, later in zip(points, points[1:])):
        raise ValueError("The table of bend factors falls as the bend gets wider; put it in order.")
    return _between_points(bend_diameter / rope_diameter, points)


def _between_points(ratio: float, points: Sequence[tuple[float, float]]) -> float:
    if ratio < points[0][0]:
        raise ValueError(
            f"A bend of {ratio:.2g} rope diameters is tighter than the table covers; use at least"
            f" {points[0][0]:g}."
        )
    for (low, low_factor), (high, high_factor) in zip(points, points[1:]):
        if ratio <= high:
            return low_factor + (high_factor - low_factor) * (ratio - low) / (high - low)
    return points[-1][1]
