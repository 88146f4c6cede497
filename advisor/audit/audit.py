"""All checks of a rule base in one report."""

from __future__ import annotations

from advisor.audit.bench import Bench
from advisor.audit.cited import uncited, unused_figures
from advisor.audit.hazards import uncontrolled_hazards
from advisor.audit.laws import broken_laws
from advisor.audit.never import rules_that_never_fire
from advisor.audit.opposite import contradictions, settled_by_precedence
from advisor.audit.redundant import rules_that_add_nothing
from advisor.audit.referral import at_both_ends
from advisor.audit.silent import facts_without_answer, silent_decisions
from advisor.audit.space import LIMITS
from advisor.audit.unread import unread_facts, untested_numbers

CHECKS = (
    rules_that_never_fire,
    rules_that_add_nothing,
    contradictions,
    silent_decisions,
    uncontrolled_hazards,
    unread_facts,
    broken_laws,
    uncited,
)
NOTES = (settled_by_precedence, facts_without_answer, untested_numbers, unused_figures)
MORE_LIMITS = (
    "worse values are tried one step at a time, where a condition speaks for a better value",
    "leaving out is tried for facts that a rule looks at itself, on the entities it speaks of",
)


def audit(folder=None, base=None) -> dict:
    """{'rules', 'findings', 'notes', 'limits', 'undecided'} as plain data; findings are in order
    of file and line.
    """
    bench = Bench(folder, base)
    findings = [f for check in CHECKS for f in check(bench)]
    notes = [f for note in NOTES for f in note(bench)]
    return {
        "rules": len(bench.base.rules),
        "findings": [_plain(f) for f in sorted(findings, key=_order)],
        "notes": [_plain(f) for f in sorted(notes, key=_order)],
        "limits": [*LIMITS, *MORE_LIMITS, *map(_both_ends, at_both_ends(bench))],
        "undecided": sorted(set(bench.undecided)),
    }


def _both_ends(entry) -> str:
    rule, key, stop = entry
    return (
        f"{key} is judged at both ends; its order of caution says nothing of {rule}, since {stop}"
        " judges the worse end"
    )


def _plain(found) -> dict:
    return {**found._asdict(), "facts": list(found.facts)}


def _order(found):
    file, _, line = found.place.rpartition(":")
    return file, int(line) if line.isdigit() else 0, found.rule, found.kind


def told(report, everything=False) -> list:
    """The report as plain lines."""
    lines = []
    for found in report["findings"]:
        lines += [
            f"{found['place']}: {found['kind']}: {found['rule']}",
            f"    {found['message']}",
            *(f"        {fact}" for fact in found["facts"]),
            "",
        ]
    shown = report["notes"] if everything else report["notes"][:10]
    lines += ["Notes (not faults):"] * bool(shown)
    lines += [f"    {note['place']}: {note['rule']}: {note['message']}" for note in shown]
    if len(shown) < len(report["notes"]):
        lines.append(f"    … and {len(report['notes']) - len(shown)} more; --all shows them.")
    lines += ["", "Limits of these answers:", *(f"    {limit}" for limit in report["limits"])]
    lines += [
        f"    not decided, for the search and the engine differ: {what}"
        for what in report["undecided"]
    ]
    count = len(report["findings"])
    return [
        *lines,
        "",
        f"{report['rules']} rules: {count or 'no'} finding{'s' if count != 1 else ''}.",
    ]
