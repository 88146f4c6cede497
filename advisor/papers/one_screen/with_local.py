"""The screen under local guidance: all that the screen without it says stands there word for word,
and beside it what local guidance adds, kept short, so that nothing can be crowded out.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from advisor.decide.verdicts import VERDICTS
from advisor.model.advice import CAUTIOUS, LOCAL_MARK, Advice
from advisor.papers.blocks import Para
from advisor.papers.one_screen.fit import Piece, Section
from advisor.papers.outline import headline
from advisor.words import SCREEN, Doors

MOST, LEAST_EACH = 6, 1  # things that local guidance adds; of every sort at least so many
BEFORE = 3  # of them stand before the built-in verdict where they make the first word graver
ROWS = 2  # of one of them


def blocks(
    advice: Advice, built_in: str, plain: tuple, doors: Doors, width: int
) -> Iterator[object]:
    """The blocks between title and foot: the verdict, what local guidance adds, and the blocks
    `plain` of the screen without it under its own verdict `built_in`.
    """
    own = list(_own(advice, doors, ROWS * (width - 6)))
    graver = _is_graver(advice)
    yield Para(headline(advice) if graver else built_in, True)
    if graver:
        yield from _section(own[:BEFORE], numbered=True)
        yield Para(SCREEN["built in"].format(verdict=built_in), True)
        own = own[BEFORE:]
    yield from plain
    yield from _section(own, numbered=False)


def _section(texts: list[str], numbered: bool) -> Iterator[object]:
    yield from Section(SCREEN["by local"], tuple(map(Piece, texts)), numbered).blocks()


def _is_graver(advice: Advice) -> bool:
    """Whether local guidance makes the first word a graver one. That it is not by ladder stays."""
    assert advice.local
    held = advice.local.built_in
    if "plan" in advice.about:
        was, is_ = held.decisions["go"].choice or "", advice.decisions["go"].choice or ""
        return was in CAUTIOUS and is_ != was
    return not held.stops and bool(advice.stops or _worst(advice) > _worst(held))


def _worst(advice: Advice) -> int:
    return max((VERDICTS.index(item.verdict) for item in advice.items), default=-1)


def _own(advice: Advice, doors: Doors, letters: int) -> Iterator[str]:
    """What local guidance adds, the gravest sort first, each cut short; of a crowd the first, and
    how many more there are.
    """
    sorts = [texts for texts in _sorts(advice) if texts]
    shown = [min(len(texts), LEAST_EACH) for texts in sorts]
    for n, texts in enumerate(sorts):
        shown[n] = min(len(texts), max(shown[n], MOST - sum(shown) + shown[n]))
    for texts, number in zip(sorts, shown):
        for text in texts[:number]:
            yield textwrap.shorten(text, letters, placeholder=" …")
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
