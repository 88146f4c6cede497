"""What a question is about: a decision, a stop, all stops, or the verdict on an item; and which facts bear on it."""
from __future__ import annotations

from typing import NamedTuple

from advisor.decide.firing import derivation_id, firings, name_of
from advisor.decide.verdicts import verdicts
from advisor.faults import Fault, Faults, Place, did_you_mean
from advisor.knowledge.rule import references


class Target(NamedTuple):
    """kind: 'decision' | 'stop' | 'stops' | 'verdict'; name: which one; wanted: the outcome asked for ('' = any other)."""

    kind: str
    name: str
    wanted: str


def read_target(advisor, outcome, choices, text: str) -> Target:
    """'ladder anchor=flake', 'tether', 'stops', a stop's rule id, or 'ladder main=keep'; raises Faults with the nearest names."""
    name, _, wanted = (part.strip() for part in text.partition("="))
    base = advisor.base
    if name in choices:
        return Target("decision", name, _option(base, outcome.world, name, wanted))
    if name in ("stops", "stop", "go"):
        return Target("stops", "", "cleared")
    if any(r.id == name for r in base.rules):
        return Target("stop", name, "cleared")
    items = {v.entity + (f", {v.part}" if v.part else ""): v for v in verdicts(base, outcome.world, firings(base, outcome.instances, ("verdict",)))}
    if name in items:
        return Target("verdict", name, wanted)
    known = [*choices, "stops", *items]
    raise Faults([Fault(Place("question"), f"'{name}' is not a decision, stop or item of this advice; expected one of: {', '.join(known)}, or a rule id.{did_you_mean(name, known)}")])


def _option(base, world, decision, wanted):
    spec = base.decisions[decision]
    options = {name_of(base, o): o for o in world.kinds[spec["each"]]} if "each" in spec else {o: o for o in spec["options"]}
    options.update({o: o for o in options.values()})
    if wanted and wanted not in options:
        raise Faults([Fault(Place("question"), f"'{wanted}' is not an option of '{decision}'; expected one of: {', '.join(options)}.{did_you_mean(wanted, options)}")])
    return options.get(wanted, "")


def state_of(advisor, target: Target, outcome, choices):
    """What the target has come to: a comparable value."""
    base = advisor.base
    if target.kind == "decision":
        choice = choices[target.name]
        return choice.option if choice.option else " or ".join(choice.equal) if choice.equal else "none left" if choice.standing == "stop" else "nothing yet"
    if target.kind == "verdict":
        found = {v.entity + (f", {v.part}" if v.part else ""): v.verdict for v in verdicts(base, outcome.world, firings(base, outcome.instances, ("verdict",)))}
        return found.get(target.name, "no verdict")
    return frozenset(stop_ids(base, outcome, choices)) if target.kind == "stops" else (
        "stands" if any(i.partition(" [")[0] == target.name for i in stop_ids(base, outcome, choices)) else "cleared")


def stop_ids(base, outcome, choices):
    """Ids of all stops that stand."""
    found = [derivation_id(base.rules[i.rule], i.bound) for i in outcome.instances
             if i.truth == 2 and any(kind == "stop" for kind, _ in base.rules[i.rule].effects)]
    return found + [f"no option left: {name}" for name, c in choices.items() if c.standing == "stop"]


def reached(target: Target, before, now) -> bool:
    """Whether a changed state is what was asked for."""
    if target.kind == "stops":
        return not now and bool(before)
    return now == target.wanted if target.wanted else now != before


def bearing_on(advisor, target: Target) -> set:
    """Keys of the stated attributes that could bear on the target, through rules, derived facts and calculations."""
    base = advisor.base
    wanted = {"decision": ("rule out", "prefer", "disfavour"), "stop": ("stop",), "stops": ("stop",), "verdict": ("verdict",)}[target.kind]
    start = set()
    for rule in base.rules:
        for kind, details in rule.effects:
            if kind in wanted and (target.kind != "decision" or details["decision"] == target.name) and (target.kind != "stop" or rule.id == target.name):
                start |= {key for _, key in references(rule.condition)}
    if target.kind == "stops":
        for decision in base.decisions:
            start |= bearing_on(advisor, Target("decision", decision, ""))
    return _stated(base, start)


def _stated(base, keys) -> set:
    found, todo = set(), list(keys)
    while todo:
        key = todo.pop()
        if key in found:
            continue
        found.add(key)
        if base.vocabulary.attribute(key).derived:
            todo += [k for r in base.rules if r.derives == key for _, k in references(r.condition)]
            todo += [k for c in base.calculations if key in c.outputs for k in c.keys]
    return {key for key in found if not base.vocabulary.attribute(key).derived}
