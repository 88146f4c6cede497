"""Effects of fired rules, sorted by kind, with their texts filled in and their
derivations named.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from typing import TypeAlias, TypeVar

from advisor.decide.open_leaves import open_leaves
from advisor.engine.truth import truth_alone
from advisor.facts.values import show_value
from advisor.facts.world import World
from advisor.model.base import Base
from advisor.model.effects import TEMPLATE, Effect
from advisor.model.outcome import Firing, Instance, Outcome, Worked
from advisor.model.ref import Ref

Found: TypeAlias = Mapping[str, list[Firing]]
Form = TypeVar("Form", bound=Effect)


def firings(base: Base, instances: Iterable[Instance], kinds: Collection[str] = ()) -> Found:
    """{effect kind: [Firing]} in rule order, then by entities; only some kinds where named."""
    found: dict[str, list[Firing]] = {}
    for item in sorted(instances, key=lambda i: (i.rule, i.bound)):
        rule = base.rules[item.rule]
        bound = rule.bind(item.bound)
        for effect in rule.effects:
            if kinds and effect.kind not in kinds:
                continue
            found.setdefault(effect.kind, []).append(Firing(effect, item.truth, rule, bound, item))
    return found


def given(found: Found, form: type[Form], truth: int = 0) -> Iterator[tuple[Firing, Form]]:
    """The firings of one form of effect, each with its effect; only those of one truth, where it
    is named.
    """
    for firing in found.get(form.kind, ()):
        if isinstance(firing.effect, form) and truth in (0, firing.truth):
            yield firing, firing.effect


def name_of(base: Base, entity: str) -> str:
    """The user's name for an entity: 'left bolt' for 'anchor left bolt', 'the pitch' for
    'pitch'.
    """
    found = base.vocabulary.split(entity)
    if not found:
        return entity
    kind, name = found
    return entity if name and kind.say_kind else name or f"the {kind.name}"


def fill(base: Base, world: World, text: str, bound: Mapping[str, str]) -> str:
    """A rule's text with {a} and {a.height} replaced by the name and the value."""

    def value(match: re.Match[str]) -> str:
        variable, _, attribute = match.group(1).partition(".")
        entity = bound.get(variable, variable)
        if not attribute:
            return name_of(base, entity)
        found = base.vocabulary.split(entity)
        kind = found[0].name if found else entity
        return known_value(base, world, entity, f"{kind}.{attribute}")

    return TEMPLATE.sub(value, text)


def open_words(base: Base, world: World, firing: Firing) -> str:
    """What of a branch's conditions is still open, in words; what is settled is not said."""
    rule, conditions = firing.rule, firing.rule.condition.children
    said = [
        words
        for number, words in rule.when
        if number < 0 or truth_alone(conditions[number], firing.bound, world) == 1
    ]
    listed = ", ".join(said[:-1]) + " and " * (len(said) > 1) + "".join(said[-1:])
    return fill(base, world, listed or rule.title, firing.bound)


def known_value(base: Base, world: World, entity: str, key: str) -> str:
    """The value in words, 'not known' when it could be anything."""
    attribute = base.vocabulary.by_key[key]
    value = world.columns[key][entity]
    if value == world.anything(attribute):
        return "not known"
    if attribute.type == "named":
        return " or ".join(name_of(base, i) for i, bit in world.bits.items() if value & bit)
    return show_value(attribute, value)


def uncertain(base: Base, world: World, entity: str, key: str) -> bool:
    """Whether more than one value is possible."""
    value = world.columns[key][entity]
    if isinstance(value, tuple):
        return bool(value[0] != value[1])
    return bool(value & (value - 1) != 0 or value == 0)


class Unknowns:
    """Traces what is open down to facts that people could state."""

    def __init__(self, base: Base, outcome: Outcome) -> None:
        self.base, self.world = base, outcome.world
        self.by_target: dict[Ref, list[Instance]] = {}
        self.leaves: dict[Instance, frozenset[Ref]] = {}
        self.stated: dict[Ref, frozenset[Ref]] = {}
        self.rest: dict[Instance, frozenset[Ref]] = {}
        self.worked = given_by(base, outcome.worked)
        for item in outcome.instances:
            rule = base.rules[item.rule]
            if rule.derives and item.truth == 1:
                target = rule.conclusion.ref.at(rule.bind(item.bound))
                self.by_target.setdefault(target, []).append(item)

    def behind(self, instance: Instance) -> frozenset[Ref]:
        """{(entity, key)} of stated attributes that are not settled and on which an open instance
        rests.
        """
        found = self.rest.get(instance)
        if found is None:
            found = self.rest[instance] = frozenset(self.settle(self._leaves(instance)))
        return found

    def _leaves(self, instance: Instance) -> frozenset[Ref]:
        """What keeps an instance open, looked for once: many effects ask for the same."""
        if instance not in self.leaves:
            rule = self.base.rules[instance.rule]
            found = open_leaves(rule.condition, rule.bind(instance.bound), self.world)
            self.leaves[instance] = frozenset(found)
        return self.leaves[instance]

    def settle(self, references: Iterable[Ref]) -> set[Ref]:
        """The unsettled stated facts behind some facts."""
        found: set[Ref] = set()
        for reference in references:
            found |= self._stated(reference)
        return found

    def _stated(self, reference: Ref) -> frozenset[Ref]:
        """The unsettled stated facts behind one, looked for once; a fact that rests on itself is
        passed by once.
        """
        known = self.stated.get(reference)
        if known is None:
            found, seen, left = set(), set(), [reference]
            while left:
                here = left.pop()
                if here in seen:
                    continue
                seen.add(here)
                if here in self.world.settled or not uncertain(self.base, self.world, *here):
                    continue
                if not self.base.vocabulary.by_key[here.key].derived:
                    found.add(here)
                    continue
                for item in self.by_target.get(here, ()):
                    left += self._leaves(item)
                for worked in self.worked.get(here, ()):
                    left += worked.looked_at
            known = self.stated[reference] = frozenset(found)
        return known


def given_by(base: Base, worked: Iterable[Worked]) -> dict[Ref, list[Worked]]:
    """{(entity, key): [Worked]}: which calculation gave which fact."""
    found: dict[Ref, list[Worked]] = {}
    for done in worked:
        for key in done.calculation.outputs:
            found.setdefault(done.calculation.gives(key, done.bound), []).append(done)
    return found
