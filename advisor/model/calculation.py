"""A calculation in the neutral form: where its inputs come from, which formula works on them,
which fact comes out. And the trade figures it may take.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal, TypeAlias

from msgspec import Struct

from advisor.model.inputs import Input
from advisor.model.names import LADDER_LENGTH
from advisor.model.ref import Ref

Form: TypeAlias = Literal["work", "weakest", "ladders"]


class Named(Struct, frozen=True):
    """An input under the name that the formula has for it."""

    name: str
    input: Input


class Calculation(Struct, frozen=True):
    """`form`: 'work' (a registered formula), 'weakest' (least of named parts) or 'ladders'
    (choose ladders to join).

    `variables`: none, or one ((name, entity kind),) for each entity of which it is worked.
    `outputs`: keys it sets, the first its result; for 'weakest' an optional choice that names the
    part.
    """

    id: str
    title: str
    topic: str
    about: str
    form: Form
    variables: tuple[tuple[str, str], ...]
    function: str
    inputs: tuple[Named, ...]
    outputs: tuple[str, ...]
    because: str
    sources: tuple[str, ...]
    status: str
    key: bool  # one of the numbers a reader wants first
    otherwise: float | None = None  # what it gives, in SI, while an input is not known

    @property
    def output(self) -> str:
        return self.outputs[0]

    @property
    def keys(self) -> set[str]:
        """Every attribute it looks at; choosing ladders also looks at their lengths."""
        looked = {ref.key for named in self.inputs for ref in named.input.references()}
        return looked | ({LADDER_LENGTH} if self.form == "ladders" else set())

    @property
    def figures(self) -> set[str]:
        """Names of the trade figures it may take."""
        return {name for named in self.inputs for name in named.input.figures()}

    def gives(self, output: str, bound: Mapping[str, str]) -> Ref:
        """The fact that one of its outputs sets: of the entity it is worked for, where the output
        is an attribute of its kind, else of an entity there is one of.
        """
        kind = output.partition(".")[0]
        for variable, own in self.variables:
            if own == kind and variable in bound:
                return Ref(bound[variable], output)
        return Ref(kind, output)


class Figure(Struct, frozen=True):
    """A trade figure: a point `value` or a `table` {row: value}, in SI; `shown` keeps the written
    words.
    """

    name: str
    value: float | None
    table: dict[str, float]
    limits: tuple[str, ...]  # (low, high) as written, or ()
    shown: str
    sources: tuple[str, ...]
    status: str
    note: str
