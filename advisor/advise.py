"""The whole way from a case to its advice: one world, all engines at hand, one answer."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec.structs import replace

from advisor.decide import advice as writing
from advisor.decide.assumed import assumed, looked_ahead, taken_as_known, without_assumed
from advisor.decide.checks import held, if_held
from advisor.decide.doubt import as_said, contradicted, doubted, grave
from advisor.decide.from_plan import with_plan
from advisor.decide.run import run
from advisor.engine.made import Made, made, make
from advisor.engine.plain import PlainEngine
from advisor.engine.rete import ReteEngine, available
from advisor.facts.settle import settle
from advisor.facts.vocabulary import AT_HOME, AT_THE_HEAD
from advisor.facts.world import World
from advisor.faults import Disagreement
from advisor.load.cache import load_base
from advisor.load.folder import find_folder
from advisor.model.advice import NOT_YET, STOPPED, Advice
from advisor.model.outcome import Choice, Outcome

if TYPE_CHECKING:
    from advisor.load.case import Case


class Run(Struct, frozen=True):
    """A case that was run: by whom, what the strata concluded, how each decision was made, and the
    advice that tells of it.
    """

    advisor: Advisor
    case: Case
    outcome: Outcome
    choices: dict[str, Choice]
    advice: Advice

    @property
    def base(self):
        """The rule base it was run on."""
        return self.advisor.base


class Advisor:
    """A loaded rule base with its engines. Stateless between calls to `advise`."""

    def __init__(self, folder=None, local_file=None):
        self.base, stored = load_base(folder or find_folder("rules"), make)
        ready = made(stored)
        self.local = self.built_in = None
        if local_file is not None:
            from advisor.load.local import over_base, read_local

            self.local, self.built_in = read_local(local_file, self.base), Advisor(folder)
            self.base, ready = over_base(self.base, self.local), Made((), {})
        under = self.built_in.plain if self.built_in else None
        self.plain = PlainEngine(self.base.rules, self.base.strata, ready.code, under)
        self.engines = [self.plain]
        if available():
            base = self.base
            self.engines.append(ReteEngine(base.rules, base.strata, base.vocabulary, ready.batches))

    def world(self, case) -> World:
        """The world of a case's facts."""
        return self._of(case, with_plan(self.base.vocabulary, case).facts)

    def _of(self, case, facts) -> World:
        """The world of a case's names and some facts."""
        world = World(self.base.vocabulary, case.names)
        for fact in facts.values():
            world.state(fact)
        settle(self.base.vocabulary, world)
        return world

    def run(self, case, engines=None):
        """(outcome, choices) of a case; raises Disagreement when the engines differ."""
        try:
            return self._run(case, engines or self.engines)
        except Disagreement as error:
            error.facts = [[f.entity, f.key, f.text, f.said_by] for f in case.facts.values()]
            raise

    def _run(self, case, engines):
        """One run; a second where a value is doubtful or facts contradict each other: what is
        grave on the facts as they were said stays sure.
        """
        topics, facts = frozenset(case.topics), with_plan(self.base.vocabulary, case).facts
        said = as_said(facts)
        outcome, choices = run(self.base, engines, self._of(case, said or facts), topics)
        against = contradicted(self.base, outcome)
        if not said and not against:
            return outcome, choices
        facts = doubted(self.base.vocabulary, facts, against)
        held = grave(self.base, outcome.instances)
        again, choices = run(self.base, engines, self._of(case, facts), topics, held)
        return replace(again, against=outcome if against else None), choices

    def tell(self, case, outcome, choices) -> Advice:
        """The advice of a run; what is assumed counts only as far as what is known bears it, and
        local guidance only as far as what is built in does.
        """
        advice = self._ahead(case, outcome, choices)
        if self.local is None:
            return advice
        from advisor.decide.local import also_departs, hold

        built_in = self.built_in.advise(self._as_stated(case))
        advice, known = (
            hold(built_in, advice, self.local, self.built_in.base, case),
            self.known(case),
        )
        return advice if known is None else also_departs(self.advise(known), advice)

    def _ahead(self, case, outcome, choices) -> Advice:
        """The advice by these rules, with what is assumed."""
        advice, known = self._held(case, outcome, choices), self.known(case)
        if known is None:
            return advice
        without = self._held(known, *self.run(known))
        return looked_ahead(without, advice, assumed(self._as_stated(case)))

    def known(self, case):
        """The case on what is known alone; None where nothing is assumed."""
        stated = self._as_stated(case)
        return self.under_local(without_assumed(stated)) if assumed(stated) else None

    def as_given(self, case):
        """The case with what is assumed taken as known."""
        return self.under_local(taken_as_known(self._as_stated(case)))

    def _held(self, case, outcome, choices) -> Advice:
        """The advice of a run by the rules alone, with what it is if all checks hold."""
        advice = self._tell(case, outcome, choices)
        if advice.checks and advice.moment == AT_HOME:
            ahead = held(self.base.vocabulary, case, advice.checks)
            outcome, choices = self.run(ahead, [self.plain])
            held_back = advice.decisions["go"].choice in (STOPPED, NOT_YET)
            advice = if_held(
                advice,
                writing.decided(self.base, outcome, choices)
                if held_back
                else self._tell(ahead, outcome, choices).decisions,
            )
        return advice

    def _as_stated(self, case):
        """A case as it was before local guidance was laid over it."""
        if self.local is None:
            return case
        from advisor.load.local import as_stated

        return as_stated(case)

    def stated(self, case) -> Run:
        """The run of the built-in rules alone, on a case as it was stated."""
        return (self.built_in or self).answer(self._as_stated(case))

    def _tell(self, case, outcome, choices) -> Advice:
        """The advice of a run by the rules alone."""
        engines = [engine.name for engine in self.engines]
        told = with_plan(self.base.vocabulary, case)
        return writing.tell(self.base, told, outcome, choices, engines)

    def read(self, path, settings=(), at=AT_THE_HEAD, assumed=(), cards=None):
        """The case in a file, with settings, what is assumed, what the cards it names say, and
        what local guidance lays down; asked about at a moment.
        """
        from advisor.load.case import read_case

        case = read_case(path, self.base, settings, assumed, cards)
        return self.under_local(replace(case, at=at))

    def under_local(self, case):
        """A case with what local guidance lays down for it."""
        if self.local is None:
            return case
        from advisor.load.local import over_case

        return over_case(self.base, case, self.local)

    def answer(self, case) -> Run:
        """Run a case, and keep all that came of it."""
        outcome, choices = self.run(case)
        return Run(self, case, outcome, choices, self.tell(case, outcome, choices))

    def advise(self, case) -> Advice:
        """Run a case and tell its advice."""
        return self.answer(case).advice
