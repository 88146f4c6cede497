"""A reply to a question with several answers: by its number, by a word of it, by what people say
for it.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

from advisor.facts.vocabulary import PHRASE_MARK, Attribute
from advisor.language.answers_yes_no import Answer, Open
from advisor.language.near_words import distance_one
from advisor.language.reply import BREAKS, Reply, is_light, own_stems
from advisor.language.reply_words import found_at
from advisor.language.tokens import tokenise
from advisor.language.words import FILLERS, NUMBER_WORDS, ORDINALS

_NAMED_FIRST = frozenset("number no nr # option choice answer".split())
_ORDINALS = {**{word: n for n, word in enumerate(("first", "second", "third", "fourth"), 1)}}
_BARE = frozenset("a an the to of or and in on by with one each for".split())
_SKIPPED = frozenset("a an the of to is are it that my our".split())


class Cue(NamedTuple):
    """Words by which a value is known: in this order with nothing but small words between, or each
    somewhere in the reply (`loose`); `worse`: as bad as that or worse.
    """

    value: str
    stems: tuple[str, ...]
    loose: bool
    worse: bool


class Hit(NamedTuple):
    """A cue found, and the places of its words."""

    cue: Cue
    places: tuple[int, ...]


@lru_cache(maxsize=512)
def cues_of(
    values: tuple, phrases: tuple, answers: tuple, own: frozenset[str] = frozenset()
) -> tuple[Cue, ...]:
    """All cues of an attribute: its values, each word that only one of them has (but for those of
    the question, `own`), what people say for them, and what they reply.
    """
    cues = [Cue(v, _stems(v), False, False) for v in values]
    stems = {v: {s for s in _stems(v) if s not in _BARE} for v in values}
    for value, telling in stems.items():
        others = {s for v, of in stems.items() if v != value for s in of}
        cues += [Cue(value, (s,), False, False) for s in telling - others - own if _telling(s)]
    for value, said in phrases:
        for phrase in said:
            mark = PHRASE_MARK.search(phrase)
            kind = mark.group(1).lower() if mark else ""
            if kind in ("", "or worse"):
                words = _stems(PHRASE_MARK.sub("", phrase))
                cues.append(Cue(value, words, False, kind == "or worse"))
    for value, said in answers:
        for phrase in said:
            loose = "+" in phrase
            cues.append(Cue(value, _stems(phrase.replace("+", " ")), loose, False))
    return tuple(dict.fromkeys(cue for cue in cues if cue.stems))


def _telling(stem: str) -> bool:
    return len(stem) > 1 and stem not in FILLERS and stem not in ("not", "other", "only", "up")


def _stems(text: str) -> tuple[str, ...]:
    every = tuple(t.stem for t in tokenise(text) if t.is_word or t.is_number)
    return tuple(s for s in every if s not in _SKIPPED) or every


def choice(
    reply: Reply,
    attribute: Attribute,
    cues: tuple[Cue, ...] = (),
    names: frozenset[str] = frozenset(),
) -> Answer | Open | None:
    """What a reply says of a fact with several answers; None where it names none of them. `names`:
    stems that name a thing, and alone no value.
    """
    given = bool(cues)
    numbered = None if given or not is_numbered(attribute) else _by_number(reply, attribute)
    if numbered is not None:
        return numbered
    cues = cues or cues_of(
        attribute.values,
        tuple(attribute.value_phrases.items()),
        tuple(attribute.answers.items()),
        own_stems(attribute.asks) | names,
    )
    every = [h for cue in cues for h in _found(reply, cue)]
    every = [h for h in every if not (h.cue.loose and any(map(reply.denied, h.places)))]
    hits = _longest(every)
    refused = [h for h in hits if _denied(reply, h)]
    denied = {h.cue.value for h in refused}
    hits = [h for h in hits if h.cue.value not in denied]
    values = tuple(dict.fromkeys(h.cue.value for h in hits))
    reply.used.update(i for h in refused for i in range(min(h.places) - 3, max(h.places) + 1))
    if not values:
        return None if given else _left_over(attribute, denied) or _quantified(reply, attribute)
    for hit in hits:
        reply.used.update(hit.places)
    if len(values) > 1:
        return Open(values)
    doubt = reply.doubtful or any(h.cue.worse for h in hits)
    return Answer(values[0] + "?" if doubt else values[0])


def is_numbered(attribute: Attribute) -> bool:
    """Whether its answers go by numbers; a number to 'how many' says how many."""
    return not attribute.asks.lower().startswith("how many")


def _quantified(reply: Reply, attribute: Attribute) -> Open | None:
    """'Both' or 'either' where that is no answer of its own."""
    if found_at(reply.words, 0, "unknown", "later"):
        return None
    said = {"both", "either", "neither", "all", "none", "yes", "no"} & set(reply.words[:2])
    return Open(attribute.values[:2] if len(attribute.values) == 2 else ()) if said else None


def _left_over(attribute: Attribute, denied: set[str]) -> Open | None:
    """'Not the rope': of two answers the other may be meant, which is asked."""
    left = tuple(v for v in attribute.values if v not in denied)
    return Open(left if len(left) < 4 else ()) if denied and not attribute.ranks else None


def _by_number(reply: Reply, attribute: Attribute) -> Answer | Open | None:
    """'2', 'number 3', '2 I think', '1 or 2': by the numbers that were shown."""
    at, numbers, doubt, joined = 0, list[int](), False, False
    while at < len(reply.words):
        word = reply.words[at]
        light = word in BREAKS | _NAMED_FIRST | {"or", "and", "/", "i", "it", "is", "a", "the"}
        found = found_at(reply.words, at, "doubt", "polite")
        if _digit(reply, at):
            numbers.append(_digit(reply, at))
        elif found:
            doubt, joined = doubt or found.kind == "doubt", joined
            at += found.length - 1
        elif not light and not (numbers and word == "one"):
            return None
        joined = joined or word in ("or", "and", "/")
        at += 1
    if not numbers:
        return None
    if any(not 1 <= n <= len(attribute.values) for n in numbers) or "and" in reply.words:
        return Open()
    values = [attribute.values[n - 1] for n in dict.fromkeys(numbers)]
    reply.take(0, len(reply.words))
    if len(values) > 1:
        return Answer(values)
    return Answer(values[0] + "?" if doubt else values[0])


def _digit(reply: Reply, at: int) -> int:
    """The number of an answer that a word gives, or 0."""
    word = reply.words[at]
    if word.isdecimal() and len(word) < 3:
        return int(word)
    named = at > 0 and reply.words[at - 1] in _NAMED_FIRST
    if word in NUMBER_WORDS and (named or len(reply.words) == 1 and word != "one"):
        return NUMBER_WORDS[word]
    return _ORDINALS.get(ORDINALS.get(word, word), 0)


def _found(reply: Reply, cue: Cue) -> Iterator[Hit]:
    if cue.loose:
        somewhere = tuple(_place(reply, stem) for stem in cue.stems)
        if -1 not in somewhere:
            yield Hit(cue, somewhere)
        return
    for start in range(len(reply.words)):
        places = _in_a_row(reply, cue.stems, start)
        if places:
            yield Hit(cue, places)


def _in_a_row(reply: Reply, stems: tuple[str, ...], start: int) -> tuple[int, ...]:
    places, at = list[int](), start
    for stem in stems:
        while places and at < len(reply.words) and reply.words[at] in _SKIPPED | {"-"}:
            at += 1
        if at >= len(reply.words) or not _same(reply, at, stem):
            return ()
        places.append(at)
        at += 1
    return tuple(places)


def _place(reply: Reply, stem: str) -> int:
    return next((i for i in range(len(reply.words)) if _same(reply, i, stem)), -1)


def _same(reply: Reply, at: int, stem: str) -> bool:
    token = reply.tokens[at]
    if token.stem == stem:
        return True
    slip = len(stem) > 4 and len(token.stem) > 4 and token.stem[0] == stem[0]
    return slip and not is_light(token.text) and distance_one(token.stem, stem)


def _longest(hits: list[Hit]) -> list[Hit]:
    """Those whose words are not part of what a longer one says of another value."""
    return [h for h in hits if not any(set(h.places) < set(o.places) for o in hits)]


def _denied(reply: Reply, hit: Hit) -> bool:
    """Whether 'not' stands before a cue that holds no 'not' of its own."""
    first = min(hit.places)
    return reply.words[first] not in ("not", "no", "never") and reply.denied(first)
