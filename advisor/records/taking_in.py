"""Cards out of a club's own spreadsheet: which column is what, the rows that cannot be taken, each
named by sheet, row and column, and the entries that the others come to.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from datetime import date

from msgspec import Struct, field

from advisor.faults import Fault, Faults, Place
from advisor.load.records import Layout
from advisor.model.names import KIT_TYPE
from advisor.records.card import CARD, EXAMINED, TOLD
from advisor.records.dates import NotADate, read_date
from advisor.records.desk import KIT, LADDER, Desk
from advisor.records.entry import New
from advisor.records.sheets import Cell, Table

SHEETS, COLUMNS = "(sheets)", "columns"  # the mark and the kind of entry that remember columns
LEFT_OUT = "-"
PLURAL = re.compile(r"s$")
UNIT = re.compile(r"\s*[(\[]\s*([a-z]+)\s*[)\]]$", re.I)  # of a heading: 'Length (m)'
NUMBER = re.compile(r"\d+(?:[.,]\d+)?")


class Taken(Struct):
    """What a file comes to: entries of the good rows, faults of the others, the examinations of
    which only the day is kept, and the columns that nothing was made of.
    """

    entries: list[New] = field(default_factory=list)
    cards: int = 0
    days_only: int = 0
    faults: list[Fault] = field(default_factory=list)
    left_out: list[str] = field(default_factory=list)


def known_columns(desk: Desk) -> dict[str, str]:
    """{heading: what it is}, as it was said at earlier times."""
    found: dict[str, str] = {}
    for entry in desk.store.entries(SHEETS):
        found.update(entry.body.get(COLUMNS, {}))
    return found


def meaning(heading: str, kind: str, desk: Desk, said: Mapping[str, str]) -> str:
    """What a column is: a word of the layout, a fact that may stand on a card, or ''."""
    if heading in said:
        return said[heading]
    plain = _plain(heading)
    for name, words in desk.layout.columns.items():
        if plain == name or plain in words:
            return name
    return _fact(heading, kind, desk)


def _fact(heading: str, kind: str, desk: Desk) -> str:
    """The fact that a heading names, whatever its case and with the unit left out; or ''."""
    named = UNIT.sub("", heading.strip())
    if desk.pair(kind, named):
        return named
    return next((n for n in (named, named.lower()) if _is_fact(n, kind, desk)), "")


def _meanings(
    table: Table, kind: str, desk: Desk, said: Mapping[str, str], taken: Taken
) -> list[str]:
    """What each column is. Where two would be the same, the later is a fact of that name, such as
    the kind of a ladder beside the kind of kit; else neither is guessed at.
    """
    found: list[str] = []
    for column, heading in enumerate(table.headings, 1):
        what = meaning(heading, kind, desk, said)
        if what in found and what not in ("", LEFT_OUT):
            first, what = what, _fact(heading, kind, desk)
            if what in (*found, ""):
                text = (
                    f"'{heading}' and '{table.headings[found.index(first)]}' would both be"
                    f' {first}; leave one out with --column "{heading}={LEFT_OUT}".'
                )
                taken.faults.append(Fault(Place(table.name or "sheet", 1, column), text))
        found.append(what)
    return found


def _plain(text: str) -> str:
    return " ".join(re.sub(r"[^a-z0-9 ]+", " ", text.lower()).split())


def _is_fact(name: str, kind: str, desk: Desk) -> bool:
    entity, _, short = name.rpartition(".")
    things = [entity] if entity else desk.layout.kinds[kind]
    splits = (desk.advisor.base.vocabulary.split(thing) for thing in things)
    attributes = (split[0].attributes.get(short) for split in splits if split)
    return any(a and desk.layout.holds(kind, a) for a in attributes)


def kind_of(table: Table, layout: Layout, kind: str) -> str:
    """The kind of cards a sheet is of: as its name says, else as the command does."""
    named = PLURAL.sub("", table.name.strip().lower())
    return named if named in layout.kinds else kind


def take(
    table: Table, kind: str, desk: Desk, said: Mapping[str, str], taken: Taken, competence: str = ""
) -> None:
    """Add what a table comes to. `competence`: what makes those competent who examined."""
    before = len(taken.faults)
    meanings = _meanings(table, kind, desk, said, taken)
    if len(taken.faults) > before:
        return
    for heading, what in zip(table.headings, meanings):
        if not what and heading:
            taken.left_out.append(f"{table.name}: {heading}".removeprefix(": "))
    if "mark" not in meanings:
        text = 'no column holds the marks; name one with --column "HEADING=mark".'
        taken.faults.append(Fault(Place(table.name or "sheet"), text))
        return
    known = set(desk.store.cards()) | {e.card for e in taken.entries if e.what == CARD}
    for number, cells in table.rows:
        row = _Row(table, number, list(zip(meanings, table.headings, cells)), competence)
        entries = list(row.entries(kind, desk, known))
        if row.faults:
            taken.faults += row.faults
        else:
            taken.entries += entries
            taken.cards += bool(entries)
            taken.days_only += any(EXAMINED in e.body.get("dates", {}) for e in entries)
            known |= {entry.card for entry in entries}


class _Row:
    """One row while it is read."""

    def __init__(
        self, table: Table, number: int, cells: list[tuple[str, str, Cell]], competence: str
    ) -> None:
        self.table, self.number, self.cells = table, number, cells
        self.competence = competence
        self.faults: list[Fault] = []

    def entries(self, kind: str, desk: Desk, known: set[str]) -> Iterator[New]:
        """The entries of the row; faults go to `faults`."""
        told = {
            what: _with_unit(heading, cell.text)
            for what, heading, cell in self.cells
            if what and cell.text
        }
        for what, heading, cell in self.cells:
            if what and what != LEFT_OUT and cell.fault:
                self.fault(heading, cell.fault + ".")
        mark, type_ = told.pop("mark", ""), told.pop("type", "").lower()
        by, days = told.pop("by", ""), self._days(told, desk)
        told.pop("card", None)
        told.pop(LEFT_OUT, None)
        if not mark or mark in known:
            self.fault("mark", "there is a card of this mark already." if mark else "no mark.")
        if kind == KIT and type_ not in _types(desk):
            self.fault(
                "type", f"'{type_}' is no kind of kit known here: {', '.join(_types(desk))}."
            )
            return
        first = min([*days.values(), desk.today]).isoformat()
        try:
            body = desk.body(kind, type_, told, {n: d for n, d in days.items() if n != EXAMINED})
        except Faults as error:
            for fault in error.faults:
                self.fault(fault.place.file, fault.message)
        if self.faults:
            return
        card = {name: part for name, part in body.items() if name != "facts"}
        facts = body.get("facts", {})
        begun = {n: raw for n, raw in facts.items() if _stands(desk, n) == "always"}
        yield New(mark, CARD, first, {**card, "facts": begun}, desk.by)
        stays: dict[str, str] = {}
        if EXAMINED in days:
            stays = {n: raw for n, raw in facts.items() if _stands(desk, n) == "until examined"}
            initials = by if by.isalpha() and len(by) <= 3 else desk.by
            yield _examined(mark, days[EXAMINED].isoformat(), stays, initials, self.competence)
        rest = {n: raw for n, raw in facts.items() if n not in begun and n not in stays}
        if rest:
            yield New(mark, TOLD, desk.today.isoformat(), {"facts": rest}, desk.by)

    def _days(self, told: dict[str, str], desk: Desk) -> dict[str, date]:
        days = {}
        for name in (*desk.layout.dates, EXAMINED):
            if name in told:
                try:
                    days[name] = read_date(told.pop(name), desk.today)
                except NotADate as error:
                    self.fault(name, str(error))
        return days

    def fault(self, heading: str, text: str) -> None:
        """Note a fault by sheet, row and column."""
        place = Place(self.table.name or "sheet", self.number, self._column(heading))
        self.faults.append(Fault(place, f"{heading}: {text}"))

    def _column(self, heading: str) -> int:
        for n, (what, named, _) in enumerate(self.cells, 1):
            if heading in (what, named) or what.endswith(f".{heading}"):
                return n
        return 1


def _with_unit(heading: str, text: str) -> str:
    """A bare number, which may have a decimal comma, with the unit that its heading names."""
    unit = UNIT.search(heading)
    return f"{text.replace(',', '.')} {unit[1]}" if unit and NUMBER.fullmatch(text) else text


def _examined(mark: str, on: str, stays: dict[str, str], by: str, competence: str) -> New:
    """An examination that a list tells of. Where nobody says what made those who examined
    competent to, only its day is kept, from which the next is counted.
    """
    if competence:
        return New(mark, EXAMINED, on, {"facts": stays, "competence": competence}, by)
    return New(mark, TOLD, on, {"facts": stays, "dates": {EXAMINED: on}}, by)


def _types(desk: Desk) -> tuple[str, ...]:
    attribute = desk.advisor.base.vocabulary.attribute(KIT_TYPE)
    return (LADDER, *(attribute.values if attribute else ()))


def _stands(desk: Desk, name: str) -> str:
    """How long a fact stands."""
    thing, _, short = name.rpartition(".")
    split = desk.advisor.base.vocabulary.split(thing)
    return split[0].attributes[short].stands if split else ""
