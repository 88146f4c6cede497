"""Reading a case: who and what it names, what is known of each, and what it is about."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any, TypeAlias

from msgspec import Struct, field

from advisor.facts.times import run_on
from advisor.facts.values import ASSUMED, CASE_FILE, HALF_PAIR, Fact, one_blank, read_fact
from advisor.facts.vocabulary import AT_THE_HEAD
from advisor.facts.world import KNOWN
from advisor.faults import Fault, Faults, Place, did_you_mean
from advisor.load.based_on import Laid, Said, laid_out
from advisor.load.case_file import document_of
from advisor.load.tree import Document
from advisor.model.advice import OnFile
from advisor.model.base import Base
from advisor.model.names import INCIDENT_KIND

# What the cards that a document names come to: facts, and what is told of them.
Cards: TypeAlias = "Callable[[Document, Laid], tuple[Laid, OnFile]]"

NAME = re.compile(
    r"[^\x00-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ud800-\udfff\ufeff\ufffe\uffff]{1,60}\Z"
)


class Case(Struct):
    """facts: {(entity id, key): Fact}; names: entity kind -> set of ids; topics in fixed order; at:
    the moment at which advice is asked. At the head, unless another is named, nothing may wait.
    """

    title: str = ""
    teaches: str = ""
    topics: tuple[str, ...] = ()
    # What the case itself says it is about; () where that is worked out.
    about: tuple[str, ...] = ()
    names: dict[str, set[str]] = field(default_factory=dict)
    # The things it names not only to look ahead; what a fact is known of is one of them anyhow.
    named: frozenset[str] = frozenset()
    facts: dict[tuple[str, str], Fact] = field(default_factory=dict)
    expect: dict[str, Any] = field(default_factory=dict)
    at: str = AT_THE_HEAD
    on_file: OnFile | None = None  # what is told of the cards it names


class Given(Struct, frozen=True):
    """One fact that a case gives or a setting sets: of which entity, and how it was said."""

    kind: str
    entity: str
    name: str  # of the attribute
    said: Said


def read_case(
    path: str | Path | Document,
    base: Base,
    settings: Iterable[str] = (),
    assumed: Iterable[str] = (),
    cards: Cards | None = None,
) -> Case:
    """Read a case file ('-' is standard input) and apply what `--set` sets and `--assume` assumes,
    over what the `cards` it names say; raises Faults.
    """
    return build_case(document_of(path), base, settings, assumed, cards)


def build_case(
    document: Document,
    base: Base,
    settings: Iterable[str] = (),
    assumed: Iterable[str] = (),
    cards: Cards | None = None,
) -> Case:
    """A Case from a Document; raises Faults with all that is wrong."""
    laid, data = laid_out(document), document.data
    faults: list[Fault] = []
    case = Case(data.get("case") or "", data.get("teaches") or "", expect=data.get("expect") or {})
    if "with" in data:
        laid, case.on_file = _with_cards(document, laid, cards)
    case.named = frozenset(name for name, thing in laid.things.items() if not thing.ahead)
    given: list[Given] = []
    for thing, said in laid.things.items():
        kind = _name(case, base, thing, said.place, faults)
        given += [Given(kind, thing, name, fact) for name, fact in said.facts.items() if kind]
    for number, text in enumerate(settings):
        parsed = _setting(case, base, text, Place("--set", 1, number + 1), faults)
        given += [parsed] if parsed else []
    for item in given:
        _take(case, base, item, faults)
    for number, text in enumerate(assumed):
        parsed = _setting(case, base, text, Place("--assume", 1, number + 1), faults, ASSUMED)
        if parsed and not _is_given(case, parsed, faults):
            _take(case, base, parsed, faults)
    _say_who(case, document, given, faults)
    if faults:
        raise Faults(faults)
    past_midnight(case, base)
    case.about = laid.about
    case.topics = topics_of(base, case, case.about)
    return case


def _with_cards(document: Document, laid: Laid, cards: Cards | None) -> tuple[Laid, OnFile]:
    """What a case gives over what the cards that it names say, and what is told of these."""
    if cards is None:
        text = "this command looks at no cards; 'advise' and 'export' do."
        raise Faults([Fault(document.place(("with",)), text)])
    below, told = cards(document, laid)
    return laid.over(below), told


def name_fault(key: str) -> str:
    """'' for a name that can be kept and told apart from others, else one sentence."""
    if not NAME.match(key):
        return (
            "this name is too long (60 characters) or holds characters that cannot be shown; choose"
            " plain words."
        )
    if "," in key or key.endswith("?"):
        return (
            "a name holds no comma and ends in no '?', for a comma parts one name from the next and"
            " '?' says doubt; choose plain words."
        )
    return ""


def _name(case: Case, base: Base, key: str, place: Place, faults: list[Fault]) -> str | None:
    """Register the entity a key names; returns its kind or None with a fault."""
    found = base.vocabulary.split(key)
    if not found:
        known = list(base.vocabulary.entities)
        faults.append(
            Fault(
                place,
                f"'{key}' does not begin with an entity known here; expected one of:"
                f" {', '.join(known)}.{did_you_mean(key.split(' ')[0], known)}",
            )
        )
        return None
    entity, name = found
    if name and not entity.many:
        faults.append(Fault(place, f"there is one {entity.name} in a case; write '{entity.name}'."))
    elif name_fault(key):
        faults.append(Fault(place, name_fault(key)))
    else:
        case.names.setdefault(entity.name, set()).add(key)
        return entity.name
    return None


def _is_given(case: Case, item: Given, faults: list[Fault]) -> bool:
    """Whether what is to be assumed is known, which is a fault."""
    fact = case.facts.get((item.entity, f"{item.kind}.{item.name}"))
    if fact is None or fact.said_by == ASSUMED:
        return False
    text = f"{item.entity}.{item.name} is given as {fact.text}; --set changes what is given."
    faults.append(Fault(item.said.place, text))
    return True


def _setting(
    case: Case,
    base: Base,
    text: str,
    place: Place,
    faults: list[Fault],
    said_by: str = "command line",
) -> Given | None:
    """'anchor left.kind=resin bolt' -> one given item; several entities may be set into being this
    way.
    """
    left, equals, raw = text.partition("=")
    key, dot, name = left.strip().rpartition(".")
    if not (equals and dot and key):
        faults.append(
            Fault(
                place,
                f"'{text}' should be ENTITY.ATTRIBUTE=VALUE, such as \"anchor left.side=right\".",
            )
        )
        return None
    if HALF_PAIR.search(text):
        faults.append(Fault(place, "this holds bytes that are not UTF-8 text; write it anew."))
        return None
    entity = one_blank(key)
    kind = _name(case, base, entity, place, faults)
    said = Said(raw.strip(), place, place, said_by)
    return Given(kind, entity, name.strip(), said) if kind else None


def _take(case: Case, base: Base, item: Given, faults: list[Fault]) -> None:
    kind, name, said = item.kind, item.name, item.said
    attributes = base.vocabulary.entities[kind].attributes
    attribute = attributes.get(name)
    if attribute is None:
        faults.append(
            Fault(
                said.key_place,
                f"'{name}' is not an attribute of {kind}; expected one of:"
                f" {', '.join(attributes)}.{did_you_mean(name, attributes)}",
            )
        )
        return
    if attribute.derived:
        faults.append(
            Fault(
                said.key_place,
                f"{attribute.key} is concluded from other facts; it cannot be given.",
            )
        )
        return
    names = nameable(base, case.names)
    fact, message = read_fact(attribute, item.entity, said.raw, names, said.said_by, said.place)
    if message:
        faults.append(Fault(said.place, message))
    elif fact:
        case.facts[item.entity, attribute.key] = fact
    else:
        case.facts.pop((item.entity, attribute.key), None)


def _say_who(case: Case, document: Document, given: list[Given], faults: list[Fault]) -> None:
    """Take down how, when and by whom facts of the file itself were checked together; what a
    setting changed since was not.
    """
    own = {f"{g.entity}.{g.name}": g for g in given if g.said.said_by == CASE_FILE}
    for words, ids in (document.data.get("checked") or {}).items():
        for n, name in enumerate(ids):
            if name not in own:
                faults.append(
                    Fault(
                        document.place(("checked", words, n)),
                        f"'{name}' is none of the facts given here.{did_you_mean(name, own)}",
                    )
                )
                continue
            reference = own[name].entity, f"{own[name].kind}.{own[name].name}"
            fact = case.facts.get(reference)
            if fact and fact.said_by == CASE_FILE:
                case.facts[reference] = fact._replace(said_by=words)


def past_midnight(case: Case, base: Base) -> None:
    """Take times of day said for after a start that lies before midnight as the next day's."""
    for (entity, key), fact in case.facts.items():
        after = base.vocabulary.by_key[key].runs_on_from
        start = case.facts.get((after.partition(".")[0], after)) if after else None
        if start and fact.state == start.state == KNOWN:
            low, high = (run_on(end, start.value[0]) for end in fact.value)
            case.facts[entity, key] = fact._replace(value=(low, high))


def nameable(base: Base, names: Mapping[str, Iterable[str]]) -> dict[str, Iterable[str]]:
    """What a 'named' attribute may name: all that the case names, and the single entities, which
    always exist.
    """
    return {**{e.name: {e.name} for e in base.vocabulary.entities.values() if not e.many}, **names}


def topics_of(base: Base, case: Case, about: tuple[str, ...] | None = None) -> tuple[str, ...]:
    """What a case is about: as it says, or worked out from the entities it names. Kit that a plan
    names is always looked at, for it may stop it,
    and so is an incident that has a kind: what to do comes before what was asked."""
    if about:
        named = {t for t in base.topics if any(case.names.get(kind) for kind in base.topics[t])}
        return tuple(
            t
            for t in base.topics
            if t in about
            or t in named
            and (t == "kit" and "plan" in about or t == "incident" and INCIDENT_KIND in case.facts)
        )
    return tuple(
        topic for topic, kinds in base.topics.items() if any(case.names.get(kind) for kind in kinds)
    )
