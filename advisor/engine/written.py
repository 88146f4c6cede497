"""Rules written out as durable-rules' C core reads them: positive patterns, constant tests and
equality joins, nothing else.

The core is exact on that subset and unsafe outside it (negation, comparisons between facts,
alternatives, floats with exponents, names with one hash, over 64 live tests on one fact …), so
every name, value and shape is checked here before it reaches the core. What is written is plain
data: it is made once for a rule base and kept.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Any, NamedTuple, TypeAlias

# The core refuses a fact with more than 64 tests alive at once and overruns at 256 like chains: 60
# a kind stay below both.
MAX_PATTERNS_PER_KIND, MAX_KINDS, MAX_RULES, MAX_PATTERNS, MAX_TESTS = 60, 400, 2000, 12, 24
MAX_NUMBER = 2**53
NAME = re.compile(r"[A-Za-z][A-Za-z0-9_]{0,39}\Z")
OPERATORS = ("eq", "neq", "lt", "lte", "gt", "gte")
RESERVED = ("id", "sid", "k")  # the core's own fields and the one that holds the kind

Value: TypeAlias = int | str
Test: TypeAlias = tuple[str, str, Value]  # operator, field, value
Join: TypeAlias = tuple[str, int, str]  # field, alias of an earlier pattern, its field


class EngineError(Exception):
    """The core was asked for something it cannot do safely, or answered out of order."""


class Pattern(NamedTuple):
    """One positive pattern: a kind, constant tests (operator, field, value) and equality joins
    (field, alias, field). Equal ones are one to whoever keeps what was made of them.
    """

    kind: str
    tests: Sequence[Test] = ()
    joins: Sequence[Join] = ()


Rules: TypeAlias = Mapping[str, Sequence[Pattern]]


class Written(NamedTuple):
    """Rules as the core reads them, and what must be known of them to give it facts."""

    text: str  # JSON; aliases are m0, m1, … in order
    sizes: dict[str, int]  # rule -> how many patterns it has
    fields: dict[str, tuple[str, ...]]  # kind of fact -> its fields that are tested, in order
    numbers: dict[tuple[str, str], bool]  # (kind, field) -> tested as a number, else as a word
    joined: frozenset[tuple[str, str]]  # (kind, field) that is compared with another
    names: dict[int, str]  # hash -> name

    def __hash__(self) -> int:
        return hash(self.text)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Written) and self.text == other.text


@lru_cache(maxsize=8192)
def hash32(text: str) -> int:
    """The core's identity of names and ids (FNV-1a, 32 bit); two texts with one hash would be
    mixed up.
    """
    value = 2166136261
    for byte in text.encode("ascii"):
        value = ((value ^ byte) * 16777619) & 0xFFFFFFFF
    return value


def check_value(value: object) -> None:
    """Whole numbers and short ASCII names only: all that the core compares and joins exactly."""
    if type(value) is int and abs(value) <= MAX_NUMBER:
        return
    if type(value) is str and NAME.match(value):
        return
    raise EngineError(f"the value {value!r} is not one the core compares exactly")


def write(rules: Rules) -> Written:
    """Rules {name: [Pattern]} written out; raises EngineError for what the core cannot do."""
    writer = _Writer()
    text: dict[str, Any] = {
        name: {"all": writer.patterns(name, patterns), "dist": 0}
        for name, patterns in rules.items()
    }
    _limits(rules)
    # Deleting a session in which no action ever completed crashes the core, so each session first
    # runs this rule.
    text["_open"] = {"all": [{"m": {"k": "_open"}}]}
    return Written(
        json.dumps(text),
        {name: len(patterns) for name, patterns in rules.items()},
        {kind: tuple(sorted(fields)) for kind, fields in writer.fields.items()},
        writer.numbers,
        frozenset(writer.joined),
        writer.names,
    )


def _limits(rules: Rules) -> None:
    per: dict[str, int] = {}
    for patterns in rules.values():
        for pattern in patterns:
            per[pattern.kind] = per.get(pattern.kind, 0) + 1
    if (
        max(per.values(), default=0) > MAX_PATTERNS_PER_KIND
        or len(per) > MAX_KINDS
        or len(rules) > MAX_RULES
    ):
        raise EngineError("too many rules for one set; share them among several")


class _Writer:
    """Writes the rules of one set one by one, and gathers what is known of them all."""

    def __init__(self) -> None:
        self.fields: dict[str, set[str]] = {}
        self.numbers: dict[tuple[str, str], bool] = {}
        self.joined: set[tuple[str, str]] = set()
        self.names: dict[int, str] = {}

    def patterns(self, name: str, patterns: Sequence[Pattern]) -> list[dict[str, Any]]:
        """The patterns of one rule as the core reads them."""
        self._name(name)
        if not 1 <= len(patterns) <= MAX_PATTERNS:
            raise EngineError(f"rule {name} has {len(patterns)} patterns")
        written = []
        for position, pattern in enumerate(patterns):
            if len(pattern.tests) > MAX_TESTS or len(pattern.joins) > MAX_TESTS:
                raise EngineError(f"rule {name} tests too much in one pattern")
            tests = [{"k": self._name(pattern.kind)}]
            tests += [self._test(pattern.kind, *test) for test in pattern.tests]
            tests += [self._join(pattern.kind, position, patterns, *join) for join in pattern.joins]
            written.append({f"m{position}": {"$and": tests}})
        return written

    def _name(self, name: str) -> str:
        if (
            type(name) is not str
            or not NAME.match(name)
            or name in RESERVED
            or self.names.setdefault(hash32(name), name) != name
        ):
            raise EngineError(f"the name {name!r} is not safe in the core")
        return name

    def _field(self, kind: str, field: str, number: bool | None) -> None:
        self.fields.setdefault(kind, set()).add(self._name(field))
        if number is not None and self.numbers.setdefault((kind, field), number) is not number:
            raise EngineError(f"{kind}.{field} is tested both as a number and as a word")

    def _test(self, kind: str, operator: str, field: str, value: Value) -> dict[str, Any]:
        if operator not in OPERATORS:
            raise EngineError(f"the operator {operator!r} is not allowed")
        check_value(value)
        if type(value) is str and operator not in ("eq", "neq"):
            raise EngineError(f"{kind}.{field}: words have no order in the core")
        self._field(kind, field, type(value) is int)
        return {field: value} if operator == "eq" else {"$" + operator: {field: value}}

    def _join(
        self,
        kind: str,
        position: int,
        patterns: Sequence[Pattern],
        field: str,
        alias: int,
        other: str,
    ) -> dict[str, Any]:
        if not 0 <= alias < position:
            raise EngineError("a join must look back at an earlier pattern")
        self._field(kind, field, None)
        self._field(patterns[alias].kind, other, None)
        self.joined |= {(kind, field), (patterns[alias].kind, other)}
        return {field: {f"m{alias}": other}}
