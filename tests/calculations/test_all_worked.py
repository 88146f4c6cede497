"""Every calculation is worked in some shipped case, its output is read or shown, and every rule of
numbers quotes its number.
"""

import re
from functools import cache

import pytest
from depth import not_quick, sweep
from shipped import every_case, program

from advisor.load.folder import find_folder
from advisor.mechanics import CALCULATIONS

IDS = [c.id for c in program().base.calculations]


@cache
def results() -> frozenset:
    """The ids of all calculations that gave a result in some shipped case."""
    found: set[str] = set()
    for name in sorted(every_case(), key=lambda name: not name.startswith("numbers/")):
        if found >= set(IDS):
            break
        case = program().read(find_folder("cases") / f"{name}.yaml")
        found |= {w.calculation.id for w in program().run(case)[0].worked if w.low is not None}
    return frozenset(found)


@not_quick
@sweep("identity", lambda: IDS)
def test_is_worked_in_some_case(identity):
    assert identity in results()


def test_ids_are_used_once():
    assert len(set(IDS)) == len(IDS)


def test_outputs_are_given_once():
    outputs = [key for c in program().base.calculations for key in c.outputs]
    assert len(set(outputs)) == len(outputs)


def test_every_derived_number_is_given_by_a_calculation():
    base = program().base
    given = {key for c in base.calculations for key in c.outputs}
    numbers = {
        a.key
        for a in base.vocabulary.by_key.values()
        if a.derived and (a.is_number or a.otherwise < 0)
    }
    assert numbers == given


def test_units_agree_with_the_formulas():
    """An attribute is kept in the dimension that the formula answers in."""
    from advisor.facts.units import UNITS

    same = {"1": {"count", "ratio", "%"}, "degree": {"deg"}}
    unitless = {
        "bridle-share",
        "strength-left",
        "holding-ratio",
    }  # a load of 1 stands for the whole, so the answer is a share
    pull = {
        f"{rig}-pull"
        for rig in ("straight-pull", "drop-loop", "three-to-one", "five-to-one", "six-to-one")
    }  # force over a bare gain
    for c in program().base.calculations:
        if c.form == "work" and c.id not in unitless | pull:
            si = UNITS[program().base.vocabulary.attribute(c.output).unit][0].si
            unit = CALCULATIONS[c.function].unit
            assert si == unit or si in same.get(unit, ()), c.id


def quoted(rule):
    """Every {name.attribute} in a rule's words."""
    words = [rule.because] + [word for effect in rule.effects for word in effect.words]
    return {m for text in words for m in re.findall(r"\{([^{}]*\.[^{}]*)\}", text)}


@pytest.mark.parametrize(
    "rule",
    [
        r
        for r in program().base.rules
        if any(
            program().base.vocabulary.attribute(k).derived
            and program().base.vocabulary.attribute(k).is_number
            for _, k in r.condition.references()
        )
    ],
    ids=lambda r: r.id,
)
def test_a_rule_on_a_number_quotes_one(rule):
    kinds = dict(rule.variables)
    looked_at = {
        f"{ref.entity}.{ref.attribute}"
        for ref in rule.condition.references()
        if program().base.vocabulary.attribute(ref.key).derived
    }
    assert quoted(rule) & looked_at, kinds
