"""In which unit a figure without one is meant: its thing's own, or that of the others told."""

from __future__ import annotations

from fractions import Fraction

from advisor.facts.units import UNITS
from advisor.language.quantities import quantities

_WIDE = ("m", "kg")  # units of what people also tell in feet or in stone
_SMALL = frozenset(("mm", "cm", "in", "g", "lb"))  # in which nobody tells that


def units_meant(scene, quantity, attribute) -> tuple[str, ...]:
    """The units that a bare figure may be in, where other figures of the line, or of what was told
    before it, stand in another than the attribute's own; () where nothing speaks for another.
    """
    if quantity.unit is not None or attribute.unit not in _WIDE:
        return ()
    others = [u for u in (*_typed(scene), *_told(scene)) if _rival(u, attribute.unit)]
    return (attribute.unit, *dict.fromkeys(others)) if others else ()


def bare(quantity) -> str:
    """The figure without a unit, in decimals."""
    value = Fraction(quantity.value)
    return str(value.numerator) if value.denominator == 1 else f"{float(value):g}"


def _typed(scene):
    return [q.unit for q in quantities(scene.tokens) if q.unit]


def _told(scene):
    """The last words of figures told before: the 'ft' of '45 ft'."""
    return [
        fact.raw.rstrip("?").split()[-1]
        for fact in scene.context.facts.values()
        if isinstance(fact.raw, str) and " " in fact.raw
    ]


def _rival(unit: str, own: str) -> bool:
    return unit in UNITS and unit != own and unit not in _SMALL and UNITS[unit][0] is UNITS[own][0]
