"""Random cases over the real vocabulary, drawn to lie at and just beside the rules' own limits.

A case is built in three ways, mixed: facts aimed at making a few rules fire, the facts of a
worked case, and facts at random.
Every fact goes through `facts.values.read_fact`, as if a person had written it. The same code
draws from hypothesis
(which shrinks) and from a seeded `random.Random` (which is fast).
"""

from __future__ import annotations

import random
from functools import cache

from hypothesis import strategies as st
from msgspec.structs import replace

from advisor.advise import Advisor
from advisor.facts.units import SPEED, TIME, UNITS, from_steps
from advisor.facts.values import read_fact
from advisor.faults import Place
from advisor.load.case import Case, nameable, read_case
from advisor.load.folder import files_of, find_folder
from advisor.model.conditions import (
    AllOf,
    Chosen,
    Compare,
    CompareRefs,
    Group,
    InValues,
    Not,
    PointsAt,
    SameWord,
    Some,
    State,
)

NAMES = {
    "anchor": ("left bolt", "flake", "back bolt", "old rail"),
    "ladder": ("main", "spare"),
    "finding": ("1", "2", "3"),
    "kit": ("sling", "helmet"),
}
FINE = {"m": "mm", "kg": "g"}


@cache
def advisor() -> Advisor:
    """The real rule base with its engines, loaded once."""
    return Advisor()


@cache
def worked_cases() -> tuple:
    """Every case in cases/, read."""
    return tuple(read_case(path, advisor().base) for path in files_of(find_folder("cases")))


class Picker:
    """Draws from hypothesis (`draw`) or from a seeded generator."""

    def __init__(self, draw=None, seed=None):
        self.draw, self.random = draw, random.Random(seed)

    def one(self, items):
        items = list(items)
        return self.draw(st.sampled_from(items)) if self.draw else self.random.choice(items)

    def chance(self, in_: int) -> bool:
        """True once in `in_` draws."""
        return self.one(range(in_)) == in_ - 1


@cache
def limits() -> dict:
    """{attribute key: the steps its rules compare it with}."""
    found = {}
    for rule in advisor().base.rules:
        for node in rule.condition.walk():
            if isinstance(node, Compare):
                found.setdefault(node.ref.key, set()).add(node.steps)
    return found


@cache
def steps_of(key: str, beside: tuple = ()) -> tuple:
    """At, just below and just above every limit of a number (and the values in `beside`), and the
    ends of its range.
    """
    attribute = advisor().base.vocabulary.attribute(key)
    step = 60 if attribute.type == "time" else 1
    around = {limit + d for limit in (*limits().get(key, ()), *beside) for d in (-step, 0, step)}
    top = min(attribute.high, 86340) if attribute.type == "time" else attribute.high
    return tuple(sorted(s for s in around | {attribute.low, top} if attribute.low <= s <= top))


def written(attribute, steps: int) -> str:
    """Steps as a person would write them, exactly."""
    if attribute.type == "time":
        return f"{steps // 3600:02d}:{steps % 3600 // 60:02d}"
    dimension = UNITS[attribute.unit][0]
    unit = (
        "s"
        if dimension is TIME
        else "m/min"
        if dimension is SPEED
        else FINE.get(dimension.si, dimension.si)
    )
    number = from_steps(steps, unit)
    digits = f"{float(number):.4f}".rstrip("0").rstrip(".")
    return digits if unit in ("count", "ratio") else f"{digits} {unit}"


def values_of(attribute, names: dict, beside: tuple = ()) -> list:
    """Every single value worth trying for an attribute, as written."""
    if attribute.is_choice:
        return list(attribute.values)
    if attribute.is_number:
        return [written(attribute, s) for s in steps_of(attribute.key, beside)]
    names = nameable(advisor().base, names)
    return sorted(i for kind in attribute.of for i in names.get(kind, ()))


def state(case: Case, entity: str, attribute, raw) -> bool:
    """State one fact; 'unknown' takes it away. Returns whether the attribute is now stated."""
    fact, message = read_fact(
        attribute, entity, raw, nameable(advisor().base, case.names), "case file", Place("case")
    )
    assert not message, (entity, attribute.key, raw, message)
    case.facts.pop((entity, attribute.key), None)
    if fact:
        case.facts[entity, attribute.key] = fact
    return fact is not None


def copy(case: Case) -> Case:
    """The same facts, to be changed freely."""
    return replace(
        case, names={k: set(v) for k, v in case.names.items()}, facts=dict(case.facts), expect={}
    )


def few(case: Case, most: int) -> list:
    """At most so many of a case's facts, always the same ones for the same case."""
    facts = sorted(case.facts.items())
    return random.Random(f"{case.title} {len(facts)}").sample(facts, min(most, len(facts)))


class Builder:
    """Builds one random case."""

    def __init__(self, pick: Picker):
        self.pick, self.base = pick, advisor().base
        self.case = Case("Random case", names={}, facts={})
        self.busy = set()

    def entity(self, kind: str, taken=()) -> str:
        """An entity of a kind, other than those taken; named if need be."""
        self.case.names.setdefault(kind, set())
        if not self.base.vocabulary.entities[kind].many:
            self.case.names[kind].add(kind)
            return kind
        free = [
            f"{kind} {n}" for n in NAMES.get(kind, ("1", "2", "3")) if f"{kind} {n}" not in taken
        ]
        chosen = self.pick.one(free[:2]) if free else f"{kind} x{len(taken)}"
        self.case.names[kind].add(chosen)
        return chosen

    def say(self, entity, attribute, raw):
        """State a fact, now and then with a question mark, as a range or as one of two."""
        if attribute.type == "text" or attribute.derived:
            return
        self.case.names.setdefault(attribute.entity, set()).add(entity)
        if self.pick.chance(12):
            raw = f"{raw}?" if attribute.is_number or attribute.is_choice else raw
        elif attribute.is_choice and self.pick.chance(20):
            raw = [raw, self.pick.one(attribute.values)]
        elif (
            attribute.is_number
            and attribute.type != "time"
            and not raw.startswith("-")
            and self.pick.chance(12)
        ):
            raw = self.pick.one([f"at least {raw}", f"up to {raw}"])
        state(self.case, entity, attribute, raw)

    def at_random(self, kind):
        """One random fact about an entity of a kind."""
        entity = self.entity(kind)
        attribute = self.pick.one(self.base.vocabulary.entities[kind].attributes.values())
        values = values_of(attribute, self.case.names) if attribute.type != "text" else []
        if values and not attribute.derived:
            self.say(entity, attribute, self.pick.one(values))

    def aim(self, rule, bound=None):
        """State facts that make a rule's conditions hold."""
        bound = dict(bound or {})
        for variable, kind in rule.variables:
            bound.setdefault(variable, self.entity(kind, bound.values()))
        self.make(rule.condition, bound, True)

    def make(self, node, bound, want):
        """Make one condition hold (or fail)."""
        if isinstance(node, Not):
            self.make(node.part, bound, not want)
        elif isinstance(node, Group):
            nodes, every = node.parts, isinstance(node, AllOf) == want
            for child in nodes if every or not nodes else (self.pick.one(nodes),):
                self.make(child, bound, want)
        elif isinstance(node, Some) and want:
            inner = dict(bound)
            for _ in range(node.number):
                inner[node.variable] = self.entity(node.kind, [*bound.values(), *inner.values()])
                self.make(node.where, inner, True)
        elif not isinstance(node, (Some, Chosen)):
            entity, key = node.ref.at(bound)
            self.forms[type(node)](
                self, node, entity, self.base.vocabulary.attribute(key), bound, want
            )

    def _in(self, node, entity, attribute, bound, want):
        values = [v for i, v in enumerate(attribute.values) if bool(node.mask >> i & 1) == want]
        if attribute.derived:
            self._conclude(entity, attribute, [attribute.values.index(v) for v in values])
        elif values:
            self.say(entity, attribute, self.pick.one(values))

    def _conclude(self, entity, attribute, values):
        rules = [
            r
            for r in self.base.rules
            if r.derives == attribute.key and r.conclusion.value in values
        ]
        if rules and (entity, attribute.key) not in self.busy:
            self.busy.add((entity, attribute.key))
            rule = self.pick.one(rules)
            self.aim(rule, {rule.conclusion.ref.entity: entity} if rule.variables else {})
            self.busy.discard((entity, attribute.key))

    def _num(self, node, entity, attribute, bound, want, limit=None):
        limit = node.steps if limit is None else limit
        test = {
            ">=": lambda s: s >= limit,
            ">": lambda s: s > limit,
            "<=": lambda s: s <= limit,
            "<": lambda s: s < limit,
            "==": lambda s: s == limit,
            "!=": lambda s: s != limit,
        }[node.op]
        steps = [s for s in steps_of(attribute.key, (limit,)) if test(s) == want]
        if steps:
            self.say(
                entity,
                attribute,
                written(attribute, self.pick.one(sorted(steps, key=lambda s: abs(s - limit))[:3])),
            )

    def _cmp(self, node, entity, attribute, bound, want):
        other, second = self._other(node, bound)
        if (other, second.key) not in self.case.facts:
            middle = (
                second.low + min(second.high, second.low + 100 * (attribute.high - attribute.low))
            ) // 2
            middle = min(middle, max(steps_of(second.key)))  # a day has no 24:00
            self.say(
                other,
                second,
                written(
                    second,
                    self.pick.one([*steps_of(second.key), max(second.low, middle // 60 * 60)]),
                ),
            )
        fact = self.case.facts.get((other, second.key))
        if fact:
            self._num(node, entity, attribute, bound, want, fact.value[0] * node.times // node.per)

    def _same(self, node, entity, attribute, bound, want):
        other, second = self._other(node, bound)
        index = self.pick.one([i for i, p in enumerate(node.pairs) if p >= 0])
        if node.same == want:
            self.say(entity, attribute, attribute.values[index])
            self.say(other, second, second.values[node.pairs[index]])
        else:
            self.say(entity, attribute, self.pick.one(attribute.values))
            self.say(other, second, self.pick.one(second.values))

    def _is(self, node, entity, attribute, bound, want):
        if node.same == want:
            target = bound.get(node.target, node.target)
            self.case.names.setdefault(self.base.vocabulary.split(target)[0].name, set()).add(
                target
            )
            state(self.case, entity, attribute, target)

    def _state(self, node, entity, attribute, bound, want):
        values = values_of(attribute, self.case.names)
        if node.word == "unknown" and want:
            self.case.facts.pop((entity, attribute.key), None)
        elif values and attribute.type != "named":
            state(
                self.case,
                entity,
                attribute,
                self.pick.one(values) + ("?" if node.word == "doubtful" else ""),
            )

    def _other(self, node, bound):
        """The entity and attribute that a condition compares with."""
        entity, key = node.other.at(bound)
        return entity, self.base.vocabulary.attribute(key)

    forms = {
        InValues: _in,
        Compare: _num,
        CompareRefs: _cmp,
        SameWord: _same,
        PointsAt: _is,
        State: _state,
    }


def build(pick: Picker, rule=None) -> Case:
    """One random case; aimed at `rule` if given."""
    builder, base = Builder(pick), advisor().base
    if rule is None and pick.chance(4):
        builder.case = copy(pick.one(worked_cases()))
    if rule is not None:
        about = [rule.about]
    else:
        about = [pick.one(("plan", "plan", "incident", "kit"))]
        rules = [r for r in base.rules if r.about in about]
        for _ in range(pick.one(range(1, 7))):
            builder.aim(pick.one(rules))
    for kind in base.topics[about[0]][:1] if rule is not None else base.topics[about[0]]:
        builder.entity(kind)
    for _ in range(0 if rule is not None else pick.one(range(8))):
        builder.at_random(pick.one(list(base.vocabulary.entities)))
    if rule is not None:
        builder.aim(rule)
    case = builder.case
    extra = [t for t in ("plan", "incident", "kit") if t in case.topics or t in about]
    case.topics = tuple(t for t in base.topics if t in extra)
    return case


@st.composite
def cases(draw, rule=None):
    """Hypothesis strategy of random cases."""
    return build(Picker(draw=draw), rule)


def seeded(seed, rule=None) -> Case:
    """A random case from a seed."""
    return build(Picker(seed=seed), rule)


def told(case: Case) -> dict:
    """The facts of a case as a person would write them, for messages."""
    return {
        f"{entity}.{key.partition('.')[2]}": fact.text + ("?" if fact.state == 1 else "")
        for (entity, key), fact in sorted(case.facts.items())
    }
