"""Work and power of climbing."""

from advisor.mechanics.check import above, at_least
from advisor.mechanics.constants import STANDARD_GRAVITY
from advisor.mechanics.registry import calculation


@calculation(formula="E = m g h", unit="J", rises=("mass", "height"))
def climbing_work(mass, height):
    """Work against gravity on the way up.

    Formula: E = m g h. Inputs: mass with kit, kg, above 0; height, m, 0 or more. Answer: J.
    Errors: ValueError outside these ranges. Source: mechanics.
    """
    above("The mass", mass, 0, "kg")
    at_least("The height", height, 0, "m")
    return mass * STANDARD_GRAVITY * height


@calculation(formula="P = m g v", unit="W", rises=("mass", "rate"))
def climbing_power(mass, rate):
    """Power against gravity at a steady climbing rate.

    Formula: P = m g v. Inputs: mass with kit, kg, above 0; rate, m/s, 0 or more. Answer: W.
    Errors: ValueError outside these ranges. Source: mechanics.
    """
    above("The mass", mass, 0, "kg")
    at_least("The climbing rate", rate, 0, "m/s")
    return mass * STANDARD_GRAVITY * rate


@calculation(
    formula="efficiency = work / energy used", unit="1", rises=("work",), falls=("energy_used",)
)
def climbing_efficiency(work, energy_used):
    """Share of the body's energy that goes into lifting it.

    Formula: efficiency = work / energy used. Inputs, J: work, 0 or more; energy used, above 0.
    Answer: ratio.
    Errors: ValueError outside these ranges. Source: definition.
    """
    at_least("The work", work, 0, "J")
    above("The energy used", energy_used, 0, "J")
    return work / energy_used
