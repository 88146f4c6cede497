"""A reply to 'which of these?': 'the two middle ones', 'thread and tree', '2, and 3 I think'."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from advisor.language.reply import BREAKS, LIGHT, Reply, Span, own_stems, reply_of
from advisor.language.reply_words import any_of, found_at
from advisor.language.tokens import tokenise
from advisor.language.words import NUMBER_WORDS

_SEVERAL = frozenset("both all two three four pair ones the".split())
_ORDINALS = {w: n for n, w in enumerate("first second third fourth fifth sixth".split(), 1)}
_IDLE = frozenset("em pair bolts ones one definitely only just last".split())
_DOUBTING = frozenset("think reckon recon probably maybe guess suppose believe hopefully".split())
_UNSURE = frozenset("or either some one's depends if".split())


class WhichReply(NamedTuple):
    """Numbers, from 1: of which it is so, and of which perhaps."""

    so: frozenset[int]
    perhaps: frozenset[int]


class _Named(NamedTuple):
    """Things named in a clause, and whether it is not plain which."""

    numbers: frozenset[int]
    open: bool


def read_which(text: str, names: list[str], asks: str) -> WhichReply | None:
    """Of which of the named things a reply says that it is so; None where it is not plain."""
    reply = reply_of(text, tokenise(text))
    if not reply.words or reply.words[-1] == "?":
        return None
    if any_of(reply.words, "all") and any_of(reply.words, "except"):
        return _all_but(reply, names)
    so, perhaps = set[int](), set[int]()
    if any(
        _digit(w) > len(names) and not _in_a_name(reply, i, names)
        for i, w in enumerate(reply.words)
    ):
        return None
    found = shaken = False
    for clause in reply.clauses:
        one = _whole(reply, clause, len(names)) or _named(reply, clause, names)
        if one is None:
            shaken = shaken or _doubted(reply, clause)
            continue
        aside = _of_something_else(reply, clause, names, asks)
        if one.open or (aside and found is False and len(reply.clauses) == 1):
            return None
        if aside:
            continue
        found = True
        (perhaps if _doubted(reply, clause) else so).update(one.numbers)
    if not found or _UNSURE & set(reply.words) or (shaken and not so | perhaps):
        return None
    if shaken:
        so, perhaps = set(), so | perhaps
    return WhichReply(frozenset(so), frozenset(perhaps - so))


def _all_but(reply: Reply, names: list[str]) -> WhichReply | None:
    """'All but the left': every one but those named, where it is plain which."""
    out = _named(reply, Span(0, len(reply.words)), names)
    if out is None or out.open or any_of(reply.words, "doubt", "unknown", "later"):
        return None
    return WhichReply(frozenset(range(1, len(names) + 1)) - out.numbers, frozenset())


def _doubted(reply: Reply, clause: Span) -> bool:
    words = reply.words[clause.start : clause.end]
    return any_of(words, "doubt", "unknown", "later") is not None


def _whole(reply: Reply, clause: Span, last: int) -> _Named | None:
    """'All of them', 'none of those', 'the first two'."""
    words = reply.words[clause.start : clause.end]
    at = next((i for i, w in enumerate(words) if w not in LIGHT or w in _SEVERAL - {"the"}), None)
    if at is None:
        return None
    if found_at(words, at, "none") and not any_of(words[at + 1 :], "all"):
        return _Named(frozenset(), False)
    if words[at] in ("first", "last") and at + 1 < len(words):
        count = NUMBER_WORDS.get(words[at + 1], 0) or _digit(words[at + 1])
        count = 1 if words[at + 1] == "one" else count
        some = range(1, count + 1) if words[at] == "first" else range(last - count + 1, last + 1)
        return _Named(frozenset(some), not 0 < count <= last)
    every = found_at(words, at, "all")
    behind = [w for w in words[at + every.length :] if w not in LIGHT] if every else ["x"]
    counts = _DOUBTING | {str(last), *(w for w, n in NUMBER_WORDS.items() if n == last), "em"}
    if every and not set(behind) - counts - {"i"} and (words[at] != "both" or last == 2):
        return _Named(frozenset(range(1, last + 1)), False)
    return None


def _digit(word: str) -> int:
    return int(word) if word.isdecimal() and len(word) < 3 else 0


def _named(reply: Reply, clause: Span, names: list[str]) -> _Named | None:
    """The things that a clause names, by number or by the words of their names."""
    numbers, unsure = set[int](), False
    for mention in _mentions(reply, clause, names):
        several = _SEVERAL & set(reply.words[max(mention.start - 3, clause.start) : mention.end])
        several |= {w for w in reply.words[mention.start : mention.end + 1] if w.endswith("s")}
        meant = _meant(reply, mention, names)
        if len(meant) > 1 and not (several - {"the"}):
            unsure = True
        if reply.words[max(mention.start - 3, 0) : mention.start][:2] == ("one", "of"):
            unsure = True
        numbers |= meant
    return _Named(frozenset(numbers), unsure) if numbers else None


def _mentions(reply: Reply, clause: Span, names: list[str]) -> Iterator[Span]:
    """Runs of words that are words of names, or numbers of lines."""
    start = None
    for at in range(clause.start, clause.end + 1):
        inside = at < clause.end and bool(_held(reply, at, names))
        if start is not None and (not inside or not _together(reply, Span(start, at + 1), names)):
            yield Span(start, at)
            start = None
        if inside and start is None:
            start = at


def _held(reply: Reply, at: int, names: list[str]) -> frozenset[int]:
    """The things whose name holds the word at a place, or whose number it is."""
    token = reply.tokens[at]
    number = _digit(token.text) or _ORDINALS.get(token.text, 0)
    if number and not _in_a_name(reply, at, names):
        return frozenset({number} if number <= len(names) else ())
    held = {n for n, name in enumerate(names, 1) if token.stem in own_stems(name)}
    held |= {n for n, name in enumerate(names, 1) if token.text in name.split()}
    joined = {n for n, name in enumerate(names, 1) if token.text == name.replace(" ", "")}
    return frozenset(held | joined)


def _in_a_name(reply: Reply, at: int, names: list[str]) -> bool:
    """Whether a number stands behind a word of a name, as in 'middle bolt 2'."""
    before = reply.words[at - 1] if at else ""
    return not before.isdecimal() and any(
        before in name.split() or before + "s" in name.split() for name in names
    )


def _together(reply: Reply, span: Span, names: list[str]) -> bool:
    """Whether the words of a span can all be of one name."""
    return bool(_meant(reply, span, names))


def _meant(reply: Reply, span: Span, names: list[str]) -> frozenset[int]:
    every = frozenset(range(1, len(names) + 1))
    for at in range(span.start, span.end):
        every &= _held(reply, at, names)
    return every


def _of_something_else(reply: Reply, clause: Span, names: list[str], asks: str) -> bool:
    """'The left is for the ladder': a clause that tells what a thing is for instead."""
    own = own_stems(asks, *names)
    heavy = [
        i
        for i in range(clause.start, clause.end)
        if reply.tokens[i].is_word
        and reply.words[i] not in LIGHT | BREAKS
        and reply.tokens[i].stem not in own
        and reply.words[i] not in NUMBER_WORDS
        and not found_at(reply.words, i, "polite", "doubt", "yes", "all", "none", "later")
        and reply.words[i] not in _IDLE
        and reply.words[i] not in _ORDINALS
    ]
    about = any(
        reply.tokens[i].stem in own_stems(asks) and reply.words[i] not in LIGHT
        for i in range(clause.start, clause.end)
    )
    denied = any(reply.words[i] in ("not", "never") for i in range(clause.start, clause.end))
    return denied or (bool(heavy) and not about)
