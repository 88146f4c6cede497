"""Advice as Markdown, with words from case files made harmless."""

from __future__ import annotations

import re

from advisor.model.advice import Advice
from advisor.report.outline import outline

SPECIAL = re.compile(r"([\\`*_{}\[\]<>#|~!])")


def escape(text: str) -> str:
    """Text that shows as written, whatever marks and entities it holds."""
    return SPECIAL.sub(r"\\\1", "".join(c if c.isprintable() else "?" for c in text)).replace(
        "&", "&amp;"
    )


def render(advice: Advice) -> str:
    """The whole advice as Markdown."""
    headline, sections = outline(advice, everything=True)
    lines = [
        f"# {escape(advice.case or 'Advice for a ladder pitch')}",
        "",
        f"**{escape(headline)}**",
        "",
    ]
    for section in sections:
        lines += [f"## {escape(section.title)}", ""] if section.title else []
        for number, line in enumerate(section.lines, 1):
            mark = f"{number}. " if section.numbered and not line.text.startswith("…") else "- "
            lines.append(mark + escape(line.text))
            lines += [" " * len(mark) + f"- {escape(below)}" for below in line.below]
        lines.append("")
    base = advice.rule_base
    lines.append(
        f"Rule base version {base.version}, SHA-256 {base.sha256}. Checked by:"
        f" {', '.join(advice.checked_by)}."
    )
    return "\n".join(lines) + "\n"
