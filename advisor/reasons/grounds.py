"""What a derivation rests on in short lines, for tables and boxes: facts, numbers, absences."""

from __future__ import annotations

from advisor.reasons.tree import Applied, Fact


def grounds(applied: Applied) -> tuple[str, ...]:
    """Facts and numbers in one line, then the absences; no line is empty."""
    looked = (*(fact_line(fact) for fact in applied.facts), *(n.text for n in applied.numbers))
    lines = ("; ".join(dict.fromkeys(looked)), *applied.derivation.absences)
    return tuple(line for line in lines if line)


def fact_line(fact: Fact) -> str:
    """'pitch.depth: 12 m', with its state where it is not plainly known."""
    told = fact.told
    if told is None or not told.value:
        return f"{fact.id}: not known"
    settled = told.state != "unknown" or told.value == "not known"
    doubt = " (doubtful)" if told.state == "doubtful" else ""
    return (
        f"{fact.id}: {told.value}{doubt}"
        + ("" if settled else " (not settled)")
        + (" (concluded)" if told.concluded else "")
        + (f" (by local guidance: {told.by_local})" if told.by_local else "")
    )
