"""What is told in words that stand apart: signs of trouble and topics of questions, both of
rules/hearing, whose parts are found in any order, a few words from one another. Trouble counts only
where nothing tells more plainly what happened.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from typing import Any, NamedTuple

from advisor.language.forms import (
    KEPT,
    Forms,
    Item,
    around,
    forms_of,
    items_of,
    stands,
    typed_stop,
    ways_of,
)
from advisor.language.quantities import sequence_at
from advisor.language.tokens import Token
from advisor.language.words import (
    ASIDES,
    NEGATORS,
    PAST,
    QUESTION_STARTS,
    SEPARATORS,
    STATEMENT_STARTS,
)

WIDE = 16  # words within which all parts of a sign stand
_UNSURE = frozenset("if unless suppose supposing might may could would whenever".split())
_WONDERING = frozenset("why what how which whose".split())
_ENDS = frozenset("? ;".split())
_SENTENCE = frozenset(". ! ? ;".split())

Place = tuple[int, int, int]  # start, end, weight


class Sign(NamedTuple):
    """One sign: its parts, what they mean together, and the words beside which they do not."""

    parts: tuple[tuple[Item, ...], ...]
    means: tuple[str, ...]
    unless: tuple[tuple[str, ...], ...]
    needed: tuple[frozenset, ...]
    entry: dict[str, Any]


class Seen(NamedTuple):
    """A sign found: its parts' places in the line, and all the words and figures they cover."""

    sign: Sign
    places: tuple[Place, ...]

    @property
    def start(self) -> int:
        return min(p[0] for p in self.places)

    @property
    def end(self) -> int:
        return max(p[1] for p in self.places)

    @property
    def weight(self) -> int:
        return sum(p[2] for p in self.places)


class Signs:
    """All signs of a rule base, or all topics, of which people may well ask, suppose and doubt."""

    def __init__(self, base, part: str = "signs"):
        self.forms: Forms = forms_of(base)
        self.asked = part == "topics"
        self.all = [
            _sign(entry, str(say), self.forms.sets)
            for entry in base.hearing.get(part, ())
            for say in entry["say"]
        ]
        self._lines: dict[tuple, Seen | None] = {}

    def seen(self, tokens: list[Token], supposing: bool = False) -> Seen | None:
        """The sign that covers most of a line, of as much the closest; None where none does."""
        key = (supposing, *(t.text for t in tokens))
        if key not in self._lines:
            if len(self._lines) > KEPT:
                self._lines.clear()
            self.forms.begin()
            words = {t.stem for t in tokens} | {t.text for t in tokens}
            found = [s for sign in self.all for s in self._of(tokens, sign, words, supposing)]
            self._lines[key] = max(found, key=_most, default=None)
        return self._lines[key]

    def _of(self, tokens, sign: Sign, words, supposing) -> Iterator[Seen]:
        if any(words.isdisjoint(needed) for needed in sign.needed):
            return
        places = [list(self._places(tokens, part)) for part in sign.parts]
        together = (Seen(sign, each) for each in product(*places))
        fitting = [s for s in together if _apart(s.places) and _close(tokens, s)]
        best = max(fitting, key=_most, default=None)
        if best and not self._elsewhere(tokens, best, supposing):
            yield best

    def _places(self, tokens, part) -> Iterator[Place]:
        for at in range(len(tokens)):
            if tokens[at].text in SEPARATORS or not self.asked and _denied(tokens, at):
                continue
            ways = self.forms.walk(tokens, at, part)
            best = max(ways, key=lambda way: (way[1], -way[0]), default=None)
            if best and best[1]:
                yield at, best[0], best[1]

    def _elsewhere(self, tokens, seen: Seen, supposing) -> bool:
        """Whether a word stands beside by which nothing of the kind happens, or not now."""
        inside = {i for start, end, _ in seen.places for i in range(start, end)}
        near = around(tokens, seen.start, seen.end, typed_stop)
        others = [i for i in near if i not in inside]
        if stands(tokens, others, seen.sign.unless):
            return True
        if supposing or self.asked:
            return False
        sentence = around(tokens, seen.start, seen.end, lambda t: t.text in _SENTENCE)
        first, second = (tokens[sentence[n]].text if n < len(sentence) else "" for n in range(2))
        asks = first in QUESTION_STARTS and (
            _asks(tokens, sentence[-1]) or first in _WONDERING or second in STATEMENT_STARTS
        )
        asks = asks or any(tokens[i].text == "why" for i in sentence)
        unsure = any(tokens[i].text in _UNSURE for i in others) or any(
            sequence_at(tokens, i, PAST) or sequence_at(tokens, i, ASIDES) for i in sentence
        )
        return asks or unsure or stands(tokens, others, self.forms.not_now)


def _sign(entry, say: str, sets) -> Sign:
    parts = tuple(tuple(items_of(part, sets)) for part in say.split(" + "))
    needed = tuple(
        frozenset(way[0] for way in item.ways)
        for part in parts
        for item in part
        if item.kind == "words" and not item.optional
    )
    means = tuple(map(str, entry.get("means", ())))
    return Sign(parts, means, ways_of(entry.get("unless", ())), needed, entry)


def _most(seen: Seen):
    return seen.weight, seen.start - seen.end


def _apart(places) -> bool:
    ordered = sorted(places)
    return all(one[1] <= other[0] for one, other in zip(ordered, ordered[1:]))


def _close(tokens, seen: Seen) -> bool:
    between = tokens[seen.start : seen.end]
    return len(between) <= WIDE and not any(t.text in _ENDS for t in between)


def _asks(tokens, last: int) -> bool:
    return last + 1 < len(tokens) and tokens[last + 1].text == "?"


def _denied(tokens, at: int) -> bool:
    """Whether a word of denial stands close before a token that is none itself."""
    if tokens[at].text in NEGATORS:
        return False
    before = tokens[max(at - 2, 0) : at]
    stop = next((n + 1 for n in range(len(before) - 1, -1, -1) if typed_stop(before[n])), 0)
    return any(t.text in NEGATORS for t in before[stop:])


_KEPT: dict[tuple[str, str], Signs] = {}


def signs_of(base, part: str = "signs") -> Signs:
    """The signs of a rule base, or its topics."""
    key = base.sha256, part
    if key not in _KEPT:
        if len(_KEPT) > 6:
            _KEPT.clear()
        _KEPT[key] = Signs(base, part)
    return _KEPT[key]
