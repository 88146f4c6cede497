"""What the strata concluded on one world, and what it came to."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Literal, NamedTuple, TypeAlias

from msgspec import Struct

from advisor.facts.world import World
from advisor.model.calculation import Calculation
from advisor.model.effects import Effect
from advisor.model.ref import Ref
from advisor.model.rule import Rule

if TYPE_CHECKING:  # with it come all formulas, which a run without calculations needs not
    from advisor.mechanics.interval import Interval

Standing: TypeAlias = Literal["firm", "provisional", "refer", "stop"]


# Instances and firings are made by the thousand in a search, so they are named tuples, which
# sort fast: those of two engines are sorted and compared.


class Instance(NamedTuple):
    """One rule that fired: index into the rules, entity ids bound, truth (1 possible, 2 sure),
    facts looked at.
    """

    rule: int
    bound: tuple[str, ...]
    truth: int
    looked_at: tuple[tuple[str, str], ...]


class Firing(NamedTuple):
    """One effect of one fired instance. truth: 1 possible, 2 sure."""

    effect: Effect
    truth: int
    rule: Rule
    bound: dict[str, str]
    instance: Instance

    @property
    def kind(self) -> str:
        """The word for its form of effect."""
        return self.effect.kind

    @property
    def derivation(self) -> str:
        """The id of its derivation."""
        return derivation_id(self.rule, self.instance.bound)


def derivation_id(rule: Rule, bound: tuple[str, ...]) -> str:
    """'rule.id' or 'rule.id [anchor left, anchor right]'."""
    return f"{rule.id} [{', '.join(bound)}]" if bound else rule.id


class Taken(Struct, frozen=True):
    """One input as it was taken: its name, its SI range (or a word, or None when not known), and
    where it came from.
    """

    name: str
    value: Interval | str | None
    origin: Literal["fact", "figure", "fixed"]
    label: str  # the fact's id, or the figure's name
    refs: tuple[Ref, ...]  # looked at


class Worked(Struct, frozen=True):
    """One calculation done for one entity.

    `low`/`high` in SI, None when not workable; `missing` says why.
    """

    calculation: Calculation
    bound: Mapping[str, str]
    inputs: tuple[Taken, ...]
    low: float | None = None
    high: float | None = None
    named: tuple[str, ...] = ()  # parts that may be the weakest, or the ladders chosen
    missing: str = ""

    @property
    def looked_at(self) -> tuple[Ref, ...]:
        """All facts it took."""
        return tuple(sorted({ref for item in self.inputs for ref in item.refs}))


class Outcome(Struct, frozen=True):
    """What the strata concluded: the finished world, all instances, and the calculations worked;
    `against`, where facts contradict each other: the outcome that shows it, before they were
    doubted.
    """

    world: World
    instances: tuple[Instance, ...]
    worked: tuple[Worked, ...]
    against: Outcome | None = None


class Beaten(Struct, frozen=True):
    """An option that lost: at which concern ('' where it was ruled out), to which options, what
    speaks against itself, and what speaks for those it lost to.
    """

    option: str
    concern: str
    to: tuple[str, ...]
    against: tuple[Firing, ...]
    others: tuple[Firing, ...] = ()


class Choice(Struct, frozen=True):
    """What a decision came to. `option` is None when several are equal or none is left."""

    decision: str
    standing: Standing
    option: str | None = None
    equal: tuple[str, ...] = ()
    reasons: tuple[Firing, ...] = ()  # that speak for the option
    alternatives: tuple[Beaten, ...] = ()
    open: tuple[Firing, ...] = ()  # that could change the outcome
    ruled_out: tuple[Firing, ...] = ()  # that ruled every option out, when none is left


class Judged(Struct, frozen=True):
    """The verdict on one item (or part of it): firm unless open firings could make it worse.
    `beside`: sure of a milder verdict, for a finding or a past that no reason speaks of.
    """

    entity: str
    part: str
    verdict: str
    standing: Standing
    reasons: tuple[Firing, ...]
    open: tuple[Firing, ...]
    beside: tuple[Firing, ...] = ()
