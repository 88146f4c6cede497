"""The calculations of an advice as records: formula, inputs and where each came from, result with
its range.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, NamedTuple

from advisor.decide.derivations import Derivations, fact_id, worked_id
from advisor.decide.firing import known_value, name_of
from advisor.facts.rounding import show_worked
from advisor.facts.units import UNITS, thousandths
from advisor.facts.values import show_value
from advisor.facts.vocabulary import Attribute
from advisor.facts.world import World
from advisor.model.advice import Number, NumberInput, Span
from advisor.model.base import Base
from advisor.model.outcome import Taken, Worked
from advisor.model.ref import Ref

if TYPE_CHECKING:
    from advisor.mechanics.interval import Interval

MOST_KEPT = 5000  # calculations whose inputs are kept as told


class _Told(NamedTuple):
    """What is said of a calculation: its title, the line with the result, the result, the names."""

    title: str
    text: str
    result: Span | None
    named: tuple[str, ...]


def calculation_list(
    base: Base, world: World, worked: Iterable[Worked], derivations: Derivations
) -> tuple[Number, ...]:
    """One record for each calculation; one that could not be worked says what is missing and has no
    result.
    """
    order = {calculation.id: number for number, calculation in enumerate(base.calculations)}
    told = [
        done
        for done in worked
        if not _nothing_to_tell(done)
        and (
            done.low is not None
            or any(ref in world.states for ref in done.looked_at)
            or any(i.value is not None and i.origin == "fact" for i in done.inputs)
        )
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


def _nothing_to_tell(done: Worked) -> bool:
    """Whether a comparison came to what it gives where there is nothing to compare."""
    default = done.calculation.otherwise
    return default is not None and done.low == default == done.high


def _number(base: Base, world: World, done: Worked, derivations: Derivations) -> Number:
    from advisor.mechanics import CALCULATIONS

    calculation, told = done.calculation, _told(base, world, done)
    formula = {
        "weakest": "the least of the parts",
        "ladders": "every set of ladders tried: long enough, least surplus, fewest joins",
    }.get(calculation.form) or CALCULATIONS[calculation.function].formula
    return Number(
        id=worked_id(done),
        title=told.title,
        text=told.text,
        function=calculation.function or calculation.form,
        formula=formula,
        inputs=_inputs(base, world, done),
        result=told.result,
        named=told.named,
        missing=done.missing,
        key=calculation.key,
        gives=fact_id(*_given(done)),
        because=calculation.because,
        sources=tuple(calculation.sources),
        status=calculation.status,
        derivation=derivations.calculation(done),
    )


def calculation_text(base: Base, world: World, done: Worked) -> str:
    """One calculation in a line: 'Ladder needed: 12.9 m', with the weakest part or the ladders
    chosen.
    """
    return _told(base, world, done).text


def _told(base: Base, world: World, done: Worked) -> _Told:
    title, result, named = _title(base, done), _result(base, world, done), _named(base, world, done)
    text = f"{title}: {result.text if result else 'not worked out, ' + done.missing}"
    if result and done.calculation.form == "weakest":
        left = f"; judged, not counted: {done.missing}" if done.missing else ""
        text += f", weakest {'counted ' if left else ''}{' or '.join(named)}{left}"
    elif result and done.calculation.form != "work":
        text += f", with {' + '.join(named)}{_missing(base, world, done)}"
    return _Told(title, text, result, named)


def _missing(base: Base, world: World, done: Worked) -> str:
    """What the ladders chosen surely lack, in words."""
    key = done.calculation.outputs[1]
    low, high = world.columns[key][done.calculation.gives(key, done.bound).entity]
    return f": {show_value(base.vocabulary.by_key[key], (low, high))}" if high < 0 else ""


def _given(done: Worked) -> Ref:
    """The fact that holds the result."""
    return done.calculation.gives(done.calculation.output, done.bound)


def _title(base: Base, done: Worked) -> str:
    return done.calculation.title + (
        f" ({name_of(base, next(iter(done.bound.values())))})" if done.bound else ""
    )


def _named(base: Base, world: World, done: Worked) -> tuple[str, ...]:
    return tuple(name_of(base, n) if n in world.bits else n for n in done.named)


def _result(base: Base, world: World, done: Worked) -> Span | None:
    if done.low is None or done.high is None:
        return None
    attribute = base.vocabulary.by_key[done.calculation.output]
    return Span(
        low=done.low,
        high=done.high,
        unit=unit_of(attribute),
        text=show_value(attribute, world.columns[done.calculation.output][_given(done).entity]),
    )


def _inputs(base: Base, world: World, done: Worked) -> tuple[NumberInput, ...]:
    """The inputs of a calculation as they are told. What was worked once is worked again only for
    other facts, so they are told once too.
    """
    kept = base.told.get(id(done))
    if kept is None:
        if len(base.told) >= MOST_KEPT:
            base.told.clear()
        inputs = tuple([_input(base, world, done, item) for item in done.inputs])
        kept = base.told[id(done)] = done, inputs  # held, so that nothing else has its id
    return kept[1]


def _input(base: Base, world: World, done: Worked, item: Taken) -> NumberInput:
    """One input with its value in words, its span and its origin."""
    from advisor.engine.calculate import NOT_THERE

    value = None if isinstance(item.value, str) else item.value
    there = value is None or value.lo != NOT_THERE
    return NumberInput(
        name=item.name.replace("_", " "),
        value=_value(base, world, done, item),
        origin=item.origin,
        of=item.label,
        span=(value.lo, value.hi) if value is not None and there else None,
        there=there,
        weakest=item.name in done.named or f"the {item.name}" in done.named,
    )


def _value(base: Base, world: World, done: Worked, item: Taken) -> str:
    """An input's value in words: a fact as it is known, a figure as it is written, a part's
    strength as strengths are said.
    """
    if item.value is None or isinstance(item.value, str):
        return item.value or "not known"
    if item.origin == "fact" and len(item.refs) == 1:
        return known_value(base, world, *item.refs[0])
    figure = base.figures.get(item.label) if item.origin == "figure" else None
    if figure and figure.value == item.value.lo == item.value.hi:
        return figure.shown
    if figure and figure.limits and not item.value.is_point:
        return f"{figure.limits[0]} to {figure.limits[1]}"
    return _range(base, done, item, item.value)


def _range(base: Base, done: Worked, item: Taken, value: Interval) -> str:
    """A range in the words of the attribute it comes from, or of the answer where parts are
    compared.
    """
    # With it come the formulas: only when there is something to show.
    from advisor.engine.calculate import NOT_THERE, to_steps

    if value.lo == NOT_THERE:
        return "not there"
    key = item.refs[-1].key if item.refs and item.origin == "fact" else ""
    attribute = base.vocabulary.attribute(
        done.calculation.output if done.calculation.form == "weakest" else key
    )
    if attribute and attribute.is_number:
        return show_worked(attribute, *to_steps(attribute, value.lo, value.hi))
    words = [thousandths(end) for end in (value.lo, value.hi)]
    return words[0] if value.is_point else " to ".join(words)


def unit_of(attribute: Attribute) -> str:
    """The SI unit of an attribute's dimension, as in the result."""
    unit = UNITS[attribute.unit][0].si
    return {"%": "1", "count": "1", "ratio": "1"}.get(unit, unit)
