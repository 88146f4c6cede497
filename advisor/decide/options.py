"""Choosing: options a rule surely rules out go; then the first concern at which two options differ
decides. No scores.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from typing import TypeAlias

from advisor.decide.firing import Found, firings, given
from advisor.facts.world import World
from advisor.model.base import Base
from advisor.model.effects import ON_OPTIONS, Disfavour, Prefer, Refer, RuleOut, Weigh
from advisor.model.outcome import Beaten, Choice, Firing, Instance, Standing

LEVEL = {"may": 1, "should": 2}
Key: TypeAlias = tuple[tuple[int, int], ...]


class Weights:
    """All that speaks for and against each option of one decision."""

    def __init__(self, base: Base, decision: str, options: tuple[str, ...], found: Found) -> None:
        self.concerns = base.concerns
        self.outs: dict[str, list[Firing]] = {o: [] for o in options}
        self.pulls: dict[str, list[tuple[Firing, Weigh]]] = {o: [] for o in options}
        self._keys: dict[tuple[str, int, int], Key] = {}
        self.nothing: Key = tuple((0, 0) for _ in base.concerns)
        for firing, out in given(found, RuleOut):
            if out.decision == decision:
                self.outs[out.of(firing.bound)].append(firing)
        for form in (Prefer, Disfavour):
            for firing, effect in given(found, form):
                if effect.decision == decision:
                    self.pulls[effect.of(firing.bound)].append((firing, effect))

    def out(self, option: str, truth: int) -> tuple[Firing, ...]:
        """What surely rules an option out (2), or may (1)."""
        return tuple(f for f in self.outs[option] if f.truth == truth)

    def pull(self, option: str, form: type[Weigh], truth: int) -> tuple[tuple[Firing, Weigh], ...]:
        """What surely (2) or perhaps (1) speaks for an option, or against it."""
        return tuple(p for p in self.pulls[option] if p[0].truth == truth and type(p[1]) is form)

    def surely_out(self, option: str) -> bool:
        return any(f.truth == 2 for f in self.outs[option])

    def maybe_out(self, option: str) -> bool:
        return not self.surely_out(option) and any(f.truth == 1 for f in self.outs[option])

    def key(self, option: str, against_from: int, pro_from: int) -> Key:
        """Where an option stands at each concern, larger is better: (not disfavoured, preferred)
        concern by concern.

        against_from and pro_from say from which truth on disfavours and prefers count: 2 = only
        sure ones, 1 = possible ones too.
        """
        if not self.pulls[option]:
            return self.nothing
        if (option, against_from, pro_from) in self._keys:
            return self._keys[option, against_from, pro_from]
        against = dict.fromkeys(self.concerns, 0)
        pro = dict(against)
        for f, effect in self.pulls[option]:
            side, least = (pro, pro_from) if isinstance(effect, Prefer) else (against, against_from)
            if f.truth >= least:
                side[effect.concern] = max(side[effect.concern], LEVEL[effect.strength])
        key = self._keys[option, against_from, pro_from] = tuple(
            (-against[c], pro[c]) for c in self.concerns
        )
        return key

    def sure(self, option: str) -> Key:
        return self.key(option, 2, 2)

    def low(self, option: str) -> Key:
        return self.key(option, 1, 2)

    def high(self, option: str) -> Key:
        return self.key(option, 2, 1)


def options_of(base: Base, world: World, decision: str) -> tuple[str, ...]:
    """The options of a decision in this case, in a fixed order."""
    spec = base.decisions[decision]
    return tuple(world.kinds[spec["each"]]) if "each" in spec else tuple(spec["options"])


def choose(base: Base, world: World, decision: str, found: Found) -> Choice:
    """Decide one decision from the firings."""
    options = options_of(base, world, decision)
    weights = Weights(base, decision, options, found)
    left = [o for o in options if not weights.surely_out(o)]
    referred = tuple(f for f, refer in given(found, Refer, 2) if refer.decision == decision)
    if not left:
        outs = tuple(f for o in options for f in weights.out(o, 2))
        return Choice(decision, "stop" if options else "provisional", ruled_out=outs)
    # An option that may yet be ruled out comes after one that is certainly allowed; but leaving the
    # pitch is no answer by mere lack of facts.
    allowed = [o for o in left if not weights.maybe_out(o)]
    if not allowed or allowed == [base.decisions[decision].get("means no pitch")]:
        allowed = left
    best = max(weights.sure(o) for o in allowed)
    winners = tuple(o for o in allowed if weights.sure(o) == best)
    open_ = _open(weights, winners, left)
    standing: Standing = (
        "refer" if referred else "firm" if _firm(weights, winners, left) else "provisional"
    )
    lost = tuple(_lost(weights, o, winners) for o in options if o not in winners)
    reasons = (*(f for f, _ in weights.pull(winners[0], Prefer, 2)), *referred)
    return Choice(
        decision,
        standing,
        option=winners[0] if len(winners) == 1 else None,
        equal=winners if len(winners) > 1 else (),
        reasons=reasons,
        alternatives=lost,
        open=open_,
    )


def _firm(weights: Weights, winners: tuple[str, ...], left: list[str]) -> bool:
    """No way of settling the open rules changes the outcome."""
    if any(weights.maybe_out(w) for w in winners):
        return False
    floor = weights.sure(winners[0])
    steady = all(weights.low(w) == weights.high(w) == floor for w in winners)
    if len(winners) > 1 and not steady:
        return False
    lowest = min(weights.low(w) for w in winners)
    return all(lowest > weights.high(o) for o in left if o not in winners)


def _open(weights: Weights, winners: tuple[str, ...], left: list[str]) -> tuple[Firing, ...]:
    """Open firings that bear on the outcome: gravest first (ruling out the winner, then
    the rest).
    """
    lowest = min(weights.low(w) for w in winners)
    found = [f for w in winners for f in weights.out(w, 1)]
    rivals = [o for o in left if o not in winners and (weights.high(o) >= lowest)]
    if rivals or len(winners) > 1:
        found += [f for o in rivals for f in weights.out(o, 1)]
        found += [f for o in (*winners, *rivals) for f, _ in weights.pulls[o] if f.truth == 1]
    return tuple(found)


def _lost(weights: Weights, option: str, winners: tuple[str, ...]) -> Beaten:
    """How an option lost."""
    out = weights.out(option, 2)
    if out:
        return Beaten(option, "", winners, out)
    mine, theirs = weights.sure(option), weights.sure(winners[0])
    for concern, (a, b) in zip(weights.concerns, zip(mine, theirs)):
        if a < b:
            against = weights.pull(option, Disfavour, 2)
            others = weights.pull(winners[0], Prefer, 2)
            return Beaten(option, concern, winners, _at(concern, against), _at(concern, others))
        if a > b:
            break
    return Beaten(option, "", winners, weights.out(option, 1))


def _at(concern: str, pulls: tuple[tuple[Firing, Weigh], ...]) -> tuple[Firing, ...]:
    return tuple(firing for firing, effect in pulls if effect.concern == concern)


def of_itself(base: Base, decision: str, option: str) -> dict[str, str]:
    """What speaks 'for' and 'against' an option of itself, whatever the case."""
    spec = base.decisions[decision]
    own: dict[str, str] = spec["options"][option] if "options" in spec else spec["each of itself"]
    return own


def decide_all(
    base: Base, world: World, instances: Iterable[Instance], topics: Collection[str]
) -> dict[str, Choice]:
    """{decision: Choice} of every decision that the case's topics call for; also tells the world
    what was chosen.
    """
    found = firings(base, instances, (*ON_OPTIONS, Refer.kind))
    choices: dict[str, Choice] = {}
    for decision, spec in base.decisions.items():
        if spec["about"] in topics and "by" not in spec:
            choices[decision] = choose(base, world, decision, found)
            world.choices[decision] = choices[decision].option
    return choices
