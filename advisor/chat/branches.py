"""Plans kept by name beside the one in hand: kept, compared side by side, used, dropped."""

from __future__ import annotations

import textwrap

from advisor.facts.values import ASSUMED, Assumed
from advisor.language.echo import echo
from advisor.language.understand import Said
from advisor.screen import terminal_width

MOST = 20


def keep(session, name) -> list:
    """Keep the last supposition, or else the plan as it stands, under a name."""
    name = name.lower()
    if not session.said and not session.supposed:
        return ["There is nothing to keep yet."]
    if len(session.branches) >= MOST and name not in session.branches:
        return [f"{MOST} plans are kept already; drop one first."]
    session.branches[name] = session.with_extra(session.supposed)
    what = "what was supposed" if session.supposed else "the plan as it stands"
    session.supposed = ()
    return [
        f"Kept {what} as '{name}'. Your plan is unchanged. 'compare {name}', 'use {name}' or 'drop"
        f" {name}'."
    ]


def listed(session) -> list:
    """The names of the plans kept."""
    return [
        (
            f"Kept: {', '.join(sorted(session.branches))}."
            if session.branches
            else "No plan is kept. Say 'suppose …', then 'keep that as plan b'."
        )
    ]


def use(session, name) -> list:
    """Make a kept plan the plan in hand; undo goes back."""
    session.step(dict(session.branches[name.lower()]))
    session.supposed = ()
    return [f"'{name.lower()}' is now your plan; 'undo' goes back."]


def use_supposed(session) -> list:
    """Make the last supposition part of the plan."""
    supposed, session.supposed = session.supposed, ()
    messages = session.say(supposed)
    return [
        f"Now in your plan: {'; '.join(said_back(session, supposed))}. 'undo' goes back.",
        *messages,
    ]


def drop(session, name) -> list:
    """Forget a kept plan."""
    del session.branches[name.lower()]
    return [f"Dropped '{name.lower()}'."]


def said_back(session, facts) -> list:
    """(entity, key, raw) facts as they are said back."""
    return [
        echo(Said(e, k, raw, isinstance(raw, str) and raw.endswith("?"), ""), session.advisor.base)
        + _mark(raw)
        for e, k, raw in facts
    ]


def _mark(raw) -> str:
    return f" ({ASSUMED})" if isinstance(raw, Assumed) else ""


def compare(session, name) -> list:
    """The plan in hand and a kept one side by side."""
    name = name.lower()
    if name not in session.branches:
        return [f"No plan is kept as '{name}'.", *listed(session)]
    said = session.branches[name]
    advisor, here = session.advisor, session.advice
    there = advisor.advise(advisor.under_local(session.built(said)))
    rows = [
        (f"{e} {k.partition('.')[2]}", shown(session.said.get((e, k))), shown(said.get((e, k))))
        for e, k in dict.fromkeys([*session.said, *said])
        if session.said.get((e, k)) != said.get((e, k))
    ]
    rows += [row for row in zip(*_outcomes(here, there)) if row[1] != row[2]] if here else []
    return (
        table(("", "your plan", name), rows)
        if rows
        else [f"Your plan and '{name}' come to the same."]
    )


def shown(raw) -> str:
    """A raw value in words."""
    return (
        "not said"
        if raw is None
        else " or ".join(map(str, raw))
        if isinstance(raw, (list, tuple))
        else str(raw) + _mark(raw)
    )


def _outcomes(here, there):
    """(labels, values here, values there) of what two advices come to."""
    found = [outcomes(here), outcomes(there)]
    labels = list(dict.fromkeys([*found[0], *found[1]]))
    return labels, [found[0].get(i, "-") for i in labels], [found[1].get(i, "-") for i in labels]


def outcomes(advice) -> dict:
    """Label -> what an advice comes to: stops, decisions, verdicts, key numbers, how
    much is open.
    """
    result = {"stops": "; ".join(s.text for s in advice.stops) or "none found"}
    result.update(
        {name: f"{d.words('nothing yet')} ({d.standing})" for name, d in advice.choices.items()}
    )
    result.update({i.item: i.verdict for i in advice.items})
    result.update({c.title: c.result.text for c in advice.calculations if c.key and c.result})
    result["musts"] = str(len(advice.must("must")))
    return {**result, "open questions": str(len(advice.open_questions))}


def table(head, rows) -> list:
    """Rows in three columns that fit the screen (60 to 100 columns), parted by bars."""
    width = max(60, min(terminal_width(), 100)) - 6
    widths = (width * 3 // 10, (width * 7 // 10) // 2, (width * 7 // 10) // 2)
    lines = []
    for row in (head, *rows):
        cells = [textwrap.wrap(cell, w) or [""] for cell, w in zip(row, widths)]
        for n in range(max(map(len, cells))):
            lines.append(
                " | ".join(
                    (cell[n] if n < len(cell) else "").ljust(w) for cell, w in zip(cells, widths)
                ).rstrip()
            )
    return lines
