"""Response sequences on pages of their own, to tear off and carry."""

from __future__ import annotations

from advisor.papers.blocks import Bullets, Heading, Page, Para, lines
from advisor.papers.outline import sequence
from advisor.words import SECTIONS

FIRST = "In a real emergency act and call first. Steps under 'if' are for when that is so."


def responses(s):
    """A page for the case's own incident, or for each of the main ones."""
    if not s.responses:
        return []
    blocks = [Page(tear=True), Heading(2, s.lists["titles"]["incidents"]), Para(FIRST, True)]
    for number, (response, own) in enumerate(s.responses):
        blocks += [Page(tear=True)] if number else []
        blocks += _one(response, own)
    return blocks


def _one(response, own):
    what = response.incident
    blocks = [Heading(3, what[:1].upper() + what[1:])]
    blocks += (
        []
        if own
        else [
            Para("For rehearsal, on the facts of this plan; nothing else is known of such a day.")
        ]
    )
    return [*blocks, *(block for part in sequence(response) for block in part_blocks(part))]


def part_blocks(part) -> list:
    """One part of a response; nothing when it is empty. The rules stand in the evidence."""
    if not part.steps:
        return []
    said = lines(*(step.words for step in part.steps))
    return [Para(SECTIONS[part.name].capitalize(), True), Bullets(said, part.numbered)]
