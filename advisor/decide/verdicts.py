"""Verdicts on kit: the worst that any rule gives stands; what could still prove worse is looked at
again first.
"""

from __future__ import annotations

from advisor.model.effects import Stop
from advisor.model.outcome import Judged

VERDICTS = (
    "keep",
    "keep and watch",
    "clean and look again",
    "replace part",
    "set aside for a competent person",
    "retire",
)
LOOK_AGAIN = VERDICTS.index("clean and look again")


def verdicts(base, world, found) -> list[Judged]:
    """One verdict for each item and part that any rule speaks of, whole items first."""
    grouped = {}
    for firing in found.get("verdict", ()):
        grouped.setdefault((firing.bound[firing.effect.on], _part(base, world, firing)), []).append(
            firing
        )
    return [
        _one(entity, part, grouped[entity, part])
        for entity, part in sorted(grouped)
        if _worth(grouped[entity, part], part)
    ]


def out_of_use(base, judged, instances) -> list[Judged]:
    """Verdicts that surely take an item, or a part of it, out of use although no rule's stop
    speaks of the item.
    """
    stopped = {
        e for i in instances if i.truth == 2 and base.rules[i.rule].gives(Stop) for e in i.bound
    }
    return [
        v for v in judged if v.entity not in stopped and v.reasons and takes_out(base, v.reasons[0])
    ]


def takes_out(base, firing) -> bool:
    """Whether the verdict that a rule gives takes its item out of use."""
    return bool(base.out_of_use) and VERDICTS.index(firing.effect.give) >= VERDICTS.index(
        base.out_of_use["from"]
    )


def item_id(verdict) -> str:
    """'ladder main' or 'ladder main, cord'."""
    return verdict.entity + (f", {verdict.part}" if verdict.part else "")


def _worth(firings, part):
    """A part is listed only when something is sure of it; a whole item always is."""
    return not part or any(f.truth == 2 for f in firings)


def _part(base, world, firing):
    reference = firing.effect.ref
    if not reference:
        return firing.effect.part
    from advisor.decide.firing import known_value

    return known_value(base, world, *reference.at(firing.bound))


def _one(entity, part, firings):
    grades = [(VERDICTS.index(f.effect.give), f.truth, f) for f in firings]
    worst_sure = max((g for g, truth, _ in grades if truth == 2), default=-1)
    worse = [f for g, truth, f in grades if truth == 1 and g > worst_sure]
    grade = max(worst_sure, LOOK_AGAIN) if worse else worst_sure
    reasons = tuple(f for g, truth, f in grades if truth == 2 and g == worst_sure)
    return Judged(
        entity, part, VERDICTS[grade], "provisional" if worse else "firm", reasons, tuple(worse)
    )
