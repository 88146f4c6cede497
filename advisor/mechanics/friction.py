"""Friction of a rope round a bar, a device or a hitch, and the hand that holds it."""

import math

from advisor.mechanics.check import at_least
from advisor.mechanics.registry import calculation


@calculation(formula="ratio = exp(mu phi)", unit="1", rises=("friction", "wrap_angle"))
def holding_ratio(friction: float, wrap_angle: float) -> float:
    """Load that one unit of hand force holds on a rope wrapped round a bar.

    Formula: ratio = exp(mu phi), phi in radians (capstan equation).
    Inputs: friction coefficient, ratio, 0 or more; wrap angle, degrees, 0 or more. Answer: ratio.
    Errors: ValueError for a negative input, or a ratio too large to be a number. Source: capstan
    equation.
    """
    at_least("The friction coefficient", friction, 0)
    at_least("The wrap angle", wrap_angle, 0, "degrees")
    exponent = friction * math.radians(wrap_angle)
    if exponent > 700:
        raise ValueError(
            f"A wrap of {wrap_angle:g} degrees at friction {friction:g} is beyond any rope; give"
            " fewer turns."
        )
    return math.exp(exponent)


@calculation(formula="hand = load / ratio", unit="N", rises=("load",), falls=("ratio",))
def hand_force(load: float, ratio: float) -> float:
    """Force that the brake hand must give to hold the load.

    Formula: hand = load / ratio. Inputs: load on the rope, N, 0 or more; holding ratio of the
    device or hitch, at least 1.
    Answer: N. Errors: ValueError outside these ranges. Source: definition of a holding ratio.
    """
    at_least("The load", load, 0, "N")
    at_least("The holding ratio", ratio, 1)
    return load / ratio


@calculation(formula="load = hand x ratio", unit="N", rises=("hand_limit", "ratio"))
def load_held(hand_limit: float, ratio: float) -> float:
    """Largest load that a hand can hold through the device or hitch.

    Formula: load = hand x ratio. Inputs: hand force, N, 0 or more; holding ratio, at least 1.
    Answer: N.
    Errors: ValueError outside these ranges. Source: definition of a holding ratio.
    """
    at_least("The hand force", hand_limit, 0, "N")
    at_least("The holding ratio", ratio, 1)
    return hand_limit * ratio


@calculation(formula="to spare = limit - force", unit="N", rises=("limit",), falls=("force",))
def hand_to_spare(limit: float, force: float) -> float:
    """Hand force to spare; below 0 the hand cannot hold.

    Formula: to spare = limit - force. Inputs, N, 0 or more. Answer: N. Errors: ValueError for a
    negative input.
    Source: arithmetic.
    """
    at_least("The limit", limit, 0, "N")
    at_least("The force", force, 0, "N")
    return limit - force
