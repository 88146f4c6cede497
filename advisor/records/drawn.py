"""What all entries of a file come to, kept between starts: to list twenty cards a warm start reads
no ten thousand entries. It is kept for the file as it stands and for these rules, and only to save
time: without it the entries are read.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any, NamedTuple, TypeAlias

from msgspec.structs import astuple

from advisor import kept
from advisor.facts.vocabulary import Vocabulary
from advisor.load.records import Layout
from advisor.records.card import Expired, Held, Making, making_of, standing
from advisor.records.entry import Entry
from advisor.records.store import Store

Plain: TypeAlias = Any  # what marshal keeps: tuples, lists, dicts, words and numbers


class Drawn(NamedTuple):
    """The cards of a file with all their entries, by their marks, and the last day of any entry."""

    latest: str
    makings: Mapping[str, Making]


def by_card(entries: Iterable[Entry]) -> dict[str, list[Entry]]:
    """The entries of each card, in their order."""
    found: dict[str, list[Entry]] = {}
    for entry in entries:
        found.setdefault(entry.card, []).append(entry)
    return found


def drawn(store: Store, layout: Layout, vocabulary: Vocabulary, rules: str) -> Drawn:
    """The cards of a file; `rules`: a fingerprint of the rules that they are drawn by."""
    state, name = store.state(), f"{store.name}-cards"
    stamp = f"{state} {rules}"
    found = kept.read(name, stamp) if state else None
    if found:
        return _unpacked(found, lambda: Making(layout, vocabulary))
    entries = store.entries()
    makings = {
        mark: making_of(standing(those), layout, vocabulary)
        for mark, those in by_card(entries).items()
    }
    made = Drawn(max((e.on for e in entries), default=""), makings)
    if state and state == store.state():
        kept.write(name, stamp, _packed(made))
    return made


def _packed(cards: Drawn) -> Plain:
    entries: dict[int, Plain] = {}

    def entry(one: Entry) -> int:
        entries[one.number] = astuple(one)
        return one.number

    def held(one: Held) -> Plain:
        return one.raw, one.on, entry(one.entry)

    rows = {
        mark: (
            (made.mark, made.kind, made.type, entry(made.final) if made.final else 0),
            {ref: held(one) for ref, one in made.facts.items()},
            {ref: (held(gone.held), gone.since, gone.why) for ref, gone in made.expired.items()},
            {name: entry(one) for name, one in made.dates.items()},
            [entry(one) for one in made.findings],
            {pair: held(one) for pair, one in made.apart.items()},
            tuple(made.things),
            {stands: tuple(refs) for stands, refs in made.good.items()},
        )
        for mark, made in cards.makings.items()
    }
    return cards.latest, entries, rows


def _unpacked(data: Plain, blank: Callable[[], Making]) -> Drawn:
    latest, rows, cards = data
    entries = {number: _entry(row) for number, row in rows.items()}

    def held(row: Plain) -> Held:
        raw, on, number = row
        return Held(raw, on, entries[number])

    def making(row: Plain) -> Making:
        made, (named, facts, expired, dates, findings, apart, things, good) = blank(), row
        made.mark, made.kind, made.type, final = named
        made.final = entries.get(final)
        made.facts = {ref: held(one) for ref, one in facts.items()}
        made.expired = {
            ref: Expired(held(h), since, why) for ref, (h, since, why) in expired.items()
        }
        made.dates = {name: entries[number] for name, number in dates.items()}
        made.findings = [entries[number] for number in findings]
        made.apart = {pair: held(one) for pair, one in apart.items()}
        made.things = set(things)
        made.good = {stands: set(refs) for stands, refs in good.items()}
        return made

    return Drawn(latest, {mark: making(row) for mark, row in cards.items()})


def _entry(row: Plain) -> Entry:
    return Entry(*row)
