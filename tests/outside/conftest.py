"""Checks against something outside the project: each one is recorded and shown in a table at the
end of the run.
"""

from pathlib import Path

import pint
import pytest
import yaml

FIGURES = Path(__file__).resolve().parents[2] / "rules" / "figures"
UNITS = pint.UnitRegistry()


@pytest.fixture
def record(request):
    """record(calculation, oracle, got, want, rel=..., abs=...) asserts nearness and notes the
    difference for the table.
    """

    def check(calculation, oracle, got, want, rel=None, abs=None):
        name = calculation if isinstance(calculation, str) else calculation.__name__
        kind, scale = (
            ("of the value", max(-want, want) or 1.0) if abs is None else ("absolute", 1.0)
        )
        difference = max(got - want, want - got) / scale
        request.node.user_properties.append(("checked", [name, oracle, kind, float(difference)]))
        assert got == pytest.approx(want, rel=rel or 0, abs=abs or 0), (name, oracle)

    return check


def pytest_terminal_summary(terminalreporter):
    noted = {}
    for report in (
        r
        for reports in terminalreporter.stats.values()
        for r in reports
        if getattr(r, "when", "") == "call"
    ):
        for name, oracle, kind, difference in (
            value for key, value in report.user_properties if key == "checked"
        ):
            largest, count = noted.get((name, oracle, kind), (0.0, 0))
            noted[name, oracle, kind] = (max(largest, difference), count + 1)
    if not noted:
        return
    terminalreporter.section("checks against outside sources")
    width = max(len(name) for name, _, _ in noted)
    for (name, oracle, kind), (largest, count) in sorted(noted.items()):
        terminalreporter.write_line(
            f"{name:<{width}} -> {oracle} ({count}) -> largest difference {largest:.2g} {kind}"
        )


def to_si(written):
    """A number, or a written quantity such as '3.2 kN', in SI base units (temperatures in degrees
    Celsius).
    """
    if not isinstance(written, str):
        return float(written)
    number, unit = written.split(" ", 1)
    if unit == "°C":
        return float(number)
    return (
        UNITS.Quantity(float(number), "percent" if unit == "%" else unit).to_base_units().magnitude
    )


@pytest.fixture(scope="session")
def figures():
    """Every figure of rules/figures by name, as written."""
    found = {}
    for path in sorted(FIGURES.glob("*.yaml")):
        for name, figure in yaml.safe_load(path.read_text(encoding="utf-8"))["figures"].items():
            assert name not in found, f"{name} stands twice"
            found[name] = figure
    return found


@pytest.fixture(scope="session")
def figure(figures):
    """figure(name) in SI: the value, or the table as {key: value} with keys that are quantities in
    SI too.
    """

    def look_up(name):
        entry = figures[name]
        if "value" in entry:
            return to_si(entry["value"])
        return {_key(key): to_si(value) for key, value in entry["table"].items()}

    return look_up


def _key(key):
    if not isinstance(key, str):
        return float(key)
    return to_si(key) if key[0].isdigit() and key.split()[-1] == "mm" else key
