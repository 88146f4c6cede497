"""A response under local guidance: every built-in line word for word and in its order, the first
step first; a local step stands among them where it asks to, as far as that order lets it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from advisor.decide.local_laid import Laid, added, marked
from advisor.decide.sequence import PHASES
from advisor.model import effects
from advisor.model.advice import LOCAL_MARK, Response, Step
from advisor.model.rule import Rule

AMONG = 3  # local steps that may stand among the built-in ones: more would push those out of reach
PARTS = {"call_now": "call", "say": "message", "do_not": "thing not to do"}


def response(
    laid: Laid, held: Response | None, now: Response | None, rules: Mapping[str, Rule]
) -> Response | None:
    """The built-in response `held` with the lines that `now` adds."""
    if held is None or now is None:
        return held or (now and _all_local(now))
    laid.compare("step", held.steps, now.steps)
    parts = {
        part: laid.over(what, getattr(held, part), _unsaid(held, part, now))
        for part, what in PARTS.items()
    }
    more = added(held.steps, now.steps)
    return Response(
        incident=held.incident, steps=_Places(laid, held.steps, rules).among(more), **parts
    )


def _all_local(now: Response) -> Response:
    """A response where there is none built in."""
    lines = {part: tuple(map(marked, getattr(now, part))) for part in ("steps", *PARTS)}
    return Response(incident=now.incident, **lines)


def _unsaid(held: Response, part: str, now: Response) -> tuple[Step, ...]:
    """The lines of one part, without those of other rules that only say again what is built in."""
    lines: Sequence[Step] = getattr(held, part)
    said, known = {(x.text, x.when) for x in lines}, {x.id for x in lines}
    return tuple(x for x in getattr(now, part) if x.id in known or (x.text, x.when) not in said)


class _Places:
    """Finds the places of more steps among the built-in ones."""

    def __init__(self, laid: Laid, held: Sequence[Step], rules: Mapping[str, Rule]) -> None:
        self.laid, self.held, self.rules = laid, held, rules
        self.at = {step.rule: n for n, step in reversed(tuple(enumerate(held)))}
        self.phases = [PHASES.index(self._effect(step.rule).phase) for step in held]

    def _effect(self, rule: str) -> effects.Step:
        return self.rules[rule].gives(effects.Step)[0]

    def among(self, more: Sequence[Step]) -> tuple[Step, ...]:
        """The built-in steps with these among them, which come in an order of their own."""
        places: dict[str, int] = {}
        for step in more:
            places[step.rule] = max(places.get(step.rule, 0), self._place(step, places, more))
        among = [step for step in more if places[step.rule] < len(self.held)]
        places |= {step.rule: len(self.held) for step in among[AMONG:]}
        found: list[Step] = []
        for n in range(len(self.held) + 1):
            found += [step for step in more if places[step.rule] == n]
            found += self.held[n : n + 1]
        return tuple(found)

    def _place(self, step: Step, places: Mapping[str, int], more: Sequence[Step]) -> int:
        """Before which built-in step it stands: never the first, behind all it is to come after,
        else by its phase.
        """
        effect = self._effect(step.rule)
        ahead = {*effect.after, *(s.rule for s in more if step.rule in self._effect(s.rule).before)}
        behind = [self.at[rule] + 1 for rule in ahead if rule in self.at]
        behind += [places[rule] for rule in ahead if rule in places]
        wanted = [self.at[rule] for rule in effect.before if rule in self.at]
        mine = PHASES.index(effect.phase)
        by_phase = max((n + 1 for n, phase in enumerate(self.phases) if phase <= mine), default=0)
        at = max(1, *behind, min((*wanted, by_phase)))
        for n in wanted:
            if n < at:
                self._late(step, self.held[n], self.held[at - 1])
        return at

    def _late(self, step: Step, wanted: Step, behind: Step) -> None:
        text = step.text.removeprefix(LOCAL_MARK)
        self.laid.of(
            f"The built-in order of steps stays: '{text}' was to stand before '{wanted.words}' and"
            f" stands after '{behind.words}'",
            wanted,
        )
