"""An incident on one screen: calls, the three deadliest things not to do, steps, what else not to
do; anything of planning only below them. What local guidance adds fills what room is left.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import accumulate

from msgspec.structs import replace

from advisor.decide.sequence import PHASES
from advisor.model.advice import Advice, Response, Step
from advisor.model.base import Base
from advisor.model.effects import Step as StepEffect
from advisor.papers.one_screen.asked import asked
from advisor.papers.one_screen.fit import ALWAYS, GRAVE, LEAST, LESS, Piece, Section
from advisor.papers.outline import sequence
from advisor.words import CALL_IF, OR_CALL_IF, SCREEN, SECTIONS, Doors

BEFORE_THE_STEPS = 3
"""As many things not to do as stand before the steps: more would push those out of sight."""
PHASE = {phase: 2 * n for n, phase in enumerate(PHASES)}
"""How soon the steps of a phase are left out, against the ranks of what stands around them."""


def sections(base: Base, advice: Advice, doors: Doors) -> Iterator[Section]:
    """The response in its own order, then what else is grave, then what to find out."""
    answer = advice.response
    if answer is None:
        return
    calls, do_not, steps = sequence(answer)
    yield Section(SECTIONS[calls.name], (*_calls(answer), *_pieces(answer.say)))
    before, after = _deadliest(base.screen.deadliest, do_not.steps)
    yield Section(SECTIONS[do_not.name], _pieces(before))
    ranks = _ranks(base, steps.steps)
    yield Section(
        SECTIONS[steps.name],
        tuple(Piece(step.words, rank, local=step.local) for step, rank in zip(steps.steps, ranks)),
        True,
        SCREEN["more steps"].format(n="{n}", all=doors.all),
    )
    yield Section(SCREEN["nor"], _less_deadly(base.screen.deadliest, after))
    stops = tuple(Piece(stop.text, local=stop.local) for stop in advice.stops)
    yield Section(SCREEN["stops"], stops, numbered=True)
    against = tuple(Piece(c.text, GRAVE, local=c.local) for c in advice.contradictions)
    yield Section(SECTIONS["contradictions"], against, numbered=True)
    danger = (w for w in advice.warnings if w.severity == "danger")
    warned = tuple(Piece(w.text, LESS, local=w.local) for w in danger)
    yield Section(SECTIONS["warnings"], warned)
    questions = asked(base, advice)
    yield replace(questions, pieces=tuple(replace(p, rank=LEAST) for p in questions.pieces))


def _deadliest(ranked: Sequence[str], steps: Sequence[Step]) -> tuple[list[Step], list[Step]]:
    """(the few things not to do that stand before the first step, all others in their order)

    Of those ranked, what is sure goes before what hangs on a condition.
    """
    place = {rule: n for n, rule in enumerate(ranked)}
    last = len(place)
    by_rank = sorted(
        steps,
        key=lambda step: (
            step.local,
            step.rule not in place,
            bool(step.when),
            place.get(step.rule, last),
        ),
    )
    first = by_rank[:BEFORE_THE_STEPS]
    return first, [step for step in steps if step not in first]


def _less_deadly(ranked: Sequence[str], steps: Sequence[Step]) -> tuple[Piece, ...]:
    """What else not to do: of the deadliest what is sure outlasts what is done next; what hangs on
    a condition goes with that, what is not deadly with the steps after it.
    """
    ranks = (
        PHASE["" if step.rule not in ranked else "then"]
        if step.when or step.rule not in ranked
        else GRAVE
        for step in steps
    )
    return tuple(Piece(step.words, rank, local=step.local) for step, rank in zip(steps, ranks))


def _pieces(steps: Iterable[Step]) -> tuple[Piece, ...]:
    """What is sure is always told; what hangs on a condition may be left out at last."""
    return tuple(
        Piece(step.words, GRAVE if step.when else ALWAYS, local=step.local) for step in steps
    )


def _calls(answer: Response) -> Iterator[Piece]:
    """The calls that are due, then in one piece when else to call."""
    own = [call for call in answer.calls if call.local]
    calls = [call for call in answer.calls if not call.local]
    yield from _due(call.words for call in calls if not call.when)
    later = [call.when for call in calls if call.when]
    for n, when in enumerate(later):
        yield Piece((OR_CALL_IF if n else CALL_IF).format(when=when), GRAVE, on=n > 0)
    yield from _pieces(own)


def _due(calls: Iterable[str]) -> Iterator[Piece]:
    """What to call now, always told; what begins alike is told in one, the beginning once."""
    reasons: dict[str, list[str]] = {}
    for words in calls:
        head, colon, reason = words.partition(": ")
        several = not colon or ". " in reason or ";" in reason  # more than a plain reason
        reasons.setdefault(words if several else head, []).extend([] if several else [reason])
    for head, why in reasons.items():
        joined = "; ".join([*(reason.removesuffix(".") for reason in why[:-1]), *why[-1:]])
        yield Piece(f"{head}: {joined}" if why else head)


def _ranks(base: Base, steps: Sequence[Step]) -> list[int]:
    """Steps are cut from the end only: none goes before one that stands behind it."""
    phases = {
        rule.id: effect.phase
        for rule in base.rules
        for effect in rule.effects
        if isinstance(effect, StepEffect)
    }
    last = 2 * len(PHASES)  # a local step is kept only where all others are
    own = [last if step.local else PHASE[phases[step.rule]] for step in steps]
    return list(accumulate(reversed(own), min))[::-1]
