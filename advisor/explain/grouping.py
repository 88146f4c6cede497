"""Findings that differ only in the value of one fact, told in one line."""

from __future__ import annotations

from advisor.decide.names import fact_name, listed
from advisor.explain.targets import told_state

MORE = "… and {n} more; --all shows them."
FEW = 4  # values named one by one; of more, those left out are named where they are fewer
OWN_DOING = "can be changed"
FOUND = "Only if it is found so, or was said wrongly:"


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


def told_group(base, choices, mark=True) -> str:
    """'worst sign of left ladder bolt: any of deep rust, worn eye and …'; `mark`: whether it is
    told of each fact what it takes.
    """
    return listed(_told(base, fact, changes, mark) for fact, changes in choices.items())


def _told(base, fact, changes, mark) -> str:
    attribute = base.vocabulary.attribute(fact[1])
    changes_ = f" ({attribute.change})" if mark and attribute.change else ""
    return f"{fact_name(base, *fact)}: {_values(attribute, changes)}{changes_}"


def _values(attribute, changes) -> str:
    """'rusty', 'any of packed, worn', 'anything but sound', 'up to 2 m or at least 5 m'."""
    words = [c.text for c in changes]
    if len(words) == 1:
        return words[0]
    if not attribute.is_choice:
        return listed(words, "or")
    others = [v for v in attribute.values if v not in words]
    if len(others) < len(words) and len(words) > FEW:
        return f"anything but {listed(others, 'or')}"
    return f"any of {', '.join(words)}"


def told_findings(base, target, findings, everything, most) -> list:
    """A line a group; those that one can bring about first, the others under a heading of their
    own.
    """
    groups = grouped(findings)
    lines = []
    for heading, mark, own in _kinds(base, groups):
        lines += [heading] if heading else []
        for choices, state in own:
            outcome = (
                ""
                if target.wanted or target.kind in ("stop", "stops")
                else f" -> {told_state(base, target, state)}"
            )
            lines.append(f"  - {told_group(base, choices, mark)}{outcome}")
    if everything or len(groups) <= most:
        return lines
    starts = [n for n, line in enumerate(lines) if line.startswith("  - ")]
    return [*lines[: starts[most]], f"  {MORE.format(n=len(groups) - most)}"]


def _kinds(base, groups):
    """(heading, whether each fact is marked, groups) by what it takes: one's own doing alone,
    finding out alone, or both.
    """

    def changes(group):
        return {base.vocabulary.attribute(key).change for _, key in group[0]}

    own = [g for g in groups if changes(g) == {OWN_DOING}]
    both = [g for g in groups if OWN_DOING in changes(g) and g not in own]
    found = [g for g in groups if OWN_DOING not in changes(g)]
    kinds = (("You can change:", False, own), (FOUND, False, found), ("Both together:", True, both))
    return [kind for kind in kinds if kind[2]]
