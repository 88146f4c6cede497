"""What would change it: the smallest sets of changes that bring another outcome, told in lines."""

from __future__ import annotations

from advisor.decide.names import listed, option_name
from advisor.explain.grouping import told_findings
from advisor.explain.limits import limits_of
from advisor.explain.nearest import search
from advisor.explain.targets import is_now, read_target, state_of, stop_ids
from advisor.progress import Watch

MOST = 30  # findings told at once


def what_would(run, text, size=2, watch=None, everything=False) -> list:
    """The smallest sets of changes that bring another outcome, complete up to the stated size."""
    target = read_target(run, text, "--what-would")
    already = state_of(run.base, target, run.outcome, run.choices)
    if _is_so(target, already):
        return [f"Nothing is needed: {is_now(run.base, target, already)}."]
    watch = watch or Watch()
    found = search(run, target, size, watch)
    wide = limits_of(run, target, found, watch)
    lines = [
        f"Now {is_now(run.base, target, already)}.",
        f"What would make {_goal(run.base, target, already)}:",
    ]
    lines += told_findings(run.base, target, wide, everything, MOST) or [
        "  Nothing of that size." if found.complete == size else "  Nothing found yet."
    ]
    stops = stop_ids(run.base, run.outcome, run.choices)
    if stops and target.kind != "stops":
        lines.append(
            f"{len(stops)} stop{'s' if len(stops) > 1 else ''} on this case"
            f" {'stand' if len(stops) > 1 else 'stands'} whatever this comes to; ask --what-would"
            " stops."
        )
    reach = (
        f"all sets of up to {found.complete} change{'s' if found.complete > 1 else ''} were tried"
        if found.complete
        else "no size was tried to its end"
    )
    lines.append(
        f"{found.tried} evaluations over {found.candidates} single changes;"
        f" {reach}{' (the search was stopped early)' if watch.stopped else ''}. Numbers were tried"
        " at the figures of the rules and between them; each limit was found by halving."
        f" {found.confirmed} of {len(found.found)} findings run again with"
        f" {listed(e.name for e in run.advisor.engines)}."
    )
    return lines


def _is_so(target, state) -> bool:
    if target.kind == "stops":
        return not state
    return bool(target.wanted) and state == (
        (target.wanted,) if target.kind == "decision" else target.wanted
    )


def _goal(base, target, state) -> str:
    if target.kind == "stops":
        return "every stop go"
    if target.kind == "stop":
        return f"{target.name} {'go' if state == 'stands' else 'stand'}"
    name = target.name if target.kind == "decision" else f"the verdict on {target.name}"
    return (
        f"{name} come to {option_name(base, target.wanted)}"
        if target.wanted
        else f"{name} come out otherwise"
    )
