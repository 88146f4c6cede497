"""Response sequences on pages of their own, to tear off and carry."""

from __future__ import annotations

from advisor.export.blocks import Bullets, Heading, Page, Para

FIRST = "In a real emergency act and call first. Steps under 'if' are for when that is so."


def responses(s):
    """A page for the case's own incident, or for each of the main ones."""
    if not s.responses:
        return []
    blocks = [Page(tear=True), Heading(2, "Response sequences"), Para(FIRST, True)]
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
    if response.calls:
        said = (*response.calls, *response.say)
        blocks += [Para("Call now", True), Bullets(tuple(line(c) for c in said))]
    if response.do_not:
        blocks += [Para("Do not", True), Bullets(tuple(line(d) for d in response.do_not))]
    steps = Bullets(tuple(line(step) for step in response.steps), True)
    return [*blocks, Para("Steps", True), steps]


def line(step) -> str:
    """A step with the words after 'If', and its rule."""
    return f"{step.words} [{step.rule}]"
