"""Reading rule files into Rules."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from typing import Any

from advisor.facts.vocabulary import Vocabulary
from advisor.faults import Fault, Place, did_you_mean
from advisor.load.conditions import ConditionReader
from advisor.load.schema import form_faults
from advisor.load.tree import Data, Document, Trail
from advisor.model.conditions import Condition, State, looks_at_choice
from advisor.model.effects import (
    CHOICE_MAY,
    FORMS,
    TEMPLATE,
    UNKNOWN_MAY,
    Ask,
    Contradiction,
    Control,
    Derive,
    Effect,
    Hazard,
    OnOption,
    Refer,
    RuleOut,
    Step,
    Verdict,
)
from advisor.model.rule import Rule


def read_rules(
    document: Document,
    vocabulary: Vocabulary,
    decisions: Mapping[str, Any],
    concerns: Collection[str],
    sources: Collection[str],
) -> tuple[list[Rule], list[Fault]]:
    """One rule file -> (rules, faults)."""
    faults = form_faults(document, "rules")
    if faults:
        return [], faults
    data, rules = document.data, []
    for index, spec in enumerate(data["rules"]):
        reader = _RuleReader(
            document, ["rules", index], spec, vocabulary, decisions, concerns, sources
        )
        rule = reader.rule(data["topic"], data["about"])
        faults += reader.faults
        if rule:
            rules.append(rule)
    return rules, faults


def twice(rules: Iterable[Rule]) -> list[Fault]:
    """Faults for rule ids used twice."""
    seen: dict[str, Place] = {}
    faults: list[Fault] = []
    for rule in rules:
        if rule.id in seen:
            faults.append(
                Fault(
                    rule.place,
                    f"the rule id '{rule.id}' is used already at {seen[rule.id]}; choose another.",
                )
            )
        seen[rule.id] = rule.place
    return faults


BY_KIND = {form.kind: form for form in FORMS}


class _RuleReader:
    """Reads one rule; faults gather in `faults`."""

    def __init__(
        self,
        document: Document,
        path: Trail,
        spec: Data,
        vocabulary: Vocabulary,
        decisions: Mapping[str, Any],
        concerns: Collection[str],
        sources: Collection[str],
    ) -> None:
        self.document, self.path, self.spec = document, path, spec
        self.vocabulary, self.decisions, self.concerns, self.sources = (
            vocabulary,
            decisions,
            concerns,
            sources,
        )
        self.conditions = ConditionReader(document, vocabulary, decisions)
        self.conditions.declare(spec.get("for", {}), path + ["for"])
        self.faults = self.conditions.faults

    def fault(self, path: Trail, message: str, key: bool = False) -> None:
        self.conditions.fault(self.path + path, message, key)

    def rule(self, topic: str, about: str) -> Rule | None:
        spec = self.spec
        condition = self.conditions.read(spec["if"], self.path + ["if"])
        listed = isinstance(spec["then"], list)
        read: list[Effect | None] = []
        for index, effect in enumerate(spec["then"] if listed else [spec["then"]]):
            path: Trail = ["then", index] if listed else ["then"]
            ((kind, details),) = effect.items()
            read.append(self._effect(kind, details, path + [kind]))
        sources = spec["source"] if isinstance(spec["source"], list) else [spec["source"]]
        for source in sources:
            if source not in self.sources:
                self.fault(
                    ["source"],
                    f"'{source}' is not in sources.yaml.{did_you_mean(source, self.sources)}",
                )
        self._texts(spec)
        when = self._when(spec)
        if self.faults:
            return None
        effects = tuple(effect for effect in read if effect)  # without faults, all
        self._allowed(condition, effects)
        return (
            None
            if self.faults
            else Rule(
                spec["id"],
                spec["title"],
                topic,
                about,
                tuple(self.conditions.scope.items()),
                condition,
                effects,
                spec["because"],
                tuple(sources),
                spec["status"],
                spec.get("authority", "trade practice"),
                when,
                self.document.place(self.path + ["id"]),
            )
        )

    def _effect(self, kind: str, details: Data, path: Trail) -> Effect | None:
        """An effect, or None with a fault."""
        form: Any = BY_KIND[kind]
        if form is Derive:
            return self._derive(details, path)
        if issubclass(form, OnOption):
            return self._option(form, details, path)
        if form is Verdict:
            return self._verdict(details, path)
        if form is Ask:
            reference = self.conditions.reference(details, self.path + path)
            return Ask(reference.ref) if reference else None
        if form is Hazard:
            return self._hazard(details, path)
        if form is Contradiction:
            return self._contradiction(details, path)
        if form is Refer and details.get("decision", "") not in ("", *self.decisions):
            self.fault(
                path + ["decision"],
                f"'{details['decision']}' is not a"
                f" decision.{did_you_mean(details['decision'], self.decisions)}",
            )
        said = details if isinstance(details, dict) else {"text": details}
        effect: Effect = form(**{_field(form, name): _fixed(v) for name, v in said.items()})
        return effect

    def _hazard(self, details: Data, path: Trail) -> Hazard:
        """A hazard with its controls, each with the condition that meets it."""
        controls = []
        for index, control in enumerate(details["controls"]):
            here, met = self.path + path + ["controls", index], control.get("met by")
            controls.append(
                Control(
                    control["do"],
                    _listed(control.get("broken by", ())),
                    _listed(control.get("asked by", ())),
                    self.conditions.read(met, here + ["met by"]) if met else None,
                )
            )
        return Hazard(details["hazard"], details["who"], tuple(controls))

    def _contradiction(self, details: Data, path: Trail) -> Contradiction:
        """Facts that people state and that cannot all be true."""
        named = []
        for index, name in enumerate(details["between"]):
            at = path + ["between", index]
            reference = self.conditions.reference(name, self.path + at)
            if reference and reference.attribute.derived:
                self.fault(at, f"{name} is concluded, not stated; name the facts behind it.")
            elif reference:
                named.append(reference.ref)
        return Contradiction(details["text"], tuple(named))

    def _derive(self, details: Data, path: Trail) -> Derive | None:
        ((name, value),) = details.items()
        reference = self.conditions.reference(name, self.path + path + [name], key=True)
        if reference is None:
            return None
        attribute = reference.attribute
        if not attribute.derived:
            self.fault(
                path + [name],
                f"{attribute.key} is stated by people; rules conclude only what is marked"
                " 'derived: yes'.",
                key=True,
            )
        elif attribute.otherwise < 0:
            self.fault(
                path + [name],
                f"{attribute.key} is worked out by a calculation; rules cannot conclude it.",
                key=True,
            )
        elif value not in attribute.values:
            self.fault(
                path + [name],
                f"'{value}' is not a value of {attribute.key}; expected one of:"
                f" {', '.join(attribute.values)}.",
            )
        else:
            return Derive(reference.ref, attribute.values.index(value))
        return None

    def _option(self, form: Callable[..., OnOption], details: Data, path: Trail) -> OnOption | None:
        decision, concern = details["decision"], details.get("concern")
        if decision not in self.decisions:
            self.fault(
                path + ["decision"],
                f"'{decision}' is not a decision; expected one of:"
                f" {', '.join(self.decisions)}.{did_you_mean(decision, self.decisions)}",
            )
            return None
        if concern is not None and concern not in self.concerns:
            self.fault(
                path + ["concern"],
                f"'{concern}' is not a concern; expected one of:"
                f" {', '.join(self.concerns)}.{did_you_mean(concern, self.concerns)}",
            )
        option = self.conditions.option(decision, details["option"], self.path + path + ["option"])
        if not option:
            return None
        if form is RuleOut:
            return RuleOut(decision, *option)
        return form(decision, *option, details["strength"], concern)

    def _verdict(self, details: Data, path: Trail) -> Verdict | None:
        if details["on"] not in self.conditions.scope:
            self.fault(
                path + ["on"],
                f"'{details['on']}' is not a variable of this rule; declare it with for:.",
            )
        part = details.get("part", "")
        reference = (
            self.conditions.reference(part, self.path + path + ["part"]) if "." in part else None
        )
        return Verdict(details["on"], part, reference.ref if reference else None, details["give"])

    def _texts(self, spec: Data) -> None:
        names = set(self.conditions.scope) | {
            e.name for e in self.vocabulary.entities.values() if not e.many
        }
        for path, text in _strings(
            {k: spec[k] for k in ("then", "because", "when", "title") if k in spec}
        ):
            for inside in TEMPLATE.findall(text):
                if inside not in names:
                    self.conditions.reference(inside, self.path + path)

    def _when(self, spec: Data) -> tuple[tuple[int, str], ...]:
        """((number of a condition, words), …): the words of a whole branch, or condition by
        condition.
        """
        words, names = spec.get("when", {}), list(spec["if"])
        if isinstance(words, str):
            return ((-1, words),)
        for name in words:
            if name not in names:
                self.fault(
                    ["when", name],
                    f"'{name}' is not a condition of this rule's 'if'.{did_you_mean(name, names)}",
                    key=True,
                )
        return tuple((names.index(n), text) for n, text in words.items() if n in names)

    def _is_second(self, key: str) -> bool:
        return bool(self.vocabulary.by_key[key].values_of)

    def _allowed(self, condition: Condition, effects: Sequence[Effect]) -> None:
        kinds = {type(effect) for effect in effects}
        if Derive in kinds and len(effects) > 1:
            self.fault(["then"], "a rule that derives a fact does nothing else; make two rules.")
        states = {
            n.word
            for n in condition.walk()
            if isinstance(n, State) and not self._is_second(n.ref.key)
        }
        may = UNKNOWN_MAY if "unknown" in states else (*UNKNOWN_MAY, Verdict)
        if states and not kinds <= set(may):
            self.fault(
                ["if"],
                f"a rule that asks whether a fact is known may only {_kinds(UNKNOWN_MAY)}.",
            )
        if looks_at_choice(condition) and not kinds <= set(CHOICE_MAY):
            self.fault(
                ["if"], f"a rule that looks at what was chosen may only {_kinds(CHOICE_MAY)}."
            )
        if not any(True for _ in condition.references()) and not looks_at_choice(condition):
            self.fault(["if"], "a rule needs at least one condition on a fact.")


def _field(form: type[Effect], name: str) -> str:
    """The field of a form that an entry of a rule file fills."""
    said = "about" if form is Refer else "do" if form is Step else "text"
    return "text" if name == said else name.replace(" ", "_")


def _listed(value: Data) -> tuple[str, ...]:
    return (value,) if isinstance(value, str) else tuple(value)


def _fixed(value: Data) -> Data:
    return tuple(value) if isinstance(value, list) else value


def _kinds(forms: Iterable[type[Effect]]) -> str:
    return ", ".join(form.kind for form in forms)


def _strings(value: Data, path: tuple[str | int, ...] = ()) -> Iterator[tuple[Trail, str]]:
    """(path, text) of every text below a value."""
    if isinstance(value, str):
        yield list(path), value
    elif isinstance(value, (dict, list)):
        for key, item in value.items() if isinstance(value, dict) else enumerate(value):
            yield from _strings(item, (*path, key))
