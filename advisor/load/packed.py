"""A rule base as data of the few kinds that the cache can keep, and back.

All records of a base stand in one table, those before that others hold; a record is held by its
place there. Equal records stand in it once.
"""

from __future__ import annotations

from typing import Any

from msgspec import Struct

from advisor.facts.vocabulary import Attribute, Entity, Vocabulary
from advisor.faults import Place
from advisor.model import conditions, effects, inputs
from advisor.model.base import Base, Stratum
from advisor.model.calculation import Calculation, Figure, Named
from advisor.model.inputs import Pick
from advisor.model.layout import Layout, Part, Row
from advisor.model.ref import Ref
from advisor.model.rule import Rule

TYPES: tuple[type, ...] = (
    Ref,
    Place,
    Rule,
    Calculation,
    Figure,
    Attribute,
    Entity,
    *conditions.FORMS,
    effects.Control,
    *effects.FORMS,
    Named,
    Pick,
    *inputs.FORMS,
    Part,
    Row,
    Layout,
)
NUMBERS = {record: number for number, record in enumerate(TYPES)}
# How a field holds records, by its type as written.
ONE = {"Ref", "Ref | None", "Place", "Condition", "Condition | None", "Input"}
SEVERAL = {
    f"tuple[{held}, ...]"
    for held in ("Condition", "Control", "Effect", "Input", "Named", "Part", "Pick", "Ref", "Row")
}
BY_NAME = {"dict[str, Attribute]"}
NONE: tuple[tuple[int, ...], ...] = ((), (), ())


def _plan(record: type) -> tuple[type, tuple[str, ...], tuple[tuple[int, ...], ...]]:
    """(type, its fields, places of the fields that hold one record, several, several by name)."""
    if record in (Ref, Place):
        return record, record._fields, NONE
    assert issubclass(record, Struct)
    names, types = own_fields(record), {}
    for kind in reversed(record.__mro__):
        types.update(vars(kind).get("__annotations__", {}))
    places = tuple(
        tuple(n for n, name in enumerate(names) if types[name] in held)
        for held in (ONE, SEVERAL, BY_NAME)
    )
    return record, names, places if any(places) else NONE


def own_fields(record: type[Struct]) -> tuple[str, ...]:
    """The fields of a record that are not worked out from others."""
    worked_out = getattr(record, "worked_out", ())
    return tuple(name for name in record.__struct_fields__ if name not in worked_out)


PLANS = tuple(map(_plan, TYPES))


class _Table:
    """The rows of the table, filled record by record."""

    def __init__(self) -> None:
        self.rows: list[tuple[Any, ...]] = []
        self.known: dict[tuple[Any, ...], int] = {}

    def place(self, record: Any) -> int | None:
        """The place of a record, which is put in with all that it holds; None for none."""
        if record is None:
            return None
        number = NUMBERS[type(record)]
        _, names, (one, several, by_name) = PLANS[number]
        values = [getattr(record, name) for name in names]
        for at in one:
            values[at] = self.place(values[at])
        for at in several:
            values[at] = tuple(map(self.place, values[at]))
        for at in by_name:
            values[at] = {name: self.place(held) for name, held in values[at].items()}
        return self._put((number, *values))

    def _put(self, row: tuple[Any, ...]) -> int:
        try:
            place = self.known.setdefault(row, len(self.rows))
        except TypeError:  # one with a mapping, which is not looked up
            place = len(self.rows)
        if place == len(self.rows):
            self.rows.append(row)
        return place


def _records(rows: list[tuple[Any, ...]]) -> list[Any]:
    """The records of a table, by place."""
    found: list[Any] = []
    for row in rows:
        make, _, held = PLANS[row[0]]
        if held is NONE:
            found.append(make(*row[1:]))
            continue
        values = list(row[1:])
        one, several, by_name = held
        for at in one:
            if values[at] is not None:
                values[at] = found[values[at]]
        for at in several:
            values[at] = tuple([found[place] for place in values[at]])
        for at in by_name:
            values[at] = {name: found[place] for name, place in values[at].items()}
        found.append(make(*values))
    return found


def packed(base: Base) -> dict[str, Any]:
    """A Base as plain data."""
    table = _Table()
    data = {name: getattr(base, name) for name in own_fields(Base)}
    for part in ("rules", "calculations"):
        data[part] = tuple(map(table.place, data[part]))
    data["figures"] = {name: table.place(figure) for name, figure in base.figures.items()}
    data["vocabulary"] = {name: table.place(e) for name, e in base.vocabulary.entities.items()}
    data["strata"] = tuple(map(tuple, base.strata))
    data["screen"] = table.place(base.screen)
    return {**data, "records": table.rows}


def unpacked(data: dict[str, Any]) -> Base:
    """The Base that `packed` gave."""
    data = dict(data)
    found = _records(data.pop("records"))
    for part in ("rules", "calculations"):
        data[part] = tuple([found[place] for place in data[part]])
    for part in ("figures", "vocabulary"):
        data[part] = {name: found[place] for name, place in data[part].items()}
    data["strata"] = tuple(Stratum(*stratum) for stratum in data["strata"])
    data["screen"] = found[data["screen"]]
    return Base(**{**data, "vocabulary": Vocabulary(data["vocabulary"])})
