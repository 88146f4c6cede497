"""The screen under local guidance: all that the screen without it says stands there word for word,
and beside it what local guidance adds, kept short, so that nothing can be crowded out.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from advisor.model.advice import LOCAL_MARK, Advice
from advisor.papers.blocks import Para
from advisor.papers.one_screen.fit import Piece, Section
from advisor.papers.outline import headline
from advisor.words import SCREEN, Doors

MOST, LEAST_EACH = 6, 1  # things that local guidance adds; of every sort at least so many
LONG = 150  # letters of one of them


def blocks(advice: Advice, built_in: str, plain: tuple, doors: Doors) -> Iterator[object]:
    """The blocks between title and foot: the verdict, what local guidance adds, and the blocks
    `plain` of the screen without it under its own verdict `built_in`.
    """
    graver = _is_graver(advice)
    yield Para(headline(advice) if graver else built_in, True)
    own = Section(SCREEN["by local"], tuple(map(Piece, _own(advice, doors))), numbered=graver)
    if graver:
        yield from own.blocks()
        yield Para(SCREEN["built in"].format(verdict=built_in), True)
    yield from plain
    if not graver:
        yield from own.blocks()


def _is_graver(advice: Advice) -> bool:
    """Whether local guidance makes the first word another."""
    assert advice.local
    held = advice.local.built_in
    if "plan" in advice.about:
        return advice.decisions["go"].choice != held.decisions["go"].choice
    verdicts = [{(item.id, item.verdict) for item in a.items} for a in (held, advice)]
    return not held.stops and bool(advice.stops or verdicts[1] - verdicts[0])


def _own(advice: Advice, doors: Doors) -> Iterator[str]:
    """What local guidance adds, the gravest sort first, each cut short; of a crowd the first, and
    how many more there are.
    """
    sorts = [texts for texts in _sorts(advice) if texts]
    shown = [min(len(texts), LEAST_EACH) for texts in sorts]
    for n, texts in enumerate(sorts):
        shown[n] = min(len(texts), max(shown[n], MOST - sum(shown) + shown[n]))
    for texts, number in zip(sorts, shown):
        for text in texts[:number]:
            yield textwrap.shorten(text, LONG, placeholder=" …")
    left = sum(map(len, sorts)) - sum(shown)
    if left:
        yield SCREEN["more local"].format(n=left, all=doors.all)


def _sorts(advice: Advice) -> Iterator[list[str]]:
    """What local guidance adds, sort by sort."""
    assert advice.local
    held = advice.local.built_in
    for items in (advice.stops, advice.contradictions, advice.first):
        yield [item.text for item in items if item.local]
    known = {question.id for question in held.blocking}
    yield [_marked(q.text) for q in advice.blocking if q.id not in known]
    yield [departure.text for departure in advice.local.turned]
    yield [item.text for item in (*advice.requirements, *advice.warnings) if item.local]
    yield [check.see for check in advice.checks if check.local]
    yield own_numbers(advice)


def own_numbers(advice: Advice) -> list[str]:
    """The key numbers that local guidance makes others."""
    return [n.text for n in advice.calculations if n.key and n.text.startswith(LOCAL_MARK)]


def _marked(text: str) -> str:
    return text if text.startswith(LOCAL_MARK) else LOCAL_MARK + text
