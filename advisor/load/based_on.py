"""What a case gives together with the cases it is based on, each laid over those before it.

Only facts and `about` are taken over. What a case itself gives stands over its bases, and
`without` takes things or single facts of the bases away first.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

from msgspec import Struct, field
from msgspec.structs import replace

from advisor.facts.values import ASSUMED, CASE_FILE, UNKNOWN_WORDS, one_blank
from advisor.faults import Fault, Faults, Place, did_you_mean
from advisor.load.case_file import check_form, shipped
from advisor.load.tree import Document, read_document

MOST_LEVELS = 20


class Said(Struct, frozen=True):
    """One fact as it was written, and where."""

    raw: object
    key_place: Place
    place: Place
    said_by: str = CASE_FILE


class Thing(Struct, frozen=True):
    """What is said of one thing; `place` is where it is named first, `ahead` whether it is named
    only among what is assumed.
    """

    place: Place
    facts: dict[str, Said] = field(default_factory=dict)
    ahead: bool = False

    def over(self, below: Thing) -> Thing:
        """This over what is said of it below; what is known stands over what is assumed."""
        known = {key for key, fact in below.facts.items() if is_known(fact)}
        own = {k: f for k, f in self.facts.items() if not (f.said_by == ASSUMED and k in known)}
        return replace(below, facts={**below.facts, **own}, ahead=below.ahead and self.ahead)


def is_known(fact: Said) -> bool:
    """Whether it tells something that is not only assumed."""
    unknown = str(fact.raw).strip().lower() in UNKNOWN_WORDS
    return fact.said_by != ASSUMED and not unknown


class Laid(Struct, frozen=True):
    """things: name -> Thing; about: the topics the case says it is about."""

    things: dict[str, Thing] = field(default_factory=dict)
    about: tuple[str, ...] = ()

    def over(self, below: Laid) -> Laid:
        """This laid over another: its facts replace those below."""
        things = dict(below.things)
        for name, thing in self.things.items():
            things[name] = thing.over(things[name]) if name in things else thing
        return Laid(things, self.about or below.about)


class Step(Struct, frozen=True):
    """A case on the way down: its real file, and the place that names the next one."""

    file: str
    place: Place


def laid_out(document: Document) -> Laid:
    """All that a case gives; raises Faults for what is wrong in it or in a case below it."""
    return _laid(document, (), {})


def _laid(document: Document, above: tuple[Step, ...], known: dict[str, Laid]) -> Laid:
    """`above`: the Steps that led here; `known`: real file -> Laid of a case read already."""
    check_form(document)
    below = Laid()
    for path, shown, place in _bases(document):
        step = Step(_real(document.file), place)
        below = _base(path, shown, (*above, step), known).over(below)
    things, faults = dict(below.things), []
    for number, text in enumerate(document.data.get("without") or ()):
        faults += _take_away(things, one_blank(text), document.place(["without", number]))
    own, more = _own(document)
    more += _known_below(own, things)
    if faults + more:
        raise Faults(faults + more)
    about = tuple(document.data.get("about") or ())
    return Laid(own, about).over(Laid(things, below.about))


def _bases(document: Document) -> list[tuple[str, str, Place]]:
    """[(real path, path as shown, place where it is named)] of the cases one is based on."""
    named = document.data.get("based on", [])
    single = isinstance(named, str)
    return [
        (
            *_seen_from(document.file, name),
            document.place(["based on"] if single else ["based on", number]),
        )
        for number, name in enumerate([named] if single else named)
    ]


def _seen_from(file: str, name: str) -> tuple[str, str]:
    """(real path, path as shown) of what a case file names: seen from its folder, or else among
    the cases that come with the program.
    """
    real, shown = (
        os.path.normpath(os.path.join(os.path.dirname(at), name)) for at in (shipped(file), file)
    )
    if not os.path.exists(real) and os.path.exists(shipped(name)):
        return str(shipped(name)), name
    return real, shown


def _real(path: str | Path) -> str:
    try:
        return os.path.realpath(shipped(path))
    except ValueError:  # a name with a zero byte, which no file has
        return str(path)


def _base(path: str, shown: str, way: tuple[Step, ...], known: dict[str, Laid]) -> Laid:
    """The case below, its facts said by its file."""
    real, place = _real(path), way[-1].place
    files = [step.file for step in way]
    if real in files:
        circle = way[files.index(real) :]
        raise Faults(
            [
                Fault(
                    place,
                    "these cases are based on each other, at"
                    f" {', '.join(str(step.place) for step in circle)}; break the circle.",
                )
            ]
        )
    if len(way) > MOST_LEVELS:
        raise Faults(
            [
                Fault(
                    place,
                    f"more than {MOST_LEVELS} cases are based one on another; base this one on a"
                    " case further down.",
                )
            ]
        )
    if real not in known:
        if not os.path.isfile(real):
            raise Faults([Fault(place, _missing(path, shown))])
        try:
            known[real] = _said_there(_laid(read_document(path, shown), way, known))
        except Faults as error:
            told = Fault(place, f"'{shown}' cannot be built on: it has faults of its own.")
            raise Faults([*error.faults, told]) from None
    return known[real]


def _missing(path: str, shown: str) -> str:
    folder = os.path.dirname(path) or "."
    try:
        beside = [name for name in os.listdir(folder) if name.endswith(".yaml")]
    except (OSError, ValueError):
        beside = []
    return (
        f"there is no file '{shown}' to base this case on; name it as seen from this file's folder."
        + did_you_mean(os.path.basename(path), beside)
    )


def _said_there(laid: Laid) -> Laid:
    """The facts of a base, each said by its own file and line; what it assumes stays assumed."""
    return replace(
        laid,
        things={
            name: replace(
                thing,
                facts={
                    key: fact
                    if fact.said_by == ASSUMED
                    else replace(fact, said_by=f"{CASE_FILE} {fact.place.file}:{fact.place.line}")
                    for key, fact in thing.facts.items()
                },
            )
            for name, thing in laid.things.items()
        },
    )


def _take_away(things: dict[str, Thing], text: str, place: Place) -> list[Fault]:
    """Take a thing, or one fact of a thing, out of `things`; returns faults."""
    if text in things:
        del things[text]
        return []
    name, _, key = text.rpartition(".")
    name, key = one_blank(name), one_blank(key)
    if name in things and key in things[name].facts:
        facts = {k: fact for k, fact in things[name].facts.items() if k != key}
        things[name] = replace(things[name], facts=facts)
        return []
    if not things:
        message = (
            f"there is nothing to take '{text}' away from; 'without' is for what a case this one is"
            " based on gives."
        )
        return [Fault(place, message)]
    all_facts = [f"{n}.{k}" for n, thing in things.items() for k in thing.facts]
    return [
        Fault(
            place,
            f"no case this one is based on gives '{text}'; expected a thing such as"
            f" '{next(iter(things))}' or one fact of it, ENTITY.ATTRIBUTE."
            f"{did_you_mean(text, [*things, *all_facts])}",
        )
    ]


def _own(document: Document) -> tuple[dict[str, Thing], list[Fault]]:
    """({name: Thing} of what a document itself gives or assumes, faults)."""
    given, faults = _things(document, "given", CASE_FILE)
    ahead, more = _things(document, "assumed", ASSUMED)
    for name, key, fact in _assumed_of(ahead):
        if name in given and key in given[name].facts:
            text = f"'{name}.{key}' is given and assumed; keep one of the two."
            more.append(Fault(fact.key_place, text))
    return Laid(given).over(Laid(ahead)).things, faults + more


def _known_below(own: dict[str, Thing], below: dict[str, Thing]) -> list[Fault]:
    """Faults for what is assumed although a case below gives it."""
    faults = []
    for name, key, fact in _assumed_of(own):
        given = below[name].facts.get(key) if name in below else None
        if given and is_known(given):
            text = f"'{name}.{key}' is given at {given.place}; to assume it instead take it away"
            faults.append(Fault(fact.key_place, f"{text} with 'without: [{name}.{key}]'."))
    return faults


def _assumed_of(things: dict[str, Thing]) -> Iterator[tuple[str, str, Said]]:
    """(thing, attribute, fact) of each fact that is assumed."""
    for name, thing in things.items():
        yield from ((name, key, f) for key, f in thing.facts.items() if f.said_by == ASSUMED)


def _things(document: Document, section: str, said_by: str) -> tuple[dict[str, Thing], list[Fault]]:
    """({name: Thing} of one section of a document, faults)."""
    things, faults = {}, []
    for key, attributes in (document.data.get(section) or {}).items():
        place, name = document.key_place([section, key]), one_blank(key)
        if name in things:
            faults.append(Fault(place, f"'{name}' stands twice, with other blanks; keep one."))
            continue
        things[name] = Thing(
            place,
            {
                attribute: Said(
                    raw,
                    document.key_place([section, key, attribute]),
                    document.place([section, key, attribute]),
                    said_by,
                )
                for attribute, raw in attributes.items()
            },
            said_by == ASSUMED,
        )
    return things, faults
