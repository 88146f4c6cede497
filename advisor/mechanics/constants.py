"""Physical constants, the only numbers that the calculations know by themselves."""

STANDARD_GRAVITY = 9.80665
"""Acceleration of free fall, m/s2, exact by definition (International System of Units)."""

GAS_CONSTANT = 8.314462618
"""Molar gas constant, J/(mol K), from the fixed constants of the International System of Units."""

ZERO_CELSIUS = 273.15
"""Zero of the Celsius scale in kelvin, exact by definition."""
