"""How far a number may go, in words: 'at least 6 m', 'up to 16 m', 'above 18 m'.

Where an outcome turns at a figure that people say, that is told as it is. Else the limit is
rounded in the careful direction: what is told as easier holds at every value of its range.
"""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from advisor.decide.verdicts import VERDICTS
from advisor.facts.quantity import unit_written
from advisor.facts.times import show_time
from advisor.facts.units import COUNT, TIME, UNITS, in_steps, show

TENTHS = ("m", "ft", "yd", "st", "t", "kN", "h", "deg", "degC", "%")  # said to a tenth
FINER = 4  # how many times finer than that a limit may be said, each time tenfold


class Edge(NamedTuple):
    """Where an outcome turns, as it is said, in steps: the end of the low side and the start of
    the high side, and of each whether it belongs to that side.
    """

    end: Fraction
    with_end: bool
    start: Fraction
    with_start: bool


class Scale:
    """How the bounds of one number are said: in the unit in which it was written, preferring the
    `figures` of the rules.
    """

    def __init__(self, attribute, figures=(), written=None):
        self.attribute, self.figures = attribute, frozenset(figures)
        self.clock = attribute.type == "time"
        self.unit = attribute.unit
        if not self.clock and written is not None:
            self.unit = unit_written(written, attribute.unit)
        self.least = 60 if self.clock else 1

    def edge(self, last, first, low_easier: bool, keep=None) -> Edge:
        """The turn between `last` and the next value, `first`; the side that is easier is rounded
        inwards, but still holds `keep`.
        """
        if not self.clock and UNITS[self.unit][0] is COUNT:
            return Edge(last, True, first, True)
        figure = self._figure(last, first)
        if figure is not None:
            return figure
        grain = self._grain()
        for _ in range(FINER):
            at = last // grain * grain if low_easier else -(-first // grain) * grain
            if keep is None or (keep <= at if low_easier else keep >= at):
                return _at(at, low_easier)
            grain /= 10
        return _at(first, False)

    def _figure(self, last, first):
        """The edge where one of the two is a figure that people say."""
        grain = self._grain()
        for said in (
            lambda value: value in self.figures and value % (grain / 10) == 0,
            lambda value: value % (1800 if self.clock else 10 * grain) == 0,
            lambda value: value % grain == 0,
        ):
            for value, low in ((first, False), (last, True)):
                if said(value):
                    return _at(value, low)
        return None

    def _grain(self) -> Fraction:
        """The smallest difference that is said of it."""
        if self.clock:
            return Fraction(60)
        fine = self.unit in TENTHS or self.unit == self.attribute.unit == "mm"
        return in_steps(Fraction(1), self.unit) / (10 if fine else 1)

    def span(self, low, high, bottom, top) -> str:
        """All values from `low` to `high` of a number that runs from `bottom` to `top`, rounded
        inwards.
        """
        if low == high:
            return self.say(low)
        before = self.edge(low - self.least, low, False, high) if low > bottom else None
        after = self.edge(high, high + self.least, True, low) if high < top else None
        return self.between(before, after)

    def between(self, before, after) -> str:
        """Values from one edge to another, or from or to the end of the range where None."""
        if before is None or after is None:
            return self._above(before) if before else self._below(after) if after else "any value"
        if before.with_start and after.with_end:
            first, last = self.say(before.start), self.say(after.end)
            return first if first == last else f"{first} to {last}"
        return f"{self._above(before)} and {self._below(after)}"

    def _below(self, edge) -> str:
        said = self.say(edge.end)
        if self.clock:
            return f"at {said} or earlier" if edge.with_end else f"before {said}"
        return f"up to {said}" if edge.with_end else f"below {said}"

    def _above(self, edge) -> str:
        said = self.say(edge.start)
        if self.clock:
            return f"at {said} or later" if edge.with_start else f"after {said}"
        return f"at least {said}" if edge.with_start else f"above {said}"

    def say(self, steps) -> str:
        """One number in words, exactly: no unit needs more than four decimals."""
        if self.clock:
            return show_time(int(steps))
        if UNITS[self.unit][0] is TIME and steps % 60 and steps > 60:
            return f"{float(steps) / 60:.3f}".rstrip("0") + " min"
        return show(steps, self.unit, 4)


def _at(value, low: bool) -> Edge:
    """An edge at a value that belongs to the low side, or to the high one."""
    return Edge(value, low, value, not low)


def easier(one, other) -> bool:
    """Whether one outcome surely asks less than another: fewer stops, or a milder verdict."""
    return _burden(one) < _burden(other)


def _burden(state) -> frozenset:
    """What an outcome asks, so that one that asks more holds the other."""
    if isinstance(state, frozenset):
        return state
    if isinstance(state, tuple):
        return state[0] if isinstance(state[0], frozenset) else frozenset()
    if state in VERDICTS:
        return frozenset(range(VERDICTS.index(state)))
    return frozenset(["stop"]) if state == "stands" else frozenset()
