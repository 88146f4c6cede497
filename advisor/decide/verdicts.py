"""Verdicts on kit: the worst that any rule gives stands; what could still prove worse is looked at
again first.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from advisor.decide.firing import Found, given, known_value
from advisor.facts.world import World
from advisor.model.base import Base
from advisor.model.effects import Ask, Refer, Require, Stop, Verdict, Warn
from advisor.model.outcome import Firing, Judged, Standing

VERDICTS = (
    "keep",
    "keep and watch",
    "clean and look again",
    "replace part",
    "set aside for a competent person",
    "retire",
)
LOOK_AGAIN = VERDICTS.index("clean and look again")
RETIRE = VERDICTS[-1]


def verdicts(base: Base, world: World, found: Found) -> list[Judged]:
    """One verdict for each item and part that any rule speaks of, whole items first."""
    grouped: dict[tuple[str, str], list[tuple[Firing, Verdict]]] = {}
    for firing, verdict in given(found, Verdict):
        part = _part(base, world, firing, verdict)
        grouped.setdefault((firing.bound[verdict.on], part), []).append((firing, verdict))
    return [
        _one(entity, part, grouped[entity, part])
        for entity, part in sorted(grouped)
        if _worth(grouped[entity, part], part)
    ]


def out_of_use(base: Base, judged: Sequence[Judged]) -> list[Judged]:
    """Verdicts that surely take an item, or a part of it, out of use, unless a rule that gives
    one says in its own words what not to use.
    """
    return [
        v
        for v in judged
        if v.reasons
        and takes_out(base, v.reasons[0])
        and not any(f.rule.gives(Stop) for f in v.reasons)
    ]


def takes_out(base: Base, firing: Firing) -> bool:
    """Whether the verdict that a rule gives takes its item out of use."""
    if not base.out_of_use:
        return False
    return VERDICTS.index(verdict_of(firing)) >= VERDICTS.index(base.out_of_use["from"])


def verdict_of(firing: Firing) -> str:
    """The verdict that a rule gives."""
    return firing.effect.give if isinstance(firing.effect, Verdict) else ""


def told(judged: Sequence[Judged], found: Found) -> Found:
    """What is told once the verdicts stand: an effect 'with verdict' only beside one of these; any
    other effect of a rule on kit not beside 'retire', for what is thrown away needs no care.
    """
    of = {v.entity: v.verdict for v in judged if not v.part}
    return {kind: [f for f in group if _told(of, f)] for kind, group in found.items()}


def _told(of: Mapping[str, str], firing: Firing) -> bool:
    effect = firing.effect
    if not isinstance(effect, (Require, Warn, Refer, Ask)):
        return True
    given_to = [of[e] for e in firing.bound.values() if e in of]
    if not isinstance(effect, Ask) and effect.with_verdict:
        return any(verdict in effect.with_verdict for verdict in given_to)
    return firing.rule.about != "kit" or RETIRE not in given_to


def item_id(verdict: Judged) -> str:
    """'ladder main' or 'ladder main, cord'."""
    return verdict.entity + (f", {verdict.part}" if verdict.part else "")


def _worth(group: list[tuple[Firing, Verdict]], part: str) -> bool:
    """A part is listed only when something is sure of it; a whole item always is."""
    return not part or any(firing.truth == 2 for firing, _ in group)


def _part(base: Base, world: World, firing: Firing, verdict: Verdict) -> str:
    if not verdict.ref:
        return verdict.part
    return known_value(base, world, *verdict.ref.at(firing.bound))


def _one(entity: str, part: str, group: list[tuple[Firing, Verdict]]) -> Judged:
    grades = [(VERDICTS.index(verdict.give), firing) for firing, verdict in group]
    worst_sure = max((g for g, f in grades if f.truth == 2), default=-1)
    worse = tuple(f for g, f in grades if f.truth == 1 and g > worst_sure)
    grade = max(worst_sure, LOOK_AGAIN) if worse else worst_sure
    reasons = tuple(f for g, f in grades if f.truth == 2 and g == worst_sure)
    standing: Standing = "provisional" if worse else "firm"
    return Judged(entity, part, VERDICTS[grade], standing, reasons, worse)
