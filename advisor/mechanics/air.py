"""Conversions of gas readings. What a reading means is for the rules, not for this module."""

from advisor.mechanics.check import above, at_least, between
from advisor.mechanics.constants import GAS_CONSTANT, ZERO_CELSIUS
from advisor.mechanics.registry import calculation


@calculation(formula="ratio = ppm / 1 000 000", unit="1", rises=("parts_per_million",))
def ratio_from_ppm(parts_per_million):
    """Parts per million as a ratio of volume (10 000 ppm is 0.01, or 1 per cent).

    Formula: ratio = ppm / 1 000 000. Input: 0 to 1 000 000. Answer: ratio. Errors: ValueError
    outside it. Source: definition.
    """
    between("The reading", parts_per_million, 0, 1e6, "ppm")
    return parts_per_million / 1e6


@calculation(formula="ppm = ratio x 1 000 000", unit="1", rises=("ratio",))
def ppm_from_ratio(ratio):
    """Ratio of volume as parts per million.

    Formula: ppm = ratio x 1 000 000. Input: ratio, 0 to 1. Answer: parts per million. Errors:
    ValueError outside it.
    Source: definition.
    """
    between("The ratio of volume", ratio, 0, 1)
    return ratio * 1e6


@calculation(
    formula="c = ratio M p / (R T)",
    unit="kg/m3",
    rises=("ratio", "molar_mass", "pressure"),
    falls=("temperature",),
)
def mass_concentration(ratio, molar_mass, temperature, pressure):
    """Mass of a gas in each cubic metre of air.

    Formula: c = ratio M p / (R T).
    Inputs: ratio of volume, 0 to 1; molar mass, kg/mol, above 0; temperature, deg C, above
    -273.15; pressure, Pa, 0 or more.
    Answer: kg/m3. Errors: ValueError outside these ranges. Source: ideal gas law.
    """
    between("The ratio of volume", ratio, 0, 1)
    above("The molar mass", molar_mass, 0, "kg/mol")
    above("The temperature", temperature, -ZERO_CELSIUS, "degrees")
    at_least("The pressure", pressure, 0, "Pa")
    return ratio * molar_mass * pressure / (GAS_CONSTANT * (temperature + ZERO_CELSIUS))
