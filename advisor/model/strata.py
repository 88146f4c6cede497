"""The order in which rules run: each derived fact is finished before any rule looks at it.

Strata: classify 1, 2, … (rules that derive facts), weigh (all that looks at facts), arrange
(what looks at decisions). Negation and counting therefore only ever see finished facts.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from graphlib import CycleError, TopologicalSorter

from advisor.model.base import Stratum
from advisor.model.calculation import Calculation
from advisor.model.conditions import looks_at_choice
from advisor.model.rule import Rule


class Cycle(Exception):
    """Derived facts that need each other; `keys` names them in order."""

    def __init__(self, keys: list[str]) -> None:
        self.keys = keys
        super().__init__(" needs ".join(keys))


def levels(needs: Mapping[str, Collection[str]]) -> dict[str, int]:
    """key -> level for {derived key: keys it needs}; raises Cycle. Keys that nothing concludes are
    level 0.
    """
    sorter = TopologicalSorter({key: sorted(needs[key]) for key in sorted(needs)})
    known: dict[str, int] = {}
    try:
        for key in sorter.static_order():
            known[key] = 1 + max((known[k] for k in needs[key]), default=0) if key in needs else 0
    except CycleError as error:
        # The sorter names a circle from the needed to the needing.
        raise Cycle(_from_first(error.args[1][:0:-1])) from None
    return {key: known[key] for key in needs}


def _from_first(circle: list[str]) -> list[str]:
    """A circle told from the first of its keys by the alphabet, back to it."""
    at = circle.index(min(circle))
    return [*circle[at:], *circle[: at + 1]]


def needs_of(
    rules: Iterable[Rule], calculations: Iterable[Calculation] = ()
) -> dict[str, set[str]]:
    """{derived key: the keys its rules and calculations look at}."""
    needs: dict[str, set[str]] = {}
    for rule in rules:
        if rule.derives:
            keys = {ref.key for ref in rule.condition.references()}
            needs.setdefault(rule.derives, set()).update(keys)
    for calculation in calculations:
        for output in calculation.outputs:
            needs.setdefault(output, set()).update(calculation.keys)
    return needs


def strata(rules: Sequence[Rule], calculations: Sequence[Calculation] = ()) -> tuple[Stratum, ...]:
    """The strata in running order; calculations join by the level of their output."""
    known = levels(needs_of(rules, calculations))
    depth = max(known.values(), default=0)
    found: list[list[int]] = [[] for _ in range(depth + 2)]
    for index, rule in enumerate(rules):
        where = known[rule.derives] - 1 if rule.derives else depth + looks_at_choice(rule.condition)
        found[where].append(index)
    names = (*(f"classify {n}" for n in range(1, depth + 1)), "weigh", "arrange")
    return tuple(Stratum(name, tuple(indexes)) for name, indexes in zip(names, found))


def calculation_order(
    rules: Sequence[Rule], calculations: Sequence[Calculation]
) -> tuple[tuple[int, ...], ...]:
    """For each classify stratum, the indexes of the calculations whose facts are finished with
    it.
    """
    known = levels(needs_of(rules, calculations))
    found: list[list[int]] = [[] for _ in range(max(known.values(), default=0))]
    for index, calculation in enumerate(calculations):
        found[known[calculation.output] - 1].append(index)
    return tuple(map(tuple, found))
