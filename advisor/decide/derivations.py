"""Derivations as records: which rule, on which facts and absences, concluded what; and every fact
with who said it.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from advisor.decide.firing import given_by, known_value, name_of, uncertain
from advisor.decide.sentences import sentence
from advisor.facts.world import STATES
from advisor.model.advice import Derivation, FactTold
from advisor.model.base import Base
from advisor.model.conditions import AllOf, Condition, Not, Some
from advisor.model.outcome import Instance, Outcome, Worked, derivation_id
from advisor.model.ref import Ref
from advisor.model.rule import Rule

if TYPE_CHECKING:
    from advisor.load.case import Case


def fact_id(entity: str, key: str) -> str:
    """'anchor left.side' for entity 'anchor left' and key 'anchor.side'."""
    return f"{entity}.{key.partition('.')[2]}"


def worked_id(done: Worked) -> str:
    """'ladder-needed' or 'ladder-chain [ladder main]'."""
    bound = ", ".join(done.bound.values())
    return f"{done.calculation.id} [{bound}]" if bound else done.calculation.id


class Derivations:
    """Hands out derivation ids and remembers which were asked for, with all that they rest on."""

    def __init__(self, base: Base, outcome: Outcome) -> None:
        self.base, self.world = base, outcome.world
        self.concluding: dict[Ref, list[Instance]] = {}
        self.wanted: dict[str, Derivation] = {}
        self.named: dict[str, tuple[str, str]] = {}  # what the facts looked at are, by their ids
        self.earlier: Derivations | None = None
        self._writing: set[str] = set()
        self.worked = given_by(base, outcome.worked)
        for item in outcome.instances:
            rule = base.rules[item.rule]
            if rule.derives:
                target = rule.conclusion.ref.at(rule.bind(item.bound))
                self.concluding.setdefault(target, []).append(item)

    def of(self, instance: Instance) -> str:
        """The id of an instance's derivation; the facts it rests on are derived in turn."""
        rule = self.base.rules[instance.rule]
        identity = derivation_id(rule, instance.bound)
        if identity not in self.wanted and identity not in self._writing:
            self._writing.add(identity)  # holds the place while its premises are written
            self.wanted[identity] = self._write(identity, rule, instance)
        return identity

    def concluded(self, entity: str, key: str) -> bool:
        """Whether a fact was not stated itself: it is derived, or settled by another answer."""
        return self.base.vocabulary.by_key[key].derived or (entity, key) in self.world.settled

    def fact(self, entity: str, key: str) -> list[str]:
        """Derivation ids behind a concluded fact: the rules that did, the answer that settled it,
        or the absence of any.
        """
        if (entity, key) in self.world.settled:
            return [self._settled(entity, key)]
        items = self.concluding.get(Ref(entity, key), ())
        if items:
            return [self.of(item) for item in items]
        worked = self.worked.get(Ref(entity, key), ())
        if worked:
            return [self.calculation(done) for done in worked]
        return [
            self.absence(
                f"no rule concludes the {key.partition('.')[2]} of {name_of(self.base, entity)},"
                " so the cautious value stands",
                fact_id(entity, key),
                f"nothing concludes {fact_id(entity, key)}",
            )
        ]

    def _ids(self, facts: Sequence[tuple[str, str]]) -> tuple[str, ...]:
        """The ids of facts that a derivation looks at."""
        ids = tuple(fact_id(*ref) for ref in facts)
        self.named.update(zip(ids, facts))
        return ids

    def _settled(self, entity: str, key: str) -> str:
        (answer,) = self._ids([(entity, self.world.settled[entity, key])])
        identity = f"{answer} settles {fact_id(entity, key)}"
        self.wanted[identity] = Derivation(
            id=identity,
            rule=None,
            bound=(),
            concludes=(fact_id(entity, key),),
            sure=True,
            facts=(answer,),
            calculations=(),
            absences=(),
        )
        return identity

    def absence(self, text: str, about: str, identity: str = "") -> str:
        """The id of a derivation that rests on nothing being there, such as no anchor
        being named.
        """
        identity = identity or text
        if identity not in self.wanted:
            self.wanted[identity] = Derivation(
                id=identity,
                rule=None,
                bound=(),
                concludes=(about,),
                sure=True,
                facts=(),
                calculations=(),
                absences=(text,),
            )
        return identity

    def _write(self, identity: str, rule: Rule, instance: Instance) -> Derivation:
        bound = rule.bind(instance.bound)
        absences = tuple(
            sentence(self.base, node, bound)
            for node in rule.condition.children
            if isinstance(node, Not) and all(isinstance(n, Some) for n in _inner(node.part))
        )
        facts = self._ids(instance.looked_at)
        self._derive(instance.looked_at)
        return Derivation(
            id=identity,
            rule=rule.id,
            bound=tuple(instance.bound),
            concludes=tuple(effect.kind for effect in rule.effects),
            sure=instance.truth == 2,
            facts=facts,
            absences=absences,
            calculations=tuple(
                sorted(
                    {
                        worked_id(d)
                        for ref in instance.looked_at
                        for d in self.worked.get(Ref(*ref), ())
                    }
                )
            ),
        )

    def calculation(self, done: Worked) -> str:
        """The id of a calculation's derivation; the facts it works on are derived in turn."""
        identity = worked_id(done)
        if identity not in self.wanted:
            self.wanted[identity] = Derivation(
                id=identity,
                rule=None,
                bound=tuple(done.bound.values()),
                concludes=tuple(done.calculation.outputs),
                sure=True,
                facts=self._ids(done.looked_at),
                calculations=(identity,),
                absences=(),
            )
            self._derive(done.looked_at)
        return identity

    def _derive(self, facts: Sequence[tuple[str, str]]) -> None:
        """Ask for the derivations of those facts that were concluded."""
        for entity, key in facts:
            if self.concluded(entity, key):
                self.fact(entity, key)

    def take(self, earlier: Derivations) -> None:
        """Tell also what an earlier run's derivations hold and these do not."""
        self.earlier = earlier

    def used(self) -> tuple[Derivation, ...]:
        """All derivations asked for, by id."""
        wanted = {**(self.earlier.wanted if self.earlier else {}), **self.wanted}
        return tuple(wanted[i] for i in sorted(wanted))

    def concluded_used(self) -> set[str]:
        """Ids of the concluded facts that the derivations asked for look at."""
        return {f for f, ref in self.named.items() if self.concluded(*ref)}


def _inner(node: Condition) -> tuple[Condition, ...]:
    return node.parts if isinstance(node, AllOf) else (node,)


def fact_list(base: Base, case: Case, derivations: Derivations) -> tuple[FactTold, ...]:
    """Every stated fact, and every derived one that something rests on, by id: as the run itself
    found it, and what only an earlier run looked at as that run did.
    """
    states = derivations.world.states
    told = {
        fact_id(entity, key): FactTold(
            id=fact_id(entity, key),
            entity=entity,
            attribute=key.partition(".")[2],
            value=fact.text,
            state=STATES[states.get(Ref(entity, key), fact.state)],
            said_by=fact.said_by,
            derivations=(),
        )
        for (entity, key), fact in case.facts.items()
    }
    for run in (derivations, derivations.earlier):
        if run:
            _add_concluded(base, run, told)
    return tuple(told[i] for i in sorted(told))


def _add_concluded(base: Base, derivations: Derivations, told: dict[str, FactTold]) -> None:
    """Add what one run's derivations rest on; to derive one fact may look at more of them."""
    while wanted := derivations.concluded_used() - told.keys():
        for identity in sorted(wanted):
            entity, key = derivations.named[identity]
            told[identity] = FactTold(
                id=identity,
                entity=entity,
                attribute=key.partition(".")[2],
                value=known_value(base, derivations.world, entity, key),
                state="unknown" if uncertain(base, derivations.world, entity, key) else "known",
                said_by="rules",
                derivations=tuple(derivations.fact(entity, key)),
            )
