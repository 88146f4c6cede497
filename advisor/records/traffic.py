"""Cards in and out: spreadsheets, the calendar of examinations, labels."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Callable, Iterator
from pathlib import Path

from advisor.faults import Fault, Faults, Place
from advisor.records import taking_in
from advisor.records.card import EXAMINED, Card
from advisor.records.desk import KIT, Desk
from advisor.records.entry import New
from advisor.records.sheets import Table, read_tables, write_table
from advisor.records.shown import due, due_by
from advisor.records.taking_in import COLUMNS, LEFT_OUT, SHEETS, Taken

Ask = Callable[[str], str]
Tell = Callable[[str], object]
BY_WHOM = (
    "Of {count} examinations only the day is taken: --competence WORDS says what makes those who"
    " examined competent to."
)


def take_in(desk: Desk, options: Namespace, ask: Ask, tell: Tell) -> bool:
    """Cards out of a file; the good rows are kept once they are confirmed. Whether all is well."""
    said = taking_in.known_columns(desk) | dict(options.column)
    tables = read_tables(Path(options.file))
    taken, new = _read(tables, desk, options, said), dict(options.column)
    for heading in sorted({name.rpartition(": ")[2] for name in taken.left_out}):
        told = ask(f"Column '{heading}': which fact is it? [Enter: leave it out] ").strip()
        new[heading] = told or LEFT_OUT
    if new:
        taken = _read(tables, desk, options, said | new)
    for line in _fault_lines(taken.faults):
        tell(line)
    tell(f"{taken.cards} cards can be taken, {_rows(taken)} rows cannot.")
    if taken.days_only:
        tell(BY_WHOM.format(count=taken.days_only))
    if not taken.cards:
        return False
    if not options.yes and ask(f"Keep these {taken.cards}? [yes / Enter: no] ").strip() != "yes":
        tell("Nothing kept.")
        return False
    remembered = [New(SHEETS, COLUMNS, desk.today.isoformat(), {COLUMNS: new})] if new else []
    desk.write([*remembered, *taken.entries])
    tell(f"Kept: {taken.cards} cards. 'kit list' tells them.")
    return not taken.faults


def _read(tables: list[Table], desk: Desk, options: Namespace, said: dict[str, str]) -> Taken:
    taken = Taken()
    for table in tables:
        kind = taking_in.kind_of(table, desk.layout, options.command)
        taking_in.take(table, kind, desk, said, taken, getattr(options, "competence", ""))
    return taken


def _fault_lines(faults: list[Fault]) -> Iterator[str]:
    """The faults in words: one that many rows have is said once, with the rows."""
    rows: dict[tuple[str, int, str], list[Fault]] = {}
    for fault in faults:
        rows.setdefault((fault.place.file, fault.place.column, fault.message), []).append(fault)
    for first, *others in rows.values():
        more = f" So in {len(others)} more rows, to row {others[-1].place.line}." if others else ""
        yield f"{first}{more}"


def _rows(taken: Taken) -> int:
    return len({(fault.place.file, fault.place.line) for fault in taken.faults})


def give_out(desk: Desk, options: Namespace, tell: Tell) -> None:
    """All cards of a kind as a table that reads back."""
    cards = desk.all(options.command)
    since = desk.layout.since
    names = sorted({_name(t, key) for c in cards for t, key in c.facts if key not in since})
    dates = [*desk.layout.dates, EXAMINED]
    headings = ["mark", "type", *dates, *names, "next examination"]
    rows = [_row(card, dates, names) for card in cards]
    if options.command != KIT:  # of these nothing is made or examined
        kept = [n for n, name in enumerate(headings) if name == "mark" or name in names]
        headings, rows = [headings[n] for n in kept], [[row[n] for n in kept] for row in rows]
    write_table(Path(options.file), headings, rows)
    tell(f"Written: {options.file}, {len(cards)} cards.")


def _name(thing: str, key: str) -> str:
    return f"{thing}.{key.partition('.')[2]}"


def _row(card: Card, dates: list[str], names: list[str]) -> list[str]:
    facts = {_name(thing, key): held.raw for (thing, key), held in card.facts.items()}
    days = {n: e.on if n == EXAMINED else str(e.body["dates"][n]) for n, e in card.dates.items()}
    then = due(card)
    when = then.day.isoformat() if then and then.day else ""
    return [
        card.mark,
        card.type,
        *(days.get(name, "") for name in dates),
        *(facts.get(name, "") for name in names),
        when,
    ]


def calendar_of(desk: Desk, options: Namespace, tell: Tell) -> None:
    """The examinations to come as a calendar file."""
    from advisor.records.calendar import calendar

    by = desk.day(options.until, ahead=True)
    found = due_by(desk.all("kit"), by)
    _write(Path(options.ics), calendar(found, desk.store.now()))
    tell(f"Written: {options.ics}, {len(found)} examinations.")


def labels_of(desk: Desk, options: Namespace, tell: Tell) -> None:
    """Labels and tags as a page to print."""
    from advisor.records.labels import page

    marks = [mark.strip() for mark in options.marks.split(",") if mark.strip()]
    cards = [desk.card(mark, "kit") for mark in marks] or desk.all("kit")
    _write(Path(options.file), page(cards).encode())
    tell(f"Written: {options.file}, {len(cards)} labels.")


def _write(path: Path, content: bytes) -> None:
    try:
        with open(path, "xb") as file:
            file.write(content)
    except FileExistsError:
        text = "this file is there already; name another."
        raise Faults([Fault(Place(str(path)), text)]) from None
    except OSError as error:
        text = f"cannot be written ({error.strerror or error})."
        raise Faults([Fault(Place(str(path)), text)]) from None
