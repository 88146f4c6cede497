"""The calculations of an advice as records: formula, inputs and where each came from, result with
its range.
"""

from __future__ import annotations

from advisor.decide.derivations import fact_id, worked_id
from advisor.decide.firing import known_value, name_of
from advisor.facts.units import show
from advisor.facts.values import show_value
from advisor.model.advice import Number, NumberInput, Span


def calculation_list(base, world, worked, derivations) -> tuple[Number, ...]:
    """One record for each calculation; one that could not be worked says what is missing and has no
    result.
    """
    order = {calculation.id: number for number, calculation in enumerate(base.calculations)}
    told = [
        done
        for done in worked
        if done.low is not None
        or any(ref in world.states for ref in done.looked_at)
        or any(i.value is not None and i.origin == "fact" for i in done.inputs)
    ]
    return tuple(
        _number(base, world, done, derivations)
        for done in sorted(
            told,
            key=lambda d: (
                d.low is None,
                not d.calculation.key,
                order[d.calculation.id],
                *d.bound.values(),
            ),
        )
    )


def _number(base, world, done, derivations) -> Number:
    from advisor.mechanics import CALCULATIONS

    calculation = done.calculation
    formula = {
        "weakest": "the least of the parts",
        "ladders": "every set of ladders tried: long enough, least surplus, fewest joins",
    }.get(calculation.form) or CALCULATIONS[calculation.function].formula
    return Number(
        id=worked_id(done),
        title=_title(base, done),
        text=calculation_text(base, world, done),
        function=calculation.function or calculation.form,
        formula=formula,
        inputs=tuple(_input(base, world, calculation, item) for item in done.inputs),
        result=_result(base, world, done),
        named=_named(base, world, done),
        missing=done.missing,
        key=calculation.key,
        gives=fact_id(*_given(done)),
        because=calculation.because,
        sources=tuple(calculation.sources),
        status=calculation.status,
        derivation=derivations.calculation(done),
    )


def calculation_text(base, world, done) -> str:
    """One calculation in a line: 'Ladder needed: 12.9 m', with the weakest part or the ladders
    chosen.
    """
    result, named = _result(base, world, done), _named(base, world, done)
    text = f"{_title(base, done)}: {result.text if result else 'not worked out, ' + done.missing}"
    if named and done.calculation.form == "weakest":
        if done.missing and done.low is not None:
            high = show_value(
                base.vocabulary.attribute(done.calculation.output),
                (world.columns[done.calculation.output][_given(done).entity][1],) * 2,
            )
            return f"{_title(base, done)}: not known, at most {high} ({done.missing})"
        return f"{text}, weakest {' or '.join(named)}"
    return f"{text}, with {' + '.join(named)}" if named else text


def _given(done):
    """The fact that holds the result."""
    return done.calculation.gives(done.calculation.output, done.bound)


def _title(base, done):
    return done.calculation.title + (
        f" ({name_of(base, next(iter(done.bound.values())))})" if done.bound else ""
    )


def _named(base, world, done):
    return tuple(name_of(base, n) if n in world.bits else n for n in done.named)


def _result(base, world, done):
    if done.low is None:
        return None
    attribute = base.vocabulary.attribute(done.calculation.output)
    return Span(
        low=done.low,
        high=done.high,
        unit=unit_of(attribute),
        text=show_value(attribute, world.columns[done.calculation.output][_given(done).entity]),
    )


def _input(base, world, calculation, item):
    """One input with its value in words and its origin."""
    from advisor.engine.calculate import (
        NOT_THERE,
        to_steps,
    )  # with it come the formulas: only when there is something to show

    if item.value is None:
        text = "not known"
    elif isinstance(item.value, str):
        text = item.value
    elif item.origin == "fact" and len(item.refs) == 1:
        text = known_value(base, world, *item.refs[0])
    else:
        low, high = item.value.lo, item.value.hi
        text = (
            "not there"
            if low == NOT_THERE
            else f"{low:g}"
            if low == high
            else f"{low:g} to {high:g}"
        )
        attribute = (
            base.vocabulary.attribute(item.refs[-1][1])
            if item.refs and item.origin == "fact"
            else None
        )
        if attribute and attribute.is_number:
            ends = [show(step, attribute.unit) for step in to_steps(attribute, low, high)]
            text = ends[0] if ends[0] == ends[1] else f"{ends[0]} to {ends[1]}"
        if (
            item.origin == "figure"
            and item.label in base.figures
            and base.figures[item.label].value == low == high
        ):
            text = base.figures[item.label].shown
    return NumberInput(
        name=item.name.replace("_", " "), value=text, origin=item.origin, of=item.label
    )


def unit_of(attribute) -> str:
    """The SI unit of an attribute's dimension, as in the result."""
    from advisor.facts.units import UNITS

    return {"%": "1", "count": "1", "ratio": "1"}.get(
        UNITS[attribute.unit][0].si, UNITS[attribute.unit][0].si
    )
