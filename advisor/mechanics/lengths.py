"""Lengths of ladder, lifeline and tether, all in metres."""

import math

from advisor.mechanics.check import above, at_least
from advisor.mechanics.registry import calculation


@calculation(
    formula="run = sqrt(height^2 + setback^2)",
    unit="m",
    rises=("setback",),
    turns={"height": lambda setback: [0.0]},
)
def run_to_lip(height: float, setback: float) -> float:
    """Shortest way of a line from an anchor to the lip: straight over the take-off.

    Formula: run = sqrt(height^2 + setback^2).
    Inputs, m: height of the anchor above the take-off (below it negative); level distance back
    from the lip, 0 or more. Answer: m. It falls and then rises with the height, so 0 is tried too.
    Errors: ValueError for a negative setback. Source: geometry (Pythagoras).
    """
    at_least("The distance back from the lip", setback, 0, "m")
    return math.hypot(height, setback)


@calculation(
    formula="L = depth + run + slab extra + foot spare - tether out - bridle out",
    unit="m",
    rises=("depth", "run", "slab_extra", "foot_spare"),
    falls=("tether_out", "bridle_out"),
)
def ladder_length_needed(
    depth: float,
    run: float,
    tether_out: float,
    bridle_out: float,
    foot_spare: float,
    slab_extra: float,
) -> float:
    """Ladder to hang from the attachment to the landing.

    Formula: L = depth + run + slab extra + foot spare - tether out - bridle out.
    Inputs, m: depth from lip to landing (above 0); run from the attachment to the lip; tether and
    bridle length between
    the attachment and the first rung; spare left at the foot; extra where the ladder lies on a
    slab.
    Errors: ValueError for a negative length, or if tether and bridle alone would reach the landing.
    Source: geometry; which lengths to count is common practice.
    """
    above("The depth", depth, 0, "m")
    for what, length in (
        ("The run to the lip", run),
        ("The tether length", tether_out),
        ("The bridle length", bridle_out),
        ("The spare at the foot", foot_spare),
        ("The extra for a slab", slab_extra),
    ):
        at_least(what, length, 0, "m")
    needed = depth + run + slab_extra + foot_spare - tether_out - bridle_out
    if needed <= 0:
        raise ValueError(
            f"Tether and bridle of {tether_out + bridle_out:g} m reach past the landing; give"
            " shorter ones."
        )
    return needed


@calculation(
    formula="extra = height (1 / sin(slope) - 1)",
    unit="m",
    rises=("height",),
    falls=("slope_angle",),
)
def slab_extra(height: float, slope_angle: float) -> float:
    """Extra ladder where it lies on a slope instead of hanging.

    Formula: extra = height (1 / sin(slope) - 1).
    Inputs: height of the slope, m (0 or more); slope from the horizontal, degrees (above 0, up to
    90).
    Answer: m. Errors: ValueError outside these ranges. Source: geometry.
    """
    at_least("The height of the slope", height, 0, "m")
    if not 0 < slope_angle <= 90:
        raise ValueError(
            f"The slope is {slope_angle:g} degrees; give more than 0 and at most 90 degrees from"
            " the horizontal."
        )
    return height * (1 / math.sin(math.radians(slope_angle)) - 1)


@calculation(
    formula="reserve = max(least, share x depth)",
    unit="m",
    rises=("depth", "least_reserve", "reserve_share"),
)
def reserve_length(depth: float, least_reserve: float, reserve_share: float) -> float:
    """Rope kept in hand beyond what the pitch needs.

    Formula: reserve = max(least, share x depth).
    Inputs: depth, m; least reserve, m; share of the depth, ratio; all 0 or more.
    Answer: m. Errors: ValueError for a negative input. Source: common practice, no source.
    """
    at_least("The depth", depth, 0, "m")
    at_least("The least reserve", least_reserve, 0, "m")
    at_least("The share of the depth", reserve_share, 0)
    return max(least_reserve, reserve_share * depth)


@calculation(
    formula="L = depth + run + tie-in + belayer's side + reserve",
    unit="m",
    rises=("depth", "run", "tie_in", "belay_side", "reserve"),
)
def lifeline_from_top(
    depth: float, run: float, tie_in: float, belay_side: float, reserve: float
) -> float:
    """Lifeline for belaying from the top.

    Formula: L = depth + run + tie-in + belayer's side + reserve.
    Inputs, m, 0 or more: depth; run from the belay to the lip; rope for tying on; rope on the
    belayer's side; reserve.
    Answer: m. Errors: ValueError for a negative length. Source: geometry; common practice.
    """
    _all_lengths(depth, run, tie_in, belay_side, reserve)
    return depth + run + tie_in + belay_side + reserve


@calculation(
    formula="L = 2 (depth + run) + stand-off + tie-ins + reserve",
    unit="m",
    rises=("depth", "run", "stand_off", "tie_ins", "reserve"),
)
def lifeline_doubled(
    depth: float, run: float, stand_off: float, tie_ins: float, reserve: float
) -> float:
    """Lifeline worked from below, up through the top point and back.

    Formula: L = 2 (depth + run) + stand-off + tie-ins + reserve.
    Inputs, m, 0 or more: depth; run from the top point to the lip; belayer's distance from the
    foot; rope for tying on; reserve.
    Answer: m. Errors: ValueError for a negative length. Source: geometry; common practice.
    """
    _all_lengths(depth, run, stand_off, tie_ins, reserve)
    return 2 * (depth + run) + stand_off + tie_ins + reserve


@calculation(
    formula="L = depth + run + anchor tail + foot spare",
    unit="m",
    rises=("depth", "run", "anchor_tail", "foot_spare"),
)
def lifeline_self_lining(depth: float, run: float, anchor_tail: float, foot_spare: float) -> float:
    """Fixed rope for self-lining with a device that runs along it.

    Formula: L = depth + run + anchor tail + foot spare.
    Inputs, m, 0 or more: depth; run from the anchor to the lip; rope for the anchor knots; rope
    at the foot to weight it.
    Answer: m. Errors: ValueError for a negative length. Source: geometry; common practice.
    """
    _all_lengths(depth, run, anchor_tail, foot_spare)
    return depth + run + anchor_tail + foot_spare


@calculation(
    formula="let-out = max(0, tail - lock-off)", unit="m", rises=("tail",), falls=("lock_off_use",)
)
def tether_let_out(tail: float, lock_off_use: float) -> float:
    """How far a loaded ladder can be let down on its releasable tether.

    Formula: let-out = max(0, tail - lock-off).
    Inputs, m, 0 or more: tail behind the hitch; length that the lock-off and the stopper use.
    Answer: m; 0 means that the tail is all used up. Errors: ValueError for a negative length.
    Source: geometry.
    """
    _all_lengths(tail, lock_off_use)
    return max(0.0, tail - lock_off_use)


@calculation(formula="to spare = have - needed", unit="m", rises=("have",), falls=("needed",))
def length_to_spare(have: float, needed: float) -> float:
    """Length left over; below 0 it is the length that is missing.

    Formula: to spare = have - needed. Inputs and answer: m. Errors: ValueError for a negative
    input. Source: arithmetic.
    """
    _all_lengths(have, needed)
    return have - needed


@calculation(formula="m = length x mass per metre", unit="kg", rises=("length", "mass_per_metre"))
def mass_of_length(length: float, mass_per_metre: float) -> float:
    """Mass of a ladder or a rope from its length.

    Formula: m = length x mass per metre. Inputs: m; kg/m. Answer: kg.
    Errors: ValueError for a negative input. Source: arithmetic.
    """
    at_least("The length", length, 0, "m")
    at_least("The mass per metre", mass_per_metre, 0, "kg/m")
    return length * mass_per_metre


def _all_lengths(*lengths: float) -> None:
    for length in lengths:
        at_least("A length", length, 0, "m")
