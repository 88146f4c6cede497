"""The calculations of an advice as items: formula, inputs and where each came from, result with its range."""
from __future__ import annotations

from advisor.decide.derivations import worked_id
from advisor.decide.firing import known_value, name_of
from advisor.facts.units import show


def calculation_list(base, world, worked, derivations) -> list:
    """One item for each calculation; one that could not be worked says what is missing and has no result."""
    return [_item(base, world, done, derivations) for done in worked if done.low is not None or any(i.value is not None and i.origin == "fact" for i in done.inputs)]


def _item(base, world, done, derivations):
    from advisor.mechanics import CALCULATIONS

    calculation = done.calculation
    attribute = base.vocabulary.attribute(calculation.output)
    entity = next(iter(done.bound.values()), attribute.entity) if calculation.variable and calculation.variable[1] == attribute.entity else attribute.entity
    formula = {"weakest": "the least of the parts", "ladders": "every set of ladders tried: long enough, least surplus, fewest joins"}.get(calculation.form) or CALCULATIONS[calculation.function].formula
    inputs = [_input(base, world, calculation, item) for item in done.inputs]
    result = None
    if done.low is not None:
        low, high = world.columns[calculation.output][entity]
        result = {"low": done.low, "high": done.high, "unit": unit_of(attribute), "text": show(low, attribute.unit) if low == high else f"{show(low, attribute.unit)} to {show(high, attribute.unit)}"}
    named = [name_of(base, n) if n in world.bits else n for n in done.named]
    name = "" if not done.bound else f" ({name_of(base, entity)})"
    text = f"{calculation.title}{name}: {result['text'] if result else 'not worked out, ' + done.missing}"
    if named and calculation.form == "weakest":
        text += f", weakest {' or '.join(named)}" + (f" ({done.missing})" if done.missing else "")
    elif named:
        text += f", with {' + '.join(named)}"
    return {"id": worked_id(done), "title": calculation.title + name, "text": text, "function": calculation.function or calculation.form, "formula": formula, "inputs": inputs, "result": result,
            "named": named, "missing": done.missing, "gives": f"{entity}.{attribute.name}", "because": calculation.because, "sources": list(calculation.sources),
            "status": calculation.status, "derivation": derivations.calculation(done)}


def _input(base, world, calculation, item):
    """One input with its value in words and its origin."""
    if item.value is None:
        text = "not known"
    elif isinstance(item.value, str):
        text = item.value
    elif item.origin == "fact" and len(item.refs) == 1:
        text = known_value(base, world, *item.refs[0])
    else:
        low, high = item.value.lo, item.value.hi
        text = f"{low:g}" if low == high else f"{low:g} to {high:g}"
        if item.origin == "figure" and item.label in base.figures and base.figures[item.label].value == low == high:
            text = base.figures[item.label].shown
    return {"name": item.name.replace("_", " "), "value": text, "from": item.origin, "of": item.label}


def unit_of(attribute) -> str:
    """The SI unit of an attribute's dimension, as in the result."""
    from advisor.facts.units import UNITS

    return {"%": "1", "count": "1", "ratio": "1"}.get(UNITS[attribute.unit][0].si, UNITS[attribute.unit][0].si)
