"""Measures of wear of a wire rope, exact for the decimal numbers that were read off the gauge.

A limit such as "more than 6 per cent" must not be crossed by rounding in binary arithmetic,
so both measures are worked in fractions of the numbers as written.
"""

from fractions import Fraction

from advisor.mechanics.check import above, at_least, whole
from advisor.mechanics.registry import calculation


@calculation(
    formula="loss = max(0, (reference - measured) / nominal)",
    unit="1",
    rises=("reference",),
    falls=("measured", "nominal"),
)
def diameter_loss(reference, measured, nominal):
    """Loss of diameter as a ratio of the nominal diameter.

    Formula: loss = max(0, (reference - measured) / nominal). A rope thicker than its reference
    counts as no loss.
    Inputs: three diameters in one unit (m, or mm as on the gauge), above 0; where no separate
    nominal is known give the reference.
    Answer: ratio. Errors: ValueError for a diameter not above 0.
    Source: uniform loss of diameter after ISO 4309; baseline form in 30 CFR 56.19024.
    """
    for what, value in (
        ("The reference diameter", reference),
        ("The measured diameter", measured),
        ("The nominal diameter", nominal),
    ):
        above(what, value, 0)
    return float(max(Fraction(0), (_exact(reference) - _exact(measured)) / _exact(nominal)))


@calculation(formula="share = n / N", unit="1", rises=("broken",), falls=("wires",))
def broken_share(broken, wires):
    """Broken wires as a ratio of all wires of the rope or of the strand.

    Formula: share = n / N. Inputs: broken wires n, whole; wires N, whole, at least 1. Answer:
    ratio.
    Errors: ValueError if a count is not whole, or n is above N. Source: 30 CFR 56.19024 counts
    this way.
    """
    whole("The number of broken wires", broken, 0)
    whole("The number of wires", wires, 1)
    if broken > wires:
        raise ValueError(f"The count is {broken:g} broken wires out of {wires:g}; count again.")
    return float(Fraction(int(broken), int(wires)))


@calculation(formula="length = k d", unit="m", rises=("diameter", "diameters"))
def reference_length(diameter, diameters):
    """Length of wire rope over which broken wires are counted.

    Formula: length = k d. Inputs: diameter, m, above 0; number of diameters k, 0 or more. Answer:
    m.
    Errors: ValueError outside these ranges. Source: ISO 4309:2010 counts over 6 d and 30 d.
    """
    above("The wire rope diameter", diameter, 0, "m")
    at_least("The number of diameters", diameters, 0)
    return float(_exact(diameter) * _exact(diameters))


def _exact(value):
    return Fraction(repr(value))
