"""Force on the point round which a loaded rope turns."""

import math

from advisor.mechanics.check import at_least, between
from advisor.mechanics.registry import calculation


@calculation(formula="R = 2 T sin(d/2)", unit="N", rises=("tension", "turned_angle"))
def deviation_force(tension: float, turned_angle: float) -> float:
    """Force on a deviation or a top pulley from the angle through which the rope is turned.

    Formula: R = 2 T sin(d/2). A straight rope is 0 degrees, a half turn at a top point 180 degrees.
    Inputs: tension, N, 0 or more; angle turned, degrees, 0 to 180. Answer: N.
    Errors: ValueError outside these ranges. Source: statics; block makers' tables.
    """
    at_least("The tension", tension, 0, "N")
    between("The angle turned", turned_angle, 0, 180, "degrees")
    return 2 * tension * math.sin(math.radians(turned_angle) / 2)


@calculation(
    formula="R = T sqrt(1 + e^2 + 2 e cos c)",
    unit="N",
    rises=("tension",),
    falls=("strand_angle",),
    turns={"strand_ratio": lambda tension, strand_angle: [-math.cos(math.radians(strand_angle))]},
)
def turning_point_force(tension: float, strand_ratio: float, strand_angle: float) -> float:
    """Force on a point where the two strands of the rope have different tensions.

    Formula: R = T sqrt(1 + e^2 + 2 e cos c).
    Inputs: larger tension T, N, 0 or more; ratio e of the smaller to the larger, 0 to 1; angle c
    between the strands, degrees, 0 to 180.
    With e, R first falls and then rises if c is above 90; the least lies at e = -cos c, which is
    tried as well as the ends.
    Answer: N. Errors: ValueError outside these ranges. Source: statics (law of cosines).
    """
    at_least("The tension", tension, 0, "N")
    between("The ratio of the strands", strand_ratio, 0, 1)
    between("The angle between the strands", strand_angle, 0, 180, "degrees")
    squared = 1 + strand_ratio**2 + 2 * strand_ratio * math.cos(math.radians(strand_angle))
    return tension * math.sqrt(max(0.0, squared))
