"""What may stand on a card, what happens to it and how it is examined: rules/records.yaml, checked
against the vocabulary and the sources.
"""

from __future__ import annotations

import os
from collections.abc import Collection, Iterable, Iterator, Mapping
from pathlib import Path

from msgspec import Struct

from advisor.facts.vocabulary import AFTERWARDS, ON_FILE, Attribute, Vocabulary
from advisor.faults import Fault, Faults, did_you_mean
from advisor.load.schema import form_faults
from advisor.load.tree import Document, read_document
from advisor.model.names import FINDING_PART, FINDING_WHAT

FILE = "records.yaml"
THIS_TRIP = "this trip"
ANY_OTHER = "anything else"
USUAL = "practice"  # the card that says how it is usually done


class Event(Struct, frozen=True):
    """Something that happens to a card: which facts it ends, sets, may set for the better, and does
    not set where something was found; whether it is the last that happens, and the command that
    alone notes it.
    """

    name: str
    says: str
    ends: tuple[str, ...]
    sets: Mapping[str, str]
    mends: frozenset[str]
    unless_found: frozenset[str]
    final: bool
    own_command: str
    because: str


class Apart(Struct, frozen=True):
    """Of which things a place tells how far two are apart; the yes of a plan that uses one, and the
    fact that the distance of the two used is.
    """

    between: str
    where: str
    gives: str


class Point(Struct, frozen=True):
    """One point of an examination: the part, what is to be seen, and the finding it would be."""

    part: str
    look: str
    finding: str


class Layout(Struct, frozen=True):
    """kinds: kind of card -> kinds of things its facts are of; also: type of kit -> the same;
    apart: see Apart; in_lists: type of kit or kind of card -> the facts that a list tells; usual:
    the facts of usual practice; columns: what columns of a sheet are called; since: fact -> the
    date it is counted from; dates: names of the dates of a card; events and walks by name.
    """

    kinds: Mapping[str, tuple[str, ...]]
    also: Mapping[str, tuple[str, ...]]
    apart: Apart
    in_lists: Mapping[str, tuple[str, ...]]
    usual: tuple[str, ...]
    columns: Mapping[str, tuple[str, ...]]
    since: Mapping[str, str]
    dates: tuple[str, ...]
    events: Mapping[str, Event]
    walks: Mapping[str, tuple[Point, ...]]

    def things_of(self, type_: str) -> tuple[str, ...]:
        """The things that a piece of kit of a type is."""
        return self.also.get(type_, self.also[ANY_OTHER])

    def walk_of(self, type_: str) -> tuple[Point, ...]:
        """The points of an examination of a piece of a type."""
        return self.walks.get(type_, self.walks[ANY_OTHER])

    def holds(self, kind: str, attribute: Attribute) -> bool:
        """Whether a card of a kind may hold a fact."""
        if kind == USUAL:
            return attribute.key in self.usual
        return (
            attribute.entity in self.kinds[kind]
            and attribute.known in (ON_FILE, AFTERWARDS)
            and attribute.stands != THIS_TRIP
        )


def read_records(
    vocabulary: Vocabulary, folder: Path, sources: Collection[str] | None = None
) -> Layout:
    """The layout in a rules folder, its sources looked up where these are given; raises Faults."""
    document = read_document(folder / FILE, os.path.relpath(folder / FILE))
    faults = form_faults(document, "records") or [
        *_unknown(document, vocabulary),
        *_unknown_sources(document, sources),
    ]
    if faults:
        raise Faults(faults)
    data = document.data
    return Layout(
        {kind: tuple(things) for kind, things in data["cards"].items()},
        {type_: tuple(things) for type_, things in data["also"].items()},
        Apart(**data["apart"]),
        {kind: tuple(keys) for kind, keys in data["in lists"].items()},
        tuple(data["usual practice"]),
        {name: tuple(words) for name, words in data["columns"].items()},
        {row["fact"]: row["since"] for row in data["from dates"]},
        tuple(data["dates"]),
        {name: _event(name, row) for name, row in data["events"].items()},
        {
            kind: tuple(Point(p["part"], p["look"], p.get("finding", "")) for p in walk["points"])
            for kind, walk in data["walk"].items()
        },
    )


def _event(name: str, row: Mapping[str, object]) -> Event:
    sets, mends, ends = row.get("sets", {}), row.get("mends", ()), row.get("ends", ())
    found = row.get("unless found", ())
    assert isinstance(sets, dict) and isinstance(mends, (list, tuple))
    assert isinstance(ends, (list, tuple)) and isinstance(found, (list, tuple))
    return Event(
        name,
        str(row["says"]),
        tuple(ends),
        {key: _word(value) for key, value in sets.items()},
        frozenset(mends),
        frozenset(found),
        bool(row.get("final")),
        str(row.get("own command", "")),
        str(row["because"]),
    )


def _word(value: object) -> str:
    return {True: "yes", False: "no"}[value] if isinstance(value, bool) else str(value)


def _unknown(document: Document, vocabulary: Vocabulary) -> Iterator[Fault]:
    """Faults of names that the vocabulary has not."""
    data, keys = document.data, list(vocabulary.by_key)
    kinds = [e.name for e in vocabulary.entities.values()]
    for kind, things in data["cards"].items():
        yield from _not_in(document, ("cards", kind), things, kinds)
    for type_, things in data["also"].items():
        yield from _not_in(document, ("also", type_), things, kinds)
    yield from _not_in(document, ("apart", "between"), [data["apart"]["between"]], kinds)
    for word in ("where", "gives"):
        yield from _not_in(document, ("apart", word), [data["apart"][word]], keys)
    for kind, told in data["in lists"].items():
        yield from _not_in(document, ("in lists", kind), told, keys)
    for section in ("also", "walk"):
        if ANY_OTHER not in data[section]:
            yield Fault(document.place((section,)), f"'{ANY_OTHER}' is missing here; add it.")
    yield from _not_in(document, ("usual practice",), data["usual practice"], keys)
    for n, row in enumerate(data["from dates"]):
        yield from _not_in(document, ("from dates", n, "fact"), [row["fact"]], keys)
    yield from _unknown_events(document, vocabulary, keys)
    yield from _unknown_points(document, vocabulary)


def _unknown_sources(document: Document, sources: Collection[str] | None) -> Iterator[Fault]:
    if sources is None:
        return
    for section in ("events", "walk"):
        for name, row in document.data[section].items():
            named = [row["source"]] if isinstance(row["source"], str) else row["source"]
            for source in named:
                if source not in sources:
                    near = did_you_mean(source, sources)
                    text = f"'{source}' is not in sources.yaml.{near}"
                    yield Fault(document.place((section, name, "source")), text)


def _unknown_events(document: Document, vocabulary: Vocabulary, keys: list[str]) -> Iterator[Fault]:
    for name, event in document.data["events"].items():
        for word in ("mends", "unless found"):
            yield from _not_in(document, ("events", name, word), event.get(word, ()), keys)
        for key, value in event.get("sets", {}).items():
            yield from _not_in(document, ("events", name, "sets", key), [key], keys)
            attribute = vocabulary.attribute(key)
            if attribute and _word(value) not in attribute.values:
                place = document.place(("events", name, "sets", key))
                yield Fault(place, f"'{_word(value)}' is not a value of {key}.")


def _unknown_points(document: Document, vocabulary: Vocabulary) -> Iterator[Fault]:
    of_findings = {
        "part": vocabulary.attribute(FINDING_PART),
        "finding": vocabulary.attribute(FINDING_WHAT),
    }
    for kind, walk in document.data["walk"].items():
        for n, point in enumerate(walk["points"]):
            for word, attribute in of_findings.items():
                if attribute and point.get(word, attribute.values[0]) not in attribute.values:
                    place = document.place(("walk", kind, "points", n, word))
                    text = f"'{point[word]}' is not a value of {attribute.key}."
                    yield Fault(place, text + did_you_mean(point[word], attribute.values))


def _not_in(
    document: Document, path: tuple[str | int, ...], names: Iterable[str], known: list[str]
) -> Iterator[Fault]:
    for name in names:
        if name not in known:
            place = document.place(path)
            yield Fault(place, f"'{name}' is not in the vocabulary.{did_you_mean(name, known)}")
