"""What to find out next: every open question with what each answer would lead to, found by running
it.
"""

from __future__ import annotations

from typing import NamedTuple

from advisor.decide.names import listed, option_name, split_id, stop_name
from advisor.explain.cone import Cone
from advisor.explain.grouping import MORE
from advisor.explain.nearest import confirm
from advisor.explain.targets import Target, state_of
from advisor.explain.thresholds import along, told_pieces
from advisor.explain.values import Values
from advisor.explain.variants import change_of
from advisor.facts.vocabulary import AT_HOME
from advisor.model import advice
from advisor.progress import STOPPED, Watch
from advisor.words import CHECKS_BESIDES

ALL = Target("all", "", "")
MOST = 10  # questions told at once
RANKS = ("stop", "decision", "verdict", "alone nothing")


class Answer(NamedTuple):
    """One answer, or a run of answers with the same outcome: its words, a change that stands for
    it, and what it changes.
    """

    words: tuple
    change: object
    effects: tuple  # (rank, sentence), gravest first
    state: object = None  # what all comes to with it

    @property
    def rank(self) -> int:
        """Place in RANKS of its gravest effect, past the end where it has none."""
        return min((rank for rank, _ in self.effects), default=len(RANKS))


class Question(NamedTuple):
    """An open question of an advice (its item) with the answers that were run; none where nothing
    of the kind is named yet.
    """

    item: advice.Question
    answers: tuple

    @property
    def rank(self) -> int:
        """Place in RANKS of the gravest outcome that some answer leads to."""
        graves = [rank for a in self.answers for rank, _ in a.effects]
        return (
            min(graves)
            if graves
            else (
                RANKS.index("stop")
                if not self.answers and self.item.gravity == "stop"
                else len(RANKS) - 1
            )
        )


def questions(run, watch=None, most=None) -> list:
    """The open questions, those first whose answers reach furthest; what each comes to is run
    again with both engines. KeyboardInterrupt ends it early with those done so far. With `most`
    it ends at so many that lead to a stop, for nothing comes before these, and only so many are
    run again.
    """
    watch, search, found = watch or Watch(), _Answers(run), []
    items = run.advice.open_questions
    try:
        for done, item in enumerate(items):
            watch(done, len(items), "questions")
            found.append(Question(item, search.to(item.fact)))
            if most and sum(not q.rank for q in found) == most:
                break
    except KeyboardInterrupt:
        watch.stop()
    found = [q for _, q in sorted(enumerate(found), key=lambda e: (e[1].rank, e[0]))]
    return found if _sure(run, found[:most], watch) else []


def _sure(run, found, watch) -> bool:
    """Whether all that is to be shown was run again with both engines; no, where broken off."""
    try:
        for answer in (a for question in found for a in question.answers):
            confirm(run, ALL, (answer.change,), answer.state)
    except KeyboardInterrupt:
        watch.stop()
        return False
    return True


class _Answers:
    """Runs the answers to the open questions of a run."""

    def __init__(self, run):
        self.run, self.base, self.values = run, run.base, Values(run.base)
        self.cone = Cone(run.advisor, run.case, ALL)
        self.before = state_of(self.base, ALL, *self.cone.run())
        confirm(run, ALL, (), self.before)

    def to(self, identity) -> tuple:
        """The answers to one question, merged where they lead to the same outcome."""
        reference = split_id(self.base, identity)
        merged: dict = {}
        if not reference or reference[0] not in self.cone.start.columns[reference[1]]:
            return ()
        for words, change, state in self._runs(*reference):
            merged.setdefault(state, []).append((words, change))
        answers = []
        for state, same in merged.items():
            words, changes = zip(*same)
            effects = tuple(_effects(self.base, self.before, state))
            answers.append(Answer(words, changes[0], effects, state))
        return tuple(sorted(answers, key=lambda answer: answer.rank))

    def _runs(self, entity, key):
        """(words, change, outcome) of every answer; a number by the runs of values that come to
        the same.
        """
        attribute = self.base.vocabulary.attribute(key)
        if attribute.is_number:
            yield from self._number(entity, attribute)
            return
        fact = self.run.case.facts.get((entity, key))
        for value in self.values.settling(attribute, fact, self.cone.start):
            change = change_of(self.base, attribute, entity, value)
            yield change.text, change, state_of(self.base, ALL, *self.cone.run((change,)))

    def _number(self, entity, attribute):
        low, high = self.cone.start.columns[attribute.key][entity]
        within = (p for p in self.values.along(attribute) if low <= p <= high)
        points = sorted({low, high, *within})
        pieces = along(self.base, self.cone, ALL, entity, attribute, points)
        scale = self.values.scale(attribute, self.run.case.facts.get((entity, attribute.key)))
        for piece, words in zip(pieces, told_pieces(scale, pieces)):
            change = change_of(self.base, attribute, entity, (piece.low, piece.low))
            yield words, change, piece.state


def _effects(base, before, now):
    """(rank, sentence) of every difference between two outcomes."""
    yield from ((0, f"stop: {stop_name(base, i)}") for i in sorted(now[0] - before[0]))
    yield from ((0, f"no longer a stop: {stop_name(base, i)}") for i in sorted(before[0] - now[0]))
    for rank, old, new in ((1, dict(before[1]), dict(now[1])), (2, dict(before[2]), dict(now[2]))):
        for name in sorted({*old, *new}):
            if old.get(name) != new.get(name):
                yield rank, f"{name}: {_told(base, old.get(name))} -> {_told(base, new.get(name))}"


def _told(base, state) -> str:
    return (
        "no verdict"
        if state is None
        else (
            listed((option_name(base, o) for o in state), "or")
            if isinstance(state, tuple)
            else state
        )
    )


def told_question(number: int, question, most: int = 8) -> list:
    """One question as lines."""
    item = question.item
    lines = [f"{number}. {item.text}"]
    for answer in question.answers:
        if answer.effects:
            effects = [text for _, text in answer.effects]
            more = f" (and {len(effects) - most} more)" if len(effects) > most else ""
            lines.append(f"  - {_words(answer.words)}: {'; '.join(effects[:most])}{more}")
    silent = [w for a in question.answers if not a.effects for w in a.words]
    if len(lines) > 1 and silent:
        lines.append(f"  - {_words(silent)}: nothing changes yet")
    return lines if len(lines) > 1 else [*lines, f"  - {_alone(question)}: {item.could[0]}"]


def _alone(question) -> str:
    """What an answer decides where none, by itself, changes a stop, a decision or a verdict."""
    if not question.answers:
        return "until then"
    gravity = question.item.gravity
    return (
        f"no answer by itself is enough; with others, a {gravity}"
        if gravity in RANKS
        else f"no stop, decision or verdict turns on it by itself; it decides a {gravity}"
    )


def _words(words) -> str:
    words = list(words)
    return listed(words if len(words) < 8 else [*words[:6], f"{len(words) - 6} others"], "or")


def find_out(run, everything=False, watch=None) -> list:
    """The open questions, those first whose answers reach furthest, with what each answer would
    lead to.
    """
    watch = watch or Watch()
    found = questions(run, watch, None if everything else MOST)
    checks, asked = len(run.advice.checks), len(run.advice.open_questions)
    later = checks and run.advice.moment == AT_HOME
    besides = [CHECKS_BESIDES.format(n=checks)] if later else []
    if watch.stopped:
        besides.append(f"{STOPPED}: {len(found)} of {asked} questions were tried.")
    if not found:
        return besides or ["Nothing is open on these facts."]
    shown = found if everything else found[:MOST]
    lines = ["Find out next, the gravest outcome first; each answer was tried by itself:"]
    for number, question in enumerate(shown, 1):
        lines += told_question(number, question)
    more = [MORE.format(n=asked - len(shown))] if len(shown) < asked else []
    return [*lines, *more, *besides]
