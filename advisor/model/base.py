"""A checked rule base."""

from __future__ import annotations

from typing import Any, ClassVar, NamedTuple

from msgspec import Struct, field
from msgspec.structs import force_setattr

from advisor.facts.vocabulary import Vocabulary
from advisor.model.calculation import Calculation, Figure
from advisor.model.layout import Layout
from advisor.model.rule import Rule

VERSION = "1"


class Stratum(NamedTuple):
    """Rules (by index) that run together, since they only look at finished facts."""

    name: str
    rules: tuple[int, ...]


class Base(Struct, frozen=True, eq=False):
    """A checked rule base.

    `strata` stand in running order; `calculation_order`: for each classify stratum the indexes of
    the calculations worked after it; `out_of_use`: {"from": verdict, "stop": what is said of
    the item, "part": what of a part of it}; `plan_names`: {kind of entity that every plan
    names: the question for it}; `eyes`: the groups in which what must be seen on the spot is
    asked; `told_together`: {name: kinds of entities} of what is asked together at home;
    `hearing`: {part: data} of how a typed line is heard (see language.forms);
    `told_first`: topics of what can take the whole group; `screen`: what one screen shows;
    `laid_over`: the built-in figures that local guidance has others for;
    `by_id`: the rules by their ids, filled when one is first looked for;
    `worked`: calculations already worked (see engine.calculate);
    `told`: their inputs as they were told (see decide.calculations).
    """

    vocabulary: Vocabulary
    topics: dict[str, list[str]]
    concerns: tuple[str, ...]
    decisions: dict[str, dict[str, Any]]
    cautions: tuple[str, ...]
    last_word: str
    sources: dict[str, dict[str, Any]]
    rules: tuple[Rule, ...]
    strata: tuple[Stratum, ...]
    figures: dict[str, Figure]
    calculations: tuple[Calculation, ...]
    calculation_order: tuple[tuple[int, ...], ...]
    sha256: str
    out_of_use: dict[str, str] = field(default_factory=dict)
    plan_names: dict[str, str] = field(default_factory=dict)
    eyes: tuple[str, ...] = ()
    told_together: dict[str, list[str]] = field(default_factory=dict)
    told_first: tuple[str, ...] = ()
    screen: Layout = field(default_factory=Layout)
    hearing: dict[str, Any] = field(default_factory=dict)
    laid_over: dict[str, Figure] = field(default_factory=dict)
    # What is found on the way; each base begins without.
    by_id: dict[str, Rule] = field(default_factory=dict)
    worked: dict[str, Any] = field(default_factory=dict)
    told: dict[int, tuple[Any, Any]] = field(default_factory=dict)

    worked_out: ClassVar = ("by_id", "worked", "told")

    def __post_init__(self) -> None:
        force_setattr(self, "by_id", {})
        force_setattr(self, "worked", {})
        force_setattr(self, "told", {})

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Base) and all(
            getattr(self, name) == getattr(other, name)
            for name in self.__struct_fields__
            if name not in self.worked_out
        )

    def figure(self, name: str, shown: str) -> Figure | None:
        """The figure of a name; under local guidance the built-in one where that was shown."""
        below = self.laid_over.get(name)
        return below if below and below.shown == shown else self.figures.get(name)

    def rule(self, identity: str) -> Rule | None:
        """The rule with an id."""
        if not self.by_id:
            self.by_id.update((rule.id, rule) for rule in reversed(self.rules))
        return self.by_id.get(identity)
