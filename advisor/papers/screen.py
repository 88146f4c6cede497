"""The answer on one screen: the verdict with its reasons from this plan, the rig, the people, the
standing drill, the times, what to find out. Everything else is left to the whole paper.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import accumulate

from advisor.decide.sequence import PHASES
from advisor.model.advice import Advice, Item, KitVerdict, Question, Response, Step
from advisor.model.base import Base
from advisor.model.effects import Step as StepEffect
from advisor.model.layout import Row
from advisor.model.names import METHOD
from advisor.papers.blocks import Heading, Para
from advisor.papers.filling import NOT_KNOWN, Filling
from advisor.papers.fit import ALWAYS, Fitted, Piece, Section, fitted
from advisor.papers.news import news, sentence
from advisor.papers.outline import UNTITLED, headline, leading, sequence, worst_first
from advisor.screen import clean, fitting, welcome_colour
from advisor.words import (
    CALL_IF,
    DOORS,
    FIRST_WORDS,
    HEADLINES,
    ONE_ENGINE,
    OR_CALL_IF,
    SCREEN,
    SECTIONS,
    Doors,
)

REASONS, QUESTIONS = 3, 4
# Ranks of what may be left out; the highest goes first.
GRAVE, FIRST_ASKED, RIG, PEOPLE, ASKED, WHY, LESS, LEAST = 1, 2, 3, 4, 5, 6, 8, 9


def shown(base: Base, advice: Advice, width: int | None = None, colour: bool | None = None) -> str:
    """The answer on one screen of the terminal."""
    colour = welcome_colour() if colour is None else colour
    return screen(base, advice, width).written(width, colour)


def screen(base: Base, advice: Advice, width: int | None = None, doors: Doors = DOORS) -> Fitted:
    """The answer fitted to a screen."""
    made = _Screen(base, advice, doors)
    if advice.response:
        sections = made.incident()
    elif "plan" in advice.about:
        sections = made.plan()
    else:
        sections = made.kit()
    width = fitting(width)
    title = Heading(1, _one_row(advice.case or UNTITLED, width))
    return fitted((title, Para(made.verdict(), True)), sections, width, made.foot())


def _one_row(text: str, width: int) -> str:
    """A text cut to one row."""
    text = clean(text)
    return text if len(text) <= width else f"{text[: width - 1].rstrip()}…"


class _Screen:
    """The sections of one answer."""

    def __init__(self, base: Base, advice: Advice, doors: Doors) -> None:
        self.base, self.advice, self.doors = base, advice, doors
        self.filling = Filling(base, advice)
        self.news = news(base, advice)
        self.topics = {rule.id: rule.topic for rule in base.rules}
        self.rules = {d.id: d.rule for d in advice.derivations}
        self.turn_on = {d.id: d.facts for d in advice.derivations}
        self.stated = {f.id for f in advice.facts if not f.concluded and f.value != NOT_KNOWN}

    # The verdict

    def verdict(self) -> str:
        """The first word on the whole."""
        advice = self.advice
        if advice.response or advice.stops or advice.contradictions or advice.first:
            return headline(advice)
        if "plan" not in advice.about:
            return self._kit_verdict() if advice.items else headline(advice)
        method = advice.decisions.get(METHOD)
        if method and method.chosen and not self._by_ladder():
            return FIRST_WORDS["not by ladder"].format(choice=method.words())
        if advice.blocking:
            return FIRST_WORDS["not yet"].format(n=len(advice.blocking))
        return headline(advice)

    def _kit_verdict(self) -> str:
        items = worst_first(self.advice.items)
        words = FIRST_WORDS["kit" if len(items) == 1 else "kits"]
        return words.format(n=len(items), item=items[0].item, verdict=items[0].verdict.upper())

    def _by_ladder(self) -> bool:
        """Whether a ladder is rigged for the way down that was chosen, or for one of the equal."""
        method = self.advice.decisions.get(METHOD)
        return bool(method and set(method.chosen) & set(self.base.screen.rigged))

    # A plan

    def plan(self) -> Iterator[Section]:
        """The sections of a plan."""
        stands = self._rig_stands()
        reasons, others = self._reasons(stands)
        yield self._see()
        yield replace(reasons, title=SCREEN["also"]) if self._only_checks() else reasons
        if stands:
            yield Section(
                SCREEN["rig then" if self.advice.stops else "rig"],
                (*self._rows(self.base.screen.rig, RIG), *self._kit_in_use()),
            )
            yield Section(SCREEN["people"], self._rows(self.base.screen.people, PEOPLE))
            yield Section(SCREEN["also"], others)
            yield Section(SCREEN["drill"], self._rows(self.base.screen.drill, RIG))
            yield Section("", self._times())
        yield self._find()
        yield self._checks()

    def _see(self) -> Section:
        """What must be seen at the head, where nothing else is open and the verdict leads to it."""
        rest = SCREEN["more checks"].format(n="{n}", all=self.doors.all)
        pieces = (Piece(check.text, WHY) for check in self.advice.checks)
        return Section("", tuple(pieces) if self._only_checks() else (), rest=rest)

    def _checks(self) -> Section:
        """How many things are to be seen at the head."""
        told = self.advice.checks and not self._only_checks()
        said = self.doors.checks.format(n=len(self.advice.checks))
        return Section("", (Piece(said, name=SCREEN["checks"]),) if told else ())

    def _only_checks(self) -> bool:
        return self.verdict() == HEADLINES["checks"]

    def _reasons(self, rigged: bool) -> tuple[Section, tuple[Piece, ...]]:
        """(what stands in the way and what stands out here, the rest of what stands out). Of a
        plan that is not `rigged`, nothing stands out that could be re-rigged.
        """
        advice, pieces, said = self.advice, list[Piece](), set[str]()
        for items, rank in (
            (advice.stops, ALWAYS),
            (advice.contradictions, GRAVE),
            (advice.first, GRAVE),
        ):
            for item in items:
                pieces += _reasoned(item.text, item.because, rank)
                said.add(item.rule)
        pieces += self._lost_ladder(said)
        left = [n for n in self.news if n.rule not in said and (rigged or self._first(n.rule))]
        left = left if self._by_ladder() else []
        free = max(0, REASONS - sum(not piece.on for piece in pieces))
        for new in left[:free]:
            pieces += _reasoned(new.text, new.because, GRAVE)
        return Section("", tuple(pieces), numbered=True), tuple(
            Piece(new.text, LEAST) for new in left[free:]
        )

    def _lost_ladder(self, said: set[str]) -> list[Piece]:
        """Why it is not done by ladder, where it is not and no rule has `said` so: in the words of
        the rule, else of the decision.
        """
        method = self.advice.decisions.get(METHOD)
        if method is None or not method.chosen or self._by_ladder():
            return []
        found = list[Piece]()
        for lost in method.alternatives:
            rules = {self.rules.get(derivation) for derivation in lost.derivations}
            if lost.option in self.base.screen.rigged and said.isdisjoint(rules):
                lines = [w for w in self.advice.warnings if w.derivation in lost.derivations]
                found += [p for w in lines for p in _reasoned(w.text, w.because, GRAVE)] or [
                    Piece(SCREEN["not ladder"].format(because=lost.lost_because), GRAVE)
                ]
        return found

    def _first(self, rule: str) -> bool:
        """Whether a rule is about what can take the whole group."""
        return self.topics.get(rule) in self.base.told_first

    def _rig_stands(self) -> bool:
        """Whether the rig is told as the plan: it is by ladder, and what stops it can be
        re-rigged.
        """
        return self._by_ladder() and not any(self._first(stop.rule) for stop in self.advice.stops)

    def _rows(self, rows: Sequence[Row], rank: int) -> tuple[Piece, ...]:
        """Named rows of what is known."""
        given = {line.rule for line in self.advice.requirements}
        found: dict[str, str] = {}
        for row in rows:
            said = self.filling.said(row.say) if given.issuperset(row.given) else ""
            if said:
                found.setdefault(row.name, said)
        return tuple(Piece(said, rank, name=name) for name, said in found.items())

    def _kit_in_use(self) -> Iterator[Piece]:
        """Verdicts on the kit of a plan that are settled and ask for something."""
        stopped = " ".join(stop.text for stop in self.advice.stops)
        for item in worst_first(self.advice.items):
            if item.standing == "firm" and item.verdict != "keep" and item.item not in stopped:
                yield Piece(f"{item.item}: {item.verdict.upper()}.", LESS)

    def _times(self) -> tuple[Piece, ...]:
        said = self.filling.said(self.base.screen.times)
        return (Piece(said, RIG, name=SCREEN["times"]),) if said else ()

    def _find(self) -> Section:
        """The questions that could change the answer: what could forbid it before the rest, life
        before paper, what was told before what is asked of any plan, one of a kind.
        """
        grave, paper = leading(self.advice), self.base.screen.paper_facts
        kinds: dict[str, list[Question]] = {}
        for question in self.advice.open_questions:
            kinds.setdefault(question.fact.rpartition(".")[2], []).append(question)

        def rank(kind: str) -> tuple[bool, bool, int]:
            asked = kinds[kind]
            return (
                not any(q in grave for q in asked),
                kind in paper,
                min(map(self._open_beside, asked)),
            )

        pieces = (
            Piece(_like(kinds[kind]), ASKED if n else FIRST_ASKED)
            for n, kind in enumerate(sorted(kinds, key=rank)[:QUESTIONS])
        )
        return Section(SCREEN["find"], tuple(pieces), numbered=True)

    def _open_beside(self, question: Question) -> int:
        """How many facts a question turns on are open, where one was stated; else very many."""
        facts = self.turn_on.get(question.derivation, ())
        return (
            len(set(facts) - self.stated) if self.stated.intersection(facts) else len(self.turn_on)
        )

    # Kit

    def kit(self) -> Iterator[Section]:
        """The sections of an answer about kit: verdicts with their reasons, what to do."""
        advice, told = self.advice, set[str]()
        pieces = list[Piece]()
        for stop in advice.stops:
            items = [i for i in advice.items if stop.id == f"out of use: {i.id}"]
            told |= {item.id for item in items}
            reasons = [r for item in items for r in item.reasons]
            pieces.append(Piece(stop.text))
            pieces += _grounds(reasons) if reasons else [Piece(stop.because, RIG, on=True)]
        yield Section("", tuple(pieces), numbered=True)
        rest = [item for item in worst_first(advice.items) if item.id not in told]
        single = len(advice.items) == 1 and not advice.stops
        yield Section("" if single else SCREEN["kit"], tuple(_verdicts(rest, single)))
        yield Section(SCREEN["do"], self._do())
        yield self._find()

    def _do(self) -> tuple[Piece, ...]:
        """What must and should be done with the kit, life before paper."""
        advice, paper = self.advice, self.base.screen.paper_topics
        lines: list[Item] = [*advice.first, *advice.must("must"), *advice.warnings]
        lines += advice.must("should")
        lines.sort(key=lambda line: self.topics.get(line.rule) in paper)
        return tuple(
            Piece(text, RIG if n < REASONS else LESS)
            for n, text in enumerate(dict.fromkeys(line.text for line in lines))
        )

    # An incident

    def incident(self) -> Iterator[Section]:
        """Calls, what not to do, steps; what stands in the way of a plan only below them."""
        phases = {
            rule.id: effect.phase
            for rule in self.base.rules
            for effect in rule.effects
            if isinstance(effect, StepEffect)
        }
        answer = self.advice.response
        if answer is None:
            return
        calls, do_not, steps = sequence(answer)
        yield Section(SECTIONS[calls.name], (*_calls(answer), *_pieces(answer.say)))
        yield Section(SECTIONS[do_not.name], _pieces(do_not.steps))
        ranks = _step_ranks(steps.steps, phases)
        yield Section(
            SECTIONS[steps.name],
            tuple(Piece(step.words, rank) for step, rank in zip(steps.steps, ranks)),
            True,
            SCREEN["more steps"].format(n="{n}", all=self.doors.all),
        )
        stops = tuple(Piece(stop.text) for stop in self.advice.stops)
        yield Section(SCREEN["stops"], stops, numbered=True)
        danger = (w.text for w in self.advice.warnings if w.severity == "danger")
        yield Section(SECTIONS["warnings"], tuple(Piece(text, LESS) for text in danger))
        asked = self._find()
        yield Section(asked.title, tuple(Piece(p.text, LEAST) for p in asked.pieces), True)

    # The foot

    def foot(self) -> tuple[Para, ...]:
        """What was left out, the cautions in short, and the ways to more."""
        advice = self.advice
        lines = [ONE_ENGINE] if len(advice.checked_by) < 2 else []
        if advice.local:
            lines.append(
                SCREEN["local"].format(title=advice.local.title, n=len(advice.local.departures))
            )
        layout = self.base.screen
        last = (
            (layout.caution_in_need, self.doors.more_in_need)
            if advice.response
            else (layout.caution, self.doors.more)
        )
        return tuple(map(Para, (*lines, " ".join(last))))


def _reasoned(text: str, because: str, rank: int) -> list[Piece]:
    return [Piece(sentence(text), rank), Piece(because, WHY, on=True)]


def _like(questions: list[Question]) -> str:
    """A question, and how many more ask the same of other things."""
    first, more = questions[0].text, len(questions) - 1
    return SCREEN["more like it"].format(text=first, n=more) if more else first


def _verdicts(items: Sequence[KitVerdict], single: bool) -> Iterator[Piece]:
    """Verdicts with their reasons; of a single piece the verdict was said."""
    for n, item in enumerate(items):
        rank = RIG if n < REASONS else ASKED
        if not single:
            yield Piece(f"{item.item}: {item.verdict.upper()}.", rank)
        yield from _grounds(item.reasons, on=not single)


def _grounds(reasons: Sequence[Item], on: bool = True) -> list[Piece]:
    """The first reasons of a verdict."""
    texts = dict.fromkeys(f"{r.text.rstrip('.')}. {r.because}" for r in reasons)
    return [Piece(text, RIG if n == 0 else LESS, on) for n, text in enumerate(texts)][:REASONS]


def _pieces(steps: Iterable[Step]) -> tuple[Piece, ...]:
    """What is sure is always told; what hangs on a condition may be left out at last."""
    return tuple(Piece(step.words, GRAVE if step.when else ALWAYS) for step in steps)


def _calls(answer: Response) -> Iterator[Piece]:
    """The calls that are due, then in one piece when else to call."""
    yield from _pieces(call for call in answer.calls if not call.when)
    later = [call.when for call in answer.calls if call.when]
    for n, when in enumerate(later):
        yield Piece((OR_CALL_IF if n else CALL_IF).format(when=when), GRAVE, on=n > 0)


def _step_ranks(steps: Sequence[Step], phases: dict[str, str]) -> list[int]:
    """Steps are cut from the end only: none goes before one that stands behind it."""
    own = [2 * PHASES.index(phases.get(step.rule, "")) for step in steps]
    return list(accumulate(reversed(own), min))[::-1]
