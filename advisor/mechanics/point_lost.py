"""What follows when one anchor of a spread gives way."""

import math

from advisor.mechanics.check import above, at_least
from advisor.mechanics.registry import calculation


def _turning_kept(lost_leg: float, spacing: float) -> list[float]:
    """Kept legs at which the drop turns: where its rate of change with the kept leg is nought."""
    under_root = math.sqrt(lost_leg**4 + 8 * (lost_leg * spacing) ** 2)
    squares = [(2 * spacing**2 + lost_leg**2 + sign * under_root) / 2 for sign in (-1, 1)]
    return [math.sqrt(square) for square in squares if square > 0]


@calculation(
    formula="x = (k^2 - l^2 + s^2) / (2 s); drop = k - sqrt(k^2 - x^2)",
    unit="m",
    rises=("spacing",),
    falls=("lost_leg",),
    turns={"kept_leg": _turning_kept},
)
def drop_on_losing_point(kept_leg: float, lost_leg: float, spacing: float) -> float:
    """How far the master point of two tied legs drops when one anchor gives way.

    Formula: x = (k^2 - l^2 + s^2) / (2 s); drop = k - sqrt(k^2 - x^2), x being the sideways
    distance from the kept anchor.
    Inputs, m, above 0: kept leg k, lost leg l, spacing s of two anchors at one height. Both legs
    must have been loaded:
    the master point lies between the anchors. Answer: m. It comes on top of any stretch.
    With k the drop may turn once; the turning points are known in closed form and are tried as
    well as the ends.
    Errors: ValueError if the legs cannot meet or one of them would have hung slack. Source:
    geometry.
    """
    aside = _aside(kept_leg, lost_leg, spacing)
    return kept_leg - math.sqrt(kept_leg**2 - aside**2)


@calculation(
    formula="x = (k^2 - l^2 + s^2) / (2 s)",
    unit="m",
    rises=("kept_leg", "spacing"),
    falls=("lost_leg",),
)
def swing_on_losing_point(kept_leg: float, lost_leg: float, spacing: float) -> float:
    """How far sideways the master point of two tied legs moves when one anchor gives way.

    Formula: x = (k^2 - l^2 + s^2) / (2 s). Inputs, limits and errors: as for drop_on_losing_point.
    Answer: m, to the place under the kept anchor; a swing overshoots it. Source: geometry.
    """
    return _aside(kept_leg, lost_leg, spacing)


@calculation(
    formula="T = W k / (n cos a)",
    unit="N",
    rises=("load", "shock_factor", "angle"),
    falls=("points_left",),
)
def load_after_losing_point(
    load: float, points_left: float, angle: float, shock_factor: float
) -> float:
    """Load on each point that is left when one has given way.

    Formula: T = W k / (n cos a).
    Inputs: load, N, 0 or more; points left n, at least 1; angle of each from the line of the
    load, degrees, 0 or more and below 90;
    factor k, at least 1, for the sudden change (2 if the load comes on at once without a drop).
    Answer: N.
    Errors: ValueError outside these ranges. Source: statics; for a real drop use peak_force.
    """
    at_least("The load", load, 0, "N")
    at_least("The number of points left", points_left, 1)
    at_least("The shock factor", shock_factor, 1)
    if not 0 <= angle < 90:
        raise ValueError(
            f"The angle from the line of the load is {angle:g} degrees; give 0 degrees or more and"
            " less than 90."
        )
    return load * shock_factor / (points_left * math.cos(math.radians(angle)))


def _aside(kept_leg: float, lost_leg: float, spacing: float) -> float:
    for what, length in (
        ("The kept leg", kept_leg),
        ("The lost leg", lost_leg),
        ("The spacing", spacing),
    ):
        above(what, length, 0, "m")
    if kept_leg + lost_leg < spacing:
        raise ValueError(
            f"Legs of {kept_leg:g} m and {lost_leg:g} m cannot span {spacing:g} m; give longer"
            " legs."
        )
    aside = (kept_leg**2 - lost_leg**2 + spacing**2) / (2 * spacing)
    if not 0 <= aside <= spacing:
        raise ValueError(
            f"With legs of {kept_leg:g} m and {lost_leg:g} m over {spacing:g} m one hangs slack;"
            " treat it as one point."
        )
    return min(aside, kept_leg)
