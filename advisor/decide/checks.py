"""The checks: what nobody can know before the pitch and must be seen true there, each with what
follows if it is not; and what the advice comes to if they all hold.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from msgspec.structs import replace

from advisor.decide.derivations import fact_id
from advisor.decide.items import Teller
from advisor.decide.questions import GRAVITY, Note, Noted
from advisor.facts.values import Fact, sound_words
from advisor.facts.vocabulary import Attribute, Vocabulary
from advisor.facts.world import KNOWN
from advisor.faults import Place
from advisor.model.advice import BLOCKING, IF_CHECKED, Advice, Check, Decision
from advisor.model.effects import Require

if TYPE_CHECKING:
    from advisor.load.case import Case

MUST = "must"
NO_GROUP = ""  # of a fact that does not say where one looks
HELD = "checked"  # who says what is taken as seen well, to look ahead


def check_list(teller: Teller, notes: Noted) -> tuple[Check, ...]:
    """The open facts of the spot that could bring a stop, a `first` or a must, group by group."""
    checks = tuple(_checks(teller, notes))
    groups = (*teller.base.eyes, NO_GROUP)
    return tuple(sorted(checks, key=lambda check: groups.index(check.group)))


def _checks(teller: Teller, notes: Noted) -> Iterator[Check]:
    by_key = teller.base.vocabulary.by_key
    for ref, could in notes.items():
        attribute = by_key[ref.key]
        grave = [note for note in could if _gravity(note)] if attribute.on_the_spot else []
        if grave:
            yield _check(teller, attribute, min(grave, key=lambda note: note.gravity))


def _gravity(note: Note) -> str:
    """'stop', 'first' or 'must'; '' for what is no more than care."""
    found = GRAVITY[note.gravity]
    effect = note.firing.effect
    if isinstance(effect, Require) and effect.strength == MUST:
        return MUST
    return found if found in BLOCKING else ""


def _check(teller: Teller, attribute: Attribute, note: Note) -> Check:
    fact = fact_id(*note.fact)
    see, named = attribute.see or attribute.asks, teller.option(note.fact.entity)
    return teller.item(
        Check,
        note.firing,
        see.replace("{it}", named),
        id=f"check: {fact}",
        fact=fact,
        moment=attribute.known,
        group=attribute.eyes,
        gravity=_gravity(note),
        threatens=note.words,
        well=sound_words(attribute),
        see=see,
        named=named,
    )


def held(vocabulary: Vocabulary, case: Case, checks: tuple[Check, ...]) -> Case:
    """The case with every check answered well."""
    facts = dict(case.facts)
    for check in checks:
        entity, _, name = check.fact.rpartition(".")
        found = vocabulary.split(entity)
        attribute = found[0].attributes[name] if found else None
        if attribute and attribute.well is not None:
            well = Fact(
                entity,
                attribute.key,
                KNOWN,
                attribute.well,
                " or ".join(check.well),
                HELD,
                Place(HELD),
            )
            facts[entity, attribute.key] = well
    return replace(case, facts=facts)


def if_held(advice: Advice, ahead: Mapping[str, Decision]) -> Advice:
    """The advice at home, its decisions marked that stand firm if the checks hold; `ahead` are the
    decisions with every check answered well.
    """
    decisions = {
        name: replace(d, standing=IF_CHECKED) if _stands(d, ahead[name]) else d
        for name, d in advice.decisions.items()
        if name in ahead
    }
    return replace(advice, decisions={**advice.decisions, **decisions})


def _stands(now: Decision, then: Decision) -> bool:
    """Whether what is provisional now is firm then, and the same."""
    return (now.standing, then.standing) == ("provisional", "firm") and now.chosen == then.chosen
