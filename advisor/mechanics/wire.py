"""Strength of steel wire rope side wires."""

from advisor.mechanics.check import above, at_least, between, share
from advisor.mechanics.registry import calculation


@calculation(formula="F = K d^2 R", unit="N", rises=("breaking_factor", "diameter", "grade"))
def wire_breaking_force(breaking_factor: float, diameter: float, grade: float) -> float:
    """Minimum breaking force of a wire rope.

    Formula: F = K d^2 R.
    Inputs, above 0: K, ratio, for the construction and core; nominal diameter d, m; wire tensile
    grade R, Pa (1 N/mm2 is 1e6 Pa).
    Answer: N. Errors: ValueError for an input not above 0.
    Source: formula of ISO 2408 as given in a wire rope maker's technical notes.
    """
    above("The breaking force factor", breaking_factor, 0)
    above("The wire rope diameter", diameter, 0, "m")
    above("The wire grade", grade, 0, "Pa")
    return breaking_factor * diameter**2 * grade


@calculation(
    formula="F = F_min x min(termination, bend)",
    unit="N",
    rises=("breaking_force", "termination_factor", "bend_factor"),
)
def side_wire_strength(
    breaking_force: float, termination_factor: float, bend_factor: float
) -> float:
    """Strength of one side wire with its ended eye and its tightest bend elsewhere.

    Formula: F = F_min x min(termination, bend). Losses at different places do not multiply: the
    wire breaks at the worse place.
    Where the bend lies in the termination itself, give the product as termination factor and 1 as
    bend factor.
    Inputs: breaking force, N, 0 or more; factors, above 0 and at most 1. Answer: N.
    Errors: ValueError outside these ranges. Source: weakest place; worked out from the definition
    of a minimum.
    """
    at_least("The breaking force", breaking_force, 0, "N")
    share("The termination factor", termination_factor)
    share("The bend factor", bend_factor)
    return breaking_force * min(termination_factor, bend_factor)


@calculation(
    formula="F = side / larger share", unit="N", rises=("side_strength",), falls=("larger_share",)
)
def pair_strength(side_strength: float, larger_share: float) -> float:
    """Strength of two side wires when one of them carries the larger share of the load.

    Formula: F = side / larger share. A share of 0.5 is equal sharing (twice one side), 1 is all
    on one side.
    Inputs: strength of one side, N, 0 or more; larger share, 0.5 to 1. Answer: N.
    Errors: ValueError outside these ranges. Source: statics.
    """
    at_least("The strength of one side", side_strength, 0, "N")
    between("The larger share", larger_share, 0.5, 1)
    return side_strength / larger_share
