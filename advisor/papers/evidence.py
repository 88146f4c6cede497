"""The annex: what the advice rests on, told once, apart from what is carried."""

from __future__ import annotations

from advisor.papers import appendix
from advisor.papers.blocks import Heading, Page, Para
from advisor.papers.front import title_block
from advisor.papers.kit import on_cards
from advisor.papers.once import once
from advisor.papers.plan import pitch_plan
from advisor.papers.rationale import rationale


def evidence(s) -> list:
    """Fingerprint and engines, facts, derivations, questions, numbers, sources, limits."""
    return [
        Page(),
        Heading(2, s.lists["titles"]["evidence"]),
        *once(
            [
                *title_block(s),
                *appendix.questions(s),
                *appendix.checks(s),
                *on_cards(s),
                *pitch_plan(s),
                *rationale(s),
                *appendix.calculations(s),
                *appendix.facts(s),
                *appendix.local_guidance(s),
                *appendix.sources(s),
                *appendix.ending(s),
            ]
        ),
    ]


def nothing(s) -> list:
    """What a paper says that has nothing to tell of this case."""
    return [Para("Nothing in this case belongs on this paper.")]
