"""What a turn changed in the advice: stops first, then decisions, verdicts, dangers, musts, key
numbers; the small points only counted.
"""

from __future__ import annotations

from advisor.model.advice import CLEAR_AT_HOME
from advisor.papers.outline import headline
from advisor.reasons.differences import differences

MOST = 8  # lines of change that can be taken in at once
NUMBERS = 4  # of them numbers


def changed(base, before, after) -> tuple:
    """Lines, gravest first; ('The advice stays as it was.',) when there are none."""
    if after is None:
        return ("Nothing is left to advise on.",) if before else ()
    if before is None:
        return first_words(after)
    found = differences(base, before, after)
    grave, others = _grave(found, after), _others(found)
    numbers, left_out = _numbers(found, before, after)
    lines = grave + (others + numbers)[: max(MOST - len(grave), 2)]
    small = len(others) + len(numbers) + left_out + len(grave) - len(lines) + _small(found)
    if small:
        lines.append(
            f"… and {small} smaller point{'s' if small > 1 else ''}; 'what should I do' tells the"
            " whole."
        )
    return tuple(lines or ["The advice stays as it was."])


def first_words(advice) -> tuple:
    """The first advice in a few lines: stops, decisions so far, verdicts."""
    lines = [f"STOP: {s.text}" for s in advice.stops]
    for name, decision in advice.choices.items():
        if decision.chosen:
            lines.append(f"{name}: {decision.words()} ({decision.standing})")
    # Of kit of which nothing is known yet a plan says nothing: there it is only asked about.
    lines += [
        f"{i.item}: {i.verdict}" for i in advice.items if i.reasons or "plan" not in advice.about
    ]
    count = blocking(advice)
    if "go" in advice.decisions and advice.decisions["go"].choice == CLEAR_AT_HOME:
        lines.append(headline(advice))
    return tuple(
        lines
        + (
            [f"Not yet: {count} open question{'s' if count > 1 else ''} could each forbid it."]
            if count and not advice.response
            else []
        )
    )


def blocking(advice) -> int:
    """How many open questions could each bring a stop to a plan; with them no plan is clear."""
    return len(advice.blocking) if "plan" in advice.about else 0


def _grave(found, after) -> list:
    """Stops new, standing and gone; decisions and verdicts that come out otherwise. Never cut."""
    new = {s.id for s in found.stops.new}
    lines = [f"STOP: {s.text} ({s.because.rstrip('.')})" for s in found.stops.new]
    still = sum(s.id not in new for s in after.stops)
    lines += (
        [
            f"{'Also still' if new else 'Still'} {still} STOP{'s' if still > 1 else ''}; 'is it"
            " safe to go' tells them."
        ]
        if still
        else []
    )
    lines += [f"No longer a stop: {s.text}" for s in found.stops.gone]
    lines += [
        f"{d.decision}: {d.before or 'nothing'} -> {d.after or 'nothing'}"
        + (f" ({d.standing_after})" if d.standing_after else "")
        + (f" because {d.because[0]}" if d.because else "")
        for d in found.decisions
        if (d.before or "nothing") != (d.after or "nothing")
        and not (d.decision == "go" and after.stops)
    ]
    return lines + [
        f"{i.item}: {i.before or 'no verdict'} -> {i.after or 'no verdict'}" for i in found.items
    ]


def _others(found) -> list:
    """Dangers, what must be, and how sure decisions are."""
    lines = [
        f"{w.severity.capitalize()}: {w.text}" for w in found.warnings.new if w.severity == "danger"
    ]
    lines += [
        f"{d.decision}: now {d.standing_after}" for d in found.decisions if d.before == d.after
    ]
    lines += [f"Must: {r.text}" for r in found.requirements.new if r.strength == "must"]
    lines += [
        f"{w.severity.capitalize()}: {w.text}"
        for w in found.warnings.new
        if w.severity == "caution"
    ]
    return lines + [
        f"No longer a must: {r.text}" for r in found.requirements.gone if r.strength == "must"
    ]


def _numbers(found, before, after):
    """(lines of key numbers, how many others changed)."""
    key = {
        c.title
        for advice in (before, after)
        for c in advice.calculations
        if c.key and not c.gives.startswith("anchor ")
    }
    shown = [n for n in found.numbers if n.number in key][:NUMBERS]
    return [
        f"{n.number}: {n.before or 'not worked out'} -> {n.after or 'not worked out'}"
        for n in shown
    ], len(found.numbers) - len(shown)


def _small(found) -> int:
    """How many points are only counted."""
    turned = (*found.requirements.new, *found.requirements.gone)
    count = sum(r.strength != "must" for r in turned)
    count += sum(w.severity not in ("danger", "caution") for w in found.warnings.new) + len(
        found.warnings.gone
    )
    return (
        count
        + len(found.refer.new)
        + len(found.refer.gone)
        + len(found.steps.new)
        + len(found.steps.gone)
    )
