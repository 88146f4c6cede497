"""Plain lines wrapped to the terminal, blank lines kept."""

from __future__ import annotations

from advisor.report.text import wrapped


def page(lines) -> str:
    """The text of some lines."""
    return "".join(wrapped([line]) if line else "\n" for line in lines)
