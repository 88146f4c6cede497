"""A rating from a few breaking tests."""

import statistics
from collections.abc import Iterable

from advisor.mechanics.check import at_least


def three_sigma_rating(breaks: Iterable[float]) -> float:
    """Rating that few samples should fall below: mean less three sample standard deviations.

    Formula: rating = mean - 3 s, s with n - 1 in the divisor. Inputs: at least two breaking
    forces, N, 0 or more. Answer: N.
    With few samples s is itself uncertain; say how many there were. A scattered set may give less
    than 0, which means no rating.
    Errors: ValueError for fewer than two samples or a negative one. Source: rating rule of rope
    rescue gear standards.
    """
    breaks = list(breaks)
    if len(breaks) < 2:
        raise ValueError(
            f"A rating from {len(breaks)} breaking test is not possible; give at least two."
        )
    for value in breaks:
        at_least("A breaking force", value, 0, "N")
    return statistics.mean(breaks) - 3 * statistics.stdev(breaks)
