"""A guarded way into durable-rules' C core: positive patterns, constant tests and equality joins,
nothing else.

The core is exact on that subset and unsafe outside it (negation, comparisons between facts,
alternatives, floats with
exponents, reused ids, sessions deleted before any action completed, more than 64 live tests on
one fact …), so every
name, value and shape is checked here before it reaches the core. No background threads are ever
started.
"""

from __future__ import annotations

import json
import re
import threading
import weakref
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from typing import Any, TypeAlias

# The core refuses a fact with more than 64 tests alive at once and overruns at 256 like chains: 60
# a kind stay below both.
MAX_PATTERNS_PER_KIND, MAX_KINDS, MAX_RULES, MAX_PATTERNS, MAX_TESTS = 60, 400, 2000, 12, 24
MAX_NUMBER = 2**53
NAME = re.compile(r"[A-Za-z][A-Za-z0-9_]{0,39}\Z")
OPERATORS = ("eq", "neq", "lt", "lte", "gt", "gte")
# A match as the core writes it: the rule, then under each alias the message that it matched.
RULE, ALIAS = re.compile(r'\{"(\w+)":\{'), re.compile(r'"(m\d+)":\{"k": "\w+", "id": "(\w+)"')
ANSWERS = 32  # answers that a rule set remembers
RESERVED = ("id", "sid", "k")  # the core's own fields and the one that holds the kind


Value: TypeAlias = int | str
Test: TypeAlias = tuple[str, str, Value]  # operator, field, value
Join: TypeAlias = tuple[str, int, str]  # field, alias of an earlier pattern, its field
FactRow: TypeAlias = tuple[str, str, Mapping[str, Value]]  # id, kind, fields
Row: TypeAlias = tuple[str, str, tuple[Value, ...]]  # id, kind, the tested fields' values in order
Match: TypeAlias = tuple[str, tuple[str, ...]]  # name of a rule, ids of the facts it matched


class EngineError(Exception):
    """The core was asked for something it cannot do safely, or answered out of order."""


def core() -> Any:
    """The compiled extension, or None where it is not installed or does not import."""
    try:
        import durable_rules_engine  # type: ignore[import-not-found, unused-ignore]
    except ImportError:
        return None
    return durable_rules_engine


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


class Pattern:
    """One positive pattern: a kind, constant tests (operator, field, value) and equality joins
    (field, alias, field). Equal ones are one to whoever keeps what was made of them.
    """

    __slots__ = ("kind", "tests", "joins")

    def __init__(self, kind: str, tests: Iterable[Test] = (), joins: Iterable[Join] = ()) -> None:
        self.kind, self.tests, self.joins = kind, tuple(tests), tuple(joins)

    def __hash__(self) -> int:
        return hash((self.kind, self.tests, self.joins))

    def __eq__(self, other: object) -> bool:
        same = (self.kind, self.tests, self.joins)
        return isinstance(other, Pattern) and same == (other.kind, other.tests, other.joins)


Rules: TypeAlias = Mapping[str, Sequence[Pattern]]


class RuleSet:
    """Rules {name: [Pattern]} loaded into the core once; aliases are m0, m1, … in order."""

    _lock = threading.Lock()
    _made = 0

    def __init__(self, rules: Rules) -> None:
        self.core = core()
        if self.core is None:
            raise EngineError("durable-rules is not installed")
        self.rules = rules
        self.fields: dict[str, set[str]] = {}
        self.types: dict[tuple[str, str], type] = {}
        self.joined: set[tuple[str, str]] = set()
        self._names: dict[int, str] = {}
        self._orders: dict[str, tuple[str, ...]] = {}  # kind -> its fields, as a row has them
        self._answers: dict[tuple[Row, ...], list[Match]] = {}
        definition: dict[str, Any] = {
            name: {"all": self._patterns(name, patterns), "dist": 0}
            for name, patterns in rules.items()
        }
        self._limits(rules)
        # Deleting a session in which no action ever completed crashes the core, so each session
        # first runs this rule.
        definition["_open"] = {"all": [{"m": {"k": "_open"}}]}
        with RuleSet._lock:
            RuleSet._made += 1
            self.handle = self.core.create_ruleset(f"set{RuleSet._made}", json.dumps(definition))
        # The core frees a rule set only when told to; at the end of the program all goes anyway.
        weakref.finalize(self, self.core.delete_ruleset, self.handle).atexit = False
        self.sessions = 0

    def _name(self, name: str) -> str:
        if (
            type(name) is not str
            or not NAME.match(name)
            or name in RESERVED
            or self._names.setdefault(hash32(name), name) != name
        ):
            raise EngineError(f"the name {name!r} is not safe in the core")
        return name

    def _limits(self, rules: Rules) -> None:
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

    def _patterns(self, name: str, patterns: Sequence[Pattern]) -> list[dict[str, Any]]:
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

    def _field(self, kind: str, field: str, value_type: type | None) -> None:
        self.fields.setdefault(kind, set()).add(self._name(field))
        if value_type and self.types.setdefault((kind, field), value_type) is not value_type:
            raise EngineError(f"{kind}.{field} is tested both as a number and as a word")

    def _test(self, kind: str, operator: str, field: str, value: Value) -> dict[str, Any]:
        if operator not in OPERATORS:
            raise EngineError(f"the operator {operator!r} is not allowed")
        check_value(value)
        if type(value) is str and operator not in ("eq", "neq"):
            raise EngineError(f"{kind}.{field}: words have no order in the core")
        self._field(kind, field, type(value))
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

    def run(self, facts: Iterable[FactRow], budget: int = 200_000) -> list[Match]:
        """facts: [(id, kind, {field: value})]. Returns [(rule name, (fact id, …))] in firing
        order.
        """
        return self._asked(map(self._row, facts), budget)

    def recalled(self, facts: Iterable[FactRow]) -> Sequence[Match]:
        """What `run` gives, remembered: the core's answer rests on the tested fields alone."""
        rows = tuple(map(self._row, facts))
        if rows not in self._answers:
            while len(self._answers) >= ANSWERS:  # the oldest goes
                del self._answers[next(iter(self._answers))]
            self._answers[rows] = self._asked(rows)
        return self._answers[rows]

    def _row(self, row: FactRow) -> Row:
        """A fact with only the fields that a rule here tests, always in the same order."""
        identity, kind, fields = row
        order = self._orders.get(kind) or self._orders.setdefault(
            kind, tuple(sorted(self.fields.get(kind, ())))
        )
        try:
            return identity, kind, tuple([fields[field] for field in order])
        except KeyError as missing:
            raise EngineError(f"the fact {identity} lacks {missing.args[0]}") from None

    def _asked(self, rows: Iterable[Row], budget: int = 200_000) -> list[Match]:
        with RuleSet._lock:
            self.sessions += 1
            return self._run(rows, f"s{self.sessions}", budget)

    def _run(self, rows: Iterable[Row], session: str, budget: int) -> list[Match]:
        core_, handle = self.core, self.handle
        fired: list[Match] = []
        code, offset = core_.assert_fact(
            handle, json.dumps({"k": "_open", "id": "_open", "sid": session})
        )
        state = core_.start_action_for_state(handle, offset)
        if code or not state or core_.complete_and_start_action(handle, offset) is not None:
            raise EngineError("a session did not open")
        try:
            hashes = {hash32("_open")}
            words: dict[int, str] = {}
            for identity, kind, values in rows:
                message = self._message(identity, kind, values, hashes, words, session)
                code, offset = core_.assert_fact(handle, message)
                if code not in (0, 1):  # 2 would be 'seen before': a clash of ids, never acceptable
                    raise EngineError(f"the core refused the fact {identity} (code {code})")
            state = core_.start_action_for_state(handle, offset)
            text = state[1] if state else None
            while text is not None:
                if len(fired) >= budget:
                    raise EngineError("firing budget exceeded")
                fired.append(self._match(text))
                text = core_.complete_and_start_action(handle, offset)
        finally:
            core_.delete_state(handle, session)
        return fired

    def _match(self, text: str) -> Match:
        """A rule's name and the facts it matched. What comes back are the messages as they went
        in, and no name or word in them holds a quote, so they need not be read whole.
        """
        opening, ids = RULE.match(text), dict(ALIAS.findall(text))
        name = opening[1] if opening else ""
        try:
            return name, tuple([ids[f"m{i}"] for i in range(len(self.rules[name]))])
        except KeyError:
            raise EngineError(f"the core gave a match that cannot be read: {text[:80]!r}") from None

    def _message(
        self,
        identity: str,
        kind: str,
        values: Sequence[Value],
        hashes: set[int],
        words: dict[int, str],
        session: str,
    ) -> str:
        if type(identity) is not str or not NAME.match(identity) or hash32(identity) in hashes:
            raise EngineError(f"the fact id {identity!r} is not safe or stands twice")
        if (
            type(kind) is not str
            or not NAME.match(kind)
            or self._names.get(hash32(kind), kind) != kind
        ):
            raise EngineError(f"the kind {kind!r} of the fact {identity} is not safe in the core")
        hashes.add(hash32(identity))
        message: dict[str, Value] = {"k": kind, "id": identity, "sid": session}
        for field, value in zip(self._orders[kind], values):
            check_value(value)
            if self.types.get((kind, field), type(value)) is not type(value):
                raise EngineError(f"the fact {identity}.{field} has the wrong type")
            # Joined values are looked up by hash; two with one hash make the core read past its
            # memory.
            text = str(value)
            if (kind, field) in self.joined and words.setdefault(hash32(text), text) != text:
                raise EngineError(f"the value {text!r} of the fact {identity} clashes with another")
            message[field] = value
        return json.dumps(message)
