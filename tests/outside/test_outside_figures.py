"""The form of the figures, with units read by a general library (pint)."""

import pint
import pytest

STATUSES = {"read in the source", "from memory", "common practice", "worked out"}
ENDINGS = {  # how a name ends, and the dimension that the figure must then have
    "strength": "newton",
    "force": "newton",
    "proof load": "newton",
    "test load": "newton",
    "modulus": "newton",
    "length": "metre",
    "speed": "metre/second",
    "time": "second",
    "mass": "kilogram",
}
BEGINNINGS = {
    "mass of": "kilogram",
    "pull to": "newton",
    "climbing rate": "metre/second",
    "settling of": "metre",
    "standing time": "second",
}


def written(entry):
    values = [entry["value"]] if "value" in entry else list(entry["table"].values())
    return values + entry.get("range", [])


def test_every_figure_has_one_value_a_source_and_a_status(figures):
    for name, entry in figures.items():
        assert ("value" in entry) != ("table" in entry), name
        assert set(entry) <= {"value", "table", "range", "source", "status", "note"}, name
        assert entry["status"] in STATUSES and entry["source"] and entry["note"].endswith("."), name


def test_memory_and_practice_are_never_called_read(figures):
    for name, entry in figures.items():
        if entry["source"] in ("from-memory", "common-practice"):
            assert entry["status"] != "read in the source", name


def test_ranges_hold_their_value(figures):
    units = pint.UnitRegistry()
    for name, entry in figures.items():
        if "range" in entry:
            low, value, high = [
                _quantity(units, text)
                for text in (entry["range"][0], entry["value"], entry["range"][1])
            ]
            assert low <= value <= high, name


def test_units_have_the_dimension_that_the_name_says(figures):
    units, checked = pint.UnitRegistry(), 0
    for name, entry in figures.items():
        wanted = [unit for word, unit in ENDINGS.items() if name.endswith(" " + word)]
        wanted += [unit for word, unit in BEGINNINGS.items() if name.startswith(word + " ")]
        for text in written(entry) if wanted else []:
            assert _quantity(units, text).check(units(wanted[0]).dimensionality), (name, text)
            checked += 1
    assert checked > 90


def test_factors_and_efficiencies_are_plain_ratios(figures):
    for name, entry in figures.items():
        if name.startswith(("knot factor", "termination factor", "efficiency", "friction of")):
            assert all(isinstance(value, float) and 0 < value <= 1 for value in written(entry)), (
                name
            )


@pytest.mark.parametrize(
    "text, kilonewtons", [("920 lbf", 4.0924), ("300 kgf", 2.942), ("2000 lbf", 8.896)]
)
def test_old_units(text, kilonewtons):
    # Unit factors used when old tables were written into the figures, by pint.
    units = pint.UnitRegistry()
    assert _quantity(units, text).to("kN").magnitude == pytest.approx(kilonewtons, rel=1e-4)


def _quantity(units, text):
    if not isinstance(text, str):
        return units.Quantity(float(text), "")
    number, unit = text.split(" ", 1)
    return units.Quantity(float(number), {"%": "percent", "°C": "degC"}.get(unit, unit))
