"""Reading a file of local guidance, and putting it over a rule base: it can tighten anything and
loosen nothing silently.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from advisor.facts.quantity import NotAQuantity
from advisor.facts.values import Fact, read_fact, show_value
from advisor.facts.vocabulary import Attribute, Value
from advisor.faults import Fault, Faults, did_you_mean
from advisor.load.case import Case
from advisor.load.local_limits import (
    AUTHORITY,
    SOURCE,
    date_fault,
    fact_fault,
    fitting,
    holds_facts,
    rule_faults,
)
from advisor.load.local_order import loose, together_faults
from advisor.load.order import ordered
from advisor.load.rules import read_rules, twice
from advisor.load.schema import form_faults
from advisor.load.tree import Document, read_document
from advisor.model.base import Base
from advisor.model.calculation import Figure
from advisor.model.effects import CallNow, Contradiction, DoNot, Effect, First, Refer, Stop
from advisor.model.rule import Rule
from advisor.words import quoted

LOCAL = "local guidance"  # who says a fact that it lays down
MOST_LINES = 6  # of each of these kinds, which are told before others
CROWDS: dict[type[Effect], str] = {
    Stop: "stop",
    First: "first",
    Contradiction: "contradiction",
    CallNow: "call now",
    DoNot: "do not",
}


class Local(Struct, frozen=True):
    """Checked local guidance. `facts`: {(entity, key): Fact}; `departures`: ({from, says}, …)."""

    title: str
    issuer: str
    date: str
    ask: dict[str, str]
    facts: dict[tuple[str, str], Fact]
    figures: dict[str, Figure]
    rules: tuple[Rule, ...]
    departures: tuple[dict[str, str], ...]

    @property
    def called(self) -> str:
        """What it calls itself, by whom and of when."""
        return f"{quoted(self.title)}, {quoted(self.issuer)}, {self.date}"


def read_local(path: str | Path, base: Base) -> Local:
    """Read and check a file of local guidance; raises Faults."""
    document = read_document(path, str(path))
    faults = form_faults(document, "local")
    if faults:
        raise Faults(faults)
    data = document.data
    if message := date_fault(data["date"]):
        faults.append(Fault(document.place(["date"]), message))
    rules = _rules(document, base, faults)
    local = Local(
        data["local guidance"],
        data["issued by"],
        str(data["date"]),
        data.get("ask", {}),
        _facts(document, base, faults),
        _figures(document, base, faults),
        tuple(rules),
        tuple(data.get("departures", ())),
    )
    for index, row in enumerate(local.departures):
        if base.rule(row["from"]) is None:
            known = [r.id for r in base.rules]
            faults.append(
                Fault(
                    document.place(["departures", index, "from"]),
                    f"'{row['from']}' is not a rule of the base.{did_you_mean(row['from'], known)}",
                )
            )
    asked = {effect.to for rule in (*base.rules, *rules) for effect in rule.gives(Refer)}
    faults += [
        Fault(
            document.key_place(["ask", to]), f"no rule says to ask '{to}'.{did_you_mean(to, asked)}"
        )
        for to in local.ask
        if to not in asked
    ]
    if faults:
        raise Faults(faults)
    return local


def _rules(document: Document, base: Base, faults: list[Fault]) -> list[Rule]:
    """The file's own rules, read exactly as a rule file is."""
    data = document.data
    if "rules" not in data:
        faults += together_faults(document, (), base)
        return []
    if "topic" not in data:
        place = document.key_place(["rules"])
        faults.append(Fault(place, "rules need a heading; add a line 'topic: …' before them."))
        return []
    inner = Document(
        document.file,
        {
            "topic": data["topic"],
            "about": data.get("about", "plan"),
            "rules": data["rules"],
        },
        document.places,
        document.keys,
    )
    sources = {
        **base.sources,
        SOURCE: source_of(data["local guidance"], data["issued by"], data["date"]),
    }
    found, more = read_rules(inner, base.vocabulary, base.decisions, base.concerns, sources)
    faults += more
    if not more:
        faults += [*rule_faults(document, found, base), *twice(found)]
    faults += _crowds(found)
    if not faults:
        faults += together_faults(document, found, base)
    return [replace(rule, authority=AUTHORITY) for rule in found]


def source_of(title: str, issuer: str, date: object) -> dict[str, Any]:
    """The source entry that a file of local guidance stands for."""
    return {
        "title": title,
        "publisher": issuer,
        "year": str(date),
        "kind": "scheme",
        "read": "the file given",
    }


def _facts(document: Document, base: Base, faults: list[Fault]) -> dict[tuple[str, str], Fact]:
    found = {}
    for entity, attributes in document.data.get("facts", {}).items():
        kind = base.vocabulary.entities.get(entity)
        if kind is None or kind.many:
            single = holds_facts(base.vocabulary)
            faults.append(
                Fault(
                    document.key_place(["facts", entity]),
                    "local guidance may state facts of:"
                    f" {', '.join(single)}.{did_you_mean(entity, single)}",
                )
            )
            continue
        for name, raw in attributes.items():
            place, attribute = (
                document.key_place(["facts", entity, name]),
                kind.attributes.get(name),
            )
            if attribute is None or attribute.derived:
                faults.append(
                    Fault(
                        place,
                        f"'{name}' is not a stated attribute of"
                        f" {entity}.{did_you_mean(name, kind.attributes)}",
                    )
                )
                continue
            fact, message = read_fact(attribute, entity, raw, {}, LOCAL, place)
            message = message or fact_fault(attribute, fact, base.vocabulary)
            faults += [Fault(place, message)] if message else []
            if fact:
                found[entity, attribute.key] = fact
    return found


def _figures(document: Document, base: Base, faults: list[Fault]) -> dict[str, Figure]:
    found = {}
    for name, written in document.data.get("figures", {}).items():
        place, figure = document.key_place(["figures", name]), base.figures.get(name)
        if figure is None or figure.value is None:
            known = [n for n, f in base.figures.items() if f.value is not None]
            faults.append(
                Fault(
                    place,
                    f"'{name}' is not a single figure of the base.{did_you_mean(name, known)}",
                )
            )
            continue
        try:
            found[name] = replace(
                figure,
                value=fitting(written, figure),
                shown=str(written),
                sources=(SOURCE,),
                status="read in the source",
                note=f"Set by local guidance; the base has {figure.shown}.",
            )
        except NotAQuantity as error:
            faults.append(Fault(place, str(error)))
    return found


def over_base(base: Base, local: Local) -> Base:
    """The base with local guidance over it."""
    rules = (*base.rules, *loose(local.rules))
    order, calculation_places = ordered(rules, base.calculations)
    return replace(
        base,
        rules=rules,
        figures={**base.figures, **local.figures},
        laid_over={name: base.figures[name] for name in local.figures},
        strata=order,
        calculation_order=calculation_places,
        sources={**base.sources, SOURCE: source_of(local.title, local.issuer, local.date)},
    )


def over_case(base: Base, case: Case, local: Local) -> Case:
    """The case with the facts local guidance lays down; of two statements the more cautious
    stands, and the case's where no order tells.
    """
    facts = dict(case.facts)
    for reference, fact in local.facts.items():
        held, attribute = facts.get(reference), base.vocabulary.by_key[fact.key]
        value = fact.value if held is None else cautious(attribute, held.value, fact.value)
        if held is None or value != held.value:
            shown = show_value(attribute, value)
            state = fact.state if held is None else min(fact.state, held.state)
            facts[reference] = fact._replace(state=state, value=value, text=shown, over=held)
    return replace(case, facts=facts)


def as_stated(case: Case) -> Case:
    """The case as it was before local guidance was laid over it."""
    said = {
        reference: fact.over if fact.said_by == LOCAL else fact
        for reference, fact in case.facts.items()
    }
    return replace(case, facts={ref: fact for ref, fact in said.items() if fact is not None})


def cautious(attribute: Attribute, held: Value, laid: Value) -> Value:
    """Of a value that is held and one laid down the more cautious, end by end, by the vocabulary's
    order; the one held where there is none.
    """
    if attribute.is_number:
        worse = {"more": max, "less": min}.get(attribute.worse)
        return tuple(map(worse, held, laid)) if worse else held
    if not attribute.ranks:
        return held
    least = attribute.as_bad_as(int(laid).bit_length() - 1)
    return (held & least) | (laid if held & ~least else 0)


def _crowds(rules: Iterable[Rule]) -> Iterator[Fault]:
    """Faults of more lines of one kind than leave what is built in within sight."""
    for kind, word in CROWDS.items():
        giving = [rule for rule in rules for _ in rule.gives(kind)]
        if len(giving) > MOST_LINES:
            text = (
                f"local guidance adds at most {MOST_LINES} lines of '{word}', here are"
                f" {len(giving)}; more would push out of sight what is built in. Put the rest on a"
                " paper of your own."
            )
            yield Fault(giving[MOST_LINES].place, text)
