"""The commands `kit`, `place`, `leader`, `practice` and `records`."""

from __future__ import annotations

import sys
from argparse import ArgumentParser, ArgumentTypeError, Namespace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from advisor.faults import Fault, Faults, Place
from advisor.records import options as cards_options
from advisor.streams import give

if TYPE_CHECKING:
    from datetime import date

    from advisor.model.advice import Advice
    from advisor.records.card import Card
    from advisor.records.desk import Desk
    from advisor.records.entry import Entry

OK, SOME_LEFT, OUT_OF_USE = 0, 2, 3
FIT = ("keep", "keep and watch")  # verdicts under which a piece stays in use
READING = ("show", "history", "list", "due", "export", "labels", "where", "check", "backup")
NOT_YET_KEPT = 2**40  # the number of an entry that is only tried
HELPS = {
    "kit": "cards of ladders, ropes and all other kit",
    "place": "cards of pitches: depth, anchors, how water answers",
    "leader": "cards of leaders: authorised depth, what was practised",
    "practice": "how this club usually does it, confirmed once a trip",
}
BY_CARD = "MARK"


def add(commands: Any) -> None:
    """Add the commands."""
    for kind, help_ in HELPS.items():
        said = help_[0].upper() + help_[1:] + "."
        actions = commands.add_parser(kind, help=help_, description=said).add_subparsers(
            dest="action", metavar="ACTION", required=True
        )
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


def _action(actions: Any, name: str, help_: str, mark: bool = False) -> ArgumentParser:
    command: ArgumentParser = actions.add_parser(
        name, help=help_, description=help_[0].upper() + help_[1:] + "."
    )
    if mark:
        command.add_argument("mark", metavar=BY_CARD)
    cards_options.add(command)
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
    note = _action(actions, "note", "note what happened: washed, dried, 'fall held', lent …")
    note.add_argument("marks", metavar="MARKS")
    note.add_argument("also", metavar="EVENT", nargs="+")
    note.add_argument("--to", default="", help="whom it was lent to: a club, no names")
    walk = _action(actions, "examine", "go through pieces point by point; gives the verdict")
    walk.add_argument("marks", metavar="MARKS")
    due = _action(actions, "due", "tell what is to be examined")
    due.add_argument("--until", metavar="DATE", default="", help="up to a day to come")
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
    return give("".join(f"{line}\n" for line in lines))


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
    vocabulary = desk.advisor.base.vocabulary
    return _say(*(list_line(card, vocabulary) for card in cards), f"{len(cards)} cards.")


def _correct(desk: Desk, options: Namespace) -> int:
    return _kept(desk, options, desk.correct(options.number, options.reason))


def _marks(options: Namespace) -> list[str]:
    return [mark.strip() for mark in options.marks.split(",") if mark.strip()]


def _used(desk: Desk, options: Namespace) -> int:
    return _kept(desk, options, desk.happened(_marks(options), ["used", *options.also]))


def _note(desk: Desk, options: Namespace) -> int:
    body = {"to": options.to} if options.to else {}
    return _kept(desk, options, desk.happened(_marks(options), options.also, body))


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
    """One piece after the other; what was finished is kept where the next is broken off."""
    marks, keys = _marks(options), 0
    cards = [desk.card(mark, "kit") for mark in marks]
    words = []
    for card in cards:
        if len(cards) > 1:
            _say(f"{card.mark}, {card.type}:")
        word, typed = _examined(desk, card)
        words.append(word)
        keys += typed
    if len(cards) > 1:
        _say(*(f"{card.mark}: {word.upper()}" for card, word in zip(cards, words)), f"{keys} keys.")
    return OK if set(words) <= set(FIT) else OUT_OF_USE


def _examined(desk: Desk, card: Card) -> tuple[str, int]:
    """(the verdict on a piece gone through, how many keys that took)"""
    from advisor.records.card import EXAMINED, card_at
    from advisor.records.entry import Entry
    from advisor.records.examine import BrokenOff, ask_open, examined
    from advisor.records.verdict import advice_on, verdict

    vocabulary = desk.advisor.base.vocabulary

    def trial(body: dict[str, Any]) -> Advice:
        """The advice as it would be with this examination."""
        entry = Entry(card.mark, EXAMINED, desk.today.isoformat(), body, number=NOT_YET_KEPT)
        entries = [*desk.store.entries(card.mark), entry]
        then = card_at(entries, desk.today, desk.layout, vocabulary)
        assert then is not None
        return advice_on(desk.advisor, then)

    try:
        seen = examined(card, desk.layout.walk_of(card.type), vocabulary, _ask, _tell)
        ask_open(trial(seen.body), desk, card, seen, _ask)
    except BrokenOff:
        text = "broken off before the last point: nothing is kept, and the piece is not examined."
        raise Faults([Fault(Place(card.mark), text)]) from None
    body, advice = seen.body, trial(seen.body)
    word = verdict(advice)
    desk.happened([card.mark], [EXAMINED], {**body, "verdict": word})
    reasons = [f"  - {g.said}: {g.because}" for item in advice.items for g in item.grounds]
    told = [f"{card.mark}: {word.upper()}.", *(reasons if word != "keep" else [])]
    open_yet = [f"  - {q.text}" for q in advice.blocking]
    if word not in FIT and open_yet:
        told += ["Not known, and each could change it:", *open_yet[:4]]
    _say(*told, f"Kept. {seen.typed} keys.")
    return word, seen.typed


def _tell(line: str) -> None:
    _say(line)


def _ask(text: str) -> str:
    """One line typed, after a line shown; raises BrokenOff where the input ends."""
    from advisor.records.examine import BrokenOff

    give(text)
    said = sys.stdin.readline()
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
    "examine": _examine,
    "due": _due,
    "import": _import,
    "export": _export,
    "labels": _labels,
    "set-aside": _out,
    "retire": _out,
}
