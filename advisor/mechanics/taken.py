"""Numbers handed on as they are, or compared: what was worked out, else what was stated."""

from collections.abc import Callable

from advisor.mechanics.check import at_least, whole
from advisor.mechanics.registry import calculation


@calculation(formula="as it is", unit="m", rises=("length",))
def length_taken(length: float) -> float:
    """A length as it is, m, handed on.

    Formula: as it is. Input and answer alike. Errors: none of its own. Source: arithmetic.
    """
    return length


@calculation(formula="as it is", unit="N", rises=("force",))
def force_taken(force: float) -> float:
    """A force as it is, N, handed on.

    Formula: as it is. Input and answer alike. Errors: none of its own. Source: arithmetic.
    """
    return force


@calculation(formula="as it is", unit="s", rises=("time",))
def time_taken(time: float) -> float:
    """A time as it is, s, handed on.

    Formula: as it is. Input and answer alike. Errors: none of its own. Source: arithmetic.
    """
    return time


@calculation(formula="the longer of both", unit="m", rises=("first", "second"))
def longer_of(first: float, second: float) -> float:
    """The longer of two lengths, m.

    Formula: the greater. Inputs and answer alike. Errors: none of its own. Source: arithmetic.
    """
    return max(first, second)


@calculation(formula="the greater of both", unit="N", rises=("first", "second"))
def greater_force(first: float, second: float) -> float:
    """The greater of two forces, N.

    Formula: the greater. Inputs and answer alike. Errors: none of its own. Source: arithmetic.
    """
    return max(first, second)


@calculation(formula="the wider of both", unit="degree", rises=("first", "second"))
def wider_of(first: float, second: float) -> float:
    """The wider of two angles, degrees.

    Formula: the greater. Inputs and answer alike. Errors: none of its own. Source: arithmetic.
    """
    return max(first, second)


@calculation(formula="the longer of both", unit="s", rises=("first", "second"))
def longer_time(first: float, second: float) -> float:
    """The longer of two times, s.

    Formula: the greater. Inputs and answer alike. Errors: none of its own. Source: arithmetic.
    """
    return max(first, second)


@calculation(formula="the shorter of both", unit="s", rises=("first", "second"))
def shorter_time(first: float, second: float) -> float:
    """The shorter of two times, s.

    Formula: the lesser. Inputs and answer alike. Errors: none of its own. Source: arithmetic.
    """
    return min(first, second)


@calculation(
    formula="short = max(0, load - strength)", unit="N", rises=("load",), falls=("strength",)
)
def force_short(load: float, strength: float) -> float:
    """By how much a strength stays below a load; 0 where it does not.

    Formula: short = max(0, load - strength). Inputs, N, 0 or more. Answer: N.
    Errors: ValueError for a negative input. Source: arithmetic.
    """
    at_least("The load", load, 0, "N")
    at_least("The strength", strength, 0, "N")
    return max(0.0, load - strength)


@calculation(formula="rest = people - 1", unit="1", rises=("people",))
def count_less_one(people: float) -> float:
    """How many are left when one is taken away.

    Formula: rest = people - 1. Input: whole count, at least 1. Answer: count.
    Errors: ValueError outside this range. Source: arithmetic.
    """
    whole("The number of people", people, 1)
    return people - 1


def _apart(unit: str) -> Callable[[float, float], float]:
    """How far a stated number of one unit lies from the one worked out."""

    def apart(stated: float, worked: float) -> float:
        """How far a stated number lies from the one worked out.

        Formula: apart = |stated - worked out|. Inputs and answer alike. Errors: none of its own.
        Source: arithmetic.
        """
        return abs(stated - worked)

    apart.__name__ = {"m": "length_apart", "degree": "angle_apart", "s": "time_apart"}[unit]
    return calculation(
        formula="apart = |stated - worked out|",
        unit=unit,
        turns={"stated": lambda worked: [worked], "worked": lambda stated: [stated]},
    )(apart)


length_apart, angle_apart, time_apart = map(_apart, ("m", "degree", "s"))
