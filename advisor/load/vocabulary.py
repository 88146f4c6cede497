"""Reading rules/vocabulary/*.yaml into a Vocabulary."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from msgspec.structs import replace

from advisor.facts.quantity import NotAQuantity, read_quantity
from advisor.facts.settle import settled_value
from advisor.facts.units import UNITS
from advisor.facts.vocabulary import Attribute, Entity, Vocabulary
from advisor.faults import Fault, did_you_mean
from advisor.load.moments import read_moment
from advisor.load.schema import form_faults
from advisor.load.tree import Data, Document, Trail

FAR = (-(10**12), 10**12)


def read_entity(document: Document) -> tuple[Entity | None, list[Fault]]:
    """One vocabulary file -> (Entity or None, faults)."""
    faults = form_faults(document, "vocabulary")
    if faults:
        return None, faults
    data = document.data
    attributes, faults = _attributes(document, data["entity"])
    faults += _settles(document, attributes)
    entity = Entity(
        data["entity"],
        data["many"] == "yes",
        "say kind" in data,
        data["help"],
        attributes=attributes,
    )
    return (None if faults else entity), faults


def read_more(document: Document, entities: dict[str, Entity]) -> list[Fault]:
    """A file that goes on with an entity: its attributes are added to it. Returns faults."""
    faults = form_faults(document, "vocabulary")
    if faults:
        return faults
    entity = entities.get(document.data["more of"])
    if entity is None:
        return [
            Fault(
                document.place(["more of"]),
                f"'{document.data['more of']}' is not an entity of another"
                f" file.{did_you_mean(document.data['more of'], entities)}",
            )
        ]
    attributes, faults = _attributes(document, entity.name)
    faults += [
        Fault(
            document.key_place(["attributes", name]),
            f"{entity.name} has the attribute '{name}' already; choose another name.",
        )
        for name in attributes
        if name in entity.attributes
    ]
    entity.attributes.update(attributes)
    return faults + _settles(document, entity.attributes)


def loose_links(document: Document, vocabulary: Vocabulary) -> list[Fault]:
    """Faults for attributes of one file that name another which is not there or does not fit."""
    entity, faults = document.data.get("entity", document.data.get("more of")), []
    for name, spec in document.data["attributes"].items():
        for key, message in _loose(vocabulary, vocabulary.by_key[f"{entity}.{name}"]):
            if key in spec:
                faults.append(Fault(document.place(["attributes", name, key]), message))
    return faults


def unserved(document: Document, served: set[str]) -> list[Fault]:
    """Faults for what the attributes of one file serve, where it is no topic and no decision."""
    return [
        Fault(
            document.place(["attributes", name, "serves", n]),
            f"'{one}' is no topic and no decision; expected one of:"
            f" {', '.join(sorted(served))}.{did_you_mean(one, served)}",
        )
        for name, spec in document.data["attributes"].items()
        for n, one in enumerate(spec.get("serves", ()))
        if one not in served
    ]


def _loose(vocabulary: Vocabulary, a: Attribute) -> Iterator[tuple[str, str]]:
    """(key of the vocabulary file, what is wrong with it)."""
    other = vocabulary.attribute(f"{a.entity}.{a.second}")
    if other is None or other.values_of != a.name:
        yield "second", f"'{a.second}' is no attribute of {a.entity} with 'values of: {a.name}'."
    first = vocabulary.attribute(f"{a.entity}.{a.values_of}")
    if first is None or first.second != a.name:
        yield "values of", f"'{a.values_of}' is no attribute of {a.entity} with 'second: {a.name}'."
    key, leads_to = a.from_plan or ("", {})
    planned = vocabulary.attribute(key)
    if planned is None or not planned.is_choice or planned.derived or not a.is_choice:
        yield "from plan", f"'{key}' is no choice that people state of a plan."
    elif set(leads_to) - set(planned.values) or set(leads_to.values()) - set(a.values):
        yield "from plan", f"each line is 'value of {key}: value of {a.key}'."
    after = vocabulary.attribute(a.runs_on_from)
    if a.type != "time" or after is None or after.type != "time":
        yield "runs on from", "a time of day runs on from another that people state, as plan.start."


def _attributes(document: Document, entity: str) -> tuple[dict[str, Attribute], list[Fault]]:
    attributes: dict[str, Attribute] = {}
    faults: list[Fault] = []
    specs = document.data["attributes"]
    for name, spec in specs.items():
        attributes[name], more = _attribute(document, entity, name, _with_values(spec, specs))
        faults += more
    return attributes, faults


def _with_values(spec: Data, specs: Data) -> Data:
    """A second choice of the same values has them from the first."""
    values = specs.get(spec.get("values of"), {}).get("values")
    return {**spec, "values": values} if values else spec


def _settles(document: Document, known: dict[str, Attribute]) -> list[Fault]:
    """Read what the answer 'yes' to an attribute of this file settles; returns faults."""
    faults: list[Fault] = []
    for name, spec in document.data["attributes"].items():
        found = []
        for other, raw in spec.get("settles", {}).items():
            place = document.place(["attributes", name, "settles", other])
            if spec["type"] != "yes/no" or other not in known or known[other].derived:
                faults.append(
                    Fault(
                        place,
                        f"a yes/no fact settles stated facts of its own entity; '{other}' is"
                        f" none.{did_you_mean(other, known)}",
                    )
                )
                continue
            value, message = settled_value(known[other], raw, place)
            faults += [Fault(place, message)] if message else []
            found.append((known[other].key, value))
        if found:
            known[name] = replace(known[name], settles=tuple(found))
    return faults


def _attribute(
    document: Document, entity: str, name: str, spec: Data
) -> tuple[Attribute, list[Fault]]:
    path: Trail = ["attributes", name]
    faults: list[Fault] = []

    def fault(key: str, message: str) -> None:
        faults.append(
            Fault(
                document.place(path + [key]) if key in spec else document.key_place(path), message
            )
        )

    kind = spec["type"]
    fields = {
        "type": kind,
        "says": spec.get("says", {}),
        "asks": spec.get("asks", ""),
        "help": spec["help"],
        "change": spec.get("change", ""),
        "serves": tuple(spec.get("serves", ())),
        "asked_as": tuple(spec.get("asked as", ())),
        "derived": "derived" in spec,
        "second": spec.get("second", ""),
        "values_of": spec.get("values of", ""),
        "gravest": tuple(spec.get("gravest first", ())),
        "laid_down": "laid down" in spec,
        "runs_on_from": spec.get("runs on from", ""),
        "from_plan": next(iter(spec.get("from plan", {}).items()), None),
    }
    if kind in ("choice", "yes/no"):
        fields.update(_choice(spec, fault))
    elif kind in ("number", "time"):
        fields.update(_number(spec, fault))
    elif kind == "named":
        fields["of"] = tuple(spec.get("of", ()))
        if not fields["of"]:
            fault("of", "a 'named' attribute says which entities it may name: of: [ladder, …].")
    _check_rest(spec, fields, fault)
    fields.update(read_moment(spec, fields, fault))
    return Attribute(entity, name, **fields), faults


def _choice(spec: Data, fault: Callable[[str, str], None]) -> dict[str, Any]:
    values = ["yes", "no"] if spec["type"] == "yes/no" else spec.get("values")
    if not values:
        fault("type", "a choice needs its values.")
        return {}
    if spec["type"] == "yes/no" and set(spec.get("says", {})) != {"yes", "no"}:
        fault(
            "says",
            "a yes/no attribute needs says: {yes: …, no: …}, the sentences for both answers.",
        )
    worse = spec.get("worse")
    groups = (
        [[w] for w in values if w != worse] + [[worse]]
        if isinstance(worse, str) and spec["type"] == "yes/no"
        else worse
    )
    ordered: list[str] = list(values)
    ranks: tuple[int, ...] = ()
    if worse is not None:
        groups = (
            [g if isinstance(g, list) else [g] for g in groups] if isinstance(groups, list) else []
        )
        listed = [v for g in groups for v in g]
        if sorted(map(str, listed)) != sorted(values):
            fault(
                "worse",
                f"'worse' must name each value once, best first; expected {', '.join(values)}.",
            )
        else:
            ordered, ranks = listed, tuple(rank for rank, g in enumerate(groups) for _ in g)
    otherwise = -1
    if "derived" in spec and "otherwise" in spec:
        if spec.get("otherwise") not in ordered or not ranks:
            fault(
                "otherwise",
                "a derived attribute needs 'worse', and 'otherwise' as one of its values (what"
                " holds when no rule concludes one).",
            )
        else:
            otherwise = ordered.index(spec["otherwise"])
    return {
        "values": tuple(ordered),
        "ranks": ranks,
        "otherwise": otherwise,
    }


def _number(spec: Data, fault: Callable[[str, str], None]) -> dict[str, Any]:
    unit = "min" if spec["type"] == "time" else spec.get("unit", "")
    if unit not in UNITS:
        fault(
            "unit",
            f"'{unit}' is not a unit known here; expected one of:"
            f" {', '.join(UNITS)}.{did_you_mean(unit, UNITS)}",
        )
        return {}
    ends = spec.get("range", ["0 min", "48 h"] if spec["type"] == "time" else None)
    if ends is None:
        fault("range", "a number needs its range, the lowest and highest value accepted.")
        return {}
    try:
        low, high = (read_quantity(end, unit, FAR).low for end in ends)
    except NotAQuantity as error:
        fault("range", str(error))
        return {}
    return {
        "unit": unit,
        "low": low,
        "high": high,
        "worse": spec.get("worse") or "",
        "below": tuple(spec.get("below nought", ())),
    }


def _check_rest(spec: Data, fields: dict[str, Any], fault: Callable[[str, str], None]) -> None:
    if spec["type"] in ("number", "time") and fields.get("worse") not in ("", "more", "less", None):
        fault("worse", "for a number, 'worse' is 'more' or 'less'.")
    if "derived" not in spec and spec["type"] != "text" and not spec.get("asks"):
        fault("asks", "a fact that people state needs the question that asks for it: asks: …?")
    if "derived" not in spec and spec["type"] != "text" and not spec.get("change"):
        fault(
            "change",
            "say whether people can change it: change: can be changed, or: can only be found out.",
        )
    if fields["gravest"] and sorted(fields["gravest"]) != sorted(fields.get("values", ())):
        fault("gravest first", "'gravest first' must name each value once, the gravest first.")
    for value in spec.get("says", {}):
        if fields.get("values") and value not in fields["values"]:
            fault(
                "says",
                f"'{value}' is not one of its values.{did_you_mean(value, fields['values'])}",
            )
