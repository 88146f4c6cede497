"""Working a calculation on a world: ranges in, a range out, with every input on record. What is
not known is never assumed.
"""

from __future__ import annotations

import math

from advisor.facts.units import UNITS
from advisor.mechanics.interval import Interval, over
from advisor.mechanics.selection import MOST_LADDERS, choose_ladders, joined_length
from advisor.model.inputs import (
    Cell,
    FromFact,
    FromFigure,
    LeastOf,
    NotThere,
    Number,
    PickedBy,
    RowBy,
    WholeRange,
    Word,
)
from advisor.model.names import LADDER, LADDER_LENGTH
from advisor.model.outcome import Taken, Worked
from advisor.model.ref import Ref

NOT_THERE = float(10**9)
"""Stands for the strength of a part that is not there, N.

Far above every range of the vocabulary, so it is never the weakest.
"""

MOST_KEPT = 5000
"""Answers kept for each calculation before it starts afresh."""


def to_si(attribute, steps: float) -> float:
    """Steps of an attribute's dimension to SI; shares become ratios."""
    dimension = UNITS[attribute.unit][0]
    return steps / dimension.steps / (100 if dimension.si == "%" else 1)


def to_steps(attribute, low: float, high: float) -> tuple:
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


class Worker:
    """Works calculations of one base on one world.

    A calculation is a pure function of the attributes it looks at, so what was worked once for
    the same values is kept with the base.
    """

    def __init__(self, base, world):
        self.base, self.world, self.gives = base, world, []

    def work(self, calculation) -> list[Worked]:
        """Work one calculation for every entity of its kind and set the facts it gives."""
        entities: list[dict[str, str]] = [{}]
        for variable, kind in calculation.variables:
            entities = [{variable: entity} for entity in self.world.kinds[kind]]
        return [self._kept(calculation, bound) for bound in entities]

    def _kept(self, calculation, bound):
        keys, answers = self.base.worked.setdefault(calculation.id, (sorted(calculation.keys), {}))
        looked_at = (*bound.values(), *(tuple(self.world.columns[key].items()) for key in keys))
        if looked_at not in answers:
            if len(answers) >= MOST_KEPT:
                answers.clear()
            answers[looked_at] = self._one(calculation, bound)
        done, gives = answers[looked_at]
        for attribute, value in gives:
            self.world.derived(attribute, value)
        return done

    def _one(self, calculation, bound):
        """(Worked, [(attribute, {entity: value}) to set])"""
        self.gives = []
        inputs = tuple(self._input(i.name, i.input, bound) for i in calculation.inputs)
        done = {"work": self._formula, "weakest": self._weakest, "ladders": self._ladders}[
            calculation.form
        ](calculation, bound, inputs)
        if done.low is not None:
            self._give(calculation, bound, done)
        return done, self.gives

    def _give(self, calculation, bound, done):
        entity, key = calculation.gives(calculation.output, bound)
        attribute = self.base.vocabulary.attribute(key)
        self.gives.append((attribute, {entity: to_steps(attribute, done.low, done.high)}))
        if calculation.form == "weakest" and len(calculation.outputs) > 1:
            choice = self.base.vocabulary.attribute(calculation.outputs[1])
            mask = sum(
                1 << choice.values.index(name) for name in done.named if name in choice.values
            )
            self.gives.append((choice, {entity: mask or choice.everything}))

    def _input(self, name, source, bound) -> Taken:
        return _FORMS[type(source)](self, name, source, bound)

    def _range(self, entity, key):
        """The SI range of a numeric fact, or None when it could be anything."""
        attribute, value = self.base.vocabulary.attribute(key), self.world.columns[key][entity]
        return (
            None
            if value == attribute.everything
            else Interval(to_si(attribute, value[0]), to_si(attribute, value[1]))
        )

    def _any(self, key):
        """Every value that a number may have."""
        attribute = self.base.vocabulary.attribute(key)
        return Interval(to_si(attribute, attribute.low), to_si(attribute, attribute.high))

    def _from_fact(self, name, source, bound):
        ref = source.ref.at(bound)
        return Taken(name, self._range(*ref), "fact", _label(ref), (ref,))

    def _from_figure(self, name, source, bound):
        value = self.base.figures[source.figure].value
        return Taken(name, Interval.point(value), "figure", source.figure, ())

    def _whole_range(self, name, source, bound):
        return Taken(name, Interval(source.low, source.high), "figure", source.figure, ())

    def _cell(self, name, source, bound):
        value = self.base.figures[source.figure].table[source.row]
        return Taken(name, Interval.point(value), "figure", source.figure, ())

    def _not_there(self, name, source, bound):
        return Taken(name, Interval.point(NOT_THERE), "fixed", "no such part", ())

    def _number(self, name, source, bound):
        return Taken(name, Interval.point(source.value), "fixed", "", ())

    def _word(self, name, source, bound):
        return Taken(name, source.word, "fixed", "", ())

    def _least_of(self, name, source, bound):
        refs = tuple(Ref(entity, source.key) for entity in self.world.columns[source.key])
        ranges = [self._range(*ref) for ref in refs]
        label = f"least {source.key.partition('.')[2]} of each {source.kind}"
        if not ranges or None in ranges:
            return Taken(name, None, "fact", label, refs)
        return Taken(
            name,
            Interval(min(r.lo for r in ranges), min(r.hi for r in ranges)),
            "fact",
            label,
            refs,
        )

    def _picked(self, name, source, bound):
        """What each possible value of a choice picks, together; not known if any of it is not
        known.
        """
        ref, inputs = source.ref.at(bound), {pick.value: pick.input for pick in source.picks}
        mask, fact = self.world.columns[ref.key][ref.entity], _label(ref)
        picked = [
            self._input(name, inputs[i], bound) if i in inputs else None
            for i in range(mask.bit_length())
            if mask >> i & 1
        ]
        refs = (ref, *(inner for p in picked if p for inner in p.refs))
        lost = [p for p in picked if p is None or p.value is None]
        if lost:
            return Taken(name, None, "fact", lost[0].label if lost[0] else fact, refs)
        words = {p.value for p in picked if isinstance(p.value, str)}
        if words:
            return Taken(name, words.pop() if len(words) == 1 else None, "fact", fact, refs)
        label = " or ".join(dict.fromkeys(p.label for p in picked if p.label))
        origin = picked[0].origin if len({p.origin for p in picked}) == 1 else "fact"
        return Taken(
            name,
            Interval(min(p.value.lo for p in picked), max(p.value.hi for p in picked)),
            origin,
            label,
            refs,
        )

    def _row(self, name, source, bound):
        ref, figure = source.ref.at(bound), self.base.figures[source.figure]
        attribute = self.base.vocabulary.attribute(ref.key)
        value = self.world.columns[ref.key][ref.entity]
        rows = {self._row_key(attribute, row): cell for row, cell in figure.table.items()}
        if attribute.is_choice:
            cells = [rows.get(i) for i in range(value.bit_length()) if value >> i & 1]
        else:
            cells = self._beside(rows, *value)
        known, fact = cells and None not in cells, _label(ref)
        lost = fact if value == attribute.everything else f"a row of '{source.figure}' for {fact}"
        return Taken(
            name,
            Interval(min(cells), max(cells)) if known else None,
            "figure",
            source.figure if known else lost,
            (ref,),
        )

    @staticmethod
    def _beside(rows, low, high):
        """The cells of the next listed sizes below and above; 0 below the smallest and nothing
        above the largest: no size is guessed.
        """
        below, above = [s for s in rows if s <= low], [s for s in rows if s >= high]
        return [rows[max(below)] if below else 0.0, rows[min(above)] if above else None]

    @staticmethod
    def _row_key(attribute, row):
        from advisor.facts.quantity import read_quantity

        if attribute.is_choice:
            return attribute.values.index(row) if row in attribute.values else None
        return read_quantity(row, attribute.unit, (0, 10**12)).low

    def _formula(self, calculation, bound, inputs):
        missing = [i for i in inputs if i.value is None]
        if missing:
            return Worked(
                calculation,
                bound,
                inputs,
                None,
                None,
                (),
                "not known: " + ", ".join(i.label for i in missing),
            )
        try:
            result = over(calculation.function, **{i.name: i.value for i in inputs})
        except ValueError as error:
            return Worked(calculation, bound, inputs, None, None, (), str(error))
        return Worked(calculation, bound, inputs, result.lo, result.hi, (), "")

    def _weakest(self, calculation, bound, inputs):
        known = [i for i in inputs if i.value is not None]
        unknown = [i for i in inputs if i.value is None]
        if not known:
            return Worked(calculation, bound, inputs, None, None, (), "no part's strength is known")
        high = min(i.value.hi for i in known)
        low = 0.0 if unknown else min(i.value.lo for i in known)
        named = tuple(i.name for i in known if i.value.lo <= high) + tuple(i.name for i in unknown)
        return Worked(
            calculation,
            bound,
            inputs,
            low,
            high,
            named,
            "not known: " + ", ".join(i.name for i in unknown) if unknown else "",
        )

    def _ladders(self, calculation, bound, inputs):
        needed, ids = inputs[0].value, self.world.kinds[LADDER]
        lengths = {e: self._range(e, LADDER_LENGTH) for e in ids}
        refs = tuple(Ref(e, LADDER_LENGTH) for e in ids)
        inputs = (
            *inputs,
            Taken("ladders", None, "fact", ", ".join(ids) or "no ladder named", refs),
        )
        usable = [e for e in ids if lengths[e] is not None]
        if needed is None or not usable:
            return Worked(
                calculation,
                bound,
                inputs,
                None,
                None,
                (),
                "not known: " + (inputs[0].label if needed is None else "the ladders' lengths"),
            )
        try:
            chosen = choose_ladders([lengths[e].lo for e in usable], needed.hi)
        except ValueError as error:
            return Worked(calculation, bound, inputs, None, None, (), str(error))
        if chosen is None and len(usable) < len(ids):
            return Worked(
                calculation,
                bound,
                inputs,
                None,
                None,
                (),
                "not known: " + ", ".join(f"{e}.length" for e in ids if e not in usable),
            )
        names = tuple(usable[i] for i in (range(len(usable)) if chosen is None else chosen))
        made, surplus, joins = joined_ranges(
            [lengths[e] or self._any(LADDER_LENGTH) for e in ids], needed
        )
        for key, value in zip(calculation.outputs[1:], (surplus, joins)):
            attribute = self.base.vocabulary.attribute(key)
            self.gives.append(
                (attribute, {attribute.entity: to_steps(attribute, value.lo, value.hi)})
            )
        return Worked(calculation, bound, inputs, made.lo, made.hi, names, "")


_FORMS = {
    FromFact: Worker._from_fact,
    LeastOf: Worker._least_of,
    FromFigure: Worker._from_figure,
    WholeRange: Worker._whole_range,
    Cell: Worker._cell,
    RowBy: Worker._row,
    PickedBy: Worker._picked,
    NotThere: Worker._not_there,
    Number: Worker._number,
    Word: Worker._word,
}


def _label(ref) -> str:
    """A fact as an advice names it, 'anchor left.height'."""
    return f"{ref.entity}.{ref.attribute}"


def joined_ranges(lengths, needed):
    """Ranges of the joined length, of the surplus (below 0 what is missing) and of the joins,
    whichever lengths are the true ones.

    Inputs: lengths as Intervals, m; needed length as Interval, m. Errors: ValueError as for
    choose_ladders.
    Method: with exact figures the choice itself; otherwise every set that might be the one chosen
    counts.
    """
    if needed.is_point and all(length.is_point for length in lengths):
        exact = [length.lo for length in lengths]
        chosen = choose_ladders(exact, needed.lo)
        chosen = range(len(exact)) if chosen is None else chosen
        made = joined_length(exact, chosen)
        return (
            Interval.point(made),
            Interval.point(made - needed.lo),
            Interval.point(len(chosen) - 1),
        )
    return _possible_joins(_sets(lengths), needed)


def _possible_joins(sets, needed):
    """Ranges over every set that might be chosen; `sets`: [(count, shortest, longest)], all
    ladders last.
    """
    everything = sets[-1]
    sure = [longest for _, shortest, longest in sets if shortest >= needed.hi]
    most = min(sure, default=everything[2])
    may = [s for s in sets if s[2] >= needed.lo and s[1] <= most]
    lowest = [max(s[1], needed.lo) for s in may] + ([] if sure else [everything[1]])
    counts = [s[0] for s in may] + ([] if sure else [everything[0]])
    least = 0.0 if sure else min(0.0, everything[1] - needed.hi)
    return (
        Interval(min(lowest), most),
        Interval(least, max(least, most - needed.lo)),
        Interval(min(counts) - 1, max(counts) - 1),
    )


def _sets(lengths):
    """(count, shortest, longest) of every set of ladders, the set of all last.

    Errors: ValueError for too many ladders.
    """
    if len(lengths) > MOST_LADDERS:
        raise ValueError(
            f"There are {len(lengths)} ladders to choose from; name the {MOST_LADDERS} nearest to"
            " hand."
        )
    sets = [(0, 0.0, 0.0)]
    for length in lengths:
        sets += [(count + 1, low + length.lo, high + length.hi) for count, low, high in sets]
    return sets[1:]
