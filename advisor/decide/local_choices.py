"""Decisions under local guidance: it may choose among what the built-in rules leave allowed, never
carry an option that they rule out, nor turn a plan back that they send another way; whatever it
changes, or would, is told.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from msgspec.structs import replace

from advisor.decide.local_laid import Laid
from advisor.model.advice import (
    IF_CHECKED,
    LOCAL_MARK,
    Advice,
    Alternative,
    Decision,
    First,
    Reason,
)
from advisor.model.base import Base
from advisor.model.rule import Rule
from advisor.words import PLAN_ANEW

STANDINGS = (
    "firm",
    IF_CHECKED,
    "provisional",
    "refer",
    "stop",
)  # from the surest to the most cautious
OUT = ("ruled out", "not yet")  # how the reason begins why an option is not allowed
OWN = "local."  # how the ids of local rules begin


def decided(
    laid: Laid, base: Base, built_in: Advice, advice: Advice, no_pitch: Mapping[str, str]
) -> dict[str, Decision]:
    """{decision: what it comes to}, 'go' as it was; `no_pitch` has the options that leave a pitch
    alone.
    """
    rules = _rules(advice)
    decisions = dict(advice.decisions)
    for name, old in built_in.choices.items():
        new = advice.choices.get(name, old)
        decisions[name] = _laid(
            old, new, rules, no_pitch.get(name, ""), _is_planned(base, built_in, name, new)
        )
        if set(new.chosen) != set(old.chosen):
            _tell(laid, name, old, new, decisions[name])
    return decisions


def planned_anew(
    base: Base,
    built_in: Advice,
    advice: Advice,
    no_pitch: Mapping[str, str],
    own: Mapping[str, Rule],
) -> Iterator[First]:
    """What is to be planned anew before anyone goes, as local guidance rules all of it out. What is
    left was not planned, so that no rule has looked at it as it would be: it is never put in its
    place.
    """
    rules = _rules(advice)
    for name, old in built_in.choices.items():
        new, was = advice.choices.get(name, old), set(old.chosen)
        against = [
            d
            for lost in new.alternatives
            if lost.option in was and _own(lost, rules)
            for d in lost.derivations
            if rules.get(d, "") in own
        ]
        barred = _barred(new, rules) >= was and no_pitch.get(name, "") not in was
        if against and barred and not _is_planned(base, built_in, name, new):
            rule = own[rules[against[0]]]
            left = new.words("nothing")
            yield First(
                id=f"planned anew: {name}",
                rule=rule.id,
                text=PLAN_ANEW.format(decision=name, was=old.words(), left=left),
                because=rule.because,
                sources=tuple(rule.sources),
                status=rule.status,
                derivation=against[0],
            )


def _is_planned(base: Base, advice: Advice, name: str, decision: Decision) -> bool:
    """Whether the plan surely has what a decision comes to, so that every rule on it was asked."""
    options = base.decisions[name].get("options", {})
    stated = {fact.id: fact.value for fact in advice.facts if fact.state == "known"}
    ways = [options.get(option, {}).get("planned as", {}) for option in decision.chosen]
    return bool(ways) and all(
        way and all(stated.get(fact) == value for fact, value in way.items()) for way in ways
    )


def _rules(advice: Advice) -> dict[str, str]:
    return {d.id: d.rule or "" for d in advice.derivations}


def _laid(
    old: Decision, new: Decision, rules: Mapping[str, str], no_pitch: str, planned: bool
) -> Decision:
    """The built-in decision `old`, or the local one where that is let; with reasons of both.
    `planned`: the plan has the local one.
    """
    stands, standing = _stands(old, new, _barred(new, rules), no_pitch, planned)
    open_ = tuple(sorted({*old.open, *new.open}))
    if stands is old:
        known = {reason.id for reason in old.reasons}
        own = (r for r in new.reasons if r.rule.startswith(OWN) and r.id not in known)
        of_old = set(old.chosen)
        reasons = own if of_old == set(new.chosen) else ()
        return replace(
            old,
            standing=standing,
            reasons=(*old.reasons, *map(_marked, reasons)),
            alternatives=_lost(old.alternatives, new.alternatives, rules),
            open=open_ if standing != old.standing else old.open,
        )
    return replace(
        new,
        standing=standing,
        reasons=tuple(_marked(r) if r.rule.startswith(OWN) else r for r in new.reasons),
        alternatives=(*_lost(new.alternatives, new.alternatives, rules), *_still_lost(old, new)),
        open=open_,
    )


def _stands(
    old: Decision, new: Decision, barred: set[str], no_pitch: str, planned: bool
) -> tuple[Decision, str]:
    """(which of the two stands, its standing)"""
    was, would = set(old.chosen), set(new.chosen)
    if old.standing == "stop" or no_pitch in was:
        return old, old.standing
    if new.standing == "stop":
        return new, "stop"
    if would and would <= was:
        worst = max(old.standing, new.standing, key=STANDINGS.index)
        return (old if would == was else new), worst
    if was and barred >= was and planned and not would & _out(old):
        return new, "refer"  # what is left is not what is built in
    return old, "refer" if barred & was else old.standing


def _out(decision: Decision) -> set[str]:
    """The options that are ruled out, or not yet shown to be allowed."""
    return {a.option for a in decision.alternatives if a.lost_because.startswith(OUT)}


def _barred(decision: Decision, rules: Mapping[str, str]) -> set[str]:
    """The options that rules of local guidance rule out."""
    return {
        a.option
        for a in decision.alternatives
        if a.lost_because.startswith(OUT[0]) and _own(a, rules)
    }


def _own(lost: Alternative, rules: Mapping[str, str]) -> bool:
    return any(rules.get(d, "").startswith(OWN) for d in lost.derivations)


def _marked(reason: Reason) -> Reason:
    return replace(reason, text=LOCAL_MARK + reason.text, because=LOCAL_MARK + reason.because)


def _lost(
    held: Sequence[Alternative], now: Iterable[Alternative], rules: Mapping[str, str]
) -> tuple[Alternative, ...]:
    """Why options lost, with what local guidance has against each."""
    own = {a.option: a for a in now if _own(a, rules)}
    return tuple(_with(a, own[a.option]) if a.option in own else a for a in held)


def _still_lost(old: Decision, new: Decision) -> tuple[Alternative, ...]:
    """What is built in against options of which the decision that stands tells no more."""
    told = {*new.chosen, *(a.option for a in new.alternatives)}
    return tuple(a for a in old.alternatives if a.option not in told)


def _with(held: Alternative, own: Alternative) -> Alternative:
    if held.lost_because == own.lost_because:
        return replace(held, lost_because=f"{held.lost_because} (local guidance)")
    return replace(
        held,
        lost_because=f"{held.lost_because}; by local guidance {own.lost_because}",
        derivations=tuple(dict.fromkeys((*held.derivations, *own.derivations))),
    )


def _tell(laid: Laid, name: str, old: Decision, new: Decision, stands: Decision) -> None:
    was, would, is_ = (d.words("nothing") for d in (old, new, stands))
    laid.tell(
        f"Built in, {name} comes to: {was}. By local guidance: {would}. It stands: {is_}.",
        name,
        sorted({s for r in old.reasons for s in r.sources}),
        turns=set(stands.chosen) != set(old.chosen),
    )
