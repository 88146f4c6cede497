"""Answers to questions about an advice, as plain lines: why, why not, what would change it, how sure, what to find out."""
from __future__ import annotations

from advisor.decide.firing import name_of
from advisor.explain import why as reasons
from advisor.explain.nearest import search
from advisor.explain.targets import Target, read_target
from advisor.faults import Fault, Faults, Place, did_you_mean


def why(advisor, advice, name, levels=9) -> list:
    """The derivation of whatever a name means, as indented lines; raises Faults with the nearest names."""
    found = reasons.find(advice, name)
    if not found:
        known = [*advice["decisions"], *(s["rule"] for s in advice["stops"]), *(i["id"] for i in advice["items"]), *(f["id"] for f in advice["facts"])]
        raise Faults([Fault(Place("--why"), f"nothing in this advice is called '{name}'; expected a decision, an item, a rule id or a fact.{did_you_mean(name, known)}")])
    teller, lines = reasons.Reasons(advisor.base, advice), []
    for title, identities in found:
        lines.append(title)
        for identity in dict.fromkeys(identities):
            lines += reasons.told_tree(teller.of(identity), 1, levels - 1)
    return lines


def why_not(advisor, case, advice, outcome, choices, text) -> list:
    """Why an option was not chosen: ruled out by which rule, or lost at which concern; and what is missing for it."""
    target = read_target(advisor, outcome, choices, text)
    if target.kind != "decision" or not target.wanted:
        raise Faults([Fault(Place("--why-not"), "write DECISION=OPTION, such as \"ladder anchor=flake\".")])
    decision, option = advice["decisions"][target.name], advisor_name(advisor, target.wanted)
    if decision["choice"] == option:
        return [f"{option} is the choice.", *why(advisor, advice, target.name, 2)[1:]]
    if option in decision["equal"]:
        return [f"{option} is as good as {' and '.join(o for o in decision['equal'] if o != option)}: nothing tells them apart."]
    lines = []
    for row in decision["alternatives"]:
        if row["option"] == option:
            lines.append(f"Not {option}: {row['lost_because']}.")
            lines += _trees(advisor, advice, row["derivations"])
    for row in decision["reasons"] if decision["standing"] == "stop" else []:
        if row.get("option") == option:
            lines.append(f"Not {option}: {row['text']}. {row['because']} [{row['rule']}]")
            lines += _trees(advisor, advice, [row["derivation"]])
    return lines + ["", *_missing(advisor, case, target, option)]


def advisor_name(advisor, option) -> str:
    """The name people use for an option."""
    return name_of(advisor.base, option) if advisor.base.vocabulary.split(option) else option


def _trees(advisor, advice, identities):
    teller = reasons.Reasons(advisor.base, advice)
    return [line for i in identities for line in reasons.told_tree(teller.of(i), 1, 2)]


def _missing(advisor, case, target: Target, option):
    found = search(advisor, case, target, 1)
    if not found.found:
        return [f"No single change of a fact would make it {option} ({found.tried} tried)."]
    return [f"It would be {option} if:", *(f"  - {told_changes(advisor, f.changes)}" for f in found.found[:5])]


def told_changes(advisor, changes) -> str:
    """'side of left bolt: left (can be changed) and …'."""
    parts = []
    for change in changes:
        attribute = advisor.base.vocabulary.attribute(change.key)
        parts.append(f"{attribute.name} of {advisor_name(advisor, change.entity)}: {change.text} ({attribute.change})")
    return " and ".join(parts)


def what_would(advisor, case, outcome, choices, text, size=2, progress=None) -> list:
    """The smallest sets of changes that bring another outcome, complete up to the stated size."""
    target = read_target(advisor, outcome, choices, text)
    found = search(advisor, case, target, size, progress)
    goal = f"{target.name} come to {advisor_name(advisor, target.wanted)}" if target.kind in ("decision", "verdict") and target.wanted else {
        "decision": f"{target.name} come out otherwise", "verdict": f"the verdict on {target.name} change", "stop": f"{target.name} be cleared", "stops": "every stop be cleared"}[target.kind]
    lines = [f"What would make {goal}:"]
    for finding in found.found:
        state = f" -> {advisor_name(advisor, finding.state)}" if isinstance(finding.state, str) else ""
        lines.append(f"  - {told_changes(advisor, finding.changes)}{state}")
    if not found.found:
        lines.append("  Nothing of that size." if found.complete else "  Nothing found yet.")
    reach = f"all sets of up to {found.complete} change{'s' if found.complete > 1 else ''} were tried" if found.complete else "the search was stopped early"
    lines.append(f"{found.tried} evaluations over {found.candidates} single changes; {reach}. Numbers: at and beside every threshold of the rules.")
    return lines
