"""How the legs of a spread share a load. Angles are in degrees."""

import math

from advisor.mechanics.check import above, angle_below, at_least, whole
from advisor.mechanics.registry import calculation


@calculation(formula="T = W / (2 cos(a/2))", unit="N", rises=("load", "included_angle"))
def equal_leg_load(load: float, included_angle: float) -> float:
    """Load on each of two equal legs.

    Formula: T = W / (2 cos(a/2)).
    Inputs: load, N, 0 or more; angle between the legs, degrees, 0 or more and below 180 (not the
    angle from the horizontal).
    Answer: N. Errors: ValueError outside these ranges. Source: statics; tables after NFPA 1670
    annex A.
    """
    at_least("The load", load, 0, "N")
    angle_below("The angle between the legs", included_angle, 180)
    return load / (2 * math.cos(math.radians(included_angle) / 2))


@calculation(
    formula="F = leg / share of one leg", unit="N", rises=("leg_strength",), falls=("leg_share",)
)
def legs_strength(leg_strength: float, leg_share: float) -> float:
    """Load that two equal legs hold together.

    Formula: F = leg strength / load of one leg as a share of the whole. Hanging side by side they
    share it by halves; spread beyond 120 degrees each carries more than the whole.
    Inputs: strength of one leg, N, 0 or more; share, 0.5 or more. Answer: N.
    Errors: ValueError outside these ranges. Source: statics.
    """
    at_least("The strength of one leg", leg_strength, 0, "N")
    at_least("The share of one leg", leg_share, 0.5)
    return leg_strength / leg_share


@calculation(formula="H = (W/2) tan(a/2)", unit="N", rises=("load", "included_angle"))
def horizontal_pull(load: float, included_angle: float) -> float:
    """Sideways pull on each anchor of two equal legs.

    Formula: H = (W/2) tan(a/2). Inputs: as for equal_leg_load. Answer: N.
    Errors: ValueError outside these ranges. Source: statics.
    """
    at_least("The load", load, 0, "N")
    angle_below("The angle between the legs", included_angle, 180)
    return load / 2 * math.tan(math.radians(included_angle) / 2)


@calculation(formula="a = 180 - 2 h", unit="degree", falls=("from_horizontal",))
def included_angle(from_horizontal: float) -> float:
    """Angle between two equal legs from the angle of each above the horizontal.

    Formula: a = 180 - 2 h. Input: degrees, above 0 up to 90. Answer: degrees.
    Errors: ValueError outside this range. Source: geometry.
    """
    if not 0 < from_horizontal <= 90:
        raise ValueError(
            f"The angle from the horizontal is {from_horizontal:g} degrees; give more than 0 and at"
            " most 90."
        )
    return 180 - 2 * from_horizontal


@calculation(formula="a = 2 asin(gap / (2 leg))", unit="degree", rises=("gap",), falls=("leg",))
def bridle_angle(gap: float, leg: float) -> float:
    """Angle between the two legs of a bridle.

    Formula: a = 2 asin(gap / (2 leg)). Inputs, m: gap between the two points held, 0 or more; leg
    length, more than half the gap.
    Answer: degrees. Errors: ValueError if the legs are too short to meet. Source: geometry.
    """
    at_least("The gap", gap, 0, "m")
    above("The leg length", leg, 0, "m")
    if gap >= 2 * leg:
        raise ValueError(f"Legs of {leg:g} m cannot span a gap of {gap:g} m; give longer legs.")
    return math.degrees(2 * math.asin(gap / (2 * leg)))


@calculation(
    formula="leg = sqrt((spacing/2)^2 + (height - master height)^2)",
    unit="m",
    rises=("spacing", "height"),
    falls=("master_height",),
)
def leg_to_master(spacing: float, height: float, master_height: float) -> float:
    """Length of each of two equal legs from their anchors to the master point between them.

    Formula: leg = sqrt((spacing/2)^2 + (height - master height)^2), for anchors at one height with
    the master point hanging straight below their middle.
    Inputs, m: spacing of the anchors, above 0; their height and the master point's, over the same
    floor, the master point not above the anchors. Answer: m.
    Errors: ValueError outside these ranges. Source: geometry (Pythagoras).
    """
    above("The spacing", spacing, 0, "m")
    at_least("The height of the anchors over the master point", height - master_height, 0, "m")
    return math.hypot(spacing / 2, height - master_height)


@calculation(
    formula="cos a = (l^2 + r^2 - s^2) / (2 l r)",
    unit="degree",
    rises=("spacing",),
    turns={
        "left_leg": lambda right_leg, spacing: _widest(right_leg, spacing),
        "right_leg": lambda left_leg, spacing: _widest(left_leg, spacing),
    },
)
def angle_between_legs(left_leg: float, right_leg: float, spacing: float) -> float:
    """Angle between two legs from their lengths and the distance of their anchors.

    Formula: cos a = (l^2 + r^2 - s^2) / (2 l r). Inputs, m: legs and spacing, above 0, of which no
    one is longer than the other two together. With one leg the angle may turn once, where that leg
    stands square to the spacing; that length is tried too. Answer: degrees.
    Errors: ValueError outside these ranges. Source: geometry (law of cosines).
    """
    for what, length in (("The left leg", left_leg), ("The right leg", right_leg)):
        above(what, length, 0, "m")
    above("The spacing", spacing, 0, "m")
    longest = max(left_leg, right_leg, spacing)
    if 2 * longest > left_leg + right_leg + spacing:
        raise ValueError(
            f"Legs of {left_leg:g} m and {right_leg:g} m do not span {spacing:g} m; measure again."
        )
    cosine = (left_leg**2 + right_leg**2 - spacing**2) / (2 * left_leg * right_leg)
    return math.degrees(math.acos(max(-1.0, min(1.0, cosine))))


def _widest(other_leg: float, spacing: float) -> list[float]:
    """The leg at which the angle is widest, the other leg and the spacing given."""
    square = spacing**2 - other_leg**2
    return [math.sqrt(-square)] if square < 0 else []


@calculation(
    formula="T = W sin(other) / sin(own + other)",
    unit="N",
    rises=("load", "other_angle"),
    turns={"own_angle": lambda load, other_angle: [90 - other_angle]},
)
def unequal_leg_load(load: float, own_angle: float, other_angle: float) -> float:
    """Load on one of two legs that stand at different angles from the line of the load.

    Formula: T = W sin(other) / sin(own + other). With both legs in the line of the load each
    takes half.
    Inputs: load, N, 0 or more; angle of this leg and of the other from the line of the load,
    degrees, 0 or more, together below 180.
    With its own angle T first falls and then rises, with the least at own = 90 - other, so that
    point is tried as well as the ends.
    Answer: N. Errors: ValueError outside these ranges. Source: statics (law of sines).
    """
    at_least("The load", load, 0, "N")
    angle_below("The angle of this leg", own_angle, 180)
    angle_below("The angle of the other leg", other_angle, 180)
    angle_below("The sum of the two angles", own_angle + other_angle, 180)
    own, other = math.radians(own_angle), math.radians(other_angle)
    if own + other == 0:
        return load / 2
    return load * math.sin(other) / math.sin(own + other)


@calculation(formula="T = W / (n cos a)", unit="N", rises=("load", "angle"), falls=("legs",))
def symmetric_leg_load(load: float, legs: float, angle: float) -> float:
    """Load on each of n equal legs set evenly round the line of the load.

    Formula: T = W / (n cos a). It holds for 1 leg in line, 2 legs, and 3 legs evenly round; more
    legs share only if adjusted.
    Inputs: load, N, 0 or more; legs n, whole, at least 1; angle of each from the line of the
    load, degrees, 0 or more and below 90.
    Answer: N. Errors: ValueError outside these ranges. Source: statics.
    """
    at_least("The load", load, 0, "N")
    whole("The number of legs", legs, 1)
    angle_below("The angle from the line of the load", angle, 90)
    return load / (legs * math.cos(math.radians(angle)))


@calculation(formula="T = W / (1 + 2 cos^3 a)", unit="N", rises=("load", "side_angle"))
def middle_leg_load(load: float, side_angle: float) -> float:
    """Load on the middle one of three tied legs in one plane, of the same cord.

    Formula: T = W / (1 + 2 cos^3 a): the middle leg is the shortest and stiffest and takes the
    most.
    Inputs: load, N, 0 or more; angle of each side leg from the middle leg, degrees, 0 or more and
    below 90.
    Holds for legs that are just tight before loading, with anchors level. Answer: N. Errors:
    ValueError outside these ranges.
    Source: strength of materials, the three-bar frame.
    """
    at_least("The load", load, 0, "N")
    angle_below("The angle of the side legs", side_angle, 90)
    return load / (1 + 2 * math.cos(math.radians(side_angle)) ** 3)


@calculation(
    formula="T = W cos^2 a / (1 + 2 cos^3 a)", unit="N", rises=("load",), falls=("side_angle",)
)
def side_leg_load(load: float, side_angle: float) -> float:
    """Load on each side leg of three tied legs in one plane, of the same cord.

    Formula: T = W cos^2 a / (1 + 2 cos^3 a). Inputs, limits and source: as for middle_leg_load.
    Answer: N. Errors: ValueError outside these ranges.
    """
    at_least("The load", load, 0, "N")
    angle_below("The angle of the side legs", side_angle, 90)
    return (
        load
        * math.cos(math.radians(side_angle)) ** 2
        / (1 + 2 * math.cos(math.radians(side_angle)) ** 3)
    )
