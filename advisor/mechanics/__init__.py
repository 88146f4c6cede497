"""Pure calculations in SI units: lengths, strengths, loads, catches, hauls, times and cold.

Importing this package registers every calculation; CALCULATIONS lists them by name, for
rules/calculations to call.
Those that the shipped rules do not call serve as checks of the others, or a rule base of your own.
"""

from advisor.mechanics import (
    catch,
    chain,
    cold,
    deviation,
    friction,
    hauling,
    lengths,
    point_lost,
    rating,
    selection,
    spread,
    taken,
    textile,
    time,
    wire,
)
from advisor.mechanics.interval import Interval, over
from advisor.mechanics.registry import CALCULATIONS, Calculation, registered

__all__ = [
    "CALCULATIONS",
    "Calculation",
    "Interval",
    "over",
    "registered",
    "catch",
    "chain",
    "cold",
    "deviation",
    "friction",
    "hauling",
    "lengths",
    "point_lost",
    "rating",
    "selection",
    "spread",
    "taken",
    "textile",
    "time",
    "wire",
]
