"""Reading rules/screen.yaml and rules/common.yaml, held against the rest of the base."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from advisor.facts.vocabulary import Attribute
from advisor.faults import Fault, did_you_mean
from advisor.load.schema import form_faults
from advisor.load.tree import Data, Document, Step
from advisor.model.base import Base
from advisor.model.layout import BANDS, Layout, Part, Row
from advisor.model.slots import Slot, slots

PARTS = ("rig", "people", "in order", "drill", "times")


def read_layout(
    screen: Document | None, common: Document | None, base: Base
) -> tuple[Layout, list[Fault]]:
    """(layout, faults); a base without the files has an empty one."""
    faults = form_faults(screen, "screen") if screen else []
    faults += form_faults(common, "common") if common else []
    if faults or screen is None:
        return Layout(), faults
    data, paper = screen.data, screen.data["paper"]
    layout = Layout(
        rigged=tuple(data["rigged"]),
        rig=_rows(data["rig"]),
        people=_rows(data["people"]),
        in_order=_rows(data["in order"]),
        drill=_rows(data["drill"]),
        times=_rows(data["times"]),
        deadliest=tuple(data["deadliest"]),
        last_resort=tuple(data["last resort"]),
        paper_topics=tuple(paper["topics"]),
        paper_rules=tuple(paper["rules"]),
        paper_facts=tuple(paper["facts"]),
        ask_first=tuple(data["ask first"]),
        look_first=dict(data["look first"]),
        caution=data["caution"]["plan"],
        caution_in_need=data["caution"]["incident"],
        common={
            rule: BANDS.index(band)
            for band, rules in (common.data if common else {}).items()
            for rule in rules
        },
    )
    return layout, [*_unknown(screen, base), *_bad_slots(screen, base)]


def _rows(data: Data) -> tuple[Row, ...]:
    return tuple(
        Row(
            row["line"],
            tuple(map(_part, row["say"])),
            tuple(row.get("given", ())),
            row.get("kept") == "yes",
        )
        for row in data
    )


def _part(data: Data) -> Part:
    if isinstance(data, str):
        return Part(data)
    return Part(data["say"], data.get("not told", ""), tuple(data.get("when", {}).items()))


def _unknown(document: Document, base: Base) -> Iterator[Fault]:
    """Faults for options, rules, topics and facts that the base does not have."""
    data, paper = document.data, document.data["paper"]
    options = [o for d in base.decisions.values() for o in d.get("options", ())]
    rules = [r.id for r in base.rules]
    named: list[tuple[tuple[Step, ...], list[str], list[str]]] = [
        (("rigged",), data["rigged"], options),
        (("paper", "topics"), paper["topics"], sorted({r.topic for r in base.rules})),
        (("paper", "rules"), paper["rules"], rules),
        (("deadliest",), data["deadliest"], rules),
        (("last resort",), data["last resort"], rules),
        (("paper", "facts"), paper["facts"], sorted({a.name for a in _attributes(base)})),
        (("ask first",), data["ask first"], sorted(base.vocabulary.by_key)),
    ]
    for part in PARTS:
        named += [
            ((part, n, "given"), row.get("given", []), rules) for n, row in enumerate(data[part])
        ]
    for name in data["look first"]:
        if name not in base.vocabulary.by_key:
            yield Fault(
                document.place(("look first", name)),
                f"'{name}' is no fact.{did_you_mean(name, base.vocabulary.by_key)}",
            )
    for path, names, known in named:
        for n, name in enumerate(names):
            if name not in known:
                yield Fault(
                    document.place((*path, n)),
                    f"'{name}' is not in the rule base.{did_you_mean(name, known)}",
                )


def _attributes(base: Base) -> Iterable[Attribute]:
    return base.vocabulary.by_key.values()


def _bad_slots(document: Document, base: Base) -> Iterator[Fault]:
    """Faults for braces that name nothing."""
    data = document.data
    said = [
        ((part, n, "say", m), _part(told).say)
        for part in PARTS
        for n, row in enumerate(data[part])
        for m, told in enumerate(row["say"])
    ]
    known = [*base.decisions, *(c.id for c in base.calculations), *base.vocabulary.by_key]
    for path, name in _conditions(data):
        if name not in base.vocabulary.by_key:
            near = did_you_mean(name, base.vocabulary.by_key)
            yield Fault(document.place(path), f"'{name}' is no fact.{near}")
    for path, text in said:
        for slot in slots(text):
            wrong = _wrong(slot, base)
            if wrong:
                yield Fault(
                    document.place(path),
                    f"'{wrong}' is no decision, calculation or fact.{did_you_mean(wrong, known)}",
                )


def _conditions(data: Data) -> Iterator[tuple[tuple[Step, ...], str]]:
    """Where a fact is named on which a part rests, and its name."""
    for part in PARTS:
        for n, row in enumerate(data[part]):
            for m, told in enumerate(row["say"]):
                for name, _ in _part(told).when:
                    yield (part, n, "say", m, "when", name), name


def _wrong(slot: Slot, base: Base) -> str:
    """What in a slot names nothing; '' where all is known."""
    if slot.sum:
        return "" if any(c.id == slot.name for c in base.calculations) else slot.name
    if slot.name in base.decisions:
        kind = base.decisions[slot.name].get("each")
        keys = [f"{kind}.{name}" for name in slot.facts]
        return next((key for key in keys if key not in base.vocabulary.by_key), "")
    known = any(c.id == slot.name for c in base.calculations)
    return "" if known or slot.name in base.vocabulary.by_key else slot.name
