"""Cold and air against published charts and limits."""

import re
from pathlib import Path

import pytest

from advisor.mechanics import cold

CHART_AIR = (5, 0, -5, -10, -15, -20, -25, -30, -35, -40, -45, -50)
# Wind Chill Calculation Chart, Environment Canada, 2006: km/h and chill at each air temperature
CHART = {
    5: (4, -2, -7, -13, -19, -24, -30, -36, -41, -47, -53, -58),
    10: (3, -3, -9, -15, -21, -27, -33, -39, -45, -51, -57, -63),
    15: (2, -4, -11, -17, -23, -29, -35, -41, -48, -54, -60, -66),
    20: (1, -5, -12, -18, -24, -30, -37, -43, -49, -56, -62, -68),
    30: (0, -6, -13, -20, -26, -33, -39, -46, -52, -59, -65, -72),
    40: (-1, -7, -14, -21, -27, -34, -41, -48, -54, -61, -68, -74),
    60: (-2, -9, -16, -23, -30, -36, -43, -50, -57, -64, -71, -78),
    80: (-3, -10, -17, -24, -31, -38, -45, -52, -60, -67, -74, -81),
}


@pytest.mark.parametrize("speed", CHART)
def test_wind_chill_chart(speed, record):
    for temperature, chill in zip(CHART_AIR, CHART[speed]):
        record(
            cold.wind_chill,
            "Environment Canada chart 2006",
            cold.wind_chill(temperature, speed / 3.6),
            chill,
            abs=0.5,
        )


def test_wind_chill_worked_example(record):
    # A university meteorology exercise: 2 C and 7 km/h give -0.08.
    record(cold.wind_chill, "university exercise", cold.wind_chill(2, 7 / 3.6), -0.08, abs=0.01)


# What the general library pythermalcomfort 4.8.1 gives, written down once: with all that it needs
# it is larger than the other libraries of the tests together.
LIBRARY = {
    (-10, 20): -17.86058434436593,
    (0, 5): -1.5894239550074207,
    (5, 80): -2.697868649618589,
    (-30, 33): -46.23164289123996,
}


def test_wind_chill_against_a_library(record):
    for (temperature, speed), chill in LIBRARY.items():
        record(
            cold.wind_chill,
            "pythermalcomfort",
            cold.wind_chill(temperature, speed / 3.6),
            chill,
            abs=1e-6,
        )


@pytest.mark.parametrize(
    "temperature, speed", [(9, 10), (5.1, 10), (0, 4.9), (0, 0), (0, 81), (-51, 20)]
)
def test_wind_chill_says_nothing_outside_its_chart(temperature, speed):
    with pytest.raises(ValueError, match="says nothing"):
        cold.wind_chill(temperature, speed / 3.6)


ALARMS = Path(__file__).resolve().parents[2] / "rules" / "numbers" / "air-alarm.yaml"


def limits(attribute, form):
    """The figures against which the rules on alarm points hold a reading."""
    written = ALARMS.read_text("utf-8")
    return set(re.findall(rf"site\.{attribute}: \{{{form}: ([^}}]*)\}}", written))


def test_oxygen_limits():
    # 29 CFR 1910.146: under 19.5 % and over 23.5 %.
    # A meter alarms at the figure itself, so the rule takes that in. Ordinary air has 20.9 %, and a
    # rule asks why it is half a per cent less.
    assert limits("oxygen", "below") == set()
    assert limits("oxygen", "at most") == {"19.5 %", "20.4 %"} and pytest.approx(0.5) == 20.9 - 20.4
    assert limits("oxygen", "above") == {"23.5 %"}


def test_the_first_alarm_of_carbon_dioxide_is_the_long_term_limit():
    # EH40/2005: 5000 ppm over eight hours, 15 000 ppm over 15 minutes.
    first, second = sorted(float(text.split()[0]) for text in limits("carbon dioxide", "at least"))
    assert first * 1e4 == 5000 and second * 1e4 < 15000
