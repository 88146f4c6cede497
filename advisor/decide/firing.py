"""Effects of fired rules, sorted by kind, with their texts filled in and their
derivations named.
"""

from __future__ import annotations

from advisor.decide.open_leaves import open_leaves
from advisor.facts.values import show_value
from advisor.model.effects import TEMPLATE
from advisor.model.outcome import Firing


def firings(base, instances, kinds=()) -> dict:
    """{effect kind: [Firing]} in rule order, then by entities; only some kinds where named."""
    found = {}
    for item in sorted(instances, key=lambda i: (i.rule, i.bound)):
        rule = base.rules[item.rule]
        bound = rule.bind(item.bound)
        for effect in rule.effects:
            if kinds and effect.kind not in kinds:
                continue
            found.setdefault(effect.kind, []).append(Firing(effect, item.truth, rule, bound, item))
    return found


def name_of(base, entity: str) -> str:
    """The user's name for an entity: 'left bolt' for 'anchor left bolt', 'the pitch' for
    'pitch'.
    """
    found = base.vocabulary.split(entity)
    if not found:
        return entity
    kind, name = found
    return entity if name and kind.say_kind else name or f"the {kind.name}"


def fill(base, world, text: str, bound: dict) -> str:
    """A rule's text with {a} and {a.height} replaced by the name and the value."""

    def value(match):
        variable, _, attribute = match.group(1).partition(".")
        entity = bound.get(variable, variable)
        if not attribute:
            return name_of(base, entity)
        kind = base.vocabulary.split(entity)[0]
        key = f"{kind.name}.{attribute}"
        return known_value(base, world, entity, key)

    return TEMPLATE.sub(value, text)


def known_value(base, world, entity, key) -> str:
    """The value in words, 'not known' when it could be anything."""
    attribute = base.vocabulary.attribute(key)
    value = world.columns[key][entity]
    if value == world.anything(attribute):
        return "not known"
    if attribute.type == "named":
        return " or ".join(name_of(base, i) for i, bit in world.bits.items() if value & bit)
    return show_value(attribute, value)


def uncertain(base, world, entity, key) -> bool:
    """Whether more than one value is possible."""
    value = world.columns[key][entity]
    return (
        value[0] != value[1] if isinstance(value, tuple) else value & (value - 1) != 0 or value == 0
    )


class Unknowns:
    """Traces what is open down to facts that people could state."""

    def __init__(self, base, outcome):
        self.base, self.world, self.by_target = base, outcome.world, {}
        self.worked = given_by(base, outcome.worked)
        for item in outcome.instances:
            rule = base.rules[item.rule]
            if rule.derives and item.truth == 1:
                target = rule.conclusion.ref.at(rule.bind(item.bound))
                self.by_target.setdefault(target, []).append(item)

    def behind(self, instance, seen=()) -> set:
        """{(entity, key)} of stated attributes that are not settled and on which an open instance
        rests.
        """
        rule = self.base.rules[instance.rule]
        bound = rule.bind(instance.bound)
        return self.settle(set(open_leaves(rule.condition, bound, self.world)), seen)

    def settle(self, references, seen=()) -> set:
        """The unsettled stated facts behind some facts."""
        found = set()
        for reference in references:
            if reference in seen or not uncertain(self.base, self.world, *reference):
                continue
            if not self.base.vocabulary.attribute(reference[1]).derived:
                found.add(reference)
                continue
            for item in self.by_target.get(reference, ()):
                found |= self.behind(item, (*seen, reference))
            for worked in self.worked.get(reference, ()):
                found |= self.settle(worked.looked_at, (*seen, reference))
        return found


def given_by(base, worked) -> dict:
    """{(entity, key): [Worked]}: which calculation gave which fact."""
    found = {}
    for done in worked:
        for key in done.calculation.outputs:
            found.setdefault(done.calculation.gives(key, done.bound), []).append(done)
    return found
