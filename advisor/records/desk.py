"""Where cards are worked at: the store, the rules and the day, and what is written down there."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING, Any

from msgspec import Struct
from msgspec.structs import replace

from advisor.facts.values import read_fact
from advisor.facts.vocabulary import Attribute
from advisor.faults import Fault, Faults, Place, did_you_mean
from advisor.load.folder import find_folder
from advisor.load.records import Layout, read_records
from advisor.model.names import KIT_TYPE
from advisor.records.card import CARD, CORRECTED, TOLD, Card, as_counted, card_at
from advisor.records.dates import NotADate, read_date
from advisor.records.drawn import by_card, drawn
from advisor.records.entry import Entry, New
from advisor.records.laid import Cards
from advisor.records.store import Store
from advisor.records.verdict import passes

if TYPE_CHECKING:
    from advisor.advise import Advisor

LADDER = "ladder"  # a type of kit with facts of its own
KIT, PLACE = "kit", "place"


class Desk(Struct, frozen=True, dict=True):
    """The cards of one file on one day. `by`: initials of whoever writes."""

    advisor: Advisor
    store: Store
    today: date
    by: str = ""

    @cached_property
    def layout(self) -> Layout:
        return read_records(self.advisor.base.vocabulary, find_folder("rules"))

    @cached_property
    def cards(self) -> Cards:
        """The cards as a case takes them."""
        return Cards(
            self.store,
            self.today,
            self.layout,
            self.advisor.base.vocabulary,
            lambda card: passes(self.advisor, card),
        )

    def on(self, day: date) -> Desk:
        """The same desk on another day."""
        return replace(self, today=day)

    def day(self, text: str, *, ahead: bool = False, whole: bool = True) -> date:
        """A date as it was written, or the first of a `whole` month; today where nothing was.
        Raises Faults.
        """
        try:
            return read_date(text, self.today, ahead=ahead, whole=whole) if text else self.today
        except NotADate as error:
            raise Faults([Fault(Place("--on"), str(error))]) from None

    def card(self, mark: str, kind: str = "") -> Card:
        """A card by its mark; raises Faults where there is none, or none of the kind."""
        vocabulary = self.advisor.base.vocabulary
        card = card_at(self.store.entries(mark), self.today, self.layout, vocabulary)
        if card is None or (kind and card.kind != kind):
            begun = next((e.on for e in self.store.entries(mark)), "")
            if card is None and begun > self.today.isoformat():
                text = f"its card begins on {begun}; nothing is known of it before."
                raise Faults([Fault(Place(mark), text)])
            known = [c.mark for c in self.all(kind)]
            text = f"there is no {kind or 'such'} card on {self.today.isoformat()}."
            raise Faults([Fault(Place(mark), text + did_you_mean(mark, known))])
        return card

    def all(self, kind: str = "") -> list[Card]:
        """All cards, or those of a kind, by their marks: L2 before L10."""
        base = self.advisor.base
        whole = drawn(self.store, self.layout, base.vocabulary, base.sha256)
        if whole.latest > self.today.isoformat():  # some entries count on a later day only
            entries = by_card(self.store.entries())
            cards = [card_at(e, self.today, self.layout, base.vocabulary) for e in entries.values()]
        else:
            cards = [making.card(self.today) for making in whole.makings.values()]
        found = [card for card in cards if card and kind in ("", card.kind)]
        return sorted(found, key=lambda card: as_counted(card.mark))

    def begin(
        self, mark: str, kind: str, type_: str, facts: Mapping[str, str], dates: Mapping[str, date]
    ) -> list[Entry]:
        """Make a card; raises Faults where there is one of that mark."""
        if self.store.entries(mark):
            text = "there is a card of this mark already; 'change' adds to it."
            raise Faults([Fault(Place(mark), text)])
        body = self.body(kind, type_, facts, dates)
        return self.write([New(mark, CARD, self.today.isoformat(), body, self.by)])

    def body(
        self, kind: str, type_: str, facts: Mapping[str, str], dates: Mapping[str, date]
    ) -> dict[str, Any]:
        """What a new card is written down with; raises Faults for facts that cannot stand."""
        if kind == KIT:
            facts = facts if type_ == LADDER else {KIT_TYPE: type_, **facts}
        body = {"kind": kind, **self._told(kind, type_, facts), **_dates(dates)}
        return body | ({"type": type_} if kind == KIT else {})

    def tell(self, card: Card, facts: Mapping[str, str], dates: Mapping[str, date]) -> list[Entry]:
        """Add to a card what is known of it."""
        self._still_in_play(card)
        body = {**self._told(card.kind, card.type, facts), **_dates(dates)}
        return self.write([New(card.mark, TOLD, self.today.isoformat(), body, self.by)])

    def happened(
        self, marks: Iterable[str], names: Iterable[str], body: Mapping[str, object] = {}
    ) -> list[Entry]:
        """Write down what happened to pieces; all of it or, with Faults, nothing."""
        faults, on = list[Fault](), self.today.isoformat()
        known = list(self.layout.events)
        for name in names:
            if name not in known:
                near = did_you_mean(name, known)
                text = f"this is nothing that is noted; expected one of: {', '.join(known)}.{near}"
                faults.append(Fault(Place(name), text))
        for mark in marks:
            self._still_in_play(self.card(mark, KIT))
        if faults:
            raise Faults(faults)
        return self.write(
            [New(mark, name, on, dict(body), self.by) for mark in marks for name in names]
        )

    def examined(
        self, mark: str, name: str, body: Mapping[str, object], follows: Mapping[str, str]
    ) -> list[Entry]:
        """Write an examination and what follows from it ({event: reason}) down together, so that
        no failure between them leaves condemned kit in use.
        """
        self._still_in_play(self.card(mark, KIT))
        on = self.today.isoformat()
        after = [New(mark, event, on, {"reason": why}, self.by) for event, why in follows.items()]
        return self.write([New(mark, name, on, dict(body), self.by), *after])

    def _still_in_play(self, card: Card) -> None:
        last = card.final
        if last:
            says = self.layout.events[last.what].says
            text = (
                f"it was {says} on {last.on}; only a correction of entry {last.number} ends that."
            )
            raise Faults([Fault(Place(card.mark), text)])

    def correct(self, number: int, reason: str) -> list[Entry]:
        """Say that an entry is wrong: it no longer counts, and stays to be read."""
        entry = next((e for e in self.store.entries() if e.number == number), None)
        if entry is None or entry.what in (CARD, CORRECTED):
            text = "there is no such entry that could be corrected; 'history' shows the numbers."
            raise Faults([Fault(Place(str(number)), text)])
        body = {"entry": number, "reason": reason}
        return self.write([New(entry.card, CORRECTED, self.today.isoformat(), body, self.by)])

    def write(self, entries: list[New]) -> list[Entry]:
        """Write entries down together."""
        return self.store.add(entries)

    def _told(self, kind: str, type_: str, facts: Mapping[str, str]) -> dict[str, object]:
        """The facts of a body, each under its full name; raises Faults."""
        told, apart, faults = dict[str, str](), dict[str, str](), list[Fault]()
        for name, raw in facts.items():
            pair = self.pair(kind, name)
            if pair:
                faults += self._not_apart(name, raw)
                apart[pair] = raw
                continue
            found = list(self._named(kind, type_, name))
            if not found:
                near = did_you_mean(name, self._may_stand(kind, type_))
                text = f"this is no fact that stands on a card of a {type_ or kind}.{near}"
                faults.append(Fault(Place(name), text))
            for full, thing, attribute in found:
                message = read_fact(attribute, thing, raw, {}, "card", Place(name))[1]
                if message:
                    faults.append(Fault(Place(name), message))
                told[full] = raw
        if faults:
            raise Faults(faults)
        return {word: those for word, those in (("facts", told), ("apart", apart)) if those}

    def pair(self, kind: str, name: str) -> str:
        """'one to other' where a name, which is no fact's, tells how far two things of a place are
        apart; else ''.
        """
        if kind != PLACE or any(self._named(kind, "", name)):
            return ""
        between = self.layout.apart.between
        parts = [part.strip().removeprefix(f"{between} ") for part in name.split(" to ")]
        told = len(parts) == 2 and all(parts) and "." not in name
        return " to ".join(sorted(parts)) if told else ""

    def _not_apart(self, name: str, raw: str) -> list[Fault]:
        attribute = self.advisor.base.vocabulary.by_key[self.layout.apart.gives]
        message = read_fact(attribute, attribute.entity, raw, {}, "card", Place(name))[1]
        return [Fault(Place(name), message)] if message else []

    def _named(self, kind: str, type_: str, name: str) -> Iterable[tuple[str, str, Attribute]]:
        """(full name, thing, attribute) of what a name means on a card of a kind."""
        things = self.layout.things_of(type_) if kind == KIT else self.layout.kinds[kind]
        entity, _, short = name.rpartition(".")
        for thing in [entity] if entity else things:
            split = self.advisor.base.vocabulary.split(thing)
            attribute = split[0].attributes.get(short) if split else None
            if attribute and attribute.entity in things and self.layout.holds(kind, attribute):
                yield f"{thing}.{short}", thing, attribute

    def _may_stand(self, kind: str, type_: str) -> list[str]:
        things = self.layout.things_of(type_) if kind == KIT else self.layout.kinds[kind]
        every = self.advisor.base.vocabulary.by_key.values()
        return [a.name for a in every if a.entity in things and self.layout.holds(kind, a)]


def _dates(dates: Mapping[str, date]) -> dict[str, object]:
    return {"dates": {name: day.isoformat() for name, day in dates.items()}} if dates else {}
