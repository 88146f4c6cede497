"""Derivations as records: which rule, on which facts and absences, concluded what; and every fact
with who said it.
"""

from __future__ import annotations

from advisor.decide.firing import given_by, known_value, name_of, uncertain
from advisor.decide.sentences import sentence
from advisor.facts.world import STATES
from advisor.model.advice import Derivation, FactTold
from advisor.model.conditions import AllOf, Not, Some
from advisor.model.outcome import derivation_id


def fact_id(entity: str, key: str) -> str:
    """'anchor left.side' for entity 'anchor left' and key 'anchor.side'."""
    return f"{entity}.{key.partition('.')[2]}"


def worked_id(done) -> str:
    """'ladder-needed' or 'ladder-chain [ladder main]'."""
    bound = ", ".join(done.bound.values())
    return f"{done.calculation.id} [{bound}]" if bound else done.calculation.id


class Derivations:
    """Hands out derivation ids and remembers which were asked for, with all that they rest on."""

    def __init__(self, base, outcome):
        self.base, self.world = base, outcome.world
        self.concluding, self.wanted = {}, {}
        self.worked = given_by(base, outcome.worked)
        for item in outcome.instances:
            rule = base.rules[item.rule]
            if rule.derives:
                target = rule.conclusion.ref.at(rule.bind(item.bound))
                self.concluding.setdefault(target, []).append(item)

    def of(self, instance) -> str:
        """The id of an instance's derivation; the facts it rests on are derived in turn."""
        rule = self.base.rules[instance.rule]
        identity = derivation_id(rule, instance.bound)
        if identity not in self.wanted:
            self.wanted[identity] = None  # holds the place while its premises are written
            self.wanted[identity] = self._write(identity, rule, instance)
        return identity

    def fact(self, entity, key) -> list:
        """Derivation ids behind a derived fact: the rules that concluded it, or the absence of
        any.
        """
        items = self.concluding.get((entity, key), ())
        if items:
            return [self.of(item) for item in items]
        worked = self.worked.get((entity, key), ())
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

    def _write(self, identity, rule, instance):
        bound = rule.bind(instance.bound)
        absences = tuple(
            sentence(self.base, node, bound)
            for node in rule.condition.children
            if isinstance(node, Not) and all(isinstance(n, Some) for n in _inner(node.part))
        )
        facts = tuple(fact_id(*ref) for ref in instance.looked_at)
        for entity, key in instance.looked_at:
            if self.base.vocabulary.attribute(key).derived:
                self.fact(entity, key)
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
                    {worked_id(d) for ref in instance.looked_at for d in self.worked.get(ref, ())}
                )
            ),
        )

    def calculation(self, done) -> str:
        """The id of a calculation's derivation; the facts it works on are derived in turn."""
        identity = worked_id(done)
        if identity not in self.wanted:
            self.wanted[identity] = Derivation(
                id=identity,
                rule=None,
                bound=tuple(done.bound.values()),
                concludes=tuple(done.calculation.outputs),
                sure=True,
                facts=tuple(fact_id(*ref) for ref in done.looked_at),
                calculations=(identity,),
                absences=(),
            )
            for entity, key in done.looked_at:
                if self.base.vocabulary.attribute(key).derived:
                    self.fact(entity, key)
        return identity

    def take(self, other: Derivations) -> None:
        """Take over what another run's derivations hold and these do not."""
        self.wanted = {**other.wanted, **self.wanted}

    def used(self) -> tuple[Derivation, ...]:
        """All derivations asked for, by id."""
        return tuple(self.wanted[i] for i in sorted(self.wanted))

    def facts_used(self) -> set:
        """Ids of the facts that the derivations asked for look at."""
        return {f for d in self.wanted.values() if d for f in d.facts}


def _inner(node):
    return node.parts if isinstance(node, AllOf) else (node,)


def fact_list(base, case, world, derivations) -> tuple[FactTold, ...]:
    """Every stated fact, and every derived one that something rests on, by id."""
    stated = [
        FactTold(
            id=fact_id(entity, key),
            entity=entity,
            attribute=key.partition(".")[2],
            value=fact.text,
            state=STATES[world.states.get((entity, key), fact.state)],
            said_by=fact.said_by,
            derivations=(),
        )
        for (entity, key), fact in case.facts.items()
    ]
    wanted = derivations.facts_used() - {f.id for f in stated}
    concluded = [
        FactTold(
            id=fact_id(entity, key),
            entity=entity,
            attribute=key.partition(".")[2],
            value=known_value(base, world, entity, key),
            state="unknown" if uncertain(base, world, entity, key) else "known",
            said_by="rules",
            derivations=tuple(derivations.fact(entity, key)),
        )
        for key, column in sorted(world.columns.items())
        if base.vocabulary.attribute(key).derived
        for entity in column
        if fact_id(entity, key) in wanted
    ]
    return tuple(sorted((*stated, *concluded), key=lambda fact: fact.id))
