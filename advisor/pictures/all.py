"""All pictures of a case, by name; only those for which the case has anything to show."""

from __future__ import annotations

from advisor.pictures import chain, changeover, head, reasons, section, tether
from advisor.pictures.canvas import Canvas
from advisor.pictures.view import View


def pictures(view: View) -> dict[str, Canvas]:
    """{name: Canvas}: pitch head, section, load chain, change-over and tether for a plan; the
    graph of reasons where something was decided.
    """
    found: dict[str, Canvas | None] = {}
    if "plan" in view.case.topics:
        found = {
            "pitch-head": head.draw(view),
            "pitch-section": section.draw(view),
            "load-chain": chain.draw(view),
            "change-over": changeover.draw(view),
            "tether": tether.draw(view),
        }
    found["reasons"] = reasons.draw(view)
    return {name: canvas for name, canvas in found.items() if canvas is not None}
