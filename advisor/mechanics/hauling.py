"""Gain, force, people, rope and time of a haul."""

import math

from advisor.mechanics.check import above, at_least, share
from advisor.mechanics.constants import STANDARD_GRAVITY
from advisor.mechanics.haul_systems import forces
from advisor.mechanics.registry import calculation


@calculation(
    formula="gain = tension on load / hand pull (T-method)",
    unit="1",
    rises=("efficiency",),
    passed=("system",),
)
def haul_gain(system: str, efficiency: float) -> float:
    """Real gain of a hauling system with pulleys of one efficiency.

    Formula: T-method; for example a 3:1 gives 1 + e + e^2. With e = 1 it is the ideal gain.
    Inputs: name of the system; efficiency of each pulley, ratio above 0 and at most 1. Answer:
    ratio.
    Errors: ValueError for an unknown system or an efficiency out of range. Source: T-method.
    """
    return forces(system, efficiency)["load"]


@calculation(
    formula="pull = mass g lip / gain", unit="N", rises=("mass", "lip_factor"), falls=("gain",)
)
def haul_pull(mass: float, lip_factor: float, gain: float) -> float:
    """Pull needed on the hauling rope.

    Formula: pull = mass g lip / gain.
    Inputs: mass hauled, kg, above 0; lip factor, at least 1, by which friction over the edge adds
    to the load; real gain, above 0.
    Answer: N. Errors: ValueError outside these ranges. Source: definition of gain.
    """
    above("The mass", mass, 0, "kg")
    at_least("The lip factor", lip_factor, 1)
    above("The gain", gain, 0)
    return mass * STANDARD_GRAVITY * lip_factor / gain


@calculation(
    formula="people = ceil(pull / pull of one)", unit="1", rises=("pull",), falls=("pull_of_one",)
)
def haulers_needed(pull: float, pull_of_one: float) -> float:
    """Whole number of people who must pull.

    Formula: people = ceil(pull / pull of one). Inputs: pull, N, 0 or more; steady pull of one
    person, N, above 0. Answer: count.
    Errors: ValueError outside these ranges. Source: arithmetic. A hair's breadth of rounding does
    not add a person.
    """
    at_least("The pull", pull, 0, "N")
    above("The pull of one person", pull_of_one, 0, "N")
    return float(math.ceil(pull / pull_of_one - 1e-9))


@calculation(formula="rope = lift x ideal gain", unit="m", rises=("lift", "ideal_gain"))
def rope_pulled(lift: float, ideal_gain: float) -> float:
    """Rope that passes through the haulers' hands.

    Formula: rope = lift x ideal gain. Inputs: lift, m, 0 or more; ideal gain, above 0. Answer: m.
    Errors: ValueError outside these ranges. Source: conservation of rope length.
    """
    at_least("The lift", lift, 0, "m")
    above("The ideal gain", ideal_gain, 0)
    return lift * ideal_gain


@calculation(
    formula="t = rope / speed + ceil(rope / stroke) x reset",
    unit="s",
    rises=("rope", "reset_time"),
    falls=("pull_speed", "stroke"),
)
def haul_time(rope: float, pull_speed: float, stroke: float, reset_time: float) -> float:
    """Time to pull the rope through, with resets of the system.

    Formula: t = rope / speed + ceil(rope / stroke) x reset.
    Inputs: rope to pull, m, 0 or more; speed of the hauling rope, m/s, above 0; rope pulled
    between resets, m, above 0;
    time of one reset, s, 0 or more. Answer: s. Errors: ValueError outside these ranges. Source:
    arithmetic.
    """
    at_least("The rope to pull", rope, 0, "m")
    above("The pulling speed", pull_speed, 0, "m/s")
    above("The stroke", stroke, 0, "m")
    at_least("The reset time", reset_time, 0, "s")
    return rope / pull_speed + math.ceil(rope / stroke - 1e-9) * reset_time


@calculation(
    formula="anchors = load x max(1, force on anchors / force on load), T-method",
    unit="N",
    rises=("load",),
    corners=("efficiency",),
    passed=("system",),
)
def haul_anchor_load(system: str, load: float, efficiency: float) -> float:
    """Greatest sum of the forces on the anchors of a hauling system, lifting or being reset.

    Formula: T-method, anchors / load, but never under the load: while the system is reset, the
    capture holds the whole of it. Each system pulls its hand strand either with or against
    the load, so the sum is
    load x (1 + 1/gain) or load x (1 - 1/gain). The gain rises with e, so for one system the
    answer goes one way only:
    its extremes lie at the ends of the efficiency, though which end is which depends on the system.
    Inputs: name of the system; load at the rope, N, 0 or more; efficiency, ratio above 0 and at
    most 1. Answer: N, strands taken parallel.
    Errors: ValueError outside these ranges. Source: T-method.
    """
    at_least("The load", load, 0, "N")
    per_hand = forces(system, efficiency)
    return load * max(1.0, per_hand["anchor"] / per_hand["load"])


@calculation(
    formula="pull = max(0, mass g lip / e - counterweight g)",
    unit="N",
    rises=("mass", "lip_factor"),
    falls=("counterweight", "efficiency"),
)
def counterbalance_pull(
    mass: float, counterweight: float, lip_factor: float, efficiency: float
) -> float:
    """Extra pull that a counterbalance needs on the counterweight's side.

    Formula: pull = max(0, mass g lip / e - counterweight g).
    Inputs: mass raised, kg, above 0; counterweight, kg, 0 or more; lip factor, at least 1;
    efficiency of the top point, above 0, at most 1.
    Answer: N; 0 means that the counterweight alone starts the lift and must be braked.
    Errors: ValueError outside these ranges. Source: T-method.
    """
    above("The mass", mass, 0, "kg")
    at_least("The counterweight", counterweight, 0, "kg")
    at_least("The lip factor", lip_factor, 1)
    share("The efficiency", efficiency)
    return max(0.0, STANDARD_GRAVITY * (mass * lip_factor / efficiency - counterweight))
