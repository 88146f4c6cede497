"""The door of a rehearsal: shows, asks and keeps the sheet; a terminal or a pipe, a line an
answer.
"""

from __future__ import annotations

import shutil
import sys

from advisor.bounded import read_line
from advisor.drill.drill import END, Drill
from advisor.drill.sheet import Sheet, markdown
from advisor.faults import Fault, Faults, Place
from advisor.load.case_file import case_called, shipped
from advisor.load.folder import files_of, find_folder
from advisor.load.tree import read_document
from advisor.screen import page
from advisor.streams import give

LONGEST = 500  # characters kept of one answer
LEAVE = ("quit", "exit")
BACK = ("back", "go back")


class Ended(Exception):
    """The person, or the pipe, has had enough."""


def run(options) -> int:
    """Rehearse one case; returns 0."""
    from advisor.advise import Advisor

    if options.file == "-":
        raise Faults(
            [Fault(Place("drill"), "standard input is for the answers; name a case file.")]
        )
    advisor, sheet = Advisor(local_file=options.local), Sheet(options.sheet or "")
    try:
        path = options.file if options.file and _is_file(options.file) else _pick(options.file)
        drill = Drill(advisor, advisor.read(path), options.incidents)
        _go_through(drill, sheet)
    except (Ended, KeyboardInterrupt):
        _show(
            [
                "",
                "Ended here."
                + (
                    " The sheet holds what was discussed."
                    if sheet.path and sheet.path.exists()
                    else ""
                ),
            ]
        )
    return 0


def _go_through(drill, sheet):
    """Ask by ask; a step back is the course taken anew with all answers but the last."""
    answers: list[str] = []
    course, ask, kept = drill.course(), None, -1
    ask = next(course)
    while True:
        if len(drill.entries) != kept:
            kept = len(drill.entries)
            _keep(drill, sheet)
        _show_screens(["", *ask.lines])
        if ask.question is END:
            return
        answer = _answer(ask.question or "(Enter)")
        if answer.lower() in BACK:
            answers = answers[: max(0, len(answers) - 1)]
            drill.entries.clear()
            course = drill.course()
            ask = next(course)
            for earlier in answers:
                ask = course.send(earlier)
            continue
        answers.append(answer)
        ask = course.send(answer)


def _keep(drill, sheet):
    case = drill.case
    sheet.write(
        markdown(case.title, case.teaches, drill.guidance(), drill.entries, drill.advice.cautions)
    )


def _show(lines):
    give(page(lines))


def _show_screens(lines):
    """A screen at a time where a terminal is lower than the lines."""
    rows = page(lines).splitlines(keepends=True)
    high = shutil.get_terminal_size().lines - 2  # the question, and a free row
    while sys.stdin.isatty() and sys.stdout.isatty() and len(rows) > high > 0:
        give("".join(rows[:high]))
        rows = rows[high:]
        _answer("(Enter for the rest)")
    give("".join(rows))


def _answer(question: str) -> str:
    """One line; a pipe's answers are shown, so that the transcript reads as a talk.
    Raises Ended.
    """
    if sys.stdin.isatty():
        try:
            line = input(f"{question} ")
        except EOFError:
            raise Ended() from None
    else:
        line = read_line()
        if not line:
            raise Ended()
        _show([f"{question} {line.strip()[:LONGEST]}"])
    if line.strip().lower() in LEAVE:
        raise Ended()
    return line.strip()[:LONGEST]


def _is_file(name) -> bool:
    from pathlib import Path

    return Path(shipped(name)).is_file()


def _pick(word):
    """The worked case that a word or a number means; asks with the list of them where none was
    given.
    """
    folder = find_folder("cases")
    files = {p.relative_to(folder.parent).as_posix(): p for p in files_of(folder)}
    if not word:
        for number, name in enumerate(files, 1):
            _show([f"{number}. {name}: {read_document(files[name]).data.get('case', '')}"])
        word = _answer("Which case? (a number or a word from its name)")
    if word.isdecimal() and len(word) < 9 and 1 <= int(word) <= len(files):
        return list(files.values())[int(word) - 1]
    return case_called(word)
