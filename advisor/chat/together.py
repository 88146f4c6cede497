"""What is asked together at home: sentences that a leader can say yes to in one breath."""

from __future__ import annotations

from typing import NamedTuple

from advisor.chat.questions import split_fact
from advisor.decide.firing import name_of
from advisor.model.advice import BLOCKING
from advisor.papers.checks import groups


class Claim(NamedTuple):
    """One fact as a sentence to say yes to, shown as a check is (see papers.checks)."""

    fact: str
    group: str
    see: str
    named: str

    @property
    def text(self) -> str:
        return self.see.replace("{it}", self.named)


def claims(session, advice, found) -> tuple:
    """The lines to be read out together with the question that is found next; () where it is to be
    asked alone.
    """
    base, (reference, item) = session.advisor.base, found
    if not reference[0]:
        return ()
    grave = item.gravity in BLOCKING
    asked = [q for q in still_to_ask(session, advice) if (q.gravity in BLOCKING) == grave]
    lone = alone(advice)
    asked = [q for q in asked if not lone.isdisjoint(q.rules)]
    claimed = [claim for q in asked if (claim := _claim(base, q.fact))]
    first = next((claim for claim in claimed if claim.fact == item.fact), None)
    if first is None:
        return ()
    lines = next(lines for lines in groups(claimed) if lines[0].group == first.group)
    return lines if len(lines) > 1 else ()


def still_to_ask(session, advice) -> list:
    """The open questions that were not put yet."""
    checks = {check.fact for check in advice.checks}
    return [
        q
        for q in advice.open_questions
        if q.fact not in checks
        and (reference := split_fact(session.advisor.base, q.fact))[0]
        and not session.was_put(reference)
        and reference not in session.to_ask
    ]


def alone(advice) -> set:
    """The rules that turn on one kind of fact and nothing else: what they ask never comes to
    nothing by another answer.
    """
    names: dict = {}
    for question in advice.open_questions:
        for rule in question.rules:
            names.setdefault(rule, set()).add(question.fact.rpartition(".")[2])
    return {rule for rule, of in names.items() if len(of) == 1}


def _claim(base, fact) -> Claim | None:
    """The sentence of a fact that can be said yes to."""
    entity, key = split_fact(base, fact)
    attribute = base.vocabulary.attribute(key) if entity else None
    if attribute is None or attribute.on_the_spot or not attribute.claim:
        return None
    kind = attribute.entity
    group = next((name for name, of in base.told_together.items() if kind in of), "")
    return Claim(fact, group, attribute.claim, name_of(base, entity)) if group else None
