"""Reading rules/phrases/*.yaml: what people say for the entities, attributes and values of the
vocabulary.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from msgspec.structs import replace

from advisor.facts.vocabulary import PHRASE_MARK, Entity
from advisor.faults import Fault, did_you_mean
from advisor.load.schema import form_faults
from advisor.load.tree import Data, Document


def read_phrases(document: Document, entities: dict[str, Entity]) -> list[Fault]:
    """Lay the phrases of one file over the entities read before, in place; returns faults."""
    faults = form_faults(document, "phrases")
    if faults:
        return faults
    data = document.data
    name = data["phrases of"]
    entity = entities.get(name)
    if entity is None:
        return [
            Fault(
                document.place(["phrases of"]),
                f"'{name}' is not an entity of the vocabulary.{did_you_mean(name, entities)}",
            )
        ]
    if "phrases" in data:
        if entity.phrases:
            return [
                Fault(
                    document.key_place(["phrases"]),
                    f"'{name}' has phrases in another file already; add these to them.",
                )
            ]
        entities[name] = entity = replace(entity, phrases=_words(data["phrases"]))
    for key, spec in data.get("attributes", {}).items():
        faults += _attribute(document, entity, key, spec)
    return faults


def _attribute(document: Document, entity: Entity, name: str, spec: Data) -> list[Fault]:
    path, attribute = ["attributes", name], entity.attributes.get(name)
    if attribute is None:
        return [
            Fault(
                document.key_place(path),
                f"'{name}' is not an attribute of {entity.name}."
                f"{did_you_mean(name, entity.attributes)}",
            )
        ]
    if attribute.phrases or attribute.value_phrases:
        return [
            Fault(
                document.key_place(path),
                f"{attribute.key} has phrases in another file already; add these to them.",
            )
        ]
    values = spec.get("values", {})
    if values and attribute.type != "choice":
        return [
            Fault(
                document.key_place(path + ["values"]),
                f"{attribute.key} is not a choice and has no values with names; put the phrases"
                " under 'phrases'.",
            )
        ]
    entity.attributes[name] = replace(
        attribute,
        phrases=_words(spec.get("phrases", ())),
        value_phrases={value: _words(words) for value, words in values.items()},
    )
    return [
        *_marks(document, [*path, "phrases"], spec.get("phrases", ())),
        *(f for v, words in values.items() for f in _marks(document, [*path, "values", v], words)),
    ] + [
        Fault(
            document.key_place(path + ["values", value]),
            f"'{value}' is not a value of {attribute.key}.{did_you_mean(value, attribute.values)}",
        )
        for value in values
        if value not in attribute.values
    ]


def _marks(document: Document, path: list[str], phrases: Iterable[str]) -> Iterator[Fault]:
    """Faults for phrases that end in brackets with no mark known here."""
    for n, phrase in enumerate(phrases):
        if str(phrase).rstrip().endswith(")") and not PHRASE_MARK.search(str(phrase)):
            yield Fault(
                document.place([*path, n]),
                f"'{phrase}' ends in a mark that is not known; expected (yes), (no), (matter),"
                " (or worse), (alone) or a number as (1).",
            )


def _words(phrases: Iterable[str]) -> tuple[str, ...]:
    return tuple(map(str, phrases))
