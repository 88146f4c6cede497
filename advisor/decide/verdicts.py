"""Verdicts on kit: the worst that any rule gives stands; what could still prove worse is looked at
again first.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from advisor.decide.firing import Found, given, known_value, uncertain
from advisor.facts.world import World
from advisor.model.base import Base
from advisor.model.effects import Ask, Refer, Require, Stop, Verdict, Warn
from advisor.model.names import FINDING_ITEM, FINDING_TOLD
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
        _one(base, entity, part, grouped[entity, part])
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


def findings(base: Base, firing: Firing) -> tuple[str, ...]:
    """The findings that a rule speaks of."""
    kind = FINDING_ITEM.partition(".")[0]
    named = ((entity, base.vocabulary.split(entity)) for entity in firing.bound.values())
    return tuple(entity for entity, found in named if found and found[0].name == kind)


def what_was_found(base: Base, world: World, firing: Firing) -> str:
    """What was found, on which part; '' where a rule speaks of no finding."""
    said = []
    for entity in findings(base, firing):
        what, part = (
            "" if uncertain(base, world, entity, key) else known_value(base, world, entity, key)
            for key in FINDING_TOLD
        )
        said.append(f"{what} ({part})" if what and part else what)
    return " and ".join(filter(None, said))


def _one(base: Base, entity: str, part: str, group: Sequence[tuple[Firing, Verdict]]) -> Judged:
    grades = [(VERDICTS.index(verdict.give), firing) for firing, verdict in group]
    sure = [(grade, firing) for grade, firing in grades if firing.truth == 2]
    worst_sure = max((grade for grade, _ in sure), default=-1)
    worse = tuple(f for g, f in grades if f.truth == 1 and g > worst_sure)
    grade = max(worst_sure, LOOK_AGAIN) if worse else worst_sure
    standing: Standing = "provisional" if worse else "firm"
    reasons = _in_their_own_words(base, [f for g, f in sure if g == worst_sure])
    beside = _in_their_own_words(base, _beside(base, sure, reasons))
    return Judged(entity, part, VERDICTS[grade], standing, reasons, worse, beside)


def _in_their_own_words(base: Base, firings: Sequence[Firing]) -> tuple[Firing, ...]:
    """Without the rules of last resort whose findings another rule speaks of."""
    last = base.screen.last_resort
    spoken_of = {e for f in firings if f.rule.id not in last for e in findings(base, f)}
    return tuple(
        f
        for f in firings
        if f.rule.id not in last or not spoken_of.issuperset(findings(base, f) or (f.rule.id,))
    )


def _beside(
    base: Base, sure: Sequence[tuple[int, Firing]], reasons: Sequence[Firing]
) -> list[Firing]:
    """What would bring a milder verdict by itself: of each finding that no reason speaks of the
    gravest, and of its past whatever takes it out of use and rests on other facts.
    """
    told = {entity for firing in reasons for entity in findings(base, firing)}
    gravest: dict[str, int] = {}
    for grade, firing in sure:
        for entity in findings(base, firing):
            gravest[entity] = max(grade, gravest.get(entity, -1))
    of_findings = [
        (grade, firing)
        for grade, firing in sure
        if any(e not in told and gravest[e] == grade for e in findings(base, firing))
    ]
    past = [(grade, f) for grade, f in sure if not findings(base, f) and takes_out(base, f)]
    rested_on = {fact for f in reasons for fact in f.instance.looked_at}
    of_past = []
    for grade, firing in sorted(past, key=lambda pair: -pair[0]):
        if not rested_on.issuperset(firing.instance.looked_at):
            of_past.append((grade, firing))
            rested_on.update(firing.instance.looked_at)
    return [f for _, f in sorted((*of_findings, *of_past), key=lambda pair: -pair[0])]
