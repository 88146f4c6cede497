"""Phrases a speaker could type instead: 'pitch water: drips'. They are always understood back,
exactly.
"""

from __future__ import annotations


def canonical(entity: str, attribute, value) -> str:
    """'anchor left bolt worst sign: deep rust'."""
    return (
        f"{entity} {attribute.name}:"
        f" {' or '.join(map(str, value)) if isinstance(value, (list, tuple)) else value}"
    )


def readings_of(scene, senses, subjects, denied=False) -> list:
    """One phrase for each meaning that words may have; denied: a 'not' reaches them, so that no
    'yes' is offered for a 'no'.
    """
    found = []
    for sense in senses:
        attribute = scene.vocabulary.attribute(sense.key)
        entity = scene.entity(sense.entity)
        mine = [i for i in subjects if scene.kind_of(i) == sense.entity] or scene.ids(entity.name)
        target = mine[0] if mine else f"{sense.entity} main"
        if denied and attribute.type != "yes/no":
            continue
        opposite = {"yes": "no", "no": "yes"}.get(sense.value, "no") if denied else None
        value = (
            opposite
            or sense.value
            or (
                attribute.values[0]
                if attribute.is_choice
                else "…"
                if not attribute.is_number
                else f"… {attribute.unit}"
            )
        )
        found.append(canonical(target, attribute, value))
    return list(dict.fromkeys(found))[:3]
