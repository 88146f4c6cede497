"""The part of a rule base that some rules rest on: what is outside it cannot change whether they
hold.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable

from msgspec import Struct
from msgspec.structs import replace

from advisor.model.base import Base, Stratum
from advisor.model.calculation import Calculation


class Behind(Struct, frozen=True):
    """What some rules rest on: indexes of the rules (they themselves among them) and of the
    calculations, and the keys of all attributes met.
    """

    rules: set[int]
    calculations: set[int]
    keys: set[str]


def _always(calculation: Calculation) -> bool:
    return True


def behind(
    base: Base, rules: Iterable[int], worked: Callable[[Calculation], bool] = _always
) -> Behind:
    """What rests behind the rules with these indexes; `worked` says which calculations are worked
    at all.
    """
    concluding: dict[str, set[int]] = {}
    working: dict[str, set[int]] = {}
    for index, rule in enumerate(base.rules):
        if rule.derives:
            concluding.setdefault(rule.derives, set()).add(index)
    for index, calculation in enumerate(base.calculations):
        for key in calculation.outputs if worked(calculation) else ():
            working.setdefault(key, set()).add(index)
    found = Behind(set(rules), set(), set())
    todo = [ref.key for n in found.rules for ref in base.rules[n].condition.references()]
    while todo:
        key = todo.pop()
        if key in found.keys:
            continue
        found.keys.add(key)
        found.rules.update(concluding.get(key, ()))
        found.calculations.update(working.get(key, ()))
        for n in concluding.get(key, ()):
            todo += [ref.key for ref in base.rules[n].condition.references()]
        for n in working.get(key, ()):
            todo += base.calculations[n].keys
    return found


def narrowed(base: Base, part: Behind, decisions: Collection[str]) -> Base:
    """The base with only a part of its rules and calculations in its strata, and these decisions
    (by name).
    """
    return replace(
        base,
        decisions={n: d for n, d in base.decisions.items() if n in decisions},
        strata=tuple(
            Stratum(n, tuple(i for i in own if i in part.rules)) for n, own in base.strata
        ),
        calculation_order=tuple(
            tuple(i for i in own if i in part.calculations) for own in base.calculation_order
        ),
    )
