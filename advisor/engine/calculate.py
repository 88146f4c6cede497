"""Working a calculation on a world: ranges in, a range out, with every input on record. What is
not known is never assumed.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from msgspec import Struct

from advisor.facts.rounding import NO_LIMIT
from advisor.facts.units import UNITS
from advisor.facts.vocabulary import Attribute
from advisor.facts.world import World
from advisor.mechanics.interval import Interval, over
from advisor.mechanics.selection import MOST_LADDERS, choose_ladders, joined_length
from advisor.model.base import Base
from advisor.model.calculation import Calculation, Figure
from advisor.model.inputs import (
    Cell,
    FirstOf,
    FromFact,
    FromFigure,
    Input,
    NotThere,
    Number,
    Over,
    PickedBy,
    RowBy,
    WholeRange,
    Word,
)
from advisor.model.names import LADDER, LADDER_LENGTH
from advisor.model.outcome import Taken, Worked
from advisor.model.ref import Bound, Ref

NOT_THERE = float(NO_LIMIT)
"""Stands for the strength of a part that is not there, N.

Far above every range of the vocabulary, so it is never the weakest.
"""

MOST_KEPT = 5000
"""Answers kept for each calculation before it starts afresh."""


def to_si(attribute: Attribute, steps: float) -> float:
    """Steps of an attribute's dimension to SI; shares become ratios."""
    dimension = UNITS[attribute.unit][0]
    return steps / dimension.steps / (100 if dimension.si == "%" else 1)


def to_steps(attribute: Attribute, low: float, high: float) -> tuple[int, int]:
    """An SI range to the nearest whole steps, kept inside the attribute's range.

    Rounding keeps order, so the steps of a range hold those of every value in it. What is kept in
    minutes goes to whole minutes.
    """
    dimension = UNITS[attribute.unit][0]
    scale = dimension.steps * (100 if dimension.si == "%" else 1)
    grain = 60 if attribute.unit == "min" else 1
    down, up = (math.floor(end * scale / grain + 0.5) * grain for end in (low, high))
    return max(attribute.low, min(down, attribute.high)), min(
        attribute.high, max(up, attribute.low)
    )


class Given(Struct, frozen=True):
    """A fact that a calculation sets: its attribute, and the value of each entity."""

    attribute: Attribute
    values: dict[str, tuple[int, int] | int]


class JoinedSet(Struct, frozen=True):
    """Some ladders: how many, and the length they have joined, at the shortest and the longest."""

    count: int
    shortest: float
    longest: float


class Worker:
    """Works calculations of one base on one world.

    A calculation is a pure function of the attributes it looks at, so what was worked once for
    the same values is kept with the base.
    """

    def __init__(self, base: Base, world: World) -> None:
        self.base, self.world = base, world
        self.gives: list[Given] = []

    def work(self, calculation: Calculation) -> list[Worked]:
        """Work one calculation for every entity of its kind and set the facts it gives."""
        entities: list[dict[str, str]] = [{}]
        for variable, kind in calculation.variables:
            entities = [{variable: entity} for entity in self.world.kinds[kind]]
        return [self._kept(calculation, bound) for bound in entities]

    def _kept(self, calculation: Calculation, bound: Bound) -> Worked:
        if calculation.id not in self.base.worked:
            self.base.worked[calculation.id] = (sorted(calculation.keys), {})
        keys, answers = self.base.worked[calculation.id]
        looked_at = (*bound.values(), *(tuple(self.world.columns[key].items()) for key in keys))
        if looked_at not in answers:
            if len(answers) >= MOST_KEPT:
                answers.clear()
            answers[looked_at] = self._one(calculation, bound)
        done: Worked = answers[looked_at][0]
        for given in answers[looked_at][1]:
            self.world.derived(given.attribute, given.values)
        return done

    def _one(self, calculation: Calculation, bound: Bound) -> tuple[Worked, list[Given]]:
        """(Worked, [(attribute, {entity: value}) to set])"""
        self.gives = []
        inputs = tuple(self._input(i.name, i.input, bound) for i in calculation.inputs)
        done = {"work": self._formula, "weakest": self._weakest, "ladders": self._ladders}[
            calculation.form
        ](calculation, bound, inputs)
        if done.low is not None and done.high is not None:
            self._give(done, done.low, done.high)
        return done, self.gives

    def _give(self, done: Worked, low: float, high: float) -> None:
        calculation = done.calculation
        entity, key = calculation.gives(calculation.output, done.bound)
        attribute = self.base.vocabulary.by_key[key]
        self.gives.append(Given(attribute, {entity: to_steps(attribute, low, high)}))
        if calculation.form == "weakest" and len(calculation.outputs) > 1:
            choice = self.base.vocabulary.by_key[calculation.outputs[1]]
            mask = sum(
                1 << choice.values.index(name) for name in done.named if name in choice.values
            )
            self.gives.append(Given(choice, {entity: mask or choice.everything}))

    def _input(self, name: str, source: Input, bound: Bound) -> Taken:
        return _FORMS[type(source)](self, name, source, bound)

    def _range(self, entity: str, key: str) -> Interval | None:
        """The SI range of a numeric fact, or None when it could be anything."""
        attribute, value = self.base.vocabulary.by_key[key], self.world.columns[key][entity]
        return (
            None
            if value == attribute.everything
            else Interval(to_si(attribute, value[0]), to_si(attribute, value[1]))
        )

    def _any(self, key: str) -> Interval:
        """Every value that a number may have."""
        attribute = self.base.vocabulary.by_key[key]
        return Interval(to_si(attribute, attribute.low), to_si(attribute, attribute.high))

    def _from_fact(self, name: str, source: FromFact, bound: Bound) -> Taken:
        ref = source.ref.at(bound)
        return Taken(name, self._range(*ref), "fact", _label(ref), (ref,))

    def _from_figure(self, name: str, source: FromFigure, bound: Bound) -> Taken:
        value = self.base.figures[source.figure].value
        assert value is not None, source.figure  # one with a table is not taken as a point
        return Taken(name, Interval.point(value), "figure", source.figure, ())

    def _whole_range(self, name: str, source: WholeRange, bound: Bound) -> Taken:
        return Taken(name, Interval(source.low, source.high), "figure", source.figure, ())

    def _cell(self, name: str, source: Cell, bound: Bound) -> Taken:
        value = self.base.figures[source.figure].table[source.row]
        return Taken(name, Interval.point(value), "figure", source.figure, ())

    def _not_there(self, name: str, source: NotThere, bound: Bound) -> Taken:
        return Taken(name, Interval.point(NOT_THERE), "fixed", "no such part", ())

    def _number(self, name: str, source: Number, bound: Bound) -> Taken:
        return Taken(name, Interval.point(source.value), "fixed", "", ())

    def _word(self, name: str, source: Word, bound: Bound) -> Taken:
        return Taken(name, source.word, "fixed", "", ())

    def _over(self, name: str, source: Over, bound: Bound) -> Taken:
        """One value taken over the entities of a kind that may meet a condition: the least or the
        most of those that are known, or any of them (then each must be known).
        """
        column, where = self.world.columns[source.key], source.where
        masks = self.world.columns[where] if where else dict.fromkeys(column, source.mask)
        may = [e for e in column if masks[e] & source.mask]
        refs = tuple(Ref(e, key) for e in column for key in (source.key, where) if key)
        known = {e: found for e in may if (found := self._range(e, source.key))}
        sure = [span for e, span in known.items() if not masks[e] & ~source.mask]
        label = f"{source.take} {source.key.partition('.')[2]} of each {source.kind}"
        if not known or source.take != "least" and len(known) < len(may):
            return Taken(name, None, "fact", label, refs)
        return Taken(
            name,
            _TAKES[source.take](tuple(known.values()), sure),
            "fact",
            label,
            refs,
        )

    def _first_of(self, name: str, source: FirstOf, bound: Bound) -> Taken:
        """The first of several inputs that is known; else the one that people could state, so that
        they are asked for one way of saying it and not for all.
        """
        tried = [self._input(name, choice, bound) for choice in source.choices]
        known = next((one for one in tried if one.value is not None), None)
        return known or next((one for one in tried if self._can_be_stated(one)), tried[-1])

    def _can_be_stated(self, taken: Taken) -> bool:
        keys = [ref.key for ref in taken.refs]
        return bool(keys) and not any(self.base.vocabulary.by_key[key].derived for key in keys)

    def _picked(self, name: str, source: PickedBy, bound: Bound) -> Taken:
        """What each possible value of a choice picks, together; not known if any of it is not
        known.
        """
        ref, inputs = source.ref.at(bound), {pick.value: pick.input for pick in source.picks}
        mask, fact = self.world.columns[ref.key][ref.entity], _label(ref)
        # A value that picks nothing is not known.
        picked = [
            self._input(name, inputs[i], bound)
            if i in inputs
            else Taken(name, None, "fact", fact, ())
            for i in range(mask.bit_length())
            if mask >> i & 1
        ]
        refs = (ref, *(inner for p in picked for inner in p.refs))
        lost = [p for p in picked if p.value is None]
        if lost:
            return Taken(name, None, "fact", lost[0].label, refs)
        words = {p.value for p in picked if isinstance(p.value, str)}
        if words:
            return Taken(name, words.pop() if len(words) == 1 else None, "fact", fact, refs)
        ranges = [p.value for p in picked if isinstance(p.value, Interval)]
        return Taken(
            name,
            Interval(min(r.lo for r in ranges), max(r.hi for r in ranges)),
            picked[0].origin if len({p.origin for p in picked}) == 1 else "fact",
            " or ".join(dict.fromkeys(p.label for p in picked if p.label)),
            refs,
        )

    def _row(self, name: str, source: RowBy, bound: Bound) -> Taken:
        ref, figure = source.ref.at(bound), self.base.figures[source.figure]
        attribute = self.base.vocabulary.by_key[ref.key]
        value = self.world.columns[ref.key][ref.entity]
        rows = self._rows(attribute, figure)
        if attribute.is_choice:
            cells = [rows.get(i) for i in range(value.bit_length()) if value >> i & 1]
        else:
            cells = self._beside(rows, *value)
        found = [cell for cell in cells if cell is not None]
        if not cells or len(found) < len(cells):
            fact = _label(ref)
            row = f"a row of '{source.figure}' for {fact}"
            lost = fact if value == attribute.everything else row
            return Taken(name, None, "figure", lost, (ref,))
        return Taken(name, Interval(min(found), max(found)), "figure", source.figure, (ref,))

    @staticmethod
    def _beside(rows: Mapping[int, float], low: int, high: int) -> list[float | None]:
        """The cells of the next listed sizes below and above; 0 below the smallest and nothing
        above the largest: no size is guessed.
        """
        below, above = [s for s in rows if s <= low], [s for s in rows if s >= high]
        return [rows[max(below)] if below else 0.0, rows[min(above)] if above else None]

    @staticmethod
    def _rows(attribute: Attribute, figure: Figure) -> dict[int, float]:
        """The cells of a figure by the value, or the size in steps, that picks them."""
        from advisor.facts.quantity import read_quantity

        if attribute.is_choice:
            values, rows = attribute.values, figure.table.items()
            return {values.index(row): cell for row, cell in rows if row in values}
        return {
            read_quantity(row, attribute.unit, (0, 10**12)).low: cell
            for row, cell in figure.table.items()
        }

    def _formula(self, calculation: Calculation, bound: Bound, inputs: tuple[Taken, ...]) -> Worked:
        missing = [i for i in inputs if i.value is None]
        if missing and calculation.otherwise is not None:
            default = calculation.otherwise
            words = "counted as nothing while not known: " + ", ".join(i.label for i in missing)
            return Worked(calculation, bound, inputs, default, default, missing=words)
        if missing:
            labels = ", ".join(i.label for i in missing)
            return Worked(calculation, bound, inputs, missing=f"not known: {labels}")
        try:
            result = over(calculation.function, **{i.name: i.value for i in inputs})
        except ValueError as error:
            return Worked(calculation, bound, inputs, missing=str(error))
        return Worked(calculation, bound, inputs, result.lo, result.hi)

    def _weakest(self, calculation: Calculation, bound: Bound, inputs: tuple[Taken, ...]) -> Worked:
        known = {i.name: i.value for i in inputs if isinstance(i.value, Interval)}
        unknown = [i.name for i in inputs if i.value is None]
        if not known:
            return Worked(calculation, bound, inputs, missing="no part's strength is known")
        high = min(r.hi for r in known.values())
        if high >= NOT_THERE:
            return Worked(calculation, bound, inputs, missing="no part is counted")
        low = min(r.lo for r in known.values())
        named = tuple(name for name, r in known.items() if r.lo <= high)
        return Worked(calculation, bound, inputs, low, high, named, ", ".join(unknown))

    def _ladders(self, calculation: Calculation, bound: Bound, inputs: tuple[Taken, ...]) -> Worked:
        needed, ids = inputs[0].value, self.world.kinds[LADDER]
        lengths = {e: found for e in ids if (found := self._range(e, LADDER_LENGTH))}
        refs = tuple(Ref(e, LADDER_LENGTH) for e in ids)
        inputs = (
            *inputs,
            Taken("ladders", None, "fact", ", ".join(ids) or "no ladder named", refs),
        )
        if not isinstance(needed, Interval) or not lengths:
            what = "the ladders' lengths" if needed else inputs[0].label
            return Worked(calculation, bound, inputs, missing=f"not known: {what}")
        try:
            chosen = choose_ladders([length.lo for length in lengths.values()], needed.hi)
        except ValueError as error:
            return Worked(calculation, bound, inputs, missing=str(error))
        if chosen is None and len(lengths) < len(ids):
            unknown = ", ".join(f"{e}.length" for e in ids if e not in lengths)
            return Worked(calculation, bound, inputs, missing=f"not known: {unknown}")
        usable = tuple(lengths)
        names = usable if chosen is None else tuple(usable[i] for i in chosen)
        made, surplus, joins = joined_ranges(
            [lengths.get(e) or self._any(LADDER_LENGTH) for e in ids], needed
        )
        for key, value in zip(calculation.outputs[1:], (surplus, joins)):
            attribute = self.base.vocabulary.by_key[key]
            steps = to_steps(attribute, value.lo, value.hi)
            self.gives.append(Given(attribute, {attribute.entity: steps}))
        return Worked(calculation, bound, inputs, made.lo, made.hi, names)


_FORMS: dict[type[Input], Callable[[Worker, str, Any, Bound], Taken]] = {
    FromFact: Worker._from_fact,
    Over: Worker._over,
    FirstOf: Worker._first_of,
    FromFigure: Worker._from_figure,
    WholeRange: Worker._whole_range,
    Cell: Worker._cell,
    RowBy: Worker._row,
    PickedBy: Worker._picked,
    NotThere: Worker._not_there,
    Number: Worker._number,
    Word: Worker._word,
}


def _label(ref: Ref) -> str:
    """A fact as an advice names it, 'anchor left.height'."""
    return f"{ref.entity}.{ref.attribute}"


def _least(known: Sequence[Interval], sure: Sequence[Interval]) -> Interval:
    """The least over entities, of which only the sure ones are certain to count."""
    low = min(r.lo for r in known)
    return Interval(low, max(low, min(r.hi for r in sure or known)))


def _most(known: Sequence[Interval], sure: Sequence[Interval]) -> Interval:
    """The most over entities, of which only the sure ones are certain to count."""
    high = max(r.hi for r in known)
    return Interval(min(high, max(r.lo for r in sure) if sure else min(r.lo for r in known)), high)


def _any_of(known: Sequence[Interval], sure: Sequence[Interval]) -> Interval:
    """From the least of all to the most of all: one of them, not known which."""
    return Interval(min(r.lo for r in known), max(r.hi for r in known))


_TAKES = {"least": _least, "most": _most, "any": _any_of}


def joined_ranges(
    lengths: Sequence[Interval], needed: Interval
) -> tuple[Interval, Interval, Interval]:
    """Ranges of the joined length, of the surplus (below 0 what is missing) and of the joins,
    whichever lengths are the true ones.

    Inputs: lengths as Intervals, m; needed length as Interval, m. Errors: ValueError as for
    choose_ladders.
    Method: with exact figures the choice itself; otherwise every set that might be the one chosen
    counts.
    """
    if needed.is_point and all(length.is_point for length in lengths):
        exact = [length.lo for length in lengths]
        enough = choose_ladders(exact, needed.lo)
        chosen = range(len(exact)) if enough is None else enough
        made = joined_length(exact, chosen)
        return (
            Interval.point(made),
            Interval.point(made - needed.lo),
            Interval.point(len(chosen) - 1),
        )
    return _possible_joins(_sets(lengths), needed)


def _possible_joins(
    sets: Sequence[JoinedSet], needed: Interval
) -> tuple[Interval, Interval, Interval]:
    """Ranges over every set that might be chosen; all ladders stand last."""
    everything = sets[-1]
    sure = [s.longest for s in sets if s.shortest >= needed.hi]
    most = min(sure, default=everything.longest)
    may = [s for s in sets if s.longest >= needed.lo and s.shortest <= most]
    lowest = [max(s.shortest, needed.lo) for s in may] + ([] if sure else [everything.shortest])
    counts = [s.count for s in may] + ([] if sure else [everything.count])
    least = 0.0 if sure else min(0.0, everything.shortest - needed.hi)
    return (
        Interval(min(lowest), most),
        Interval(least, max(least, most - needed.lo)),
        Interval(min(counts) - 1, max(counts) - 1),
    )


def _sets(lengths: Sequence[Interval]) -> list[JoinedSet]:
    """Every set of ladders, the set of all last. Errors: ValueError for too many ladders."""
    if len(lengths) > MOST_LADDERS:
        raise ValueError(
            f"There are {len(lengths)} ladders to choose from; name the {MOST_LADDERS} nearest to"
            " hand."
        )
    sets = [JoinedSet(0, 0.0, 0.0)]
    for length in lengths:
        sets += [
            JoinedSet(s.count + 1, s.shortest + length.lo, s.longest + length.hi) for s in sets
        ]
    return sets[1:]
