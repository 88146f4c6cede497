"""Reading a file of local guidance, and putting it over a rule base: it can tighten anything and
loosen nothing silently.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from advisor.facts.quantity import NotAQuantity
from advisor.facts.values import Fact, read_fact
from advisor.facts.vocabulary import Attribute, Value
from advisor.faults import Fault, Faults, did_you_mean
from advisor.load.case import Case
from advisor.load.figures import kind_of, si
from advisor.load.rules import read_rules
from advisor.load.schema import form_faults
from advisor.load.tree import Document, read_document
from advisor.model.base import Base
from advisor.model.calculation import Figure
from advisor.model.effects import Refer
from advisor.model.rule import Rule
from advisor.model.strata import calculation_order, strata

SOURCE = "local-guidance"
WARMTH, DEGREES, TIMES = (
    "temperature",
    30,
    10,
)  # how far a local figure may lie from the base's before it is taken for a slip


@dataclass(frozen=True)
class Local:
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
        """What it is, by whom and of when, in a few words."""
        return f"{self.title}, {self.issuer}, {self.date}"


def read_local(path: str | Path, base: Base) -> Local:
    """Read and check a file of local guidance; raises Faults."""
    document = read_document(path, str(path))
    faults = form_faults(document, "local")
    if faults:
        raise Faults(faults)
    data = document.data
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
        return []
    inner = Document(
        document.file,
        {
            "topic": data.get("topic", ""),
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
    faults += [
        Fault(rule.place, f"the id '{rule.id}' of a local rule must begin with 'local.'.")
        for rule in found
        if not rule.id.startswith("local.")
    ]
    return found


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
            single = [e.name for e in base.vocabulary.entities.values() if not e.many]
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
            fact, message = read_fact(attribute, entity, raw, {}, "local guidance", place)
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
                value=_fitting(written, figure),
                shown=str(written),
                sources=(SOURCE,),
                status="read in the source",
                note=f"Set by local guidance; the base has {figure.shown}.",
            )
        except NotAQuantity as error:
            faults.append(Fault(place, str(error)))
    return found


def _fitting(written: object, figure: Figure) -> float:
    """A local figure in SI units; raises NotAQuantity where it is of another kind than the base's,
    of another sign, or far from it.
    """
    value, shown, own = si(written), figure.shown, figure.value
    assert own is not None, figure.name  # local guidance sets single figures only
    if kind_of(written) != kind_of(shown):
        raise NotAQuantity(
            f"'{written}' is not a figure of the kind of '{shown}', which the base has; write one"
            " with such a unit."
        )
    if kind_of(shown) == WARMTH:  # degrees have no natural nought
        fits = abs(value - own) <= DEGREES
    else:
        fits = (
            (value - 1) * (own - 1) >= 0 if kind_of(shown) == "ratio" else True
        )  # a share of one stays one
        fits = (
            fits
            and value == own
            or fits
            and value * own > 0
            and min(value / own, own / value) * TIMES >= 1
        )
    if not fits:
        raise NotAQuantity(
            f"'{written}' is too far from '{shown}', which the base has, to be meant; look at the"
            " sign, the number and the unit."
        )
    return value


def over_base(base: Base, local: Local) -> Base:
    """The base with local guidance over it."""
    rules = (*base.rules, *local.rules)
    return replace(
        base,
        rules=rules,
        figures={**base.figures, **local.figures},
        strata=strata(rules, base.calculations),
        calculation_order=calculation_order(rules, base.calculations),
        sources={**base.sources, SOURCE: source_of(local.title, local.issuer, local.date)},
    )


def over_case(base: Base, case: Case, local: Local) -> Case:
    """The case with the facts local guidance lays down; of two statements the more cautious
    stands, and the case's where no order tells.
    """
    facts = dict(case.facts)
    for reference, fact in local.facts.items():
        held = facts.get(reference)
        if held is None or more_cautious(base.vocabulary.by_key[fact.key], fact.value, held.value):
            facts[reference] = fact
    return replace(case, facts=facts)


def more_cautious(attribute: Attribute, first: Value, second: Value) -> bool:
    """Whether the first value is more cautious than the second by the vocabulary's ordering."""
    if attribute.is_number:
        (low, high), (low2, high2) = first, second
        return bool(attribute.worse and (high > high2 if attribute.worse == "more" else low < low2))
    if not attribute.ranks:
        return False
    grade, grade2 = (attribute.ranks[int(mask).bit_length() - 1] for mask in (first, second))
    return grade > grade2
