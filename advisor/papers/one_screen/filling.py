"""Rows of rules/screen.yaml filled in from an advice."""

from __future__ import annotations

import re
from collections.abc import Iterable

from advisor.model.advice import Advice, Number, NumberInput
from advisor.model.base import Base
from advisor.model.layout import Part
from advisor.model.slots import FORM, Slot, slot

NOT_KNOWN = "not known"
_RANGE = re.compile(r"(\d[\d.]*)( \S+) to (\d[\d.]*)\2(?!\S)")  # '9 m to 9.4 m' has its unit once
TAKEN = "{value} (taken)"  # a bound of the trade that stands in for what is not known


class _Unknown(Exception):
    """Something in a sentence is not known."""


class Filling:
    """Fills sentences from one advice; where `known`, without the facts that are only assumed."""

    def __init__(self, base: Base, advice: Advice, known: bool = False) -> None:
        self.base, self.advice = base, advice
        left_out = advice.assumed if known else ()
        self.facts = {
            f.id: f.value for f in advice.facts if f.value != NOT_KNOWN and f.id not in left_out
        }
        behind = {stop.derivation for stop in advice.stops}
        stopping = [d for d in advice.derivations if d.id in behind]
        self.stopped_facts = {fact for d in stopping for fact in d.facts}
        self.stopped_things = {thing for d in stopping for thing in d.bound}

    def said(self, parts: Iterable[Part]) -> str:
        """The parts of which everything is known, filled in, and what is said in place of the
        others, as one sentence; '' where nothing is known.
        """
        told = [(self._part(part.say), part.untold) for part in parts if self._holds(part)]
        if not any(known for known, _ in told):
            return ""
        text = "; ".join(filter(None, (known or untold for known, untold in told)))
        return f"{text[:1].upper()}{text[1:]}."

    def _holds(self, part: Part) -> bool:
        """Whether the facts that a part rests on are as it says."""
        return all(self.facts.get(fact) == value for fact, value in part.when)

    def _part(self, text: str) -> str:
        """One part filled in; '' while something in it is not known."""
        try:
            return _RANGE.sub(r"\1 to \3\2", FORM.sub(lambda m: self._slot(slot(m)), text))
        except _Unknown:
            return ""

    def _slot(self, named: Slot) -> str:
        if named.name in self.base.decisions:
            return self._decision(named)
        number = self._number(named.name)
        if named.sum:
            return _sum(number)
        if number is not None or any(c.id == named.name for c in self.base.calculations):
            return self._result(number)
        return self._fact(named.name)

    def _decision(self, named: Slot) -> str:
        """What was chosen, each option with its facts; equal options are joined by 'or'."""
        decision = self.advice.decisions.get(named.name)
        if decision is None or not decision.chosen:
            raise _Unknown
        kind = self.base.decisions[named.name].get("each", "")
        return " or ".join(self._option(o, kind, named.facts) for o in decision.chosen)

    def _option(self, option: str, kind: str, facts: tuple[str, ...]) -> str:
        ids = (f"{kind} {option}.{name}" for name in facts)
        known = ", ".join(self.facts[i] for i in ids if i in self.facts)
        return f"{option} ({known})" if known else option

    def _number(self, name: str) -> Number | None:
        """The calculation as worked for this advice."""
        return next((n for n in self.advice.calculations if n.calculation == name), None)

    def _result(self, number: Number | None) -> str:
        if number is None or number.result is None:
            raise _Unknown
        key = self.base.vocabulary.key_of(number.gives)
        below = self.base.vocabulary.by_key[key].below
        over = f" {below[1]}" if below and number.result.low >= 0 else ""
        return number.result.text + over

    def _fact(self, key: str) -> str:
        """A fact; of several things the values that differ, of a yes-or-no the names with yes.
        What a stop forbids, a thing or a chosen way, is never told as what to rig.
        """
        kind, _, name = key.partition(".")
        attribute = self.base.vocabulary.by_key[key]
        found = {
            i.rpartition(".")[0]: value
            for i, value in self.facts.items()
            if i.endswith(f".{name}")
            and self.base.vocabulary.key_of(i) == key
            and not (attribute.type == "choice" and i in self.stopped_facts)
        }
        if attribute.type == "yes/no":
            values = [
                thing.removeprefix(kind).strip()
                for thing, value in found.items()
                if value == "yes" and thing not in self.stopped_things
            ]
        else:
            values = list(dict.fromkeys(found.values()))
        if not values:
            raise _Unknown
        return _and(values)


def _and(values: list[str]) -> str:
    return values[0] if len(values) == 1 else f"{', '.join(values[:-1])} and {values[-1]}"


def _sum(number: Number | None) -> str:
    """The working of a plain sum, what is nought left out: 'depth 8 m + run 1.8 m - tether …'."""
    if number is None or number.result is None:
        raise _Unknown
    inputs = {part.name: part for part in number.inputs}
    first, *rest = re.split(r" ([+-]) ", number.formula.partition("= ")[2])
    out = ""
    for sign, name in zip(["+", *rest[::2]], [first, *rest[1::2]]):
        part = inputs.get(name)
        if part is None:
            raise _Unknown  # no plain sum
        if part.value.partition(" ")[0] != "0" or " to " in part.value:
            out += f" {sign} {name} {_value(part)}" if out else f"{name} {_value(part)}"
    return out


def _value(part: NumberInput) -> str:
    return TAKEN.format(value=part.value) if part.origin == "figure" else part.value
