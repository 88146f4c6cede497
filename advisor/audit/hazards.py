"""Hazards that nothing controls, and controls that name no rule."""

from __future__ import annotations

from advisor.audit.bench import finding
from advisor.faults import did_you_mean

KIND = "hazard"


def check(bench):
    """A finding for each hazard without a control and each control that does not exist."""
    known, found = {rule.id: rule for rule in bench.base.rules}, []
    for rule in bench.base.rules:
        for kind, details in rule.effects:
            if kind == "hazard":
                found += _one(bench, rule, details, known)
    return found


def _one(bench, rule, details, known):
    controls = details.get("controls") or ()
    controls = [controls] if isinstance(controls, str) else list(controls)
    scene = bench.firing(rule)
    facts = bench.facts(scene, bench.holds(rule)) if scene else ()
    if not controls:
        return [
            finding(
                KIND,
                rule,
                f"nothing controls the hazard '{details.get('hazard', rule.title)}'; name the rules"
                " that do.",
                facts,
            )
        ]
    return [
        finding(
            KIND, rule, f"the control '{name}' is not a rule.{did_you_mean(name, known)}", facts
        )
        for name in controls
        if name not in known
    ]
