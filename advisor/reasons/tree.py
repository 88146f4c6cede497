"""The tree of reasons of one advice: what was concluded rests on rules and calculations applied,
these on facts, and a fact that was concluded on rules and calculations again.

Every rendering walks this tree and words it in its own way.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from advisor.model.advice import Advice, Derivation, FactTold, Number
from advisor.model.base import Base
from advisor.model.rule import Rule


class Fact(Struct, frozen=True):
    """A fact that something looked at: as told in the advice (None: not known), and what
    concluded it.
    """

    id: str
    told: FactTold | None
    below: tuple[Applied, ...]

    @property
    def concluded(self) -> bool:
        """Whether rules and calculations gave it."""
        return self.told is not None and self.told.concluded


class Applied(Struct, frozen=True):
    """A rule or a calculation applied, or the absence of either; and the facts it looked at."""

    derivation: Derivation
    rule: Rule | None
    number: Number | None
    numbers: tuple[Number, ...]
    facts: tuple[Fact, ...]

    @property
    def id(self) -> str:
        """The derivation's id."""
        return self.derivation.id

    @property
    def name(self) -> str:
        """The id of the rule or calculation, without the entities it was applied to."""
        return self.rule.id if self.rule else self.id.partition(" [")[0]

    @property
    def title(self) -> str:
        """What the rule or calculation is called."""
        by = self.rule or self.number
        return by.title if by else self.id

    @property
    def sources(self) -> tuple[str, ...]:
        """Ids of the sources of the rule or calculation."""
        by = self.rule or self.number
        return by.sources if by else ()

    @property
    def holds(self) -> bool:
        """Whether it is a rule that surely holds."""
        return self.rule is not None and self.derivation.sure


class Tree:
    """The reasons of one advice, each part made when it is first asked for."""

    def __init__(self, base: Base, advice: Advice) -> None:
        self.base, self.advice = base, advice
        self._derivations = {d.id: d for d in advice.derivations}
        self._told = {f.id: f for f in advice.facts}
        self._numbers = {c.id: c for c in advice.calculations}
        self._applied: dict[str, Applied] = {}
        self._facts: dict[str, Fact] = {}

    def of(self, identity: str) -> Applied:
        """What stands under the id of a derivation."""
        if identity not in self._applied:
            entry = self._derivations[identity]
            self._applied[identity] = Applied(
                entry,
                self.base.rule(entry.rule) if entry.rule else None,
                self._numbers.get(identity) if entry.rule is None else None,
                tuple(self._numbers[c] for c in entry.calculations if c in self._numbers),
                tuple(map(self.fact, entry.facts)),
            )
        return self._applied[identity]

    def fact(self, identity: str) -> Fact:
        """A fact by its id, also one that nobody stated."""
        if identity not in self._facts:
            told = self._told.get(identity)
            below = tuple(map(self.of, told.derivations)) if told else ()
            self._facts[identity] = Fact(identity, told, below)
        return self._facts[identity]

    def __iter__(self) -> Iterator[Applied]:
        """Everything applied, by id."""
        return map(self.of, self._derivations)

    def under(self, identities: tuple[str, ...]) -> Iterator[Applied]:
        """What stands under some ids and all below it, each once."""
        seen: set[str] = set()
        todo = [self.of(identity) for identity in identities]
        while todo:
            applied = todo.pop()
            if applied.id not in seen:
                seen.add(applied.id)
                yield applied
                todo += [below for fact in applied.facts for below in fact.below]


class Conclusion(Struct, frozen=True):
    """One thing an advice says: its id, its words, and the ids of the derivations it rests on."""

    id: str
    text: str
    behind: tuple[str, ...]


def conclusions(advice: Advice) -> tuple[Conclusion, ...]:
    """Everything an advice says."""
    return (
        *(Conclusion(f"decision: {n}", d.words(), d.behind) for n, d in advice.decisions.items()),
        *(Conclusion(i.id, i.text, i.behind) for i in advice.said),
        *(Conclusion(i.id, i.verdict, i.behind) for i in advice.items),
        *(
            Conclusion(i.id, i.text, i.behind)
            for i in (advice.response.lines if advice.response else ())
        ),
    )
