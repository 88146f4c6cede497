"""The chain of parts that carry one load: weakest part, load expected, margin."""

from collections.abc import Iterable

from advisor.mechanics.check import above, at_least
from advisor.mechanics.constants import STANDARD_GRAVITY
from advisor.mechanics.interval import Interval
from advisor.mechanics.registry import calculation


@calculation(formula="W = m g k", unit="N", rises=("mass", "climbing_factor"))
def expected_load(mass: float, climbing_factor: float) -> float:
    """Load that a moving person puts on the ladder or the line.

    Formula: W = m g k. Inputs: mass with kit, kg, above 0; factor k for movement, at least 1 (1
    is hanging still). Answer: N.
    Errors: ValueError outside these ranges. Source: definition of weight; the factor is a trade
    figure.
    """
    above("The mass", mass, 0, "kg")
    at_least("The climbing factor", climbing_factor, 1)
    return mass * STANDARD_GRAVITY * climbing_factor


@calculation(formula="margin = strength / load", unit="1", rises=("strength",), falls=("load",))
def strength_margin(strength: float, load: float) -> float:
    """How many times the expected load the part holds.

    Formula: margin = strength / load. Inputs: strength, N, 0 or more; load, N, above 0. Answer:
    ratio.
    Errors: ValueError outside these ranges. Source: definition.
    """
    at_least("The strength", strength, 0, "N")
    above("The load", load, 0, "N")
    return strength / load


def weakest_link(parts: Iterable[tuple[str, float]]) -> tuple[str, float]:
    """The weakest part of a chain: (name, strength); of equal parts the first.

    Inputs: list of (name, strength in N, 0 or more). Errors: ValueError for an empty list or a
    negative strength.
    Source: a chain in line carries one load, so it holds what its weakest part holds.
    """
    parts = list(parts)
    if not parts:
        raise ValueError("The chain has no parts; name at least one part with its strength.")
    for name, strength in parts:
        at_least(f"The strength of {name}", strength, 0, "N")
    return min(parts, key=lambda part: part[1])


def weakest_links(parts: Iterable[tuple[str, Interval]]) -> tuple[Interval, tuple[str, ...]]:
    """Range of a chain's strength and the names of every part that could be the weakest.

    Inputs: list of (name, Interval of strength in N). Answer: (Interval in N, tuple of names in
    the order given).
    Errors: as for weakest_link. Source: the smallest of independent ranges.
    """
    parts = list(parts)
    lowest = weakest_link((name, strength.lo) for name, strength in parts)[1]
    highest = weakest_link((name, strength.hi) for name, strength in parts)[1]
    return Interval(lowest, highest), tuple(
        name for name, strength in parts if strength.lo <= highest
    )
