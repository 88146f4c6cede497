"""Strength of steel wire rope side wires."""

from advisor.mechanics.check import above, at_least, between, share, whole
from advisor.mechanics.constants import STANDARD_GRAVITY
from advisor.mechanics.registry import calculation


@calculation(formula="F = K d^2 R", unit="N", rises=("breaking_factor", "diameter", "grade"))
def wire_breaking_force(breaking_factor, diameter, grade):
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
def side_wire_strength(breaking_force, termination_factor, bend_factor):
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
def pair_strength(side_strength, larger_share):
    """Strength of two side wires when one of them carries the larger share of the load.

    Formula: F = side / larger share. A share of 0.5 is equal sharing (twice one side), 1 is all
    on one side.
    Inputs: strength of one side, N, 0 or more; larger share, 0.5 to 1. Answer: N.
    Errors: ValueError outside these ranges. Source: statics.
    """
    at_least("The strength of one side", side_strength, 0, "N")
    between("The larger share", larger_share, 0.5, 1)
    return side_strength / larger_share


@calculation(
    formula="F = F_min (N - n) / N", unit="N", rises=("breaking_force", "wires"), falls=("broken",)
)
def strength_with_broken_wires(breaking_force, broken, wires):
    """What is left at most of a wire rope with n of its N wires broken at one place.

    Formula: F = F_min (N - n) / N. It is an upper bound: wear, corrosion and uneven strands take
    more.
    Inputs: breaking force, N, 0 or more; broken wires n, whole; all load-bearing wires N, whole,
    at least 1 and at least n.
    Answer: N. Errors: ValueError outside these ranges. Source: equal sharing among equal wires,
    worked out.
    """
    at_least("The breaking force", breaking_force, 0, "N")
    whole("The number of wires", wires, 1)
    whole("The number of broken wires", broken, 0)
    if broken > wires:
        raise ValueError(f"The count is {broken:g} broken wires out of {wires:g}; count again.")
    return breaking_force * (wires - broken) / wires


@calculation(
    formula="W = F_min x termination x legs / safety factor",
    unit="N",
    rises=("breaking_force", "termination_factor", "leg_factor"),
    falls=("safety_factor",),
)
def working_load(breaking_force, termination_factor, leg_factor, safety_factor):
    """Working load of a wire sling.

    Formula: W = F_min KT KL / Zp.
    Inputs: breaking force, N, 0 or more; termination factor KT, above 0 and at most 1; leg factor
    KL, above 0; safety factor Zp,
    at least 1. Answer: N. Errors: ValueError outside these ranges.
    Source: EN 13414-1:2003 as given in a buyer's note; the standard is for lifting goods, not
    people.
    """
    at_least("The breaking force", breaking_force, 0, "N")
    share("The termination factor", termination_factor)
    above("The leg factor", leg_factor, 0)
    at_least("The safety factor", safety_factor, 1)
    return breaking_force * termination_factor * leg_factor / safety_factor


@calculation(formula="m = W / g", unit="kg", rises=("load",))
def load_as_mass(load):
    """Mass whose weight is the given load.

    Formula: m = W / g. Input: N, 0 or more. Answer: kg. Errors: ValueError for a negative load.
    Source: definition of weight.
    """
    at_least("The load", load, 0, "N")
    return load / STANDARD_GRAVITY
