"""An incident on one screen: calls, what not to do, steps; anything of planning only below them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import accumulate

from advisor.decide.sequence import PHASES
from advisor.model.advice import Advice, Response, Step
from advisor.model.base import Base
from advisor.model.effects import Step as StepEffect
from advisor.papers.one_screen.asked import asked
from advisor.papers.one_screen.fit import ALWAYS, GRAVE, LEAST, LESS, Piece, Section
from advisor.papers.outline import sequence
from advisor.words import CALL_IF, OR_CALL_IF, SCREEN, SECTIONS, Doors


def sections(base: Base, advice: Advice, doors: Doors) -> Iterator[Section]:
    """The response in its own order, then what else is grave, then what to find out."""
    answer = advice.response
    if answer is None:
        return
    calls, do_not, steps = sequence(answer)
    yield Section(SECTIONS[calls.name], (*_calls(answer), *_pieces(answer.say)))
    yield Section(SECTIONS[do_not.name], _pieces(do_not.steps))
    ranks = _ranks(base, steps.steps)
    yield Section(
        SECTIONS[steps.name],
        tuple(Piece(step.words, rank) for step, rank in zip(steps.steps, ranks)),
        True,
        SCREEN["more steps"].format(n="{n}", all=doors.all),
    )
    stops = tuple(Piece(stop.text) for stop in advice.stops)
    yield Section(SCREEN["stops"], stops, numbered=True)
    against = tuple(Piece(c.text, GRAVE) for c in advice.contradictions)
    yield Section(SECTIONS["contradictions"], against, numbered=True)
    danger = (w.text for w in advice.warnings if w.severity == "danger")
    yield Section(SECTIONS["warnings"], tuple(Piece(text, LESS) for text in danger))
    questions = asked(base, advice)
    yield replace(questions, pieces=tuple(replace(p, rank=LEAST) for p in questions.pieces))


def _pieces(steps: Iterable[Step]) -> tuple[Piece, ...]:
    """What is sure is always told; what hangs on a condition may be left out at last."""
    return tuple(Piece(step.words, GRAVE if step.when else ALWAYS) for step in steps)


def _calls(answer: Response) -> Iterator[Piece]:
    """The calls that are due, then in one piece when else to call."""
    yield from _pieces(call for call in answer.calls if not call.when)
    later = [call.when for call in answer.calls if call.when]
    for n, when in enumerate(later):
        yield Piece((OR_CALL_IF if n else CALL_IF).format(when=when), GRAVE, on=n > 0)


def _ranks(base: Base, steps: Sequence[Step]) -> list[int]:
    """Steps are cut from the end only: none goes before one that stands behind it."""
    phases = {
        rule.id: effect.phase
        for rule in base.rules
        for effect in rule.effects
        if isinstance(effect, StepEffect)
    }
    own = [2 * PHASES.index(phases[step.rule]) for step in steps]
    return list(accumulate(reversed(own), min))[::-1]
