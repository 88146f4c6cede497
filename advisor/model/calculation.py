"""A calculation in the neutral form: where its inputs come from, which formula works on them,
which fact comes out.

Inputs are tuples:
    ("fact", var, key)                      a fact's range
    ("figure", name)                        a trade figure, as a point
    ("band", name, low, high)               a trade figure's whole range, in SI
    ("cell", name, row)                     one named row of a figure's table
    ("row", name, var, key)                 the row of a figure's table that a choice or a size
      picks
    ("pick", ((value index, input), …), var, key)    the input that a choice picks
    ("none",)                               a part that is not there, so it cannot be the weakest
    ("least", kind, key)                    the smallest value over all entities of a kind
    ("number", value) / ("word", text)      a fixed number in SI, or a word handed on
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Calculation:
    """`form`: 'work' (a registered formula), 'weakest' (least of named parts) or 'ladders'
    (choose ladders to join).

    `outputs`: keys it sets, the first its result; for 'weakest' an optional choice that names the
    part.
    """

    id: str
    title: str
    topic: str
    about: str
    form: str
    variable: tuple  # () or (name, kind)
    function: str
    inputs: tuple  # ((name, input), …)
    outputs: tuple
    because: str
    sources: tuple
    status: str
    key: bool  # one of the numbers a reader wants first

    @property
    def output(self) -> str:
        return self.outputs[0]

    @property
    def keys(self) -> set:
        """Every attribute it looks at; choosing ladders also looks at their lengths."""
        return {key for _, item in self.inputs for key in _keys(item)} | (
            {"ladder.length"} if self.form == "ladders" else set()
        )


def _keys(item):
    """The attributes that one input looks at."""
    place = {"fact": 2, "row": 3, "pick": 3, "least": 2}.get(item[0])
    return ({item[place]} if place else set()).union(
        *(_keys(picked) for _, picked in item[1]) if item[0] == "pick" else ()
    )


@dataclass(frozen=True, slots=True)
class Figure:
    """A trade figure: a point `value` or a `table` {row: value}, in SI; `shown` keeps the written
    words.
    """

    name: str
    value: float | None
    table: dict
    limits: tuple  # (low, high) as written, or ()
    shown: str
    sources: tuple
    status: str
    note: str
