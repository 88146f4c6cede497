"""What made the papers, and what a decision came to in words."""

from __future__ import annotations

from advisor.papers.blocks import Para, Table, cell
from advisor.words import ONE_ENGINE


def title_block(s):
    """What was asked for, and what made the paper."""
    base = s.advice.rule_base
    rows = [
        ("Site and pitch", s.title),
        ("About", ", ".join(s.advice.about) or "nothing yet"),
        ("Asked", s.advice.moment),
        ("Date", s.date),
        ("Rule base", f"version {base.version}, SHA-256 {base.sha256}"),
        ("Local guidance used", s.guidance or "none"),
        ("Engines that agreed", ", ".join(s.advice.checked_by)),
    ]
    table = tuple((cell(a), cell(b)) for a, b in rows)
    blocks = [Table("This paper", ("What", "Given"), table, (22, 78))]
    return blocks + ([Para(ONE_ENGINE, True)] if len(s.advice.checked_by) < 2 else [])


def chosen(decision) -> str:
    """What a decision came to, in words."""
    return decision.words("nothing yet", " (equal)")
