"""Choosing ladders to join."""

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from itertools import combinations

from advisor.mechanics.check import above

MOST_LADDERS = 16
"""Above this number the exact search would be slow; this program's limit, not the trade's."""


def choose_ladders(
    lengths: Sequence[float], needed: float, most_joins: int | None = None
) -> tuple[int, ...] | None:
    """Positions of the ladders that reach the needed length with least surplus, then with fewest
    joins.

    Method: every set of ladders is tried, in exact decimal arithmetic; equal sets are settled by
    position in the list.
    Inputs: lengths in m, each above 0; needed length in m, above 0 (give the far end of a range);
    most joins allowed, or None.
    Answer: tuple of positions in the list, counted from 0, or None if no allowed set is long
    enough.
    Errors: ValueError for a length that is not above 0, or more than 16 ladders.
    Source: exhaustive search; the order of preference is common practice.
    """
    if len(lengths) > MOST_LADDERS:
        raise ValueError(
            f"There are {len(lengths)} ladders to choose from; name the {MOST_LADDERS} nearest to"
            " hand."
        )
    above("The needed length", needed, 0, "m")
    for length in lengths:
        above("A ladder length", length, 0, "m")
    exact = [_exact(length) for length in lengths]
    most = len(exact) if most_joins is None else min(len(exact), most_joins + 1)
    best = min(_long_enough(exact, _exact(needed), most), default=None)
    return best[2] if best else None


def joined_length(lengths: Sequence[float], chosen: Iterable[int]) -> float:
    """Length of the chosen ladders joined end to end, in m, summed in exact decimal arithmetic.

    Inputs: lengths in m; chosen positions in the list. Errors: IndexError for a position that is
    not there.
    """
    return float(sum(_exact(lengths[position]) for position in chosen))


def _long_enough(
    exact: Sequence[Fraction], needed: Fraction, most: int
) -> Iterator[tuple[Fraction, int, tuple[int, ...]]]:
    for count in range(1, most + 1):
        for chosen in combinations(range(len(exact)), count):
            total = sum(exact[position] for position in chosen)
            if total >= needed:
                yield total - needed, count - 1, chosen


def _exact(value: float) -> Fraction:
    """The decimal number as written, so that 0.1 + 0.2 is 0.3."""
    return Fraction(repr(value))
