"""Firings told as items of the advice: their texts filled in, each with its derivation."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, TypeVar

from advisor.decide.derivations import Derivations, fact_id
from advisor.decide.firing import Unknowns, fill, name_of
from advisor.model.advice import Item, Reason
from advisor.model.base import Base
from advisor.model.effects import Said
from advisor.model.outcome import Firing, Judged, Outcome

I = TypeVar("I", bound=Item)  # noqa: E741


class Teller:
    """Tells the firings of one run."""

    def __init__(self, base: Base, outcome: Outcome) -> None:
        self.base, self.world = base, outcome.world
        self.unknowns, self.derivations = Unknowns(base, outcome), Derivations(base, outcome)

    def fill(self, text: str, firing: Firing) -> str:
        """A text of a rule with the names and values of what it was applied to."""
        return fill(self.base, self.world, text, firing.bound)

    def text(self, firing: Firing) -> str:
        """What a firing says."""
        return self.fill(firing.effect.text, firing) if isinstance(firing.effect, Said) else ""

    def item(self, record: type[I], firing: Firing, text: str, **more: Any) -> I:
        """An item of one kind; `more` are the fields that only this kind has."""
        rule = firing.rule
        return record(
            **{"id": firing.derivation, **more},
            rule=rule.id,
            text=text,
            because=self.fill(rule.because, firing),
            sources=tuple(rule.sources),
            status=rule.status,
            derivation=self.derivations.of(firing.instance),
        )

    def reason(self, firing: Firing, option: str = "") -> Reason:
        """Why an option was chosen; `option` names one that was ruled out."""
        rule = firing.rule
        return Reason(
            id=firing.derivation,
            rule=rule.id,
            text=rule.title,
            because=self.fill(rule.because, firing),
            sources=tuple(rule.sources),
            status=rule.status,
            derivation=self.derivations.of(firing.instance),
            option=option,
        )

    def open_facts(self, firings: Iterable[Firing]) -> tuple[str, ...]:
        """Ids of the facts that keep some firings open."""
        found = {ref for firing in firings for ref in self.unknowns.behind(firing.instance)}
        return tuple(sorted(fact_id(*ref) for ref in found))

    def option(self, option: str) -> str:
        """An option by the user's name, where it is a thing of the case."""
        return name_of(self.base, option) if option in self.world.bits else option

    def piece(self, judged: Judged) -> str:
        """A piece of kit by the user's name, with its part."""
        return name_of(self.base, judged.entity) + (f", {judged.part}" if judged.part else "")
