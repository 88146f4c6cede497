"""From the conditions a leader writes to Conditions; every name is checked, every fault has its
place.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from msgspec import Struct

from advisor.facts.quantity import NotAQuantity, read_quantity
from advisor.facts.times import read_time
from advisor.facts.vocabulary import Attribute, Vocabulary
from advisor.faults import Fault, did_you_mean
from advisor.load.tree import Data, Document, Trail
from advisor.model.conditions import (
    ALWAYS,
    AllOf,
    AnyOf,
    Chosen,
    Compare,
    CompareRefs,
    Condition,
    InValues,
    Not,
    Operator,
    PointsAt,
    SameWord,
    Some,
    State,
)
from advisor.model.ref import Ref

BOUNDS: dict[str, Operator] = {"at least": ">=", "at most": "<=", "above": ">", "below": "<"}
TESTS = (*BOUNDS, "not", "as bad as", "no worse than", "same as", "not same as", "is", "times")


class Named(Struct, frozen=True):
    """An attribute as a rule names it: of a variable, or of an entity there is one of."""

    variable: str
    attribute: Attribute

    @property
    def ref(self) -> Ref:
        return Ref(self.variable, self.attribute.key)


class ConditionReader:
    """Reads the conditions of one rule.

    `scope` maps variable -> entity kind; faults gather in `faults`.
    """

    def __init__(
        self, document: Document, vocabulary: Vocabulary, decisions: Mapping[str, Any]
    ) -> None:
        self.document, self.vocabulary, self.decisions = document, vocabulary, decisions
        self.scope: dict[str, str] = {}
        self.faults: list[Fault] = []

    def declare(self, variables: Mapping[str, str], path: Trail) -> None:
        """Take {variable: kind of entity} into the scope, each checked."""
        self.scope.update(
            (v, kind) for v, kind in variables.items() if self._variable(v, kind, path + [v])
        )

    def fault(self, path: Trail, message: str, key: bool = False) -> None:
        place = self.document.key_place(path) if key else self.document.place(path)
        self.faults.append(Fault(place, message))

    def read(self, data: Data, path: Trail) -> Condition:
        """A mapping of conditions -> one Condition (all of them)."""
        if not isinstance(data, dict) or not data:
            self.fault(path, "expected conditions, each as 'name.attribute: value'.")
            return ALWAYS
        nodes = [self._entry(key, value, path + [key]) for key, value in data.items()]
        return AllOf(tuple(n for n in nodes if n is not None))

    def _entry(self, key: str, value: Data, path: Trail) -> Condition | None:
        if key in ("any of", "all of"):
            return self._list(AnyOf if key == "any of" else AllOf, value, path)
        if key in ("not", "unless"):
            return Not(self.read(value, path))
        if key in ("there is", "there is no", "there are at least"):
            return self._some(key, value, path)
        if key.startswith("choice of "):
            return self._chosen(key[len("choice of ") :], value, path)
        reference = self.reference(key, path, key=True)
        return self._test(reference, value, path) if reference else None

    def _list(self, form: type[AllOf] | type[AnyOf], value: Data, path: Trail) -> Condition | None:
        if not isinstance(value, list) or not value:
            self.fault(path, "expected a list of conditions, each starting with '- '.")
            return None
        return form(tuple(self.read(item, path + [i]) for i, item in enumerate(value)))

    def _some(self, key: str, value: Data, path: Trail) -> Condition | None:
        of: Data = (
            value.get("of") if key == "there are at least" and isinstance(value, dict) else value
        )
        names = [k for k in of if k != "where"] if isinstance(of, dict) else []
        number = value.get("number", 1) if isinstance(value, dict) else 1
        if len(names) != 1 or isinstance(number, bool) or not isinstance(number, int) or number < 1:
            self.fault(
                path,
                "expected the form {b: anchor, where: {…}}"
                + (" with number and of" if key == "there are at least" else "")
                + ".",
            )
            return None
        variable, kind = names[0], of[names[0]]
        if variable in self.scope:
            self.fault(path, f"the variable '{variable}' is in use already; take another letter.")
            return None
        if not self._variable(variable, kind, path):
            return None
        self.scope[variable] = kind
        where = value.get("where") or (of.get("where") if isinstance(of, dict) else None)
        node = self.read(where, path + ["where"]) if where is not None else ALWAYS
        del self.scope[variable]
        some = Some(number, variable, kind, node)
        return Not(some) if key == "there is no" else some

    def _variable(self, variable: str, kind: Data, path: Trail) -> bool:
        """Whether a variable may stand for a kind of entity; a fault where not."""
        known = [e.name for e in self.vocabulary.entities.values() if e.many]
        if kind not in known:
            self.fault(
                path,
                f"'{kind}' is not an entity a case may name several of; expected one of:"
                f" {', '.join(known)}.{did_you_mean(str(kind), known)}",
            )
        elif variable in self.vocabulary.entities:
            self.fault(
                path,
                f"the variable '{variable}' is the name of an entity; take a letter.",
                key=True,
            )
        return kind in known and variable not in self.vocabulary.entities

    def _chosen(self, decision: str, value: Data, path: Trail) -> Chosen | None:
        if decision not in self.decisions:
            self.fault(
                path,
                f"'{decision}' is not a decision.{did_you_mean(decision, self.decisions)}",
                key=True,
            )
            return None
        option = self.option(decision, value, path)
        return Chosen(decision, *option) if option else None

    def option(self, decision: str, value: Data, path: Trail) -> tuple[str, bool] | None:
        """(option, is_variable) of a decision, checked; None with a fault otherwise."""
        spec = self.decisions[decision]
        if "by" in spec:
            self.fault(
                path,
                f"'{decision}' is worked out by a calculation; rules cannot speak of its options.",
            )
            return None
        if "each" in spec:
            if isinstance(value, str) and self.scope.get(value) == spec["each"]:
                return value, True
            self.fault(
                path,
                f"the option of '{decision}' is a variable for {spec['each']}; declare it with for:"
                f" {{a: {spec['each']}}}.",
            )
            return None
        if value in spec["options"]:
            return value, False
        self.fault(
            path,
            f"'{value}' is not an option of '{decision}'; expected one of:"
            f" {', '.join(spec['options'])}.{did_you_mean(str(value), spec['options'])}",
        )
        return None

    def reference(self, text: object, path: Trail, key: bool = False) -> Named | None:
        """What 'a.side' names, or None with a fault."""
        variable, dot, name = str(text).partition(".")
        kind = self.scope.get(variable)
        single = self.vocabulary.entities.get(variable)
        if kind is None and single is not None and not single.many:
            kind = variable
        if not dot or kind is None:
            known = list(self.scope) + [
                e.name for e in self.vocabulary.entities.values() if not e.many
            ]
            self.fault(
                path,
                f"'{text}' should be 'name.attribute', the name one of:"
                f" {', '.join(known)}.{did_you_mean(variable, known)}",
                key,
            )
            return None
        attribute = self.vocabulary.entities[kind].attributes.get(name)
        if attribute is None:
            others = self.vocabulary.entities[kind].attributes
            self.fault(
                path, f"'{name}' is not an attribute of {kind}.{did_you_mean(name, others)}", key
            )
            return None
        return Named(variable, attribute)

    def _test(self, of: Named, value: Data, path: Trail) -> Condition | None:
        """A test of an attribute, or of its second once that is stated."""
        node = self._one_test(of, value, path)
        if not of.attribute.second or not isinstance(node, InValues):
            return node
        second = self.vocabulary.entities[of.attribute.entity].attributes[of.attribute.second]
        also = Named(of.variable, second)
        other = self._one_test(also, value, path)
        stated = Not(State(also.ref, "unknown"))
        return AnyOf((node, AllOf((stated, other)))) if other else node

    def _one_test(self, of: Named, value: Data, path: Trail) -> Condition | None:
        attribute = of.attribute
        if attribute.type == "text":
            self.fault(path, f"{attribute.key} is free text; rules cannot test it.", key=True)
            return None
        if isinstance(value, dict):
            if not set(value) - {"times"}:
                self.fault(
                    path,
                    f"expected a test, such as {{at least: …}}; the tests are: {', '.join(TESTS)}.",
                )
            nodes = [self._named_test(of, test, value, path) for test in value if test != "times"]
            return nodes[0] if len(nodes) == 1 else AllOf(tuple(n for n in nodes if n))
        if attribute.is_choice:
            mask = self._mask(attribute, value, path)
            return InValues(of.ref, mask) if mask else None
        if attribute.is_number:
            steps = self._steps(attribute, value, path)
            return Compare(of.ref, "==", steps) if steps is not None else None
        self.fault(path, f"{attribute.key} names another entity; write {{same as: variable}}.")
        return None

    def _named_test(self, of: Named, test: str, value: Data, path: Trail) -> Condition | None:
        attribute, here = of.attribute, path + [test]
        if test not in TESTS:
            self.fault(
                here,
                f"'{test}' is not a test; expected one of:"
                f" {', '.join(TESTS)}.{did_you_mean(test, TESTS)}",
                key=True,
            )
        elif test == "is":
            return self._state(of, value[test], here)
        elif test in ("same as", "not same as"):
            return self._same(of, value[test], test == "same as", here)
        elif test in BOUNDS:
            return self._bound(of, value, test, here)
        elif not attribute.is_choice:
            if test == "not" and attribute.is_number:
                steps = self._steps(attribute, value[test], here)
                return Compare(of.ref, "!=", steps) if steps is not None else None
            self.fault(
                here, f"'{test}' is for choices; {attribute.key} is a {attribute.type}.", key=True
            )
        elif test == "not":
            mask = self._mask(attribute, value[test], here)
            if mask == attribute.everything:
                self.fault(here, f"this leaves no value of {attribute.key}, so it can never hold.")
            return InValues(of.ref, attribute.everything & ~mask) if mask else None
        else:
            return self._ordered(of, test, value[test], here)
        return None

    def _state(self, of: Named, word: Data, path: Trail) -> State | None:
        # The engines keep no state of what is concluded: how well it is known lies in what it
        # rests on.
        if of.attribute.derived:
            self.fault(
                path,
                f"{of.attribute.key} is concluded, not stated; ask whether a fact behind it is"
                " known, or test its value.",
            )
            return None
        if word in ("known", "unknown", "doubtful"):
            return State(of.ref, word)
        self.fault(path, "expected known, unknown or doubtful.")
        return None

    def _ordered(self, of: Named, test: str, word: Data, path: Trail) -> InValues | None:
        attribute = of.attribute
        if not attribute.ranks:
            self.fault(
                path,
                f"{attribute.key} has no ordering of caution; name the values instead.",
                key=True,
            )
            return None
        if word not in attribute.values:
            self._mask(attribute, word, path)
            return None
        index = attribute.values.index(word)
        mask = attribute.as_bad_as(index)
        if test == "no worse than":
            worse = sum(
                1 << i for i, rank in enumerate(attribute.ranks) if rank > attribute.ranks[index]
            )
            mask = attribute.everything & ~worse
        return InValues(of.ref, mask)

    def _mask(self, attribute: Attribute, value: Data, path: Trail) -> int:
        mask = 0
        for word in value if isinstance(value, list) else [value]:
            if word not in attribute.values:
                self.fault(
                    path,
                    f"'{word}' is not a value of {attribute.key}; expected one of:"
                    f" {', '.join(attribute.values)}.{did_you_mean(str(word), attribute.values)}",
                )
                return 0
            mask |= 1 << attribute.values.index(word)
        return mask

    def _steps(self, attribute: Attribute, value: Data, path: Trail) -> int | None:
        try:
            if attribute.type == "time":
                return read_time(value)
            quantity = read_quantity(value, attribute.unit, (attribute.low, attribute.high))
        except NotAQuantity as error:
            self.fault(path, str(error))
            return None
        if quantity.low != quantity.high:
            self.fault(path, "a rule needs one exact figure, not a range; use two bounds.")
            return None
        return quantity.low

    def _bound(self, of: Named, value: Data, test: str, path: Trail) -> Condition | None:
        attribute, op = of.attribute, BOUNDS[test]
        if not attribute.is_number:
            self.fault(
                path,
                f"'{test}' is for numbers; {attribute.key} is a {attribute.type}. For an ordered"
                " choice write 'as bad as'.",
                key=True,
            )
            return None
        word = value[test]
        factor = self._factor(value, path)
        if isinstance(word, str) and "." in word and not word[:1].isdigit():
            other = self.reference(word, path)
            return self._compare(of, op, other, factor, path) if other else None
        if "times" in value:
            self.fault(
                path[:-1] + ["times"],
                "'times' multiplies another attribute, such as {at least: lifeline.length, times:"
                " 2}; work a figure out beforehand.",
                key=True,
            )
        steps = self._steps(attribute, word, path)
        return Compare(of.ref, op, steps) if steps is not None else None

    def _factor(self, value: Data, path: Trail) -> Fraction:
        factor = value.get("times", 1)
        if isinstance(factor, bool) or not isinstance(factor, (int, float)) or factor <= 0:
            self.fault(path[:-1] + ["times"], "'times' is a number above 0.")
            return Fraction(1)
        return Fraction(str(factor))

    def _compare(
        self, of: Named, op: Operator, other: Named, factor: Fraction, path: Trail
    ) -> CompareRefs | None:
        from advisor.facts.units import UNITS

        attribute, second = of.attribute, other.attribute
        if not second.is_number or UNITS[second.unit][0] is not UNITS[attribute.unit][0]:
            self.fault(
                path, f"{attribute.key} and {second.key} are not quantities of the same kind."
            )
            return None
        return CompareRefs(of.ref, op, other.ref, factor.numerator, factor.denominator)

    def _same(self, of: Named, word: Data, want: bool, path: Trail) -> Condition | None:
        attribute = of.attribute
        if attribute.type == "named":
            kind = self.scope.get(word) or (
                word
                if word in self.vocabulary.entities and not self.vocabulary.entities[word].many
                else None
            )
            if kind in attribute.of:
                return PointsAt(of.ref, word, want)
            self.fault(
                path,
                f"{attribute.key} names a {' or '.join(attribute.of)}; '{word}' is not a variable"
                " for one.",
            )
            return None
        other = self.reference(word, path)
        if other is None:
            return None
        second = other.attribute
        if attribute.is_number:
            return self._compare(of, "==" if want else "!=", other, Fraction(1), path)
        pairs = tuple(
            second.values.index(v) if v in second.values else -1 for v in attribute.values
        )
        if not second.is_choice or set(pairs) == {-1}:
            self.fault(
                path,
                f"{attribute.key} and {second.key} share no words, so they can never be the same.",
            )
            return None
        return SameWord(of.ref, other.ref, pairs, want)
