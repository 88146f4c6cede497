"""Checks of inputs, each with one clear sentence: what is wrong and what to give instead."""


def at_least(what: str, value: float, least: float, unit: str = "") -> None:
    """Refuse a value below least. Errors: ValueError."""
    if value < least:
        raise ValueError(f"{what} is {_with(value, unit)}; give {_with(least, unit)} or more.")


def above(what: str, value: float, limit: float, unit: str = "") -> None:
    """Refuse a value at or below limit. Errors: ValueError."""
    if value <= limit:
        raise ValueError(f"{what} is {_with(value, unit)}; give more than {_with(limit, unit)}.")


def between(what: str, value: float, least: float, most: float, unit: str = "") -> None:
    """Refuse a value below least or above most. Errors: ValueError."""
    if not least <= value <= most:
        raise ValueError(f"{what} is {_with(value, unit)}; give {least:g} to {_with(most, unit)}.")


def share(what: str, value: float) -> None:
    """Refuse a ratio that is not above 0 and at most 1. Errors: ValueError."""
    if not 0 < value <= 1:
        raise ValueError(f"{what} is {value:g}; give a ratio above 0 and at most 1.")


def angle_below(what: str, value: float, limit: float) -> None:
    """Refuse an angle below 0 degrees, or at or above limit. Errors: ValueError."""
    if not 0 <= value < limit:
        raise ValueError(
            f"{what} is {value:g} degrees; give 0 degrees or more and less than {limit:g} degrees."
        )


def whole(what: str, value: float, least: float) -> None:
    """Refuse a count that is not whole or is below least. Errors: ValueError."""
    if value != int(value) or value < least:
        raise ValueError(f"{what} is {value:g}; give a whole number, {least:g} or more.")


def _with(value: float, unit: str) -> str:
    return f"{value:g} {unit}".strip()
