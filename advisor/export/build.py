"""The whole paper, in the order in which a reader needs it."""

from __future__ import annotations

from advisor.export import appendix, front
from advisor.export.blocks import Page, Paper
from advisor.export.kit import kit
from advisor.export.plan import pitch_plan
from advisor.export.rationale import rationale
from advisor.export.register import register
from advisor.export.response import responses


def build(s) -> Paper:
    """The paper on a subject."""
    blocks = [*front.title_block(s), *front.signature(s), Page(), *front.summary(s)]
    for part in (pitch_plan(s), kit(s)):
        blocks += [Page(), *part] if part else []
    table = register(s)
    blocks += [Page(wide=True), *table] if table else []
    blocks += responses(s)
    blocks += [
        Page(),
        *rationale(s),
        *appendix.questions(s),
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
