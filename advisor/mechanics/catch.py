"""Catching a falling or slipping person on a rope that stretches like a spring.

The rope is a spring of modulus K (force per unit of relative stretch). The model is the one
behind the standards' impact tests.
A 2002 rescue symposium paper finds it quite accurate at low mass and fall factor but up to 30 per
cent low at high mass and factor;
damping can bring the real peak below it. Show a peak force as a band of 0.75 to 1.3 times the
answer, never as one number.
"""

import math

from advisor.mechanics.check import above, at_least, between
from advisor.mechanics.constants import STANDARD_GRAVITY
from advisor.mechanics.registry import calculation


@calculation(
    formula="F = W + sqrt(W^2 + 2 W K s / L)",
    unit="N",
    rises=("mass", "slack", "modulus"),
    falls=("rope_out",),
)
def peak_force(mass: float, slack: float, rope_out: float, modulus: float) -> float:
    """Peak force in the rope, on the person and on the belay when a slip is caught.

    Formula: F = W + sqrt(W^2 + 2 W K f), W = m g, f = slack / rope out. With no slack it is twice
    the weight.
    Inputs: mass, kg, above 0; slack (free fall), m, 0 or more; rope between belay and person, m,
    above 0; modulus K, N, above 0.
    Answer: N. Errors: ValueError outside these ranges. Source: energy balance of a spring; used
    with EN 1891 and EN 892.
    """
    weight = _weight(mass, slack, rope_out, modulus)
    return weight + math.sqrt(weight**2 + 2 * weight * modulus * slack / rope_out)


@calculation(formula="felt = min(catch, slips at)", unit="N", rises=("catch", "slips_at"))
def catch_with_slip(catch: float, slips_at: float) -> float:
    """Peak force of a catch through a device that lets rope run above some load.

    Formula: felt = min(catch, slips at): what the device cannot hold runs through it.
    Inputs, N, 0 or more: peak force if nothing slips; load at which rope runs. Answer: N.
    Errors: ValueError for a negative input. Source: a slipping brake is a limit of force.
    """
    at_least("The catch", catch, 0, "N")
    at_least("The load at which rope runs", slips_at, 0, "N")
    return min(catch, slips_at)


@calculation(formula="f = slack / rope out", unit="1", rises=("slack",), falls=("rope_out",))
def fall_factor(slack: float, rope_out: float) -> float:
    """Free fall for each metre of rope that takes it.

    Formula: f = slack / rope out. Inputs, m: slack, 0 or more; rope out, above 0. Answer: ratio.
    Errors: ValueError outside these ranges. Source: definition in EN 892.
    """
    at_least("The slack", slack, 0, "m")
    above("The rope out", rope_out, 0, "m")
    return slack / rope_out


@calculation(formula="x = L W / K", unit="m", rises=("mass", "rope_out"), falls=("modulus",))
def resting_stretch(mass: float, rope_out: float, modulus: float) -> float:
    """Stretch of the rope when the person hangs still.

    Formula: x = L W / K. Inputs: mass, kg; rope out, m; modulus, N; all above 0. Answer: m.
    Errors: ValueError outside these ranges. Source: Hooke's law.
    """
    return rope_out * _weight(mass, 0, rope_out, modulus) / modulus


@calculation(
    formula="d = s + L F / K + settling",
    unit="m",
    rises=("mass", "slack", "rope_out", "settling"),
    falls=("modulus",),
)
def drop_length(
    mass: float, slack: float, rope_out: float, modulus: float, settling: float
) -> float:
    """How far a slipping person drops before the rope stops them.

    Formula: d = s + L F / K + settling, F being the peak force.
    Inputs: as for peak_force; settling of knot and harness, m, 0 or more. Answer: m.
    Errors: ValueError outside these ranges. Source: energy balance of a spring.
    """
    at_least("The settling of knot and harness", settling, 0, "m")
    return slack + rope_out * peak_force(mass, slack, rope_out, modulus) / modulus + settling


@calculation(formula="clearance = height - drop", unit="m", rises=("height",), falls=("drop",))
def landing_clearance(height: float, drop: float) -> float:
    """Height left above the landing after a caught slip; below 0 the person strikes it.

    Formula: clearance = height - drop. Inputs, m, 0 or more: height of the feet above the
    landing; drop. Answer: m.
    Errors: ValueError for a negative input. Source: geometry.
    """
    at_least("The height above the landing", height, 0, "m")
    at_least("The drop", drop, 0, "m")
    return height - drop


@calculation(
    formula="s = max(0, d - sqrt(2 L W d / K))",
    unit="m",
    rises=("allowed_drop", "modulus"),
    falls=("mass", "rope_out"),
)
def slack_allowed(allowed_drop: float, mass: float, rope_out: float, modulus: float) -> float:
    """Most slack with which a slip still ends within the allowed drop.

    0 where even a tight rope may not do it.

    Formula: s = max(0, d - sqrt(2 L W d / K)), the inverse of drop_length without settling.
    Inputs: allowed drop, m, 0 or more; others as for resting_stretch. Answer: m.
    Errors: ValueError outside these ranges. Source: energy balance of a spring, solved for the
    slack.
    """
    at_least("The allowed drop", allowed_drop, 0, "m")
    weight = _weight(mass, 0, rope_out, modulus)
    return max(0.0, allowed_drop - math.sqrt(2 * rope_out * weight * allowed_drop / modulus))


@calculation(
    formula="K = ((F - W)^2 - W^2) / (2 W f)",
    unit="N",
    rises=("impact_force",),
    falls=("mass", "fall_factor"),
)
def modulus_from_impact(impact_force: float, mass: float, fall_factor: float) -> float:
    """Rope modulus that a rated impact force implies.

    Formula: K = ((F - W)^2 - W^2) / (2 W f), the inverse of peak_force.
    Inputs: impact force, N, at least twice the weight; mass of the test, kg, above 0; fall factor
    of the test, above 0, at most 2.
    Answer: N. Errors: ValueError outside these ranges. Source: energy balance of a spring.
    """
    above("The mass", mass, 0, "kg")
    above("The fall factor", fall_factor, 0)
    between("The fall factor", fall_factor, 0, 2)
    weight = mass * STANDARD_GRAVITY
    at_least("The impact force", impact_force, 2 * weight, "N")
    return ((impact_force - weight) ** 2 - weight**2) / (2 * weight * fall_factor)


@calculation(formula="K = m g / elongation", unit="N", rises=("added_mass",), falls=("elongation",))
def modulus_from_elongation(added_mass: float, elongation: float) -> float:
    """Rope modulus that a static elongation implies.

    Formula: K = m g / elongation. Inputs: mass added in the test, kg, above 0; elongation, ratio
    above 0 and at most 1.
    Answer: N. For a dynamic rope it is several times less than its modulus in a catch: do not use
    it there.
    Errors: ValueError outside these ranges. Source: Hooke's law; test of EN 1891 (from 50 kg to
    150 kg).
    """
    above("The added mass", added_mass, 0, "kg")
    above("The elongation", elongation, 0)
    between("The elongation", elongation, 0, 1)
    return added_mass * STANDARD_GRAVITY / elongation


def _weight(mass: float, slack: float, rope_out: float, modulus: float) -> float:
    above("The mass", mass, 0, "kg")
    at_least("The slack", slack, 0, "m")
    above("The rope out", rope_out, 0, "m")
    above("The rope modulus", modulus, 0, "N")
    return mass * STANDARD_GRAVITY
