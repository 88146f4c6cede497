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
    "stop": "STOP stands",
    "do": "To do",
    "watch": "Watch",
    "open": "Open: find out",
    "quiet": "No breach in the facts given",
    "ready": "Held ready, for when it happens",
}
BLANK = (
    "Rating, further action, by whom and by when are left blank: they are for the leader's decision"
    " and signature."
)
HOW = (
    "'To do' means the rule asks for it; whether it is done is for the leader to see. 'No breach in"
    " the facts given' is no proof that the control is in place. 'Held ready' are the steps of an"
    " incident, to be rehearsed."
)


def register(s):
    """The register as a wide table; empty when the case has no hazards to list."""
    hazards = s.advice.hazards
    if not hazards:
        return []
    stands = {
        **{
            r.id: "ready"
            for r in s.view.base.rules
            if r.about == "incident" and "incident" not in s.advice.about
        },
        **standing_of_rules(s.advice),
    }
    rating = tuple(f"\u2610 {word}" for word in s.scale)
    rows = tuple(
        (
            cell(h.text, "" if h.sure else "(may exist: not settled)", f"[{h.rule}]"),
            cell(h.who, h.because),
            _controls(h.controls, stands),
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


def standing_of_rules(advice) -> dict:
    """{rule id: how it stands}: the gravest of stop, open, to do, watch."""
    found: dict = {}
    for word, items in (
        ("watch", advice.warnings),
        ("do", advice.requirements),
        ("do", advice.refer),
    ):
        found.update((i.rule, word) for i in items)
    found.update((rule, "open") for q in advice.open_questions for rule in q.rules)
    found.update((i.rule, "stop") for i in advice.stops)
    return found


def _controls(controls, stands):
    """One line a standing, gravest first."""
    grouped = {}
    for control in controls:
        grouped.setdefault(stands.get(control.rule, "quiet"), []).append(
            f"{control.title} [{control.rule}]"
        )
    return tuple(
        f"{word}: {'; '.join(grouped[key])}" for key, word in STANDS.items() if key in grouped
    )
