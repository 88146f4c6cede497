"""The risk register: hazards, who and how, controls with how they stand on these facts, and places
left for the leader.
"""

from __future__ import annotations

from advisor.papers.blocks import Heading, Para, Table, cell

HEADS = (
    "Hazard",
    "Who could be harmed, and how",
    "Controls, with rule ids",
    "Rating",
    "Further action",
    "By whom",
    "By when",
)
WIDTHS = (13, 13, 43, 8, 11, 6, 6)
STANDS = {
    "broken": "BROKEN",
    "not known": "Not known",
    "to do": "To do on the day",
    "rehearse": "Rehearse",
    "met": "Met",
    "not asked for": "Not asked for on these facts",
}
BLANK = (
    "Rating, further action, by whom and by when are left blank: they are for the leader's decision"
    " and signature."
)
HOW = (
    "'Broken' and 'met' come from the facts named beside them. 'To do' is asked for each time;"
    " whether it is done is for the leader to see. 'Rehearse' are the steps of an incident."
)


def register(s):
    """The register as a wide table; empty when the case has no hazards to list."""
    hazards = s.advice.hazards
    if not hazards:
        return []
    rating = tuple(f"\u2610 {word}" for word in s.scale)
    rows = tuple(
        (
            cell(h.text, "" if h.sure else "(may exist: not settled)", f"[{h.rule}]"),
            cell(h.who, h.because),
            _controls(h.controls),
            rating,
            (),
            (),
            (),
        )
        for h in hazards
    )
    scale = (
        f"Scale for ratings: {', '.join(s.scale)}; mark one."
        if s.scale
        else "No rating scale was given."
    )
    return [
        Heading(2, "Risk register"),
        Para(f"{BLANK} {scale}"),
        Para(HOW),
        Table("Hazards and controls", HEADS, rows, WIDTHS),
    ]


def _controls(controls):
    """One line a control, the gravest standing first."""
    order = list(STANDS)
    return tuple(
        f"{STANDS[c.standing]}{_by(c)}: {c.title} [{c.rule}]"
        for c in sorted(controls, key=lambda c: order.index(c.standing))
    )


def _by(control) -> str:
    """The facts behind a standing, or the questions that would settle it."""
    said = control.ask or control.facts
    return f" ({'; '.join(said[:2])})" if said else ""
