"""The exact form, always understood: 'ENTITY ATTRIBUTE: VALUE', such as 'anchor left bolt worst
sign: deep rust?'.
"""

from __future__ import annotations

from advisor.facts.values import read_fact
from advisor.faults import Place


def read_typed(scene, segment: str) -> bool:
    """Take a segment in the exact form; False if it is not in that form."""
    left, colon, value = segment.partition(":")
    value = value.strip()
    if not colon or not value:
        return False
    found = _split(scene, " ".join(left.split()))
    if not found:
        return False
    entity, attribute = found
    raw = _value(scene, attribute, entity, value)
    if raw is None:
        return False
    scene.say(entity, attribute.key, raw, segment.strip())
    scene.subject = entity
    return True


def _split(scene, left: str):
    """(entity id, attribute) of the words before the colon: the longest attribute name that ends
    them.
    """
    lower = left.lower()
    found = scene.vocabulary.split(lower)
    if not found:
        return None
    entity, rest = found
    for attribute in sorted(entity.attributes.values(), key=lambda a: -len(a.name)):
        name = attribute.name.lower()
        if attribute.derived or not (rest == name or rest.endswith(" " + name)):
            continue
        given = left[len(entity.name) : len(left) - len(name)].strip()
        if bool(given) == entity.many:
            known = next(
                (
                    i
                    for i in scene.ids(entity.name)
                    if i.lower() == f"{entity.name} {given}".lower().strip()
                ),
                None,
            )
            return known or f"{entity.name} {given}".strip(), attribute
    return None


def _value(scene, attribute, entity, value):
    """The raw value if it can be read, else None."""
    names = {
        **{e.name: {e.name} for e in scene.vocabulary.entities.values() if not e.many},
        **scene.names,
    }
    several = [part.strip() for part in value.split(" or ")]
    for raw in (value, several if len(several) > 1 else value):
        if not read_fact(attribute, entity, raw, names, "chat", Place("chat"))[1]:
            return raw
    return None
