"""Decisions under local guidance: it may break a tie or rule an option out, never carry one that
is built in to lose; whatever it changes is told.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from advisor.model.advice import IF_CHECKED, Advice, Decision, Departure

if TYPE_CHECKING:
    from advisor.load.local import Local

STANDINGS = (
    "firm",
    IF_CHECKED,
    "provisional",
    "refer",
    "stop",
)  # from the surest to the most cautious
OUT = "ruled out"  # how the reason begins why an option lost


def decided(
    built_in: Advice, advice: Advice, local: Local
) -> tuple[dict[str, Decision], list[Departure]]:
    """{decision: what it comes to}, and a departure for each that would be another."""
    rules = {d.id: d.rule or "" for d in advice.derivations}
    decisions, departures = dict(advice.decisions), []
    for name, old in built_in.choices.items():
        new = advice.choices.get(name, old)
        decisions[name] = _more_cautious(old, new, rules)
        if set(new.chosen) != set(old.chosen):
            departures.append(_told(name, old, new, decisions[name], local))
    return decisions, departures


def _more_cautious(old: Decision, new: Decision, rules: Mapping[str, str]) -> Decision:
    """The built-in decision `old`, or the local one where it chooses no more freely."""
    if old.standing == "stop" or new.standing == "stop":
        return old if old.standing == "stop" else new
    if new.chosen and set(new.chosen) <= set(old.chosen):
        surer = STANDINGS.index(new.standing) < STANDINGS.index(old.standing)
        return replace(new, standing=old.standing, open=old.open) if surer else new
    barred = _barred(new, rules)
    if old.chosen and barred >= set(old.chosen) and not set(new.chosen) & _out(old):
        return replace(new, standing="refer")  # what is left is not what is built in
    return replace(old, standing="refer") if barred & set(old.chosen) else old


def _out(decision: Decision) -> set[str]:
    """The options that are ruled out, or not yet shown to be allowed."""
    return {a.option for a in decision.alternatives if a.lost_because.startswith((OUT, "not yet"))}


def _barred(decision: Decision, rules: Mapping[str, str]) -> set[str]:
    """The options that rules of local guidance rule out."""
    return {
        a.option
        for a in decision.alternatives
        if a.lost_because.startswith(OUT)
        and any(rules.get(d, "").startswith("local.") for d in a.derivations)
    }


def _told(name: str, old: Decision, new: Decision, stands: Decision, local: Local) -> Departure:
    was, would, is_ = (d.words("nothing") for d in (old, new, stands))
    return Departure(
        text=f"Built in, {name} comes to: {was}. By local guidance: {would}. It stands: {is_}.",
        built_in=name,
        sources=tuple(sorted({s for r in old.reasons for s in r.sources})),
        local=local.title,
    )
