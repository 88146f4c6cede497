"""All pictures of a case, by name; only those for which the case has anything to show."""

from __future__ import annotations

from advisor.pictures import chain, head, reasons, section


def pictures(view) -> dict:
    """{name: Canvas}: pitch head, section and load chain for a plan; the graph of reasons where
    something was decided.
    """
    found = {}
    if "plan" in view.case.topics:
        found = {
            "pitch-head": head.draw(view),
            "pitch-section": section.draw(view),
            "load-chain": chain.draw(view),
        }
    found["reasons"] = reasons.draw(view)
    return {name: canvas for name, canvas in found.items() if canvas is not None}
