"""Pieces examined and written down: who examines them, the walk, the verdict, what follows."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from advisor.faults import Fault, Faults, Place
from advisor.model.advice import Advice
from advisor.records.card import EXAMINED, Card, card_at
from advisor.records.desk import KIT, Desk
from advisor.records.entry import Entry
from advisor.records.examine import BrokenOff, ask_open, examined
from advisor.records.verdict import FIT, advice_on, takes_out, verdict

INSPECTED, SET_ASIDE = "inspected", "set aside"  # events of rules/records.yaml
NOT_YET_KEPT = 2**40  # the number of an entry that is only tried
FEW = 4  # questions told

Ask = Callable[[str], str]  # shows a line and gives what is typed


class Examiner(Struct, frozen=True):
    """Who examines: initials, and what makes them competent, '' where that is not claimed."""

    by: str
    competence: str

    @property
    def event(self) -> str:
        """What this makes of it: an examination only by whom it is said that they may."""
        return EXAMINED if self.competence else INSPECTED


def sit(
    desk: Desk, marks: list[str], examiner: Examiner, ask: Ask, tell: Callable[[str], None]
) -> bool:
    """One piece after the other; what was finished is kept where the next is broken off. Gives
    whether all are fit for use; raises Faults.
    """
    if not examiner.by:
        raise Faults([Fault(Place("--by"), "say who examines: --by and your initials.")])
    cards, desk = [_to_examine(desk, mark) for mark in marks], replace(desk, by=examiner.by)
    words, keys = list[str](), 0
    for card in cards:
        if len(cards) > 1:
            tell(f"{card.mark}, {card.type}:")
        try:
            word, typed = _one(desk, card, examiner, ask, tell)
        except BrokenOff:
            text = (
                "broken off before the last point: nothing is kept of it, and it is not examined."
            )
            raise Faults([Fault(Place(card.mark), text)]) from None
        words.append(word)
        keys += typed
    if len(cards) > 1:
        for card, word in zip(cards, words):
            tell(f"{card.mark}: {word.upper()}")
        tell(f"{keys} keys.")
    return set(words) <= set(FIT)


def _to_examine(desk: Desk, mark: str) -> Card:
    card = desk.card(mark, KIT)
    last = card.final
    if last:
        text = f"it was {last.what} on {last.on}; there is nothing to examine."
        raise Faults([Fault(Place(mark), text)])
    return card


def _one(
    desk: Desk, card: Card, examiner: Examiner, ask: Ask, tell: Callable[[str], None]
) -> tuple[str, int]:
    """(the verdict on a piece gone through and written down, how many keys that took)"""
    walk = desk.layout.walk_of(card.type)
    seen = examined(card, walk, desk.advisor.base.vocabulary, ask, tell)
    ask_open(_trial(desk, card.mark, examiner, seen.body), desk, card, seen, ask)
    advice = _trial(desk, card.mark, examiner, seen.body)
    word = verdict(advice)
    body = {**seen.body, "verdict": word}
    body |= {"competence": examiner.competence} if examiner.competence else {}
    out = takes_out(desk.advisor, word)
    follows = {SET_ASIDE: f"by the rules: {word}"} if out else {}
    desk.examined(card.mark, examiner.event, body, follows)
    tell(f"{card.mark}: {word.upper()}.")
    for line in _reasons(advice, word):
        tell(line)
    if out:
        tell("It is set aside on its card until it is examined again; 'kit retire' ends its life.")
    if examiner.event == INSPECTED:
        tell("Kept as a look before use: an examination is by who says --competence.")
    tell(f"Kept. {seen.typed} keys.")
    return word, seen.typed


def _trial(desk: Desk, mark: str, examiner: Examiner, body: dict[str, Any]) -> Advice:
    """The advice as it would be with this examination."""
    entry = Entry(mark, examiner.event, desk.today.isoformat(), body, number=NOT_YET_KEPT)
    entries = [*desk.store.entries(mark), entry]
    then = card_at(entries, desk.today, desk.layout, desk.advisor.base.vocabulary)
    assert then is not None
    return advice_on(desk.advisor, then)


def _reasons(advice: Advice, word: str) -> list[str]:
    """Why, of the piece and of each part of it, and what is not known."""
    lines = []
    for item in advice.items:
        part = item.id.partition(",")[2].strip()
        if part:
            lines.append(f"  {part}: {item.verdict.upper()}")
        if item.verdict != "keep":
            lines += [f"  - {ground.said}: {ground.because}" for ground in item.grounds]
    open_yet = [f"  - {question.text}" for question in advice.blocking]
    if word not in FIT and open_yet:
        lines += ["Not known, and each could change it:", *open_yet[:FEW]]
    return lines
