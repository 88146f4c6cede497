"""A reply as plain lines, or as one JSON object a line.

The same words on a screen and in a pipe; colour only adds.
"""

from __future__ import annotations

import json
import re

from advisor.facts.vocabulary import AT_HOME, AT_THE_HEAD
from advisor.model.advice import NOT_YET
from advisor.model.names import GROUP_SIZE, PITCH_DEPTH
from advisor.model.record import visible
from advisor.screen import clean, wrapped

STATUS = 80  # columns of the bottom line
LONGEST = 300  # characters of words not understood that are said back on a screen
# Bold and two colours that stay readable on light and dark; 7 is reverse.
STYLES = (
    ("CALL NOW", "1;7"),
    ("STOP", "1;31"),
    ("Also still", "31"),
    ("Still", "31"),
    ("Danger:", "31"),
    ("Never:", "1"),
    ("Not understood", "1;35"),
    ("Not taken", "1;35"),
    ("? ", "1"),
)
_STEP = re.compile(r"\d+\. ")


def lines_of(reply) -> list:
    """All lines of a reply: what was heard, what was not, what changes, the answer, the next
    question.

    Where no fact was told ('undo', 'use plan b'), what was done stands before what it changes."""
    middle = (*reply.changed, *reply.answer) if reply.heard else (*reply.answer, *reply.changed)
    return heard_lines(reply) + list(middle) + _asked(reply.question)


def _asked(question) -> list:
    """The question as lines; of checks the mark stands before how they are answered, of choices
    before the question.
    """
    *lines, last = question.split("\n")
    if len(lines) == 1 and last.startswith("  "):
        return [f"? {lines[0]}", last]
    return [*lines, f"? {last}"] if question else []


def heard_lines(reply) -> list:
    """What was heard, and word for word what was not understood."""
    lines = ["Heard: " + "; ".join(reply.heard)] if reply.heard else []
    lost = [_quoted(words) for words, readings in reply.unclear if not readings]
    lines += [f"Not understood: {'; '.join(lost)}."] if lost else []
    for words, readings in reply.unclear:
        if readings:
            lines.append(f"Not understood: {_quoted(words)}. Did you mean: {' / '.join(readings)}?")
    return lines


def _quoted(words) -> str:
    """Words that were not understood, cut where they are very long."""
    shown = words if len(words) <= LONGEST else f"{words[:LONGEST]} … ({len(words)} characters)"
    return f'"{shown}"'


def shown(lines, width=None, colour=False) -> str:
    """Lines wrapped to the screen, the grave ones standing out where colour is welcome."""
    return "".join(styled(wrapped([line], width), line, colour) for line in lines)


def styled(text, line, colour) -> str:
    """Text in the style of its first words."""
    style = (
        next((code for start, code in STYLES if line.lstrip(" -").startswith(start)), None)
        if colour
        else None
    )
    return "".join(f"\x1b[{style}m{row}\x1b[0m\n" for row in text.splitlines()) if style else text


def rows_asked(reply) -> int:
    """How many of a reply's lines are its question, at the end."""
    return len(_asked(reply.question))


def fitted(lines, rows, width=None, asked=0):
    """(lines that fit on a screen, steps left for 'more'): only the numbered steps of an incident
    are cut, never the last lines, of the question: a yes counts for what was seen.
    """
    steps = [n for n, line in enumerate(lines[: len(lines) - asked]) if _STEP.match(line)]
    free = rows - 2  # the bottom line and the prompt
    height = [wrapped([line], width).count("\n") for line in lines]
    if not steps or sum(height) <= free:
        return lines, ()
    spare, keep = free - 1 - sum(h for n, h in enumerate(height) if n not in steps), 0
    for n in steps:
        spare -= height[n]
        if spare < 0:
            break
        keep += 1
    keep = max(keep, 3)  # a screen too low for three steps scrolls
    if keep >= len(steps):
        return lines, ()
    cut = steps[keep:]
    note = f"… {len(cut)} more step{'s' if len(cut) > 1 else ''}: say 'more'."
    return [
        note if n == cut[0] else line for n, line in enumerate(lines) if n not in cut[1:]
    ], tuple(lines[n] for n in cut)


def as_json(reply) -> str:
    """A reply as one line of JSON by the outside contract (schema/turn.json)."""
    data = {
        "turn": reply.turn,
        "heard": list(reply.facts),
        "not_understood": [{"words": w, "readings": list(r)} for w, r in reply.unclear],
        "changed": list(reply.changed),
        "intent": list(reply.intents),
        "reply": list(reply.answer),
        "question": reply.question or None,
    }
    if reply.advice is not None:
        data["advice"] = reply.advice.to_json()
    return visible(json.dumps(data, ensure_ascii=False, sort_keys=True)) + "\n"


def _stands(advice) -> str:
    """Where the advice stands, in a word or two."""
    stops = len(advice.stops)
    if stops:
        return f"{stops} STOP{'S' if stops > 1 else ''}"
    go = advice.decisions["go"].choice if "go" in advice.decisions else "no stop found"
    return go.upper() if go == NOT_YET else go


def _left(advice, at) -> list:
    """What is left, by the moment it is told at: the answers without which no plan is clear, and
    the checks; of what is no plan, the questions.
    """
    checks = {check.fact for check in advice.checks}
    if "go" not in advice.decisions:
        return [f"{len(advice.open_questions)} open"]
    answers = sum(q.fact not in checks for q in advice.blocking)
    left = {AT_HOME: f"{answers} to answer" if answers else ""}
    seen = f"{len(checks)} check{'s' if len(checks) > 1 else ''}" if checks else ""
    if at == AT_THE_HEAD:
        left = {AT_THE_HEAD: ", ".join(filter(None, (left[AT_HOME], seen)))}
    else:
        left[AT_THE_HEAD] = seen
    words = (f"{moment.split()[-1]}: {what}" for moment, what in left.items() if what)
    return [" · ".join(words) or f"{at.split()[-1]}: nothing left"]


def status(session) -> str:
    """The bottom line, of at most 80 columns: depth, group, where the advice stands, what is left
    to answer and to check, and when.
    """
    advice = session.advice
    facts = session.case().facts
    depth, size = facts.get(PITCH_DEPTH), facts.get(GROUP_SIZE)
    parts = [
        f"depth {depth.text}" if depth else "depth ?",
        f"group {size.text}" if size else "group ?",
    ]
    if advice:
        parts += [f"{len(advice.assumed)} assumed"] if advice.assumed else []
        parts += [_stands(advice), *_left(advice, session.at)]
        parts += [f"{i.item}: {i.verdict}" for i in advice.items if not advice.decisions]
    return clean(" | ".join(parts))[:STATUS]
