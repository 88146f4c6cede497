"""Reading rules/replies/*.yaml: how people answer the questions of the vocabulary, in words that
mean it only where just that was asked.
"""

from __future__ import annotations

from msgspec.structs import replace

from advisor.facts.vocabulary import Entity
from advisor.faults import Fault, did_you_mean
from advisor.load.schema import form_faults
from advisor.load.tree import Data, Document


def read_replies(document: Document, entities: dict[str, Entity]) -> list[Fault]:
    """Lay the replies of one file over the entities read before, in place; returns faults."""
    faults = form_faults(document, "replies")
    if faults:
        return faults
    data = document.data
    name = data["replies of"]
    entity = entities.get(name)
    if entity is None:
        text = f"'{name}' is not an entity of the vocabulary.{did_you_mean(name, entities)}"
        return [Fault(document.place(["replies of"]), text)]
    told_by = data.get("told by", "")
    if told_by and told_by not in entity.attributes:
        text = f"'{told_by}' is not an attribute of {name}."
        return [Fault(document.place(["told by"]), text + did_you_mean(told_by, entity.attributes))]
    entities[name] = replace(entity, told_by=told_by)
    for key, spec in data.get("attributes", {}).items():
        faults += _attribute(document, entity, key, spec)
    return faults


def _attribute(document: Document, entity: Entity, name: str, spec: Data) -> list[Fault]:
    path, attribute = ["attributes", name], entity.attributes.get(name)
    if attribute is None:
        text = f"'{name}' is not an attribute of {entity.name}."
        return [Fault(document.key_place(path), text + did_you_mean(name, entity.attributes))]
    answers = {v: tuple(map(str, said)) for v, said in spec.get("answers", {}).items()}
    entity.attributes[name] = replace(
        attribute, answers=answers, about=tuple(map(str, spec.get("about", ())))
    )
    return [
        Fault(
            document.key_place([*path, "answers", value]),
            f"'{value}' is not a value of {attribute.key}.{did_you_mean(value, attribute.values)}",
        )
        for value in answers
        if attribute.is_choice and value not in attribute.values
    ]
