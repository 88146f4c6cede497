"""The part of a rule base that some rules rest on: what is outside it cannot change whether they
hold.
"""

from __future__ import annotations

from dataclasses import replace


def behind(base, rules, worked=lambda calculation: True) -> tuple:
    """(indexes of the rules and of those that conclude what they look at, indexes of the
    calculations, keys of all attributes met).

    `rules`: indexes to begin with; `worked` says which calculations are worked at all.
    """
    concluding, working = {}, {}
    for index, rule in enumerate(base.rules):
        if rule.derives:
            concluding.setdefault(rule.derives, set()).add(index)
    for index, calculation in enumerate(base.calculations):
        for key in calculation.outputs if worked(calculation) else ():
            working.setdefault(key, set()).add(index)
    found, calculations, seen = set(rules), set(), set()
    todo = [key for n in found for _, key in base.rules[n].condition.references()]
    while todo:
        key = todo.pop()
        if key in seen:
            continue
        seen.add(key)
        found |= concluding.get(key, set())
        calculations |= working.get(key, set())
        todo += [
            k for n in concluding.get(key, ()) for _, k in base.rules[n].condition.references()
        ]
        todo += [k for n in working.get(key, ()) for k in base.calculations[n].keys]
    return found, calculations, seen


def narrowed(base, rules, calculations, decisions):
    """The base with only these rules and calculations (by index) in its strata, and these
    decisions (by name).
    """
    return replace(
        base,
        decisions={n: d for n, d in base.decisions.items() if n in decisions},
        strata=tuple((n, tuple(i for i in found if i in rules)) for n, found in base.strata),
        calculation_order=tuple(
            tuple(i for i in found if i in calculations) for found in base.calculation_order
        ),
    )
