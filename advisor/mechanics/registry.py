"""The register of calculations, with the direction in which each answer moves with each input."""

import functools
import inspect
import math
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from typing import Any, TypeVar, cast

from msgspec import Struct, field

Formula = TypeVar("Formula", bound=Callable[..., Any])

CALCULATIONS: dict[str, "Calculation"] = {}
"""Every registered Calculation by name."""


class Calculation(Struct, frozen=True):
    """A pure calculation and what is declared about it.

    rises, falls: numbers with which the answer never falls, or never rises, over the whole valid
    range.
    corners: numbers whose direction depends on the others, while extremes lie at the ends of the
    range.
    turns: like corners, with a function of the other inputs that lists turning points to try as
    well.
    passed: text, tables and lists, handed on unchanged.
    unit: SI unit of the answer, "1" for a ratio or a count, "degree" for an angle, "" if it is no
    number.
    """

    name: str
    function: Callable[..., Any]
    formula: str
    unit: str
    rises: tuple[str, ...] = ()
    falls: tuple[str, ...] = ()
    corners: tuple[str, ...] = ()
    passed: tuple[str, ...] = ()
    turns: Mapping[str, Callable[..., Sequence[float]]] = field(default_factory=dict)
    optional: Mapping[str, Any] = field(default_factory=dict)
    parameters: tuple[str, ...] = ()

    @property
    def numbers(self) -> tuple[str, ...]:
        """Names of the numeric inputs, in order."""
        return tuple(name for name in self.parameters if name not in self.passed)

    @property
    def purpose(self) -> str:
        """The first line of the description."""
        return (inspect.getdoc(self.function) or "").partition("\n")[0]


def calculation(
    *,
    formula: str,
    unit: str,
    rises: Iterable[str] = (),
    falls: Iterable[str] = (),
    corners: Iterable[str] = (),
    turns: Mapping[str, Callable[..., Sequence[float]]] | None = None,
    passed: Collection[str] = (),
) -> Callable[[Formula], Formula]:
    """Register a pure calculation under its own name.

    Errors: TypeError, when the program is written wrongly: an input not declared exactly once, or
    a name used twice.
    The registered function raises ValueError if a number given to it is not finite.
    """
    declared = tuple(rises) + tuple(falls) + tuple(corners) + tuple(turns or ()) + tuple(passed)

    def register(function: Formula) -> Formula:
        signature = inspect.signature(function).parameters
        if sorted(declared) != sorted(signature) or function.__name__ in CALCULATIONS:
            raise TypeError(
                f"{function.__name__}: declare each input once, and use each name once."
            )
        numbers = tuple(name for name in signature if name not in passed)
        guarded = _only_finite(function, tuple(signature), numbers)
        CALCULATIONS[function.__name__] = Calculation(
            name=function.__name__,
            function=guarded,
            formula=formula,
            unit=unit,
            rises=tuple(rises),
            falls=tuple(falls),
            corners=tuple(corners),
            passed=tuple(passed),
            turns=dict(turns or {}),
            parameters=tuple(signature),
            optional={name: p.default for name, p in signature.items() if p.default is not p.empty},
        )
        return guarded

    return register


def registered(function: Callable[..., Any] | str) -> Calculation:
    """The Calculation of a registered function or name.

    Errors: ValueError if it is not registered.
    """
    name = function if isinstance(function, str) else getattr(function, "__name__", repr(function))
    if name not in CALCULATIONS:
        raise ValueError(f"There is no calculation named {name}; use one of the registered names.")
    return CALCULATIONS[name]


def _only_finite(function: Formula, order: Sequence[str], numbers: Sequence[str]) -> Formula:
    @functools.wraps(function)
    def guarded(*args: Any, **kwargs: Any) -> Any:
        given = {**dict(zip(order, args)), **kwargs}
        for name in numbers:
            if name in given and not _is_finite(given[name]):
                raise ValueError(
                    f"{name.replace('_', ' ')} is {given[name]!r}; give a finite number."
                )
        return function(*args, **kwargs)

    return cast(Formula, guarded)


def _is_finite(value: object) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool) and math.isfinite(value)
