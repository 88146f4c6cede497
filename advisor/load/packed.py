"""A rule base as data of the few kinds that the cache can keep, and back.

A record is kept as a list: a number for its type, then its fields in order. Nothing in a base is
kept as a list otherwise, so a list always stands for a record.
"""

from __future__ import annotations

from dataclasses import fields
from typing import Any

from advisor.faults import Place
from advisor.model import conditions
from advisor.model.calculation import Calculation, Figure
from advisor.model.ref import Ref
from advisor.model.rule import Rule

RECORDS: tuple[type, ...] = (
    Ref,
    Place,
    Rule,
    Calculation,
    Figure,
    conditions.InValues,
    conditions.Compare,
    conditions.State,
    conditions.CompareRefs,
    conditions.SameWord,
    conditions.PointsAt,
    conditions.Chosen,
    conditions.AllOf,
    conditions.AnyOf,
    conditions.Not,
    conditions.Some,
)
NUMBERS = {record: number for number, record in enumerate(RECORDS)}
FIELDS = {
    record: getattr(record, "_fields", None) or tuple(f.name for f in fields(record))
    for record in RECORDS
}
CALCULATED = ("rules", "figures", "calculations")  # the parts of a base that hold records


def packed(value: Any) -> Any:
    """A value with the records in it as lists."""
    kind = type(value)
    if kind in NUMBERS:
        return [NUMBERS[kind], *(packed(getattr(value, name)) for name in FIELDS[kind])]
    if kind is tuple:
        return tuple(map(packed, value))
    return {key: packed(item) for key, item in value.items()} if kind is dict else value


def unpacked(value: Any) -> Any:
    """The value that `packed` gave."""
    kind = type(value)
    if kind is list:
        number, *rest = value
        return RECORDS[number](*map(unpacked, rest))
    if kind is tuple:
        return tuple(map(unpacked, value))
    return {key: unpacked(item) for key, item in value.items()} if kind is dict else value
