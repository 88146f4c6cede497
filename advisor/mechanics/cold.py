"""Cold: wind chill inside its chart only, and the heat that a body loses.

No function here says how long a person may stand in a cave. Wind chill is not defined for still
or mild air,
and wet clothing is outside every published index read; a planning limit is a trade figure, to be
shown as such.
"""

import math

from advisor.mechanics.registry import calculation

KMH = 3.6
"""km/h in one m/s."""


@calculation(
    formula="13.12 + 0.6215 t - 11.37 v^0.16 + 0.3965 t v^0.16",
    unit="degC",
    rises=("air_temperature",),
    falls=("wind_speed",),
)
def wind_chill(air_temperature: float, wind_speed: float) -> float:
    """Wind chill of air from +5 to -50 degrees Celsius.

    Formula: 13.12 + 0.6215 t - 11.37 v^0.16 + 0.3965 t v^0.16, v in km/h.
    Inputs: air temperature, deg C, -50 to 5; wind at 10 m height, m/s, 5 to 80 km/h. Answer: deg
    C equivalent.
    Errors: ValueError with the reason outside the published chart. It is for dry skin of the
    face, not for wet clothes.
    Source: Wind Chill Calculation Chart, Environment Canada, 2006.
    """
    speed = wind_speed * KMH
    if not -50 <= air_temperature <= 5:
        raise ValueError(
            f"Wind chill says nothing about air at {air_temperature:g} degrees; its chart runs from"
            " -50 to 5 degrees."
        )
    if not 5 - 1e-9 <= speed <= 80 + 1e-9:
        raise ValueError(
            f"Wind chill says nothing about wind of {speed:.3g} km/h; its chart runs from 5 to 80"
            " km/h."
        )
    slowed = math.pow(speed, 0.16)
    return 13.12 + 0.6215 * air_temperature + (0.3965 * air_temperature - 11.37) * slowed
