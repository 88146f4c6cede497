"""All pictures of a case, by name; only those for which the case has anything to show."""

from __future__ import annotations

from typing import NamedTuple

from advisor.pictures import chain, changeover, head, queue, reasons, section, tether
from advisor.pictures.canvas import Canvas
from advisor.pictures.legend import set_apart
from advisor.pictures.view import View


def pictures(view: View) -> dict[str, Canvas]:
    """{name: Canvas}: pitch head, section, load chain, queue, change-over and tether for a plan;
    the graph of reasons where something was decided. Each with its legend below it.
    """
    found: dict[str, Canvas | None] = {}
    if "plan" in view.case.topics:
        found = {
            "pitch-head": head.draw(view),
            "pitch-section": section.draw(view),
            "load-chain": chain.draw(view),
            "queue": queue.draw(view),
            "change-over": changeover.draw(view),
            "tether": tether.draw(view),
        }
    found["reasons"] = reasons.draw(view)
    return {name: canvas for name, canvas in found.items() if canvas is not None}


class Apart(NamedTuple):
    """A drawing without its legend, and the legend's lines."""

    canvas: Canvas
    legend: tuple[str, ...]


def apart(view: View) -> dict[str, Apart]:
    """{name: Apart}: pitch head, section, load chain and queue of a plan for pages that set the
    legend in their own letters.
    """
    made = {
        "pitch-head": head.compose(view),
        "pitch-section": section.compose(view),
        "load-chain": chain.compose(view),
        "queue": queue.compose(view),
    }
    return {
        name: Apart(found[0], set_apart(*found))
        for name, found in made.items()
        if found is not None
    }
