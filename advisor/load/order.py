"""The order in which rules run, and the rules that rules name; with faults where they go round in
a circle or are not there.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import TypeAlias

from advisor.faults import Fault, Faults, Place, did_you_mean
from advisor.model.base import Stratum
from advisor.model.calculation import Calculation
from advisor.model.rule import Rule
from advisor.model.strata import Cycle, calculation_order, strata

Order: TypeAlias = tuple[tuple[Stratum, ...], tuple[tuple[int, ...], ...]]


def ordered(
    rules: Sequence[Rule], calculations: Sequence[Calculation], suspect: Sequence[Rule] = ()
) -> Order:
    """(strata, the calculations of each); raises Faults for derived facts that need each other, at
    the place of a rule that makes a step of the circle, of the `suspect` ones if any does.
    """
    try:
        return strata(rules, calculations), calculation_order(rules, calculations)
    except Cycle as cycle:
        steps = set(zip(cycle.keys, cycle.keys[1:]))
        place = next(
            (
                r.place
                for r in (*suspect, *rules)
                if any((r.derives, ref.key) in steps for ref in r.condition.references())
            ),
            Place("rules"),
        )
        raise Faults(
            [
                Fault(
                    place,
                    f"these derived facts need each other: {' needs '.join(cycle.keys)}; break the"
                    " circle.",
                )
            ]
        ) from None


def unknown_rules(rules: Sequence[Rule], others: Collection[str] = ()) -> list[Fault]:
    """Faults for steps and hazards that point at rules which are not there.

    `others`: ids of rules that are there beside these.
    """
    known, faults = {*others, *(r.id for r in rules)}, []
    for rule in rules:
        for effect in rule.effects:
            for name, ids in effect.rules_named.items():
                faults += [
                    Fault(
                        rule.place,
                        f"'{name}' names the rule '{other}', which does not"
                        f" exist.{did_you_mean(other, known)}",
                    )
                    for other in ids
                    if other not in known
                ]
    return faults
