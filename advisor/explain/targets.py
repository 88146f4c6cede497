"""What a question is about: a decision, a stop, all stops, or the verdict on an item; and what it
has come to.
"""

from __future__ import annotations

from typing import NamedTuple

from advisor.decide.firing import firings, name_of
from advisor.decide.names import listed, option_name, stop_name
from advisor.decide.verdicts import VERDICTS, item_id, out_of_use, verdicts
from advisor.faults import Fault, Faults, Place, did_you_mean
from advisor.model.effects import Stop
from advisor.model.outcome import derivation_id

STOPS = ("stops", "stop", "go")


class Target(NamedTuple):
    """kind: 'decision' | 'stop' | 'stops' | 'verdict' | 'all'; name: which one; wanted: the
    outcome asked for ('' = any other).
    """

    kind: str
    name: str
    wanted: str


def read_target(run, text: str, door: str = "question") -> Target:
    """'ladder anchor=flake', 'tether', 'stops', a stop's rule id (also with '=stands' or
    '=cleared'), or 'ladder main=keep'; raises Faults with the nearest names.
    """
    name, _, wanted = (part.strip() for part in text.partition("="))
    base, outcome, choices, lower = run.base, run.outcome, run.choices, name.lower()
    if lower in choices:
        return Target("decision", lower, _option(base, outcome.world, lower, wanted, door))
    if lower in STOPS:
        return Target("stops", "", "cleared")
    rule = base.rule(lower)
    if rule:
        return _stop(rule, wanted, door)
    items = item_names(base, outcome)
    if lower in items:
        return Target("verdict", items[lower], _verdict(wanted, door))
    if "by" in base.decisions.get(lower, {}):
        raise _fault(
            door,
            f"'{lower}' is worked out, not chosen; --explain {base.decisions[lower]['by']} shows"
            " the working.",
        )
    known = [*choices, "stops", *items.values()]
    raise _fault(
        door,
        f"'{name}' is not a decision, stop or item of this advice; expected one of:"
        f" {', '.join(dict.fromkeys(known))}, or a rule id.{did_you_mean(name, known)}",
    )


def _fault(door, message) -> Faults:
    return Faults([Fault(Place(door), message)])


def _stop(rule, wanted, door) -> Target:
    if not rule.gives(Stop):
        raise _fault(
            door, f"the rule '{rule.id}' gives no stop; ask about a decision, a stop or an item."
        )
    if wanted not in ("", "stands", "cleared"):
        raise _fault(door, f"a stop is either 'stands' or 'cleared', not '{wanted}'.")
    return Target("stop", rule.id, wanted)


def item_names(base, outcome) -> dict:
    """{name in lower case: item id}: an item is found by its id and by the user's name for it."""
    found = {}
    for v in _judged(base, outcome):
        found[item_id(v).lower()] = found[
            (name_of(base, v.entity) + (f", {v.part}" if v.part else "")).lower()
        ] = item_id(v)
    return found


def _judged(base, outcome):
    return verdicts(base, outcome.world, firings(base, outcome.instances, ("verdict",)))


def _verdict(wanted, door) -> str:
    if wanted and wanted not in VERDICTS:
        raise _fault(
            door,
            f"'{wanted}' is not a verdict; expected one of:"
            f" {', '.join(VERDICTS)}.{did_you_mean(wanted, VERDICTS)}",
        )
    return wanted


def _option(base, world, decision, wanted, door) -> str:
    """The option a word means; options are listed by the user's names."""
    spec = base.decisions[decision]
    options = (
        {name_of(base, o): o for o in world.kinds[spec["each"]]}
        if "each" in spec
        else {o: o for o in spec["options"]}
    )
    if not wanted:
        return ""
    folded = {
        **{o.lower(): o for o in options.values()},
        **{n.lower(): o for n, o in options.items()},
    }
    if wanted.lower() not in folded:
        raise _fault(
            door,
            f"'{wanted}' is not an option of '{decision}'; expected one of:"
            f" {', '.join(options) or 'none yet'}.{did_you_mean(wanted, options)}",
        )
    return folded[wanted.lower()]


def state_of(base, target: Target, outcome, choices):
    """What the target has come to: a comparable value."""
    if target.kind == "decision":
        return decision_state(choices[target.name])
    if target.kind == "verdict":
        return next(
            (v.verdict for v in _judged(base, outcome) if item_id(v) == target.name), "no verdict"
        )
    if target.kind == "stop":
        return (
            "stands"
            if any(i.partition(" [")[0] == target.name for i in stop_ids(base, outcome, choices))
            else "cleared"
        )
    if target.kind == "stops":
        return frozenset(stop_ids(base, outcome, choices))
    return (
        frozenset(stop_ids(base, outcome, choices)),
        tuple((n, decision_state(c)) for n, c in choices.items()),
        tuple((item_id(v), v.verdict) for v in _judged(base, outcome)),
    )


def decision_state(choice) -> tuple:
    """The option chosen, or the equals, or 'none left', or 'nothing yet'."""
    return (
        (choice.option,)
        if choice.option
        else choice.equal or (("none left",) if choice.standing == "stop" else ("nothing yet",))
    )


def stop_ids(base, outcome, choices) -> list:
    """Ids of all stops that stand."""
    found = [
        derivation_id(base.rules[i.rule], i.bound)
        for i in outcome.instances
        if i.truth == 2 and base.rules[i.rule].gives(Stop)
    ]
    return [
        *found,
        *(f"no option left: {name}" for name, c in choices.items() if c.standing == "stop"),
        *(f"out of use: {item_id(v)}" for v in out_of_use(base, _judged(base, outcome))),
    ]


def told_state(base, target: Target, state, before=None) -> str:
    """A state in the user's words; stops as what comes and goes where an earlier state is given."""
    if target.kind == "stops" and before is not None:
        changed = [f"stop: {stop_name(base, i)}" for i in sorted(state - before)] + [
            f"no longer a stop: {stop_name(base, i)}" for i in sorted(before - state)
        ]
        return "; ".join(changed) or "as it is"
    if target.kind == "stops":
        return listed(stop_name(base, i) for i in sorted(state)) or "no stop"
    return (
        listed((option_name(base, o) for o in state), "or") if target.kind == "decision" else state
    )


def is_now(base, target, state) -> str:
    if target.kind == "stops":
        return f"this stops it: {told_state(base, target, state)}" if state else "no stop stands"
    if target.kind == "stop":
        return f"the stop {target.name} {'stands' if state == 'stands' else 'does not stand'}"
    return (
        f"{target.name if target.kind == 'decision' else f'the verdict on {target.name}'} is:"
        f" {told_state(base, target, state)}"
    )


def reached(target: Target, before, now) -> bool:
    """Whether a changed state is what was asked for."""
    if target.kind == "stops":
        return not now and bool(before)
    wanted = (target.wanted,) if target.kind == "decision" else target.wanted
    return now == wanted and before != now if target.wanted else now != before
