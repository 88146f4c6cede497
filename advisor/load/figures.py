"""Reading rules/figures/*.yaml: trade figures in SI units."""

from __future__ import annotations

from collections.abc import Collection

from advisor.facts.quantity import NotAQuantity, split_unit
from advisor.facts.units import UNITS
from advisor.faults import Fault, did_you_mean
from advisor.load.schema import form_faults
from advisor.load.tree import Document
from advisor.model.calculation import Figure

ONLY_IN_FIGURES = {
    "MPa": 1e6,
    "kg/m": 1.0,
    "g/m": 1e-3,
    "W": 1.0,
    "J/(kg": 1.0,
    "J/(kg K)": 1.0,
    "kcal": 4184.0,
}  # to SI


def read_figures(
    document: Document, sources: Collection[str]
) -> tuple[dict[str, Figure], list[Fault]]:
    """({name: Figure}, faults)."""
    faults = form_faults(document, "figures")
    if faults:
        return {}, faults
    found = {}
    for name, spec in document.data["figures"].items():
        path = ["figures", name]
        if ("value" in spec) == ("table" in spec):
            faults.append(
                Fault(document.key_place(path), "a figure has either a value or a table.")
            )
            continue
        listed = spec["source"] if isinstance(spec["source"], list) else [spec["source"]]
        faults += [
            Fault(
                document.place(path + ["source"]),
                f"'{s}' is not in sources.yaml.{did_you_mean(s, sources)}",
            )
            for s in listed
            if s not in sources
        ]
        try:
            value = si(spec["value"]) if "value" in spec else None
            table = {row: si(cell) for row, cell in spec.get("table", {}).items()}
            for end in spec.get("range", ()):
                si(end)
        except NotAQuantity as error:
            faults.append(Fault(document.place(path), str(error)))
            continue
        shown = (
            str(spec["value"])
            if "value" in spec
            else ", ".join(f"{k}: {v}" for k, v in spec["table"].items())
        )
        found[name] = Figure(
            name,
            value,
            table,
            tuple(map(str, spec.get("range", ()))),
            shown,
            tuple(listed),
            spec["status"],
            spec["note"],
        )
    return found, faults


def kind_of(written: object) -> str:
    """What a written figure is a figure of: 'length', 'time', 'ratio' for a bare number, or the
    unit itself where only figures have it.
    """
    word = str(written).strip().partition(" ")[2]
    if word in ONLY_IN_FIGURES:
        return word
    name = split_unit(str(written))[1]
    return UNITS[name][0].name if name else "ratio"


def si(written: object) -> float:
    """A written figure in SI units: '3 m/min' -> 0.05, '50 %' -> 0.5, 0.65 -> 0.65; raises
    NotAQuantity.
    """
    if isinstance(written, (int, float)) and not isinstance(written, bool):
        return float(written)
    if not isinstance(written, str):
        raise NotAQuantity("expected a number with a unit known here, such as '2.9 kN'.")
    number, _, word = written.strip().partition(" ")
    if word in ONLY_IN_FIGURES:
        return float(split_unit(number)[0]) * ONLY_IN_FIGURES[word]
    value, name = split_unit(written)
    if name is None:
        return float(value)
    return float(value * UNITS[name][1] / (100 if name == "%" else 1))
