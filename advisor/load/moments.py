"""Reading when a fact is known, how long it then stands, and what must be seen true on the spot."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from advisor.facts.quantity import NotAQuantity, read_quantity
from advisor.facts.vocabulary import ON_THE_SPOT, Attribute, Value
from advisor.faults import Fault, did_you_mean
from advisor.load.tree import Data, Document

LONGEST = 12  # words of what must be seen: it is read aloud at the head
KEYS = ("known", "stands", "see", "well", "eyes")


def read_moment(
    spec: Data, fields: dict[str, Any], fault: Callable[[str, str], None]
) -> dict[str, Any]:
    """The fields of an Attribute that say when it is known; `fields` holds its type and values."""
    if "derived" in spec:
        for key in KEYS:
            if key in spec:
                fault(key, "a derived attribute is worked out, never seen; leave this line out.")
        return {}
    found = {key: spec.get(key, "") for key in ("known", "stands", "see", "eyes")}
    if ("known" in spec) != ("stands" in spec):
        fault("known", "'known' and 'stands' go together: when it is known, how long it stands.")
    if ("see" in spec) != ("well" in spec):
        fault("see", "'see' and 'well' go together: what must be seen, and the answers to that.")
    if "see" in spec and (spec.get("known") not in ON_THE_SPOT or "eyes" not in spec):
        fault(
            "see",
            f"'see' is for what is known {' or '.join(ON_THE_SPOT)}, and needs 'eyes', where to"
            " look.",
        )
    if len(found["see"].split()) > LONGEST:
        fault("see", f"this is read aloud at the head; say it in at most {LONGEST} words.")
    if "well" in spec:
        found["well"] = _well(spec, fields, fault)
    return found


def _well(spec: Data, fields: dict[str, Any], fault: Callable[[str, str], None]) -> Value | None:
    """The values that answer a check well, as a mask or an interval in steps; None with a fault."""
    well, values = spec["well"], fields.get("values", ())
    if fields["type"] == "number" and isinstance(well, dict) and fields.get("unit"):
        return _between(well, fields, fault)
    if not values or not isinstance(well, list):
        fault(
            "well",
            "write the values of a choice as a list, well: [no], and those of a number with their"
            " bounds, well: {at most: 0.5 m}.",
        )
        return None
    for value in well:
        if value not in values:
            fault("well", f"'{value}' is not one of its values.{did_you_mean(value, values)}")
            return None
    if set(well) == set(values):
        fault("well", "if every value is well there is nothing to see; leave the bad ones out.")
    return sum(1 << values.index(value) for value in well)


def _between(bounds: Data, fields: dict[str, Any], fault: Callable[[str, str], None]) -> Value:
    """The interval of steps that bounds leave."""
    low, high = limits = fields["low"], fields["high"]
    for test, written in bounds.items():
        try:
            steps = read_quantity(written, fields["unit"], limits).low
        except NotAQuantity as error:
            fault("well", str(error))
            return None
        if test in ("at least", "above"):
            low = max(low, steps + (test == "above"))
        else:
            high = min(high, steps - (test == "below"))
    if low > high or (low, high) == limits:
        fault("well", "these bounds leave no value, or leave out none; give others.")
    return low, high


def without_moment(
    documents: Iterable[Document], attributes: dict[str, Attribute], eyes: tuple[str, ...]
) -> list[Fault]:
    """Faults where a rule base says where the eyes are (`eyes` in decisions.yaml): stated facts
    that do not say when they are known, and those that look elsewhere.
    """
    faults = []
    for document in documents:
        entity = document.data.get("entity", document.data.get("more of"))
        for name in document.data["attributes"]:
            attribute, path = attributes[f"{entity}.{name}"], ["attributes", name]
            if eyes and not attribute.derived and not attribute.known:
                message = "say when people know it: known: at home, and how long it stands: stands."
                faults.append(Fault(document.key_place(path), message))
            if attribute.eyes and attribute.eyes not in eyes:
                message = (
                    f"'{attribute.eyes}' is not under 'eyes' in decisions.yaml; expected one of:"
                    f" {', '.join(eyes)}.{did_you_mean(attribute.eyes, eyes)}"
                )
                faults.append(Fault(document.place([*path, "eyes"]), message))
    return faults
