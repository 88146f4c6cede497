"""The facts as given, thing by thing, with what was not stated said by name."""

from __future__ import annotations

from advisor.facts.values import ASSUMED, CASE_FILE
from advisor.model import names
from advisor.papers.blocks import Heading, Para, Table, cell

CAPTIONS = {
    "pitch-head": (
        "The pitch head from above. Filled circles are anchors shown sound; crossed ones are not."
    ),
    "pitch-section": "The pitch in section.",
    "load-chain": (
        "The load chain of the ladder, part by part; the weakest is drawn thick and named."
    ),
    "queue": "The queue down and up.",
}
ANCHOR = (
    ("Kind", (names.ANCHOR_KIND,)),
    ("Side", (names.ANCHOR_SIDE,)),
    ("Height; from lip", (names.ANCHOR_HEIGHT, names.ANCHOR_BACK)),
    (
        "Checked; moves; worst sign",
        (names.ANCHOR_CHECKED, names.ANCHOR_MOVES, names.ANCHOR_WORST_SIGN),
    ),
    ("Strength", (names.ANCHOR_RATING,)),
    ("In lifeline", (names.ANCHOR_IN_LIFELINE,)),
    ("Shown sound", (names.ANCHOR_SOUND,)),
)


def pitch_plan(s):
    """The tables; the pictures drawn from them stand on the plan."""
    if "plan" not in s.advice.about:
        return []
    blocks = [
        Heading(2, "Pitch, thing by thing"),
        Para(
            "Listed from the facts given. Doubtful facts are marked; what was not stated"
            " is listed as not known and counts as the worst it could be."
        ),
    ]
    blocks += [Heading(3, "Anchors"), _anchors(s)]
    for kind in names.PLANNED:
        for entity in s.view.entities(kind):
            blocks += _thing(s, kind, entity)
    return blocks


def _anchors(s):
    view = s.view
    rows = [
        (
            cell(view.name(a)),
            *(cell("; ".join(view.told(a, key) for key in keys)) for _, keys in ANCHOR),
        )
        for a in view.entities("anchor")
    ]
    return Table(
        "Anchors",
        ("Anchor", *(word for word, _ in ANCHOR)),
        tuple(rows) or ((cell("none named"), *[cell("not known")] * len(ANCHOR)),),
        (17, 13, 9, 13, 19, 10, 9, 10),
    )


def shown_here(s) -> tuple:
    """The kinds of things whose facts this part lists in full."""
    return names.PLANNED if "plan" in s.advice.about else ()


def _said(s, entity, key):
    """Who said a fact, where it was not the case file or one below it."""
    speaker = s.view.case.facts[entity, key].said_by
    marked = speaker == ASSUMED  # by the value itself
    return "" if marked or speaker.startswith(CASE_FILE) else f" ({speaker})"


def _thing(s, kind, entity):
    """What was stated of one thing in two columns, then what was not."""
    stated = [a for a in s.view.base.vocabulary.entities[kind].attributes.values() if not a.derived]
    given = [
        f"{a.name}: {s.view.told(entity, a.key)}{_said(s, entity, a.key)}"
        for a in stated
        if (entity, a.key) in s.view.case.facts
    ]
    missing = [a.name for a in stated if (entity, a.key) not in s.view.case.facts]
    half = (len(given) + 1) // 2
    rows = tuple((cell(a), cell(b)) for a, b in zip(given[:half], given[half:] + [""] * half))
    name = s.view.name(entity)
    title = name[:1].upper() + name[1:]
    blocks = [Heading(3, title)]
    blocks += (
        [
            Table(
                f"Facts given: {title}",
                ("Fact", "Fact, continued"),
                rows,
                (50, 50),
                row_heads=False,
            )
        ]
        if rows
        else []
    )
    return blocks + [
        Para(f"Not known: {', '.join(missing)}." if missing else "Nothing is left unknown here.")
    ]
