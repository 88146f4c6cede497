"""A reply to the question asked, cut up: its clauses, what they hold, and whether doubt is thrown
on it.
"""

from __future__ import annotations

from typing import NamedTuple

from msgspec import Struct, field

from advisor.language.quantities import Quantity, quantities
from advisor.language.reply_words import Found, found_at, words_of
from advisor.language.tokens import Token, tokenise
from advisor.language.words import COMMON, FILLERS, NUMBER_WORDS

BREAKS = frozenset(", ; . ! ? ( ) …".split())
_JOINS = frozenset("but tho though however plus because cos except apart".split())
_NEGATORS = frozenset("not no never without nor neither none nobody nothing".split())
# Words in a reply that carry nothing of their own: they may stand beside any answer.
LIGHT = (FILLERS | COMMON) - frozenset(
    "except without more less than above below under over never most least only neither nor"
    " either bad worse worst stay come coming up down top bottom side back again before after"
    " last first second".split()
)


class Span(NamedTuple):
    """A clause: the places of its first word and behind its last."""

    start: int
    end: int


class Reply(Struct):
    """The words of a reply; `used` are the places that were understood."""

    line: str
    tokens: list[Token]
    words: tuple[str, ...]
    quantities: list[Quantity]
    clauses: list[Span]
    used: set[int] = field(default_factory=set)

    def text(self, span: Span) -> str:
        """What was typed between two places."""
        return self.line[self.tokens[span.start].start : self.tokens[span.end - 1].end]

    def clause_of(self, at: int) -> Span:
        """The clause in which a place stands."""
        return next((c for c in self.clauses if c.start <= at < c.end), Span(at, at + 1))

    def take(self, at: int, length: int) -> None:
        """Note that words were understood."""
        self.used.update(range(at, at + length))

    def find(self, *kinds: str) -> tuple[int, Found] | None:
        """The first phrase of some lists, not begun by a word that was understood."""
        for at in range(len(self.words)):
            found = None if at in self.used else found_at(self.words, at, *kinds)
            if found:
                return at, found
        return None

    @property
    def doubtful(self) -> bool:
        """Whether a word of doubt stands in it that is no part of what was understood."""
        found = self.find("doubt", "unknown")
        if found:
            self.take(found[0], found[1].length)
        return found is not None

    def denied(self, at: int, reach: int = 3) -> bool:
        """Whether 'not' stands shortly before a place, in the same clause."""
        start = max(self.clause_of(at).start, at - reach)
        return any(self.words[i] in _NEGATORS and i not in self.used for i in range(start, at))

    def negator(self, span: Span) -> bool:
        """Whether a clause denies something in words not understood otherwise."""
        return any(
            self.words[i] in _NEGATORS and i not in self.used for i in range(span.start, span.end)
        )

    def heavy(self, span: Span, known: frozenset[str] = frozenset()) -> list[int]:
        """The places of words that carry something, and were neither understood nor stand in the
        question.
        """
        return [
            i
            for i in range(span.start, span.end)
            if i not in self.used
            and (self.tokens[i].is_word or self.tokens[i].is_number)
            and self.words[i] not in LIGHT
            and self.tokens[i].stem not in known
        ]


def reply_of(line: str, tokens: list[Token]) -> Reply:
    """A line cut up as a reply."""
    words = words_of(tokens)
    found = quantities(tokens)
    taken = {i for q in found for i in range(q.start, q.end)}
    return Reply(line, tokens, words, found, _clauses(tokens, words, taken))


def _clauses(tokens, words, taken) -> list[Span]:
    spans, start = [], 0
    for at in range(len(words) + 1):
        if at < len(words) and (at in taken or not _breaks(tokens, words, at)):
            continue
        if at > start:
            spans.append(Span(start, at))
        start = at + (at < len(words) and words[at] not in _JOINS)
    return spans


def _breaks(tokens, words, at) -> bool:
    if words[at] in BREAKS:
        return True
    if words[at] == "-":  # a dash between words, not one inside a word
        return not tokens[at].glued or (at + 1 < len(tokens) and not tokens[at + 1].glued)
    return at > 0 and words[at] in _JOINS


def own_stems(*texts: str) -> frozenset[str]:
    """The stems of the words of a question, or of other words that a reply may say again."""
    return frozenset(t.stem for text in texts for t in tokenise(text) if t.is_word)


def is_light(word: str) -> bool:
    """Whether a word carries nothing of its own beside an answer."""
    return word in LIGHT and word not in NUMBER_WORDS
