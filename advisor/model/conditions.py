"""The conditions of a rule, each form a type of its own.

A condition looks at facts (`references`), may hold others (`children`), or both. A new form needs a
type here, its reading in `load/conditions.py`, its truth in both engines and its sentence.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, TypeAlias

from msgspec import Struct
from msgspec.structs import replace

from advisor.model.ref import Ref

Operator: TypeAlias = Literal[">=", "<=", ">", "<", "==", "!="]
StateWord: TypeAlias = Literal["known", "unknown", "doubtful"]


class Condition:
    """Any form of condition."""

    __slots__ = ()

    @property
    def children(self) -> tuple[Condition, ...]:
        """The conditions it holds."""
        return ()

    @property
    def own(self) -> tuple[Ref, ...]:
        """What it looks at itself, its children left out."""
        return ()

    def with_children(self, children: tuple[Condition, ...]) -> Condition:
        """The same form over other conditions."""
        return self

    def references(self) -> Iterator[Ref]:
        """All that it looks at, in order, with repeats."""
        yield from self.own
        for child in self.children:
            yield from child.references()

    def walk(self) -> Iterator[Condition]:
        """The condition and all below it."""
        yield self
        for child in self.children:
            yield from child.walk()


class Leaf(Condition):
    """A condition that holds no other."""

    __slots__ = ()


class OneFact(Leaf):
    """A condition on a single fact, whose possible values alone tell its truth."""

    __slots__ = ()
    ref: Ref

    @property
    def own(self) -> tuple[Ref, ...]:
        return (self.ref,)


class InValues(OneFact, Struct, frozen=True):
    """A choice has one of the values in `mask`, a bit each."""

    ref: Ref
    mask: int


class Compare(OneFact, Struct, frozen=True):
    """A number against a figure, in steps."""

    ref: Ref
    op: Operator
    steps: int


class State(OneFact, Struct, frozen=True):
    """How well a fact is known."""

    ref: Ref
    word: StateWord


class TwoFacts(Leaf):
    """A condition that holds two facts against each other."""

    __slots__ = ()
    ref: Ref
    other: Ref

    @property
    def own(self) -> tuple[Ref, ...]:
        return self.ref, self.other


class CompareRefs(TwoFacts, Struct, frozen=True):
    """A number against `times / per` of another one."""

    ref: Ref
    op: Operator
    other: Ref
    times: int
    per: int


class SameWord(TwoFacts, Struct, frozen=True):
    """Two choices have the same word, or (`same` false) different ones.

    `pairs`: for each value of the first, the index of the same word in the second, or -1.
    """

    ref: Ref
    other: Ref
    pairs: tuple[int, ...]
    same: bool


class PointsAt(Leaf, Struct, frozen=True):
    """A fact that names an entity names this one, or (`same` false) another."""

    ref: Ref
    target: str
    same: bool

    @property
    def own(self) -> tuple[Ref, ...]:
        return (self.ref,)


class Chosen(Leaf, Struct, frozen=True):
    """What a decision came to; the option is a word, or a variable of the rule."""

    decision: str
    option: str
    is_variable: bool


class Group(Condition):
    """Several conditions taken together."""

    __slots__ = ()
    parts: tuple[Condition, ...]

    @property
    def children(self) -> tuple[Condition, ...]:
        return self.parts


class AllOf(Group, Struct, frozen=True):
    """All of some conditions; of none, always."""

    parts: tuple[Condition, ...] = ()

    def with_children(self, children: tuple[Condition, ...]) -> AllOf:
        return AllOf(children)


class AnyOf(Group, Struct, frozen=True):
    """Any of some conditions; of none, never."""

    parts: tuple[Condition, ...] = ()

    def with_children(self, children: tuple[Condition, ...]) -> AnyOf:
        return AnyOf(children)


class Not(Condition, Struct, frozen=True):
    """The contrary of a condition."""

    part: Condition

    @property
    def children(self) -> tuple[Condition, ...]:
        return (self.part,)

    def with_children(self, children: tuple[Condition, ...]) -> Not:
        (part,) = children
        return Not(part)


class Some(Condition, Struct, frozen=True):
    """At least `number` entities of a kind (`variable` stands for each) of which `where` holds."""

    number: int
    variable: str
    kind: str
    where: Condition

    @property
    def children(self) -> tuple[Condition, ...]:
        return (self.where,)

    def with_children(self, children: tuple[Condition, ...]) -> Some:
        (where,) = children
        return replace(self, where=where)


FORMS: tuple[type[Condition], ...] = (
    InValues,
    Compare,
    State,
    CompareRefs,
    SameWord,
    PointsAt,
    Chosen,
    AllOf,
    AnyOf,
    Not,
    Some,
)
ALWAYS, NEVER = AllOf(), AnyOf()


def looks_at_choice(condition: Condition) -> bool:
    """Whether it turns on what a decision came to."""
    return any(isinstance(node, Chosen) for node in condition.walk())
