"""Hazards that nothing controls, and controls that name no rule."""

from __future__ import annotations

from advisor.audit.bench import finding
from advisor.faults import did_you_mean
from advisor.model.effects import Hazard

KIND = "hazard"


def uncontrolled_hazards(bench):
    """A finding for each hazard without a control and each control that does not exist."""
    known, found = {rule.id: rule for rule in bench.base.rules}, []
    for rule in bench.base.rules:
        for hazard in rule.gives(Hazard):
            found += _one(bench, rule, hazard, known)
    return found


def _one(bench, rule, hazard, known):
    scene = bench.firing(rule)
    facts = bench.facts(scene, bench.holds(rule)) if scene else ()
    if not hazard.controls:
        return [
            finding(
                KIND,
                rule,
                f"nothing controls the hazard '{hazard.text}'; name the rules that do.",
                facts,
            )
        ]
    return [
        finding(
            KIND, rule, f"the control '{name}' is not a rule.{did_you_mean(name, known)}", facts
        )
        for name in hazard.controls
        if name not in known
    ]
