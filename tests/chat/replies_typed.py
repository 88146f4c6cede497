"""Replies to questions, typed by outside hands: reading tests/chat/replies/*.yaml, putting each
question, and telling what a reply came to.

What it came to is told in short: the value ('95 kg', with '?' where doubtful), 'unknown', 'put
off', 'asks back', 'open' (nothing taken, and told what would do); of several lines read out 'yes 1
3; no 2; left 4' (left: asked by itself), or 'open'.
"""

from __future__ import annotations

import sys
from functools import cache
from pathlib import Path
from typing import NamedTuple

import yaml

from advisor.advise import Advisor
from advisor.chat.session import Session
from advisor.chat.turn import take
from advisor.facts.values import sound_words
from advisor.facts.world import DOUBTFUL

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE.parent))

import effort  # noqa: E402


class Asked(NamedTuple):
    """A question as it was put: facts asked for, line by line; `texts` of the lines read out;
    `which`: whether it asks of which of them something is so; at: the moment.
    """

    plan: str
    facts: tuple
    texts: tuple
    which: bool
    at: str

    @property
    def several(self) -> bool:
        return bool(self.texts)


class Typed(NamedTuple):
    """A reply as typed, what its writer meant, and what that comes to."""

    asked: Asked
    text: str
    means: str
    expected: str


def read(path: Path) -> list[Typed]:
    """All replies of a file."""
    found = []
    for entry in yaml.safe_load(path.read_text("utf-8"))["questions"]:
        lines = entry.get("lines", [])
        facts = [line["asks"] for line in lines] or [[entry["asks"]]]
        asked = Asked(
            entry["plan"],
            tuple(tuple(map(_split, some)) for some in facts),
            tuple(line["text"] for line in lines),
            entry.get("which", False),
            entry.get("at", "at home"),
        )
        for reply in entry["replies"]:
            found.append(Typed(asked, reply["text"], reply["means"], reply["is"]))
    return found


def _split(fact: str) -> tuple[str, str]:
    """'ladder main|length' -> ('ladder main', 'length'); '|ladder' is the question for one."""
    entity, _, name = fact.partition("|")
    return entity, name


@cache
def _plans() -> dict:
    return effort.plans(Advisor().base)


def outcome(advisor, typed: Typed) -> str:
    """What the program makes of a reply."""
    session, asked = Session(advisor), typed.asked
    put = {_key(advisor.base, *fact) for line in asked.facts for fact in line}
    known = _plans()[asked.plan].facts
    kinds = {name for entity, name in put if not entity}  # asked for one of a kind: none is known
    session.steps = [
        {},
        {
            ref: words
            for ref, words in known.items()
            if ref not in put and ref[1].partition(".")[0] not in kinds
        },
    ]
    session.at = asked.at
    refs = tuple(tuple(_key(advisor.base, *fact) for fact in line) for line in asked.facts)
    if asked.several:
        session.read_out, session.read_texts = refs, asked.texts
        session.choosing = asked.which
    else:
        session.question = refs[0][0]
        session.asked = {session.question}
    before, was = dict(session.said), session.question
    reply = take(session, typed.text)
    new = {ref: raw for ref, raw in session.said.items() if before.get(ref) != raw}
    if asked.several:
        return _of_lines(session, reply, refs, new, asked.which)
    return _of_one(session, reply, was, new)


def _key(base, entity: str, name: str) -> tuple[str, str]:
    return (entity, f"{base.vocabulary.split(entity)[0].name}.{name}") if entity else ("", name)


def _of_one(session, reply, question, new) -> str:
    asked = _told_by(session, question)
    if asked in new:
        fact = session.case().facts.get(asked)
        if fact is None:
            told = "unknown"
        elif fact.state == DOUBTFUL:
            raw = new[asked]
            told = " or ".join(raw) if isinstance(raw, list) else f"{str(raw).rstrip('?')}?"
        else:
            told = fact.text
    elif "skip" in reply.intents:
        told = "put off"
    elif {"why asked", "what is meant", "same"} & set(reply.intents):
        told = "asks back"
    else:
        told = "open"
    others = sorted(f"{e} {k.partition('.')[2]}: {raw}" for (e, k), raw in new.items())
    besides = [o for (ref, o) in zip(sorted(new), others) if ref != asked]
    return "; ".join([told, *besides])


def _told_by(session, question):
    entity, key = question
    kinds = session.advisor.base.vocabulary.entities
    if entity or key not in kinds:
        return question
    kind = kinds[key]
    return f"{kind.name} main" if kind.many else kind.name, f"{kind.name}.{kind.told_by}"


def _of_lines(session, reply, refs, new, which) -> str:
    told: dict[str, list[str]] = {}
    for number, line in enumerate(refs, 1):
        said = [ref for ref in line if ref in new]
        if not said:
            sign = "left" if set(line) & set(session.to_ask) else ""
        elif which:
            sign = "yes" if new[line[0]] == "yes" else "no" if new[line[0]] == "no" else "perhaps"
        else:
            good = all(_well(session, ref, new[ref]) for ref in said)
            sign = ("yes" if len(said) == len(line) else "partly") if good else "no"
        told.setdefault(sign, []).append(str(number))
    words = "; ".join(
        f"{s} {' '.join(told[s])}" for s in ("yes", "perhaps", "partly", "no", "left") if s in told
    )
    besides = [
        f"{e} {k.partition('.')[2]}: {raw}"
        for (e, k), raw in sorted(new.items())
        if all((e, k) not in line for line in refs)
    ]
    if not words:
        back = {"asks back": "asks back", "later": "put off"}
        words = next((back[k] for k in reply.intents if k in back), "open")
    return "; ".join([words, *besides])


def _well(session, ref, raw) -> bool:
    words = sound_words(session.advisor.base.vocabulary.attribute(ref[1]))
    return raw in words or list(words) == raw


def grade(expected: str, got: str) -> str:
    """'right'; 'careful': less was taken than was meant, and it is asked; or 'wrong'."""
    if expected == got:
        return "right"
    wanted, found = expected.split("; "), got.split("; ")
    if any(": " in part and part not in wanted for part in found):
        return "wrong"
    if found[0] in NOTHING:
        return "right" if {wanted[0], found[0]} <= {"unknown", "put off"} else "careful"
    if wanted[0].partition(" ")[0] in SIGNS or found[0].partition(" ")[0] in SIGNS:
        return _graded_lines(_by_line(wanted), _by_line(found))
    return "careful" if found[0] == f"{wanted[0]}?" else "wrong"


NOTHING = ("open", "put off", "asks back", "unknown")
SIGNS = ("yes", "no", "left", "perhaps", "partly")


def _by_line(parts: list[str]) -> dict[str, str]:
    """{number of a line: its sign}."""
    signs = {}
    for part in parts:
        sign, *numbers = part.split()
        if sign in SIGNS:
            signs |= dict.fromkeys(numbers, sign)
    return signs


def _graded_lines(wanted: dict[str, str], found: dict[str, str]) -> str:
    pairs = {(wanted.get(n, ""), found.get(n, "")) for n in {*wanted, *found}}
    if all(w == f or (w, f) == ("no", "left") for w, f in pairs):
        return "right"
    less = ("left", "", "perhaps", "partly")
    return "careful" if all(w == f or f in less for w, f in pairs) else "wrong"
