"""What to find out next: every open question with what each answer would lead to, found by running
it.
"""

from __future__ import annotations

from typing import NamedTuple

from advisor.decide.names import listed, option_name, split_id, stop_name
from advisor.explain.cone import Cone
from advisor.explain.nearest import confirm
from advisor.explain.targets import Target, state_of
from advisor.explain.thresholds import along, piece_words, points_of
from advisor.explain.variants import Candidates, change_of

ALL = Target("all", "", "")
RANKS = ("stop", "decision", "verdict", "alone nothing")


class Answer(NamedTuple):
    """One answer, or a run of answers with the same outcome: its words, a change that stands for
    it, and what it changes.
    """

    words: tuple
    change: object
    effects: tuple  # (rank, sentence), gravest first


class Question(NamedTuple):
    """An open question of an advice (its item) with the answers that were run; none where nothing
    of the kind is named yet.
    """

    item: dict
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


def questions(advisor, case, advice) -> list:
    """All open questions, those first whose answers reach furthest; every outcome shown is
    confirmed by both engines.
    """
    cone, candidates = Cone(advisor, case, ALL), Candidates(advisor.base)
    before = state_of(advisor.base, ALL, *cone.run())
    confirm(advisor, case, ALL, (), before)
    found = [
        Question(item, _answers(advisor, case, cone, candidates, before, item.fact))
        for item in advice.open_questions
    ]
    return [q for _, q in sorted(enumerate(found), key=lambda e: (e[1].rank, e[0]))]


def _answers(advisor, case, cone, candidates, before, identity) -> tuple:
    """The answers to one question, merged where they lead to the same outcome."""
    base, reference, merged = advisor.base, split_id(advisor.base, identity), {}
    if not reference or reference[0] not in cone.start.columns[reference[1]]:
        return ()
    for words, change, state in _runs(base, case, cone, candidates, *reference):
        merged.setdefault(state, []).append((words, change))
    for state, same in merged.items():
        confirm(advisor, case, ALL, (same[0][1],), state)
    answers = [
        Answer(tuple(w for w, _ in same), same[0][1], tuple(_effects(base, before, state)))
        for state, same in merged.items()
    ]
    return tuple(
        sorted(answers, key=lambda a: min((rank for rank, _ in a.effects), default=len(RANKS)))
    )


def _runs(base, case, cone, candidates, entity, key):
    """(words, change, outcome) of every answer; a number by the runs of values that come to the
    same.
    """
    attribute = base.vocabulary.attribute(key)
    if not attribute.is_number:
        fact = case.facts.get((entity, key))
        for value in candidates.values(attribute, None, cone.start):
            if fact and attribute.is_choice and not value & fact.value:
                continue  # a doubtful or double answer is settled within what was said
            change = change_of(base, attribute, entity, value)
            yield change.text, change, state_of(base, ALL, *cone.run((change,)))
        return
    low, high = cone.start.columns[key][entity]
    points = sorted({low, high, *(p for p in points_of(candidates, attribute) if low <= p <= high)})
    run = along(base, cone, ALL, entity, attribute, points)
    for number, piece in enumerate(run):
        yield (
            piece_words(attribute, run, number),
            change_of(base, attribute, entity, (piece.low, piece.low)),
            piece.state,
        )


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
