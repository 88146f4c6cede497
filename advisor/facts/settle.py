"""Answers that settle other facts: who says that a ladder was examined in date and passed has
answered for its record, its mark and its dates, until one of these is stated by itself.

In the vocabulary: `settles: {record: in order, use: anything}`. With a sure 'yes' each of them that
nobody stated takes the value given ('anything' leaves it open). In a plan none of them is asked
for; the one answer is.
"""

from __future__ import annotations

from advisor.facts.values import read_fact
from advisor.facts.vocabulary import Attribute, Value, Vocabulary
from advisor.facts.world import KNOWN, World
from advisor.faults import Place

OPEN = "anything"


def settled_value(attribute: Attribute, raw: object, place: Place) -> tuple[Value, str]:
    """(value as the engines see it, '') or (None, message); None alone for 'anything'."""
    if raw == OPEN:
        return None, ""
    fact, message = read_fact(attribute, attribute.entity, raw, {}, "", place)
    if not fact:
        return None, message or "expected a value, or 'anything'."
    return (tuple(fact.value) if attribute.is_number else fact.value), ""


def settle(vocabulary: Vocabulary, world: World) -> None:
    """Give every fact that a sure 'yes' settles its value; what was settled before is opened."""
    for entity, key in world.settled:
        _set(world, entity, key, world.anything(vocabulary.by_key[key]))
        del world.states[entity, key]
    world.settled = {}
    for attribute in vocabulary.settling:
        yes = 1 << attribute.values.index("yes")
        for entity, value in world.columns[attribute.key].items():
            if value == yes and world.states.get((entity, attribute.key)) == KNOWN:
                _settle(world, attribute, entity)


def _settle(world: World, attribute: Attribute, entity: str) -> None:
    for key, value in attribute.settles:
        if value is not None and (entity, key) not in world.states:
            _set(world, entity, key, value)
            world.states[entity, key] = KNOWN
            world.settled[entity, key] = attribute.key


def _set(world: World, entity: str, key: str, value: Value) -> None:
    world.columns[key] = {**world.columns[key], entity: value}


def answered_by(vocabulary: Vocabulary) -> dict[str, str]:
    """{key: key of the attribute that settles it}."""
    return {key: a.key for a in vocabulary.settling for key, _ in a.settles}
