"""What to find out: the facts that could still bring a stop or change the advice, gravest first."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import NamedTuple, TypeAlias

from advisor.decide.derivations import Derivations, fact_id
from advisor.decide.firing import Found, Unknowns, given, name_of
from advisor.decide.verdicts import takes_out, verdict_of
from advisor.facts.settle import answered_by
from advisor.facts.world import KNOWN, World
from advisor.model.advice import Question
from advisor.model.base import Base
from advisor.model.effects import (
    Ask,
    CallNow,
    Effect,
    First,
    Refer,
    Require,
    RuleOut,
    Step,
    Stop,
    Warn,
)
from advisor.model.names import INCIDENT_KIND
from advisor.model.outcome import Choice, Firing, Judged
from advisor.model.ref import Ref

GRAVITY = ("stop", "first", "decision", "verdict", "requirement", "referral", "warning", "step")
GRAVE = range(GRAVITY.index("requirement"))
_OF_FORM: dict[type[Effect], str] = {
    Stop: "stop",
    First: "first",
    Require: "requirement",
    Refer: "referral",
    Warn: "warning",
}


class Open(NamedTuple):
    """What a run leaves open: its firings by kind, the choices and the verdicts made on them;
    `text(firing)` is what a firing says.
    """

    base: Base
    world: World
    found: Found
    choices: Mapping[str, Choice]
    judged: Sequence[Judged]
    unknowns: Unknowns
    text: Callable[[Firing], str]
    plan: bool = False  # whether the case is about a plan
    named: frozenset[str] = frozenset()  # the kinds of entities that it names


class Note(NamedTuple):
    """One thing that an open fact (entity, key) could bring, how grave it is, by which firing."""

    fact: Ref
    gravity: int
    words: str
    firing: Firing


Noted: TypeAlias = Mapping[Ref, list[Note]]


def noted(left: Open) -> Noted:
    """{open fact: all that it could bring}, the gravest facts first."""
    asked: dict[Ref, list[Note]] = {}
    instead = answered_by(left.base.vocabulary) if left.plan else {}
    for notes in (_effects(left), _choices(left), _verdicts(left), _branches(left)):
        for note in notes:
            for fact in _instead(left, instead, note):
                asked.setdefault(fact, []).append(note._replace(fact=fact))
    return dict(sorted(asked.items(), key=lambda item: _order(item[1])))


def question_list(left: Open, notes: Noted, derivations: Derivations) -> tuple[Question, ...]:
    """What every plan names and this one does not, then the open facts noted, each with its
    derivation.
    """
    named = _unnamed(left, derivations)
    return (*named, *(_question(left.base, found, derivations) for found in notes.values()))


def _instead(left: Open, instead: Mapping[str, str], note: Note) -> tuple[Ref, ...]:
    """The facts to ask for. In a plan what one answer settles is asked for as that answer, and not
    at all (none) once it is given, nor for a matter of care that could forbid nothing; and what
    follows from other facts is asked for as those of them that are still open.
    """
    (entity, key), world = note.fact, left.world
    if note.fact in world.states or not left.plan:
        return (note.fact,)
    sources = (Ref(source.partition(".")[0], source) for source in _asked_as(left.base, key))
    still = tuple(ref for ref in sources if world.states.get(ref) is None)
    if still or key not in instead:
        return still or (note.fact,)
    answer = Ref(entity, instead[key])
    care = note.gravity not in GRAVE
    return () if care or world.states.get(answer) == KNOWN else (answer,)


def _asked_as(base: Base, key: str) -> tuple[str, ...]:
    return base.vocabulary.by_key[key].asked_as


def _behind(left: Open, gravity: str, firing: Firing, words: str) -> Iterator[Note]:
    """A note for every fact that keeps a firing open."""
    for fact in left.unknowns.behind(firing.instance):
        yield Note(fact, GRAVITY.index(gravity), words, firing)


def _effects(left: Open) -> Iterator[Note]:
    """What could become a stop, requirement, referral or warning; and what a rule asks."""
    for form, gravity in _OF_FORM.items():
        for firing, _ in given(left.found, form, 1):
            yield from _behind(left, gravity, firing, left.text(firing))
    for firing, ask in given(left.found, Ask, 2):
        fact = ask.ref.at(firing.bound)
        yield Note(fact, GRAVITY.index("warning"), firing.rule.title, firing)


def _choices(left: Open) -> Iterator[Note]:
    """What could turn a decision, or leave it without an option."""
    for name, choice in left.choices.items():
        for firing in choice.open:
            if _may_leave_none(choice, firing):
                yield from _behind(left, "stop", firing, left.base.decisions[name]["none left"])
            else:
                words = f"the {name} may change: {firing.rule.title}"
                yield from _behind(left, "decision", firing, words)


def _verdicts(left: Open) -> Iterator[Note]:
    """What could make a verdict worse, or take a piece out of use."""
    for verdict in left.judged:
        for firing in verdict.open:
            gravity = "stop" if takes_out(left.base, firing) else "verdict"
            words = f"{verdict_of(firing)}: {firing.rule.title}"
            yield from _behind(left, gravity, firing, words)


def _branches(left: Open) -> Iterator[Note]:
    """On what the branches of a response turn, once it is known what happened."""
    what = left.world.columns.get(INCIDENT_KIND.key, {}).get(INCIDENT_KIND.entity)
    if what is None or what & (what - 1):
        return
    for form in (CallNow, Step):
        for firing, _ in given(left.found, form, 1):
            yield from _behind(left, "step", firing, left.text(firing))


def _may_leave_none(choice: Choice, firing: Firing) -> bool:
    """A winner that may yet be ruled out means that no option is certainly allowed: then nothing
    may be left at all.
    """
    effect = firing.effect
    return isinstance(effect, RuleOut) and effect.of(firing.bound) in (
        choice.option,
        *choice.equal,
    )


def _unnamed(left: Open, derivations: Derivations) -> Iterator[Question]:
    """Questions for decisions with nothing to choose from, and for what every plan names: none is
    clear while nobody has named an anchor, a ladder, a lifeline and a leader.
    """
    asked: dict[str, tuple[str, str]] = {}
    for name in left.choices:
        spec = left.base.decisions[name]
        kind = spec.get("each")
        if kind and not left.world.kinds[kind]:
            asked[kind] = spec["question"], spec["none left"]
    for kind, question in left.base.plan_names.items() if left.plan else ():
        if kind not in asked and kind not in left.named:
            asked[kind] = question, f"A plan without a {kind} cannot be clear."
    for kind, (question, because) in asked.items():
        yield Question(
            id=f"open: {kind}",
            fact=kind,
            text=question,
            gravity="stop",
            could=(because,),
            because=because,
            sources=(),
            derivation=derivations.absence(f"no {kind} is named", kind),
            rules=(),
        )


def gravest(notes: list[Note]) -> list[Note]:
    least = min(note.gravity for note in notes)
    return [note for note in notes if note.gravity == least]


def _order(notes: list[Note]) -> tuple[int, int, str, str]:
    worst = gravest(notes)
    return worst[0].gravity, -len(worst), *worst[0].fact


def _question(base: Base, notes: list[Note], derivations: Derivations) -> Question:
    worst = gravest(notes)
    entity, key = worst[0].fact
    could = tuple(dict.fromkeys(note.words for note in worst))
    rules = [note.firing.rule for note in worst]
    return Question(
        id="open: " + fact_id(entity, key),
        fact=fact_id(entity, key),
        text=base.vocabulary.by_key[key].asks.replace("{it}", name_of(base, entity)),
        gravity=GRAVITY[worst[0].gravity],
        could=could,
        because=could[0],
        sources=tuple(sorted({source for rule in rules for source in rule.sources})),
        derivation=derivations.of(worst[0].firing.instance),
        rules=tuple(sorted({rule.id for rule in rules})),
    )
