"""The pitch as a sketch in plain characters, at most 80 columns wide, for a terminal, a braille
line or a field note.
"""

from __future__ import annotations

import textwrap

from advisor.model import names
from advisor.pictures.canvas import clean
from advisor.words import ASSUMING, ONLY_ASSUMED

WIDTH, ART, ROWS, MOST_STOPS = 80, 26, 12, 4
KEY = "H ladder, : lifeline, # rock, @ anchor shown sound, x anchor not shown sound"


def sketch(view) -> str:
    """Section and pitch head with their labels, then what is not known."""
    rows = [
        ("", title)
        for title in textwrap.wrap(clean(view.case.title or "A ladder pitch"), WIDTH - ART)
    ]
    told = view.advice.assumed_words
    rows += [("", f"{ONLY_ASSUMED}: {ASSUMING.format(told=told)}")] if told else []
    rows += [("", f"STOP: {s.text}") for s in view.advice.stops[:MOST_STOPS]]
    rows += (
        [("", f"… and {len(view.advice.stops) - MOST_STOPS} more STOPs")]
        if len(view.advice.stops) > MOST_STOPS
        else []
    )
    rows += _anchors(view) + _head(view) + _shaft(view) + _foot(view)
    lines = []
    for art, text in rows:
        wrapped = textwrap.wrap(clean(text), WIDTH - ART - 1) or [""]
        going_on = "".join(c if c in "H:#" else " " for c in art)
        lines += [
            f"{(art if n == 0 else going_on):<{ART}} {line}".rstrip()
            for n, line in enumerate(wrapped)
        ]
    return (
        "\n".join(
            [
                *lines,
                "",
                KEY,
                *textwrap.wrap(
                    f"Left and right are as seen facing the drop. {_scale(view)}", WIDTH
                ),
            ]
        )
        + "\n"
    )


def _scale(view):
    depth = view.middle(*names.PITCH_DEPTH)
    return (
        f"One row of the shaft is about {depth / ROWS:.2g} m."
        if depth
        else "Not to scale: the depth is not known."
    )


def _anchors(view):
    rows = []
    for entity in view.entities("anchor"):
        mark = "@" if view.choice(entity, names.ANCHOR_SOUND) == "yes" else "x"
        side = view.choice(entity, names.ANCHOR_SIDE)
        at = {"left": 4, "middle": 12, "right": 20}.get(side, 12)
        roles = [
            "ladder" if view.name(entity) == view.decided(names.LADDER_ANCHOR) else "",
            "lifeline" if view.choice(entity, names.ANCHOR_IN_LIFELINE) == "yes" else "",
        ]
        role = " and ".join(r for r in roles if r)
        rows.append(
            (
                " " * at + mark,
                f"{view.name(entity)}: {view.told(entity, names.ANCHOR_KIND)},"
                f" {side or 'side not known'}" + (f" - {role}" if role else ""),
            )
        )
    return rows or [("", "Anchors: none named")]


def _head(view):
    arrival = view.told(*names.HEAD_ARRIVAL)
    return [
        (
            "            H",
            (
                f"Ladder on {view.decided(names.LADDER_ANCHOR) or 'no anchor chosen'}, tied by"
                f" {view.decided(names.TETHER_FORM) or 'a form not decided'}"
            ),
        ),
        (
            "            H   :",
            (
                f"People arrive from: {arrival}; leader stands:"
                f" {view.told(*names.HEAD_LEADER)}, attached to"
                f" {view.told(*names.HEAD_STANCE)}"
            ),
        ),
        ("############H   :", f"Lip: {view.told(*names.PITCH_LIP)}"),
    ]


def _shaft(view):
    words = {
        1: f"Depth: {view.told(*names.PITCH_DEPTH)}",
        2: f"Hang: {view.told(*names.PITCH_HANG)}; water: {view.told(*names.PITCH_WATER)}",
        4: (
            f"Ladder made up: {view.told(*names.PITCH_LADDER_MADE_UP)}, needed"
            f" {view.told(*names.PITCH_LADDER_NEEDED)}"
        ),
        6: (
            f"Lifeline: {view.told(*names.LIFELINE_CLASS)},"
            f" {view.told(*names.LIFELINE_LENGTH)}, to spare"
            f" {view.told(*names.LIFELINE_TO_SPARE)}"
        ),
        9: f"A slip low down goes: {view.told(*names.LIFELINE_DROP)}",
    }
    rows = [["          # H   :", words.get(n, "")] for n in range(ROWS)]
    there, below, depth = (
        view.choice(*names.PITCH_LEDGE),
        view.middle(*names.PITCH_LEDGE_DEPTH),
        view.middle(*names.PITCH_DEPTH),
    )
    if there != "no":
        at = (
            min(ROWS - 1, max(0, round(below / depth * ROWS))) if depth and below is not None else 7
        )
        rows[at][0] = "          ##H   :"
        told = (
            f"Ledge {view.told(*names.PITCH_LEDGE_DEPTH)} below the lip"
            if there == "yes"
            else "Ledge: not known whether there is one"
        )
        rows[at][1] = f"{rows[at][1]}; {told}" if rows[at][1] else told
    gap = view.middle(*names.PITCH_LADDER_GAP)
    if gap is not None and gap > 0.0005 and depth:
        for row in rows[ROWS - max(1, round(gap / depth * ROWS)) :]:
            row[0] = row[0].replace("H", " ")
    return [tuple(row) for row in rows]


def _foot(view):
    gap = view.middle(*names.PITCH_LADDER_GAP)
    words = (
        "Foot of the ladder: not worked out"
        if gap is None
        else f"TOO SHORT by {gap:.2g} m"
        if gap > 0.0005
        else f"Spare at the foot: {-gap:.2g} m"
    )
    return [("          ##############", f"Landing: {view.told(*names.PITCH_LANDING)}. {words}")]
