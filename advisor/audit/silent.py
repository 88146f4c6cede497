"""Decisions about which the rules are silent: options nobody speaks of, facts on which no rule
answers.
"""

from __future__ import annotations

from advisor.audit.bench import Finding
from advisor.audit.goals import FALSE, fires
from advisor.model.effects import OnOption

KIND = "silent decision"


def silent_decisions(bench):
    """A finding for each option no rule speaks of and each decision that nothing can settle."""
    found = []
    for name, spec in bench.base.decisions.items():
        if "by" in spec:  # a calculation makes it
            continue
        place = bench.place_of("decisions", name)
        speaks = _speaking(bench, name)
        silent = [o for o in spec.get("options", ()) if not any(e.option == o for _, e in speaks)]
        found += [
            Finding(
                KIND,
                name,
                place,
                f"no rule speaks of the option '{o}' of the decision '{name}'; write one, or drop"
                " the option.",
                (f"{name} = {o}",),
            )
            for o in silent
        ]
        if not speaks:
            found.append(
                Finding(
                    KIND,
                    name,
                    place,
                    f"no rule tells the options of the decision '{name}' apart on any facts.",
                    (f"{name} = any option",),
                )
            )
        elif not any(bench.firing(rule) for rule, _ in speaks):
            found.append(
                Finding(
                    KIND,
                    name,
                    place,
                    f"no facts tell the options of the decision '{name}' apart: none of its rules"
                    " can fire.",
                    tuple(sorted({r.id for r, _ in speaks})),
                )
            )
    return found


def facts_without_answer(bench):
    """For each decision between words, a set of fully known facts on which no rule speaks of any
    option.
    """
    found = []
    for name, spec in bench.base.decisions.items():
        speaks = [rule for rule, _ in _speaking(bench, name)]
        scene = (
            bench.scene([fires(rule, {}, FALSE) for rule in speaks])
            if "options" in spec and speaks
            else None
        )
        if scene:
            found.append(
                Finding(
                    "note",
                    name,
                    bench.place_of("decisions", name),
                    f"on these facts no rule speaks of any option of the decision '{name}'.",
                    bench.facts(scene),
                )
            )
    return found


def _speaking(bench, name):
    return [
        (rule, effect)
        for rule in bench.base.rules
        for effect in rule.gives(OnOption)
        if effect.decision == name
    ]
