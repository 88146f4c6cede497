"""The commands `kit`, `place`, `leader`, `practice` and `records`."""

from __future__ import annotations

import sys
from argparse import ArgumentParser, ArgumentTypeError, Namespace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from advisor.bounded import read_line
from advisor.faults import Fault, Faults, Place
from advisor.records import options as cards_options
from advisor.screen import page
from advisor.streams import give

if TYPE_CHECKING:
    from datetime import date

    from advisor.records.desk import Desk
    from advisor.records.entry import Entry

OK, SOME_LEFT, OUT_OF_USE = 0, 2, 3
READING = ("show", "history", "list", "due", "export", "labels", "where", "check", "backup")
HELPS = {
    "kit": "cards of ladders, ropes and all other kit",
    "place": "cards of pitches: depth, anchors, how water answers",
    "leader": "cards of leaders: authorised depth, what was practised",
    "practice": "how this club usually does it, confirmed once a trip",
}
BY_CARD = "MARK"


def add(commands: Any, wanted: str | None = None) -> None:
    """Add the commands; where one is wanted, the others only by name."""
    for kind, help_ in HELPS.items():
        said = help_[0].upper() + help_[1:] + "."
        command = commands.add_parser(kind, help=help_, description=said)
        if wanted not in (None, kind):
            continue
        actions = command.add_subparsers(dest="action", metavar="ACTION", required=True)
        _cards(actions, kind)
        if kind == "kit":
            _kit(actions)
    records = commands.add_parser(
        "records",
        help="the file of cards: where it is, whether it is whole, a copy of it",
        description="The file that cards are kept in.",
    ).add_subparsers(dest="action", metavar="ACTION", required=True)
    for name, help_ in (
        ("where", "tell the file, and how many entries it holds"),
        ("check", "prove that no entry was changed or is missing"),
        ("backup", "copy it, also while others write"),
    ):
        command = _action(records, name, help_)
        if name == "backup":
            command.add_argument("to", metavar="FILE")


def _action(
    actions: Any, name: str, help_: str, mark: bool = False, writes: bool = True
) -> ArgumentParser:
    command: ArgumentParser = actions.add_parser(
        name, help=help_, description=help_[0].upper() + help_[1:] + "."
    )
    if mark:
        command.add_argument("mark", metavar=BY_CARD)
    cards_options.add(command)
    if writes:
        command.add_argument("--by", metavar="AB", default="", type=_initials, help="your initials")
    return command


def _initials(text: str) -> str:
    if text and not (text.isalpha() and len(text) <= 3):
        raise ArgumentTypeError(f"'{text}': initials are enough, one to three letters")
    return text.upper()


def _fact(text: str) -> tuple[str, str]:
    name, equals, raw = text.partition("=")
    if not (equals and name.strip() and raw.strip()):
        raise ArgumentTypeError(f"'{text}' should be FACT=VALUE, such as \"length=10 m\"")
    return name.strip(), raw.strip()


def _cards(actions: Any, kind: str) -> None:
    """What every kind of card has."""
    for name, help_ in (("add", "make a card"), ("change", "add to a card what is known")):
        command = _action(actions, name, help_, mark=True)
        if kind == "kit":
            command.add_argument("--type", default="", help="ladder, rope, cord, connector …")
            for day in ("made", "bought", "first-used"):
                command.add_argument(f"--{day}", metavar="DATE", default="")
        command.add_argument(
            "--fact", type=_fact, action="append", default=[], metavar="FACT=VALUE",
            help="what is known of it, as often as needed",
        )  # fmt: skip
        command.add_argument(
            "--from", dest="case", metavar="CASE", help="take what may stand on it from a case"
        )
    _action(actions, "show", "tell a card, with what no longer stands", mark=True)
    _action(actions, "history", "tell every entry of a card", mark=True)
    _action(actions, "list", "list the cards")
    taking = _action(actions, "import", "make cards out of a spreadsheet (.csv, .xlsx)")
    taking.add_argument("file", metavar="FILE")
    taking.add_argument(
        "--column", type=_fact, action="append", default=[], metavar="HEADING=FACT",
        help="what a column is; it is remembered",
    )  # fmt: skip
    taking.add_argument(
        "--competence", default="", metavar="WORDS",
        help="what makes those competent to examine whom the list names",
    )  # fmt: skip
    taking.add_argument("--yes", action="store_true", help="keep the good rows without asking")
    giving = _action(actions, "export", "write the cards as a spreadsheet (.csv, .xlsx)")
    giving.add_argument("file", metavar="FILE")
    wrong = _action(actions, "correct", "say that an entry is wrong; it stays to be read")
    wrong.add_argument("number", type=int, metavar="ENTRY")
    wrong.add_argument("--reason", required=True)


def _kit(actions: Any) -> None:
    """What happens to kit."""
    used = _action(actions, "used", "note that pieces were used, and how they came back")
    used.add_argument("marks", metavar="MARKS", help="marks parted by commas")
    used.add_argument("also", metavar="EVENT", nargs="*", help="muddy, wet, 'fall held' …")
    used.add_argument("--trip", default="", help="which trip it was")
    used.add_argument("--people", type=int, default=0, help="how many it carried, no names")
    note = _action(actions, "note", "note what happened: washed, dried, 'fall held', lent …")
    note.add_argument("marks", metavar="MARKS")
    note.add_argument("also", metavar="EVENT", nargs="+")
    lend = _action(actions, "lend", "note that pieces are lent to others")
    lend.add_argument("marks", metavar="MARKS")
    lend.add_argument("--to", default="", help="whom they are lent to: a club, no names")
    back = _action(actions, "back", "note that lent pieces came back, and how")
    back.add_argument("marks", metavar="MARKS")
    back.add_argument("also", metavar="EVENT", nargs="*", help="muddy, wet, 'fall held' …")
    walk = _action(actions, "examine", "go through pieces point by point; gives the verdict")
    walk.add_argument("marks", metavar="MARKS")
    walk.add_argument(
        "--competence", default="", metavar="WORDS",
        help="what makes you competent to examine it; without it this is a look before use",
    )  # fmt: skip
    due = _action(actions, "due", "tell what is to be examined", writes=False)
    due.add_argument(
        "--by", "--until", dest="until", metavar="DATE", default="", help="up to a day to come"
    )
    due.add_argument("--ics", metavar="FILE", default="", help="write them as a calendar file")
    label = _action(actions, "labels", "write labels to print, with a QR code of each mark")
    label.add_argument("file", metavar="FILE")
    label.add_argument("marks", metavar="MARKS", nargs="?", default="")
    aside = _action(actions, "set-aside", "take a piece out of use until it is examined", mark=True)
    aside.add_argument("--reason", required=True)
    retire = _action(actions, "retire", "take a piece out of use for good", mark=True)
    retire.add_argument("--reason", required=True)
    retire.add_argument("--disposal", default="", help="what was done with it")


def run(options: Namespace) -> int:
    """One of the commands."""
    from advisor.advise import Advisor

    reads = options.action in READING
    desk = cards_options.desk(options, Advisor(), writes=not reads)
    if options.command == "records":
        return _RECORDS[options.action](desk, options)
    fault = desk.store.doubt() if reads else None
    if fault:
        print(fault, file=sys.stderr)
    return _ACTIONS[options.action](desk, options)


def _say(*lines: str) -> int:
    return give(page(lines))


def _kept(desk: Desk, options: Namespace, entries: list[Entry]) -> int:
    """Say what was written down, and how to take it back."""
    from advisor.records.shown import entry_line

    events = desk.layout.events
    lines = [entry_line(e, events[e.what].says if e.what in events else "") for e in entries]
    return _say("Kept:", *lines, f"Wrong? '{options.command} correct ENTRY --reason WHY' says so.")


def _given(desk: Desk, options: Namespace, type_: str) -> dict[str, str]:
    """The facts typed, over those that may stand on the card taken from a case."""
    facts, layout = {}, desk.layout
    of = layout.things_of(type_) if type_ else layout.kinds[options.command]
    if options.case:
        case = desk.advisor.read(options.case)
        for (entity, key), fact in case.facts.items():
            attribute = desk.advisor.base.vocabulary.by_key[key]
            thing = attribute.entity if options.command == "kit" else entity
            if attribute.entity in of and layout.holds(options.command, attribute):
                facts[f"{thing}.{attribute.name}"] = fact.text
    return {**facts, **dict(options.fact)}


def _days(desk: Desk, options: Namespace) -> dict[str, date]:
    names = {"made": "made", "bought": "bought", "first_used": "first used"}
    given = {name: getattr(options, option, "") for option, name in names.items()}
    return {name: desk.day(text) for name, text in given.items() if text}


def _add(desk: Desk, options: Namespace) -> int:
    type_ = getattr(options, "type", "")
    if options.command == "kit" and not type_:
        text = "say what it is: --type ladder, rope, cord, sling, connector, harness …"
        raise Faults([Fault(Place(options.mark), text)])
    facts, days = _given(desk, options, type_), _days(desk, options)
    return _kept(desk, options, desk.begin(options.mark, options.command, type_, facts, days))


def _change(desk: Desk, options: Namespace) -> int:
    card = desk.card(options.mark, options.command)
    facts, days = _given(desk, options, card.type), _days(desk, options)
    if not (facts or days):
        raise Faults([Fault(Place(options.mark), "nothing to add; use --fact NAME=VALUE.")])
    return _kept(desk, options, desk.tell(card, facts, days))


def _show(desk: Desk, options: Namespace) -> int:
    from advisor.records.shown import card_lines
    from advisor.records.verdict import advice_on, verdict

    card = desk.card(options.mark, options.command)
    word = verdict(advice_on(desk.advisor, card)) if card.kind == "kit" else ""
    return _say(*card_lines(card, word))


def _history(desk: Desk, options: Namespace) -> int:
    from advisor.records.shown import entry_line

    desk.card(options.mark, options.command)
    events = desk.layout.events
    return _say(
        *(
            entry_line(e, events[e.what].says if e.what in events else "")
            for e in desk.store.entries(options.mark)
        )
    )


def _list(desk: Desk, options: Namespace) -> int:
    from advisor.records.shown import list_line

    cards = desk.all(options.command)
    return _say(*(list_line(card, desk.layout) for card in cards), f"{len(cards)} cards.")


def _correct(desk: Desk, options: Namespace) -> int:
    return _kept(desk, options, desk.correct(options.number, options.reason))


def _marks(options: Namespace) -> list[str]:
    return [mark.strip() for mark in options.marks.split(",") if mark.strip()]


def _used(desk: Desk, options: Namespace) -> int:
    body = {name: getattr(options, name) for name in ("trip", "people") if getattr(options, name)}
    if options.people < 0:
        raise Faults([Fault(Place("--people"), "a number of people is not below nought.")])
    events = ["used", *_noted(desk, options)]
    return _kept(desk, options, desk.happened(_marks(options), events, body))


def _noted(desk: Desk, options: Namespace) -> list[str]:
    """The events typed; raises Faults for one that has a command of its own."""
    for name in options.also:
        event = desk.layout.events.get(name)
        if event and event.own_command:
            text = f"'{event.own_command}' notes that, since it asks what has to stand beside it."
            raise Faults([Fault(Place(name), text)])
    return list(options.also)


def _note(desk: Desk, options: Namespace) -> int:
    return _kept(desk, options, desk.happened(_marks(options), _noted(desk, options)))


def _lend(desk: Desk, options: Namespace) -> int:
    body = {"to": options.to} if options.to else {}
    return _kept(desk, options, desk.happened(_marks(options), ["lent"], body))


def _back(desk: Desk, options: Namespace) -> int:
    events = ["came back", *_noted(desk, options)]
    return _kept(desk, options, desk.happened(_marks(options), events))


def _out(desk: Desk, options: Namespace) -> int:
    event = "retired" if options.action == "retire" else "set aside"
    body = {"reason": options.reason}
    if getattr(options, "disposal", ""):
        body["disposal"] = options.disposal
    return _kept(desk, options, desk.happened([options.mark], [event], body))


def _due(desk: Desk, options: Namespace) -> int:
    from advisor.records.shown import due_lines

    by = desk.day(options.until, ahead=True)
    if options.ics:
        from advisor.records.traffic import calendar_of

        calendar_of(desk, options, _tell)
        return OK
    return _say(*due_lines(desk.all("kit"), by))


def _import(desk: Desk, options: Namespace) -> int:
    from advisor.records.traffic import take_in

    return OK if take_in(desk, options, _answer, _tell) else SOME_LEFT


def _export(desk: Desk, options: Namespace) -> int:
    from advisor.records.traffic import give_out

    give_out(desk, options, _tell)
    return OK


def _labels(desk: Desk, options: Namespace) -> int:
    from advisor.records.traffic import labels_of

    labels_of(desk, options, _tell)
    return OK


def _answer(text: str) -> str:
    """One line typed; '' where the input ends."""
    from advisor.records.examine import BrokenOff

    try:
        return _ask(text)
    except BrokenOff:
        return ""


def _examine(desk: Desk, options: Namespace) -> int:
    from advisor.records.sitting import Examiner, sit

    examiner = Examiner(options.by, options.competence)
    return OK if sit(desk, _marks(options), examiner, _ask, _tell) else OUT_OF_USE


def _tell(line: str) -> None:
    _say(line)


def _ask(text: str) -> str:
    """One line typed, after a line shown; raises BrokenOff where the input ends."""
    from advisor.records.examine import BrokenOff

    give(text)
    said = read_line()
    if not said:
        raise BrokenOff
    if not sys.stdin.isatty():
        give("\n")
    return said


def _where(desk: Desk, _options: Namespace) -> int:
    last = desk.store.last()
    return _say(f"{desk.store.path}: {last.number if last else 0} entries.")


def _check(desk: Desk, _options: Namespace) -> int:
    fault = desk.store.check()
    if fault:
        raise Faults([fault])
    last = desk.store.last()
    if last is None:
        return _say("No entry yet.")
    return _say(f"Whole: {last.number} entries, the last {last.hash[:12]}.")


def _backup(desk: Desk, options: Namespace) -> int:
    desk.store.back_up(Path(options.to))
    return _say(f"Copied to {options.to}.")


_RECORDS = {"where": _where, "check": _check, "backup": _backup}
_ACTIONS = {
    "add": _add,
    "change": _change,
    "show": _show,
    "history": _history,
    "list": _list,
    "correct": _correct,
    "used": _used,
    "note": _note,
    "lend": _lend,
    "back": _back,
    "examine": _examine,
    "due": _due,
    "import": _import,
    "export": _export,
    "labels": _labels,
    "set-aside": _out,
    "retire": _out,
}
