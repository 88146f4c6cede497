"""A card at a date: what its entries say then, and what no longer stands.

What is good of a piece stands only as long as the vocabulary says; what speaks against it stays
until an entry mends it, so that time and use never make a card better.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from datetime import date

from msgspec import Struct, field

from advisor.facts.vocabulary import Attribute, Vocabulary
from advisor.load.records import Event, Layout
from advisor.records.dates import months_before, whole_months
from advisor.records.entry import CARD as CARD
from advisor.records.entry import Entry

# Kinds of entries beside the events of rules/records.yaml.
TOLD, CORRECTED = "told", "corrected"
EXAMINED = "examined"  # the event from which the time to the next examination is counted


class Held(Struct, frozen=True):
    """A fact on a card, the day it is of, and the entry that says it."""

    raw: str
    on: str
    entry: Entry


class Expired(Struct, frozen=True):
    """A fact that no longer stands, since when, and why."""

    held: Held
    since: str
    why: str


class Card(Struct, frozen=True):
    """A card at a date. `type`: what a piece of kit is, such as a ladder, '' for what is no kit;
    `final`: the entry after which nothing happens to it any more; `facts` and `expired` by (thing,
    key), the thing as the card names it; `apart`: how far two things are apart, by 'one to other'.
    """

    mark: str
    kind: str
    on: date
    type: str = ""
    final: Entry | None = None
    facts: Mapping[tuple[str, str], Held] = field(default_factory=dict)
    expired: Mapping[tuple[str, str], Expired] = field(default_factory=dict)
    dates: Mapping[str, Entry] = field(default_factory=dict)
    findings: tuple[Entry, ...] = ()
    apart: Mapping[str, Held] = field(default_factory=dict)

    def value(self, key: str) -> str:
        """A fact of the card as it was said, '' where it is not known."""
        return next((held.raw for (_, k), held in self.facts.items() if k == key), "")


def as_counted(mark: str) -> list[tuple[str, int]]:
    """What marks are sorted by: L2 before L10."""
    return [(text.lower(), int(n or 0)) for text, n in re.findall(r"(\D*)(\d*)", mark)]


def standing(entries: Iterable[Entry]) -> list[Entry]:
    """The entries that were not corrected, in the order of the days they are of."""
    listed = list(entries)
    corrected = {e.body["entry"] for e in listed if e.what == CORRECTED}
    kept = [e for e in listed if e.number not in corrected and e.what != CORRECTED]
    return sorted(kept, key=lambda entry: (entry.on, entry.number))


def card_at(
    entries: Iterable[Entry], on: date, layout: Layout, vocabulary: Vocabulary
) -> Card | None:
    """The card that its entries make at a date; None where there is none yet."""
    told = [e for e in standing(entries) if e.on <= on.isoformat()]
    return making_of(told, layout, vocabulary).card(on)


def making_of(entries: Iterable[Entry], layout: Layout, vocabulary: Vocabulary) -> Making:
    """What entries that stand, in the order of their days, come to."""
    making = Making(layout, vocabulary)
    for entry in entries:
        making.take(entry)
    return making


class Making:
    """A card while its entries are taken, one day after the other."""

    def __init__(self, layout: Layout, vocabulary: Vocabulary) -> None:
        self.layout, self.vocabulary = layout, vocabulary
        self.mark = self.kind = self.type = ""
        self.final: Entry | None = None
        self.facts: dict[tuple[str, str], Held] = {}
        self.expired: dict[tuple[str, str], Expired] = {}
        self.dates: dict[str, Entry] = {}  # by the name of the date, the entry that says it
        self.findings: list[Entry] = []
        self.apart: dict[str, Held] = {}
        self.things = set[str]()
        self.good = dict[str, set[tuple[str, str]]]()  # what can end, by how long it stands

    def card(self, on: date) -> Card | None:
        """The card at a date that is none before the entries'; None where none was begun. It takes
        no entry after this.
        """
        if not self.kind:
            return None
        self._age(on)
        return Card(
            self.mark,
            self.kind,
            on,
            self.type,
            self.final,
            self.facts,
            self.expired,
            self.dates,
            tuple(self.findings),
            self.apart,
        )

    def take(self, entry: Entry) -> None:
        """What one entry says."""
        self.mark = self.mark or entry.card
        if entry.what == CARD and not self.kind:
            self.kind = str(entry.body["kind"])
        if "type" in entry.body:
            self.type = self.type or str(entry.body["type"])
            self.things.update(self.layout.things_of(str(entry.body["type"])))
        event = self.layout.events.get(entry.what)
        if event:
            self._happened(event, entry)
        self.dates.update(dict.fromkeys(entry.body.get("dates", {}), entry))
        for pair, raw in entry.body.get("apart", {}).items():
            self.apart[pair] = Held(str(raw), entry.on, entry)
        for name, raw in entry.body.get("facts", {}).items():
            thing, _, short = name.rpartition(".")
            split = self.vocabulary.split(thing)
            key = f"{split[0].name}.{short}" if split else name
            if self.vocabulary.attribute(key):  # a rule base may have lost it since
                self._set((thing, key), Held(str(raw), entry.on, entry))
        if entry.body.get("findings"):
            self.findings.append(entry)

    def _happened(self, event: Event, entry: Entry) -> None:
        if event.final and not self.final:
            self.final = entry
        if event.name == EXAMINED:
            self.dates[EXAMINED] = entry
            self.findings = []
        for stands in event.ends:
            for ref in list(self.good.get(stands, ())):
                self._end(ref, entry.on, event.says)
        unsaid = event.unless_found if entry.body.get("findings") else frozenset[str]()
        for ref in [ref for those in self.good.values() for ref in those if ref[1] in unsaid]:
            self._end(ref, entry.on, event.says)
        for key, raw in event.sets.items():
            if key in unsaid:
                continue
            thing, attribute = key.partition(".")[0], self.vocabulary.by_key[key]
            known = self.facts.get((thing, key))
            milder = known and _grade(attribute, known.raw) > _grade(attribute, raw)
            if self._is_of(thing) and (not milder or key in event.mends):
                self._set((thing, key), Held(raw, entry.on, entry))

    def _is_of(self, thing: str) -> bool:
        """Whether the card speaks of a thing: a ladder's of no kit, and the other way round."""
        return thing in self.things

    def _set(self, ref: tuple[str, str], held: Held) -> None:
        attribute, known = self.vocabulary.by_key[ref[1]], self.facts.get(ref)
        last = self.layout.events.get(known.entry.what) if known else None
        if last and last.final and ref[1] in last.sets:
            return  # as two writers at once may come to tell
        self.facts[ref] = held
        self.expired.pop(ref, None)
        self.things.add(ref[0])
        those = self.good.setdefault(attribute.stands, set())
        (those.discard if _speaks_against(attribute, held.raw) else those.add)(ref)

    def _end(self, ref: tuple[str, str], since: str, why: str) -> None:
        self.good[self.vocabulary.by_key[ref[1]].stands].discard(ref)
        self.expired[ref] = Expired(self.facts.pop(ref), since, why)

    def _age(self, on: date) -> None:
        """End what has stood its time, and count what is counted from a date."""
        for stands, refs in self.good.items():
            months = stands.partition(" month")[0]
            first = months_before(on, int(months)).isoformat() if months.isdigit() else ""
            for ref in [ref for ref in refs if self.facts[ref].on < first]:
                self._end(ref, self.facts[ref].on, f"seen over {months} months ago")
        for key, since in self.layout.since.items():
            thing = key.partition(".")[0]
            if since in self.dates and self._is_of(thing):
                entry = self.dates[since]
                day = entry.on if since == EXAMINED else str(entry.body["dates"][since])
                months_since = whole_months(date.fromisoformat(day), on)
                self.facts[thing, key] = Held(f"{months_since} month", day, entry)


def _grade(attribute: Attribute, raw: str) -> int:
    """How bad a value is in the vocabulary's order, 0 where it has none."""
    if raw not in attribute.values or not attribute.ranks:
        return 0
    return attribute.ranks[attribute.values.index(raw)]


def _speaks_against(attribute: Attribute, raw: str) -> bool:
    return _grade(attribute, raw) > 0
