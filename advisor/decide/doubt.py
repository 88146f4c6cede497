"""Doubt: a doubtful value is at least as strict as the value said, and facts that contradict each
other count as doubtful.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from typing import TypeAlias

from advisor.decide.verdicts import VERDICTS
from advisor.facts.values import Fact
from advisor.facts.vocabulary import Vocabulary
from advisor.facts.world import KNOWN
from advisor.model.base import Base
from advisor.model.effects import (
    Ask,
    CallNow,
    Contradiction,
    Disfavour,
    DoNot,
    Effect,
    First,
    Hazard,
    Refer,
    Require,
    RuleOut,
    Stop,
    Verdict,
    Warn,
)
from advisor.model.outcome import Instance, Outcome
from advisor.model.ref import Ref

Facts: TypeAlias = Mapping[Ref, Fact]

# What a rule with these prefers, or tells to do, beside them does not loosen an advice.
OUTWEIGH = (Stop, RuleOut, CallNow)
# Effects that can only make an advice stricter.
STRICTER = (
    RuleOut,
    Disfavour,
    Stop,
    First,
    Contradiction,
    Require,
    Warn,
    Refer,
    Hazard,
    DoNot,
    CallNow,
    Ask,
)


def as_said(facts: Facts) -> Facts | None:
    """The facts with each doubtful value taken as it was said; None where there is none.

    An order of caution does not spare this: what is worked out from the value said may be lost
    where a worse one cannot be worked with.
    """
    taken = {ref: fact for ref, fact in facts.items() if fact.said is not None}
    if not taken:
        return None
    known = {ref: f._replace(state=KNOWN, value=f.said, said=None) for ref, f in taken.items()}
    return {**facts, **known}


def contradicted(base: Base, outcome: Outcome) -> set[Ref]:
    """(entity, key) of the facts that surely contradict each other."""
    return {ref for _, refs in contradictions(base, outcome) for ref in refs}


def contradictions(base: Base, outcome: Outcome) -> Iterator[tuple[Instance, tuple[Ref, ...]]]:
    """(instance, its facts) of every sure contradiction. What only another answer settled nobody
    said, so it contradicts nothing.
    """
    for item in outcome.instances:
        if item.truth == 2:
            rule = base.rules[item.rule]
            bound = rule.bind(item.bound)
            for effect in rule.gives(Contradiction):
                facts = tuple(ref.at(bound) for ref in effect.between)
                if not outcome.world.settled.keys() & facts:
                    yield item, facts


def doubted(vocabulary: Vocabulary, facts: Facts, against: Collection[Ref]) -> Facts:
    """The facts, those spoken against made doubtful."""
    return {
        ref: _doubted(vocabulary, fact) if ref in against else fact for ref, fact in facts.items()
    }


def _doubted(vocabulary: Vocabulary, fact: Fact) -> Fact:
    attribute = vocabulary.attribute(fact.key)
    return fact.doubted(attribute) if attribute else fact


def grave(base: Base, instances: Iterable[Instance]) -> tuple[Instance, ...]:
    """The sure instances that only make an advice stricter, or do so above all else."""
    return tuple(
        item
        for item in instances
        if item.truth == 2
        and (
            base.rules[item.rule].gives(*OUTWEIGH)
            or all(_stricter(effect) for effect in base.rules[item.rule].effects)
        )
    )


def _stricter(effect: Effect) -> bool:
    if isinstance(effect, Verdict):
        return effect.give != VERDICTS[0]
    return isinstance(effect, STRICTER)
