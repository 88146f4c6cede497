"""Choosing: options a rule surely rules out go; then the first concern at which two options differ
decides. No scores.
"""

from __future__ import annotations

from advisor.decide.firing import firings
from advisor.model.effects import ON_OPTIONS, Disfavour, Prefer, RuleOut
from advisor.model.outcome import Beaten, Choice

LEVEL = {"may": 1, "should": 2}


class Weights:
    """All that speaks for and against each option of one decision."""

    def __init__(self, base, decision, options, found):
        self.concerns, self.decision, self.options = base.concerns, decision, options
        self.outs = {o: [] for o in options}
        self.pulls = {o: [] for o in options}
        self._keys, self.nothing = {}, tuple((0, 0) for _ in base.concerns)
        for kind in ON_OPTIONS:
            for firing in found.get(kind, ()):
                if firing.effect.decision == decision:
                    self._add(firing)

    def _add(self, firing):
        side = self.outs if isinstance(firing.effect, RuleOut) else self.pulls
        side[firing.effect.of(firing.bound)].append(firing)

    def surely_out(self, option):
        return any(f.truth == 2 for f in self.outs[option])

    def maybe_out(self, option):
        return not self.surely_out(option) and any(f.truth == 1 for f in self.outs[option])

    def key(self, option, against_from, pro_from) -> tuple:
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
        for f in self.pulls[option]:
            effect = f.effect
            side, least = (pro, pro_from) if isinstance(effect, Prefer) else (against, against_from)
            if f.truth >= least:
                side[effect.concern] = max(side[effect.concern], LEVEL[effect.strength])
        key = self._keys[option, against_from, pro_from] = tuple(
            (-against[c], pro[c]) for c in self.concerns
        )
        return key

    def sure(self, option):
        return self.key(option, 2, 2)

    def low(self, option):
        return self.key(option, 1, 2)

    def high(self, option):
        return self.key(option, 2, 1)


def options_of(base, world, decision):
    """The options of a decision in this case, in a fixed order."""
    spec = base.decisions[decision]
    return tuple(world.kinds[spec["each"]]) if "each" in spec else tuple(spec["options"])


def choose(base, world, decision, found) -> Choice:
    """Decide one decision from the firings."""
    options = options_of(base, world, decision)
    weights = Weights(base, decision, options, found)
    left = [o for o in options if not weights.surely_out(o)]
    referred = tuple(
        f for f in found.get("refer", ()) if f.effect.decision == decision and f.truth == 2
    )
    if not left:
        outs = tuple(f for o in options for f in weights.outs[o] if f.truth == 2)
        return Choice(decision, "stop" if options else "provisional", ruled_out=outs)
    # An option that may yet be ruled out comes after one that is certainly allowed; but leaving the
    # pitch is no answer by mere lack of facts.
    allowed = [o for o in left if not weights.maybe_out(o)]
    if not allowed or allowed == [base.decisions[decision].get("means no pitch")]:
        allowed = left
    best = max(weights.sure(o) for o in allowed)
    winners = tuple(o for o in allowed if weights.sure(o) == best)
    open_ = _open(weights, winners, left)
    standing = "refer" if referred else "firm" if _firm(weights, winners, left) else "provisional"
    lost = tuple(_lost(weights, o, winners[0]) for o in options if o not in winners)
    reasons = (
        tuple(f for f in weights.pulls[winners[0]] if f.truth == 2 and isinstance(f.effect, Prefer))
        + referred
    )
    return Choice(
        decision,
        standing,
        option=winners[0] if len(winners) == 1 else None,
        equal=winners if len(winners) > 1 else (),
        reasons=reasons,
        alternatives=lost,
        open=open_,
    )


def _firm(weights, winners, left) -> bool:
    """No way of settling the open rules changes the outcome."""
    if any(weights.maybe_out(w) for w in winners):
        return False
    floor = weights.sure(winners[0])
    steady = all(weights.low(w) == weights.high(w) == floor for w in winners)
    if len(winners) > 1 and not steady:
        return False
    lowest = min(weights.low(w) for w in winners)
    return all(lowest > weights.high(o) for o in left if o not in winners)


def _open(weights, winners, left):
    """Open firings that bear on the outcome: gravest first (ruling out the winner, then
    the rest).
    """
    lowest = min(weights.low(w) for w in winners)
    found = [f for w in winners for f in weights.outs[w] if f.truth == 1]
    rivals = [o for o in left if o not in winners and (weights.high(o) >= lowest)]
    if rivals or len(winners) > 1:
        found += [f for o in rivals for f in weights.outs[o] if f.truth == 1]
        found += [f for o in (*winners, *rivals) for f in weights.pulls[o] if f.truth == 1]
    return tuple(found)


def _lost(weights, option, winner):
    """How an option lost."""
    out = tuple(f for f in weights.outs[option] if f.truth == 2)
    if out:
        return Beaten(option, "", out)
    mine, theirs = weights.sure(option), weights.sure(winner)
    maybe = tuple(f for f in weights.outs[option] if f.truth == 1)
    for concern, (a, b) in zip(weights.concerns, zip(mine, theirs)):
        if a < b:
            return Beaten(
                option,
                concern,
                tuple(
                    f
                    for o, form in ((option, Disfavour), (winner, Prefer))
                    for f in weights.pulls[o]
                    if isinstance(f.effect, form) and f.truth == 2 and f.effect.concern == concern
                ),
            )
        if a > b:
            break
    return Beaten(option, "", maybe)


def decide_all(base, world, instances, topics):
    """{decision: Choice} of every decision that the case's topics call for; also tells the world
    what was chosen.
    """
    found, choices = firings(base, instances, (*ON_OPTIONS, "refer")), {}
    for decision, spec in base.decisions.items():
        if spec["about"] in topics and "by" not in spec:
            choices[decision] = choose(base, world, decision, found)
            world.choices[decision] = choices[decision].option
    return choices
