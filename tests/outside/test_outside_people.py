"""Cold, effort, masses and air against published charts, studies and limits."""

import pytest

from advisor.mechanics import air, cold, effort

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


def test_cooling_of_a_person(figure, record):
    # Worked from an open textbook's heat figures: 70 kg, 150 W short, one degree in 27 min.
    got = cold.cooling_time(70, figure("specific heat of the body"), 1, 150)
    record(cold.cooling_time, "Body Physics (open textbook), worked", got, 27 * 60, rel=0.02)


def test_stair_climbing_study(figure, record):
    # Medicine and Science in Sports and Exercise 2002 34(4) 695: 180 steps of 15 cm, 27.0 m, 19.7
    # kcal, 0.11 kcal a step.
    record(
        "figure energy of climbing stairs up",
        "stair study 2002",
        figure("energy of climbing stairs up") * 180,
        19.7 * 4184,
        rel=0.01,
    )
    used = 19.7 * 4184
    record(
        effort.climbing_efficiency,
        "stair study 2002, worked for 60 kg",
        effort.climbing_efficiency(effort.climbing_work(60, 27.0), used),
        0.19,
        abs=0.005,
    )


def test_work_of_climbing(record):
    # Worked from the definition: 70 kg up 10 m is 6.86 kJ; at 4 m/min 46 W.
    record(effort.climbing_work, "definition, worked", effort.climbing_work(70, 10), 6860, rel=1e-3)
    record(
        effort.climbing_power, "definition, worked", effort.climbing_power(70, 4 / 60), 46, abs=0.5
    )


def test_effort_of_a_climbing_treadmill(figure, figures):
    # Energy cost on a climbing treadmill at 4.6 to 9.1 m/min: 6.0 to 8.5 times rest.
    low, high = figures["effort of climbing"]["range"]
    assert (low, high) == (6.0, 8.5) and low <= figure("effort of climbing") <= high


@pytest.mark.parametrize(
    "who, kilograms",
    [
        ("9 to 13 years", 40),
        ("14 to 18 years male", 64),
        ("14 to 18 years female", 57),
        ("19 to 30 years male", 76),
        ("19 to 30 years female", 61),
    ],
)
def test_reference_masses(who, kilograms, figure, record):
    # Reference heights and weights, National Academies Press.
    record(
        "figure reference mass",
        "National Academies Press table",
        figure("reference mass")[who],
        kilograms,
        rel=1e-12,
    )


@pytest.mark.parametrize(
    "name, parts, source",
    [
        ("carbon dioxide long-term limit", 5000, "EH40/2005"),
        ("carbon dioxide short-term limit", 15000, "EH40/2005"),
    ],
)
def test_gas_limits(name, parts, source, figure, record):
    record(f"figure {name}", source, air.ppm_from_ratio(figure(name)), parts, rel=1e-12)


@pytest.mark.parametrize("name, percent", [("oxygen low alarm", 19.5), ("oxygen high alarm", 23.5)])
def test_oxygen_limits(name, percent, figure, record):
    record(f"figure {name}", "29 CFR 1910.146", figure(name), percent / 100, rel=1e-12)


def test_parts_and_per_cent(record):
    # A gas monitoring page: 10 000 ppm is 1 %.
    record(air.ratio_from_ppm, "gas monitoring page", air.ratio_from_ppm(10000), 0.01, rel=1e-12)
    record(air.ppm_from_ratio, "gas monitoring page", air.ppm_from_ratio(0.01), 10000, rel=1e-12)


@pytest.mark.parametrize(
    "parts, grams_per_mole, milligrams", [(20, 28.01, 23.3), (10, 34.08, 14.2)]
)
def test_mass_concentration(parts, grams_per_mole, milligrams, record):
    # Conversion ppm x M / 24.055 at 20 C and 101.325 kPa, as used with workplace limits.
    got = air.mass_concentration(parts / 1e6, grams_per_mole / 1000, 20, 101325) * 1e6
    record(air.mass_concentration, "ppm x M / 24.055", got, milligrams, rel=0.005)
    record(
        air.mass_concentration, "ppm x M / 24.055", got, parts * grams_per_mole / 24.055, rel=1e-4
    )
