"""The whole paper, in the order in which a reader needs it."""

from __future__ import annotations

from advisor.papers import appendix, front
from advisor.papers.blocks import Page, Paper
from advisor.papers.kit import kit, on_cards
from advisor.papers.plan import pitch_plan
from advisor.papers.rationale import rationale
from advisor.papers.register import register
from advisor.papers.response import responses


def build(s) -> Paper:
    """The paper on a subject."""
    blocks = [*front.title_block(s), *front.signature(s), Page(summary=True), *front.summary(s)]
    for part in (pitch_plan(s), kit(s)):
        blocks += [Page(), *part] if part else []
    blocks += on_cards(s)
    table = register(s)
    blocks += [Page(wide=True), *table] if table else []
    blocks += responses(s)
    blocks += [
        Page(),
        *rationale(s),
        *appendix.questions(s),
        *appendix.checks(s),
        *appendix.calculations(s),
        *appendix.facts(s),
        *appendix.local_guidance(s),
        *appendix.sources(s),
        *appendix.ending(s),
    ]
    return Paper(
        f"Risk assessment papers: {s.title}",
        f"{s.title} | {s.date} | rule base {s.advice.rule_base.sha256[:12]}",
        tuple(blocks),
    )
