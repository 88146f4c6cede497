"""Ranges of a number, and calculations carried out on ranges."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from msgspec import Struct

from advisor.mechanics.registry import Calculation, registered


class Interval(Struct, frozen=True, order=True):
    """All numbers from lo to hi, both ends included.

    Units: those of the quantity it stands for.
    Errors: ValueError if an end is not a finite number or lo is above hi.
    """

    lo: float
    hi: float

    def __post_init__(self) -> None:
        for end in (self.lo, self.hi):
            if isinstance(end, bool) or not isinstance(end, (int, float)) or not math.isfinite(end):
                raise ValueError(f"A range has the end {end!r}; give two finite numbers.")
        if self.lo > self.hi:
            raise ValueError(
                f"A range runs from {self.lo:g} to {self.hi:g}; give the smaller end first."
            )

    @classmethod
    def point(cls, value: float) -> Interval:
        """The range that holds one value only."""
        return cls(value, value)

    @property
    def is_point(self) -> bool:
        """True if both ends are the same number."""
        return self.lo == self.hi

    def __contains__(self, value: float) -> bool:
        return self.lo <= value <= self.hi


def over(function: Callable[..., Any] | str, **inputs: Any) -> Interval:
    """Range of a registered calculation when its numbers are ranges.

    Method: the calculation is worked at the ends of each range that its declared directions call
    for
    (and at the declared turning points inside), so every point result lies in the answer.
    Inputs: floats or Interval; text, tables and lists as they are.
    Errors: ValueError if the calculation gives no number or any corner is outside its valid range.
    """
    calculation = registered(function)
    given = _complete(calculation, inputs)
    ranges = {name: _as_range(name, given[name], calculation) for name in calculation.parameters}
    low = [_number(calculation, point) for point in _points(calculation, ranges, upper=False)]
    high = [_number(calculation, point) for point in _points(calculation, ranges, upper=True)]
    return Interval(min(low), max(high))


def _complete(calculation: Calculation, inputs: Mapping[str, Any]) -> dict[str, Any]:
    """The inputs with defaults filled in."""
    given = {**calculation.optional, **inputs}
    missing = [name for name in calculation.parameters if name not in given]
    unknown = [name for name in given if name not in calculation.parameters]
    if missing or unknown:
        wrong = f"needs {missing[0]}" if missing else f"knows no {unknown[0]}"
        raise ValueError(
            f"The calculation {calculation.name} {wrong}; give {', '.join(calculation.parameters)}."
        )
    return given


def _as_range(name: str, value: Any, calculation: Calculation) -> Any:
    if name in calculation.passed:
        return value
    return value if isinstance(value, Interval) else Interval.point(value)


def _points(
    calculation: Calculation, ranges: Mapping[str, Any], upper: bool
) -> list[dict[str, Any]]:
    """Every set of inputs at which the extreme on the asked side can lie."""
    points: list[dict[str, Any]] = [{}]
    for name in calculation.parameters:
        points = [
            {**point, name: value}
            for point in points
            for value in _ends(calculation, name, ranges[name], upper)
        ]
    extra = [
        {**point, name: turn}
        for name, turning in calculation.turns.items()
        for point in points
        for turn in turning(**{other: value for other, value in point.items() if other != name})
        if turn in ranges[name]
    ]
    return points + extra


def _ends(calculation: Calculation, name: str, given: Any, upper: bool) -> Sequence[Any]:
    if name in calculation.passed:
        return [given]
    if given.is_point:
        return [given.lo]
    if name in calculation.corners or name in calculation.turns:
        return [given.lo, given.hi]
    return [given.hi] if (name in calculation.rises) == upper else [given.lo]


def _number(calculation: Calculation, point: Mapping[str, Any]) -> float:
    result = calculation.function(**point)
    if isinstance(result, bool) or not isinstance(result, (int, float)):
        raise ValueError(
            f"The calculation {calculation.name} gives no number; work it at one end of each range."
        )
    return float(result)
