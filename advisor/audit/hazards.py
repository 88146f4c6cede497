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
    wrong = [m for control in hazard.controls for m in _wrong(control, known)]
    if not hazard.controls:
        wrong = [f"nothing controls the hazard '{hazard.text}'; say what does."]
    return [finding(KIND, rule, message, facts) for message in wrong]


def _wrong(control, known):
    """What is wrong with one control."""
    for name in control.rules:
        if name not in known:
            yield f"the control '{name}' is not a rule.{did_you_mean(name, known)}"
    looked = {
        ref.key
        for name in control.broken_by
        if name in known
        for ref in known[name].condition.references()
    }
    met = {ref.key for ref in control.met.references()} if control.met else looked
    if looked and not met & looked:
        yield (
            f"'{control.do}' is met by facts at which no rule that breaks it looks; name those it"
            " looks at."
        )
