"""Physical constants, the only numbers that the calculations know by themselves."""

STANDARD_GRAVITY = 9.80665
"""Acceleration of free fall, m/s2, exact by definition (International System of Units)."""
