"""What the engines make of a rule base once, for the cache: code objects and plain data."""

from __future__ import annotations

from types import CodeType
from typing import Any, NamedTuple

from advisor.engine.plain import compile_strata
from advisor.engine.rete import Batches, ReteEngine
from advisor.engine.written import Written
from advisor.model.base import Base


class Made(NamedTuple):
    """The compiled engine's code of each stratum, and the second engine's rule sets."""

    code: tuple[CodeType, ...]
    batches: Batches


def make(base: Base) -> tuple[Any, ...]:
    """What `made` takes back, of the kinds that the cache can keep."""
    second = ReteEngine(base.rules, base.strata, base.vocabulary).write_all()
    return compile_strata(base.rules, base.strata), [
        (key, [(tuple(rules), kinds) for rules, kinds in batches])
        for key, batches in second.items()
    ]


def made(kept: tuple[Any, ...]) -> Made:
    """What `make` gave, as the engines take it."""
    code, second = kept
    return Made(
        code,
        {key: [(Written(*rules), kinds) for rules, kinds in batches] for key, batches in second},
    )
