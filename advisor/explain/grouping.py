"""Findings that differ only in the value of one fact, told in one line."""

from __future__ import annotations

from advisor.decide.names import fact_name, listed
from advisor.explain.targets import told_state

MORE = "… and {n} more; --all shows them."
MOST = 6  # values named one by one; longer runs of a number are told by their ends


def grouped(findings) -> list:
    """[({fact: (changes, …)}, state)]: findings merged fact by fact wherever all else is
    the same.
    """
    groups = [({c.fact: (c,) for c in f.changes}, f.state) for f in findings]
    for place in range(max((len(g) for g, _ in groups), default=0)):
        merged: dict = {}
        for choices, state in groups:
            facts = tuple(choices)
            at = facts[place] if place < len(facts) else None
            rest = tuple((f, choices[f]) for f in facts if f != at)
            merged.setdefault((facts, at, rest, state), []).append((choices, at))
        groups = [
            (
                (
                    {**entries[0][0], at: tuple(c for choices, _ in entries for c in choices[at])}
                    if at
                    else entries[0][0]
                ),
                state,
            )
            for (_, at, _, state), entries in merged.items()
        ]
    return groups


def told_group(base, choices) -> str:
    """'worst sign of left ladder bolt: any of deep rust, worn eye (can be changed) and …'."""
    return listed(_told(base, fact, changes) for fact, changes in choices.items())


def _told(base, fact, changes) -> str:
    attribute = base.vocabulary.attribute(fact[1])
    mark = f" ({attribute.change})" if attribute.change else ""
    if len(changes) == 1:
        return f"{fact_name(base, *fact)}: {changes[0].text}{mark}"
    words = [c.text for c in changes]
    if attribute.is_number and len(words) > MOST:
        words = [words[0], words[1], f"… (of {len(words)} tried)", words[-1]]
    return f"{fact_name(base, *fact)}: any of {', '.join(words)}{mark}"


def told_findings(base, target, findings, everything, most) -> list:
    groups = grouped(findings)
    lines = [
        f"  - {told_group(base, choices)}"
        + (
            ""
            if target.wanted or target.kind in ("stop", "stops")
            else f" -> {told_state(base, target, state)}"
        )
        for choices, state in groups
    ]
    return (
        lines
        if everything or len(lines) <= most
        else lines[:most] + [f"  {MORE.format(n=len(lines) - most)}"]
    )
