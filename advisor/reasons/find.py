"""What a name means in an advice: a decision, an item, a stop, a step, a number, a rule, a fact."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from advisor.decide.names import id_name
from advisor.facts.values import ASSUMED
from advisor.model.advice import Advice, Stop
from advisor.model.base import Base


class Named(NamedTuple):
    """What a name means, or one side of it: a heading and the ids of the derivations behind it."""

    title: str
    behind: tuple[str, ...]


def find(base: Base, advice: Advice, name: str) -> list[Named]:
    """All that a name means in an advice."""
    wanted = name.strip().lower()
    return [
        *_decisions(advice, wanted),
        *_items(advice, wanted),
        *_steps(advice, wanted),
        *_numbers(advice, wanted),
        *_facts(base, advice, wanted),
    ]


def known_names(advice: Advice) -> list[str]:
    """Names worth suggesting when one is not found."""
    return [
        *advice.decisions,
        *(s.rule for s in advice.stops),
        *(i.item for i in advice.items),
        *(r.rule for r in advice.requirements),
        *(c.title.lower() for c in advice.calculations),
        *(f.id for f in advice.facts),
    ]


def _decisions(advice: Advice, wanted: str) -> Iterator[Named]:
    if wanted in advice.decisions:
        d = advice.decisions[wanted]
        chosen = tuple(dict.fromkeys(r.derivation for r in d.reasons))
        own = f": {d.of_itself}" if d.of_itself else ""
        yield Named(f"{wanted}: {d.words()} ({d.standing}){own}", chosen)
        for a in d.alternatives:
            yield Named(f"not {a.option}: {a.lost_because}", a.derivations)


def _items(advice: Advice, wanted: str) -> Iterator[Named]:
    for item in advice.said:
        stop = isinstance(item, Stop) and wanted in ("stops", "stop")
        if stop or wanted in _keys(item.id, getattr(item, "rule", "")):
            yield Named(item.text, item.behind)
    for verdict in advice.items:
        if wanted in _keys(verdict.id, verdict.item):
            text = f"{verdict.item}: {verdict.verdict} ({verdict.standing})"
            yield Named(text, verdict.behind)


def _keys(identity: str, *others: str) -> set[str]:
    """An id, the same without the entities it was worked for, and other names."""
    return {name.lower() for name in (identity, identity.partition(" [")[0], *others)}


def _steps(advice: Advice, wanted: str) -> Iterator[Named]:
    response = advice.response
    for line in response.lines if response else ():
        if wanted in (line.id.lower(), line.rule.lower()):
            yield Named(line.text, line.behind)


def _numbers(advice: Advice, wanted: str) -> Iterator[Named]:
    for number in advice.calculations:
        if wanted in _keys(number.id, number.title):
            yield Named(number.text, (number.derivation,))


def _facts(base: Base, advice: Advice, wanted: str) -> Iterator[Named]:
    for fact in advice.facts:
        name = id_name(base, fact.id)
        if wanted in (fact.id.lower(), name.lower()):
            by = "" if fact.concluded else f", {said(fact.said_by)}"
            yield Named(f"{name}: {fact.value}{by}", fact.derivations)


def said(by: str) -> str:
    """Where a fact is from, in words."""
    return "only assumed, not known" if by == ASSUMED else f"said in the {by}"
