"""The questions on one screen."""

from __future__ import annotations

from advisor.model.advice import LOCAL_MARK, Advice, Question
from advisor.model.base import Base
from advisor.papers.one_screen.filling import NOT_KNOWN
from advisor.papers.one_screen.fit import ASKED, FIRST_ASKED, RIG, Piece, Section
from advisor.words import SCREEN

QUESTIONS = 4
KEPT = 3  # of them, before the order of people is told
KEPT_HELD = 2  # and where something must be put right, before the reasons for that
NAMED = 8  # of the others, by their names only
TURNING = ("stop", "first", "decision", "verdict", "step")  # gravities that turn an answer


def ranked(base: Base, advice: Advice) -> list[list[Question]]:
    """The questions that could change the answer, those of a kind together: what could forbid it
    before the rest, life before paper, then as a colleague asks; of what is left, what turns on
    something told before what is asked of anyone.
    """
    grave, paper = frozenset(q.id for q in advice.blocking), base.screen.paper_facts
    order = {key: n for n, key in enumerate(base.screen.ask_first)}
    stated = {f.id for f in advice.facts if not f.concluded and f.value != NOT_KNOWN}
    turn_on = {d.id: frozenset(d.facts) for d in advice.derivations}
    kinds: dict[str, list[Question]] = {}
    said = _said(advice, stated)
    for question in (q for q in advice.open_questions if q.gravity in TURNING):
        if question.fact in said:
            continue
        kinds.setdefault(question.fact.rpartition(".")[2], []).append(question)

    def open_beside(question: Question) -> int:
        """How many open facts it turns on, where it also turns on one stated; else very many."""
        facts = turn_on.get(question.derivation, frozenset())
        return len(facts - stated) if facts & stated else len(turn_on)

    def rank(kind: str) -> tuple[bool, bool, bool, int, int]:
        questions = kinds[kind]
        places = [order.get(base.vocabulary.key_of(q.fact), len(order)) for q in questions]
        return (
            not any(q.id in grave for q in questions),
            all(q.local for q in questions),
            kind in paper,
            min(places),
            min(map(open_beside, questions)),
        )

    return [kinds[kind] for kind in sorted(kinds, key=rank)]


def _said(advice: Advice, stated: set[str]) -> frozenset[str]:
    """The open facts that what is to be done first rests on: doing it answers them."""
    rests = {d.id: d.facts for d in advice.derivations}
    first = (item for item in advice.first if not item.local)
    return frozenset(f for item in first for f in rests.get(item.derivation, ())) - stated


def asked(base: Base, advice: Advice, number: int = QUESTIONS, kept: int = KEPT) -> Section:
    """The first questions, one of a kind; the first of them are `kept` longest."""
    pieces = (
        Piece(
            like(alike[0].text, len(alike) - 1),
            FIRST_ASKED if n < kept else ASKED,
            local=bool(advice.response) and alike[0].text.startswith(LOCAL_MARK),
        )
        for n, alike in enumerate(ranked(base, advice)[:number])
    )
    return Section(SCREEN["find"], tuple(pieces), numbered=True)


def asked_too(base: Base, advice: Advice, rank: int = RIG) -> Section:
    """By name what else could forbid a plan, after the questions that are asked first; the names
    of a `rank`.
    """
    grave = frozenset(q.id for q in advice.blocking)
    rest = ranked(base, advice)[KEPT:]
    more = [[q.fact for q in alike if q.id in grave] for alike in rest]
    kinds = [facts[0] for facts in more if facts]
    if not kinds:
        return Section("", ())
    number = SCREEN["more asked"].format(n=sum(map(len, more)))
    names = SCREEN["such as"].format(names=_names(kinds))
    pieces = (Piece(number, FIRST_ASKED, name=SCREEN["asked too"]), Piece(names, rank, on=True))
    return Section("", pieces)


def _names(facts: list[str]) -> str:
    """What facts are called, thing by thing, as many as are read at a glance."""
    things: dict[str, list[str]] = {}
    for fact in facts[:NAMED]:
        thing, _, name = fact.rpartition(".")
        things.setdefault(thing, []).append(name)
    names = "; ".join(f"{thing}: {', '.join(said)}" for thing, said in things.items())
    return SCREEN["and so on"].format(names=names) if len(facts) > NAMED else f"{names}."


def first_open(base: Base, advice: Advice) -> str:
    """The question asked first of those without whose answer nothing is clear."""
    grave = frozenset(q.id for q in advice.blocking)
    return next(q.text for alike in ranked(base, advice) for q in alike if q.id in grave)


def like(text: str, more: int) -> str:
    """A text, and how many `more` say the same of other things."""
    return SCREEN["more like it"].format(text=text, n=more) if more else text
