"""JSON Schema checks whose errors carry the place in the file and say what to do."""

from __future__ import annotations

import json
from functools import cache
from typing import Any

from advisor.faults import Fault, did_you_mean
from advisor.load.tree import Document


@cache
def schema(name: str) -> dict[str, Any]:
    """A schema shipped in the package, by the name of its file."""
    from importlib import (
        resources,
    )  # like jsonschema below, only loaded where something is to be checked

    found: dict[str, Any] = json.loads(
        resources.files("advisor.schema").joinpath(name + ".json").read_text("utf-8")
    )
    return found


def form_faults(document: Document, name: str) -> list[Fault]:
    """All departures of a Document from a schema, as faults."""
    from jsonschema import (
        Draft202012Validator,
    )  # takes a tenth of a second to import; a warm start never comes here

    faults: list[Fault] = []
    for error in Draft202012Validator(schema(name)).iter_errors(document.data):
        faults += _faults(document, error)
    return faults


def _faults(document: Document, error: Any) -> list[Fault]:
    """The faults that one of jsonschema's errors stands for."""
    path = list(error.absolute_path)
    if error.validator == "additionalProperties" and isinstance(error.instance, dict):
        known = error.schema.get("properties", {})
        return [
            Fault(
                document.key_place(path + [key]),
                f"'{key}' is not known here; expected one of:"
                f" {', '.join(known)}.{did_you_mean(key, known)}",
            )
            for key in error.instance
            if key not in known
        ]
    if error.validator == "anyOf" and error.context:
        best = max(error.context, key=lambda e: len(e.absolute_path))
        return _faults(document, best)
    if error.validator == "propertyNames" or list(error.absolute_schema_path)[-2:-1] == [
        "propertyNames"
    ]:
        return [
            Fault(
                (
                    document.key_place(path + [error.instance])
                    if isinstance(error.instance, str)
                    else document.place(path)
                ),
                f"'{error.instance}' cannot be a name here; use plain words in lower case.",
            )
        ]
    return [Fault(document.place(path), _sentence(error))]


ONE_LINE = "^[^"  # how a pattern begins that only says what may not stand in a text


def _sentence(error: Any) -> str:
    value, want = error.validator_value, error.instance
    if error.validator == "required":
        missing = [key for key in value if key not in want]
        return f"{', '.join(repr(k) for k in missing)} missing here; add it."
    if error.validator == "type":
        names = {
            "object": "a mapping (key: value)",
            "array": "a list",
            "string": "words",
            "integer": "a whole number",
            "number": "a number",
            "null": "nothing",
        }
        kinds = [value] if isinstance(value, str) else value
        return f"expected {' or '.join(names.get(k, k) for k in kinds)}, found {_short(want)}."
    if error.validator == "enum":
        return (
            f"{_short(want)} is not one of:"
            f" {', '.join(map(str, value))}.{did_you_mean(str(want), map(str, value))}"
        )
    if error.validator == "pattern" and value.startswith(ONE_LINE):
        return "write it on one line, in plain characters."
    if error.validator == "pattern":
        return (
            f"{_short(want)} is not a name in the expected form (lower-case words, dots and"
            " hyphens)."
        )
    if error.validator == "uniqueItems":
        return "something stands here twice; keep one."
    if error.validator in ("minProperties", "minItems"):
        return f"at least {value} expected here."
    if error.validator in ("maxProperties", "maxItems"):
        return f"at most {value} expected here, found {len(want)}; write them as a list."
    if error.validator in ("maxLength", "minLength"):
        return (
            f"{'at most' if error.validator == 'maxLength' else 'at least'} {value} characters"
            f" expected here, found {len(want)}."
        )
    return f"{_short(want)} does not fit here ({error.validator})."


def _short(value: object) -> str:
    text = (
        "nothing"
        if value is None
        else (
            "a list"
            if isinstance(value, list)
            else "a mapping"
            if isinstance(value, dict)
            else repr(value)
        )
    )
    return text if len(text) < 60 else text[:57] + "…'"
