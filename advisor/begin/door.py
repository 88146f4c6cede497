"""The door of a new plan: asks what is known at home, a line an answer, and writes the case file.

Nothing answered is lost: leaving early writes what was said so far.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator

from msgspec.structs import replace

from advisor.begin.text import OPEN, Line, text, unit
from advisor.bounded import read_line
from advisor.facts.values import read_fact
from advisor.facts.vocabulary import Attribute
from advisor.faults import Fault, Faults, Place
from advisor.load.folder import find_folder
from advisor.load.new_plan import NewPlan, Part, read_new_plan
from advisor.model.base import Base
from advisor.screen import wrapped
from advisor.streams import give

LONGEST = 500  # characters kept of one answer
EXAMPLES = ("left anchor", "right anchor")  # names in a template of things that may be several
HELLO = (
    "A new plan. Enter leaves a question open; a number picks a choice; 'quit' writes what was said"
    " so far."
)


class Left(Exception):
    """The person, or the pipe, has had enough."""


def new(options) -> int:
    """Ask and write one plan; with `blank` only write the template. Returns 0; raises Faults."""
    from advisor.advise import Advisor

    file = options.file
    if not file.endswith((".yaml", ".yml")):
        raise Faults([Fault(Place(file), "a case file's name ends in .yaml; name another.")])
    if os.path.lexists(file):
        raise Faults([Fault(Place(file), "exists already; choose another name.")])
    if not os.access(os.path.dirname(file) or ".", os.W_OK):  # known before anything is asked
        raise Faults([Fault(Place(file), "cannot be written there; name another folder.")])
    base = Advisor().base
    plan = read_new_plan(base.vocabulary, find_folder("rules"))
    title, lines = ("A new plan", _blank(base, plan)) if options.blank else _ask(base, plan)
    _write(file, text(title, [*lines, *_more(base, plan, lines)]))
    left = sum(line.answer == OPEN for line in lines)
    said = "" if options.blank else f", {len(lines) - left} facts known and {left} left open"
    return give(wrapped([f"Written: {file}{said}. Next: pitch-advisor advise {file}"]))


def _write(file: str, words: str) -> None:
    try:
        with open(file, "x", encoding="utf-8") as out:
            out.write(words)
    except (OSError, ValueError) as error:  # a name with a zero byte is a ValueError
        reason = getattr(error, "strerror", None) or error
        raise Faults([Fault(Place(file), f"cannot be written ({reason}); name another.")]) from None


def _line(base: Base, entity: str, attribute: Attribute, answer: str = "") -> Line:
    from advisor.decide.firing import name_of

    return Line(entity, attribute, attribute.asks.replace("{it}", name_of(base, entity)), answer)


def _blank(base: Base, plan: NewPlan) -> list[Line]:
    """Every line that would be asked, left open; where several may be named, two as examples."""
    return [
        _line(base, entity, fact, OPEN)
        for part in plan.asks
        for entity in ([f"{part.of} {one}" for one in EXAMPLES] if part.called else [part.of])
        for fact in part.facts
    ]


def _more(base: Base, plan: NewPlan, lines: list[Line]) -> list[Line]:
    """What a template also names, for the things that are in it."""
    named = list(dict.fromkeys(line.entity for line in lines))
    kinds = {part.of for part in plan.asks if part.called}
    return [
        _line(base, entity, fact)
        for part in plan.more
        for entity in (
            [n for n in named if n.startswith(part.of + " ")] if part.of in kinds else [part.of]
        )
        for fact in part.facts
    ]


def _ask(base: Base, plan: NewPlan) -> tuple[str, list[Line]]:
    """(title, lines) as answered."""
    lines: list[Line] = []
    title = ""
    try:
        give(wrapped([HELLO]))
        title = _answer("What is the plan called?")
        for part in plan.asks:
            for entity in _things(part):
                for attribute in part.facts:
                    lines.append(_line(base, entity, attribute, OPEN))
                    lines[-1] = replace(lines[-1], answer=_fact(lines[-1]) or OPEN)
    except (Left, KeyboardInterrupt):
        asked = {(line.entity, line.attribute.key) for line in lines}
        lines += [
            line for line in _blank(base, plan) if (line.entity, line.attribute.key) not in asked
        ]
    return title or "A new plan", lines


def _things(part: Part) -> Iterator[str]:
    """The things that the facts of a part are asked of."""
    if not part.called:
        yield part.of
        return
    names = _answer(part.called).replace(" and ", ",").split(",")
    for name in dict.fromkeys(" ".join(n.lower().split()) for n in names):
        kept = "".join(c for c in name if c.isalnum() or c in " -'").strip()
        if kept:
            yield kept if kept.startswith(part.of + " ") else f"{part.of} {kept}"


def _fact(line: Line) -> str:
    """An answer that can be read, or '' for none; asks again where it cannot."""
    attribute = line.attribute
    hint = ", ".join(f"{n} {value}" for n, value in enumerate(attribute.values, 1))
    hint = hint or unit(attribute)
    while True:
        said = _answer(f"{line.question} ({hint})" if hint else line.question)
        if not said:
            return ""
        if attribute.is_choice and said.isdecimal() and 0 < int(said) <= len(attribute.values):
            return attribute.values[int(said) - 1]
        raw = _shortened(attribute, said)
        _, message = read_fact(attribute, line.entity, raw, {}, "", Place(""))
        if not message:
            return raw
        _show(f"{message} Say it again, or Enter to leave it open.")


def _shortened(attribute: Attribute, said: str) -> str:
    """'y' and 'n' for yes and no; the rest as typed."""
    short = {"y": "yes", "n": "no"} if attribute.type == "yes/no" else {}
    lower = said.lower()
    return short.get(lower, lower if attribute.is_choice else said)


def _show(words: str) -> None:
    give(wrapped([words]))


def _answer(question: str) -> str:
    """One line; a pipe's answers are shown. Raises Left."""
    if sys.stdin.isatty():
        _show(question)
        try:
            said = input("> ")
        except EOFError:
            raise Left from None
    else:
        said = read_line()
        if not said:
            raise Left
        _show(f"{question} {said.strip()[:LONGEST]}")
    said = said.strip()[:LONGEST]
    if said.lower() in ("quit", "exit"):
        raise Left
    return "" if said.lower() in ("?", "don't know", "not known", "unknown", "no idea") else said
