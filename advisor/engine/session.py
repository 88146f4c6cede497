"""A guarded way into durable-rules' C core: rules as `written.py` checked them, and the facts that
they are asked on.

The core is unsafe with much else (reused ids, sessions deleted before any action completed, values
with one hash …), so every fact is checked here before it reaches the core. No background threads
are ever started.
"""

from __future__ import annotations

import json
import re
import threading
import weakref
from collections.abc import Iterable, Mapping, Sequence
from typing import Any, TypeAlias

from advisor.engine.written import (
    NAME,
    EngineError,
    Rules,
    Value,
    Written,
    check_value,
    hash32,
    write,
)

# A match as the core writes it: the rule, then under each alias the message that it matched.
RULE, ALIAS = re.compile(r'\{"(\w+)":\{'), re.compile(r'"(m\d+)":\{"k": "\w+", "id": "(\w+)"')
ANSWERS = 32  # answers that a rule set remembers

FactRow: TypeAlias = tuple[str, str, Mapping[str, Value]]  # id, kind, fields
Row: TypeAlias = tuple[str, str, tuple[Value, ...]]  # id, kind, the tested fields' values in order
Match: TypeAlias = tuple[str, tuple[str, ...]]  # name of a rule, ids of the facts it matched


def core() -> Any:
    """The compiled extension, or None where it is not installed or does not import."""
    try:
        import durable_rules_engine  # type: ignore[import-not-found, unused-ignore]
    except ImportError:
        return None
    return durable_rules_engine


class RuleSet:
    """Rules loaded into the core once."""

    _lock = threading.Lock()
    _made = 0

    def __init__(self, rules: Rules | Written) -> None:
        """rules: {name: [Pattern]}, or what `write` made of them."""
        self.core = core()
        if self.core is None:
            raise EngineError("durable-rules is not installed")
        self.written = rules if isinstance(rules, Written) else write(rules)
        self.fields = self.written.fields
        self._answers: dict[tuple[Row, ...], list[Match]] = {}
        with RuleSet._lock:
            RuleSet._made += 1
            self.handle = self.core.create_ruleset(f"set{RuleSet._made}", self.written.text)
        # The core frees a rule set only when told to; at the end of the program all goes anyway.
        weakref.finalize(self, self.core.delete_ruleset, self.handle).atexit = False
        self.sessions = 0

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

    def forget(self) -> None:
        """Remember no answers."""
        self._answers.clear()

    def _row(self, row: FactRow) -> Row:
        """A fact with only the fields that a rule here tests, always in the same order."""
        identity, kind, fields = row
        try:
            return identity, kind, tuple([fields[field] for field in self.fields.get(kind, ())])
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
            return name, tuple([ids[f"m{i}"] for i in range(self.written.sizes[name])])
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
            or self.written.names.get(hash32(kind), kind) != kind
        ):
            raise EngineError(f"the kind {kind!r} of the fact {identity} is not safe in the core")
        hashes.add(hash32(identity))
        message: dict[str, Value] = {"k": kind, "id": identity, "sid": session}
        for field, value in zip(self.fields.get(kind, ()), values):
            check_value(value)
            number = type(value) is int
            if self.written.numbers.get((kind, field), number) is not number:
                raise EngineError(f"the fact {identity}.{field} has the wrong type")
            # Joined values are looked up by hash; two with one hash make the core read past its
            # memory.
            text = str(value)
            if (kind, field) in self.written.joined and words.setdefault(
                hash32(text), text
            ) != text:
                raise EngineError(f"the value {text!r} of the fact {identity} clashes with another")
            message[field] = value
        return json.dumps(message)
