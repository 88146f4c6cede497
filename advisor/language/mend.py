"""Words as they were meant: ways of speaking put into plain words, and misspelt words put right
where only one word is near enough.

What a mended token says is another; its place in the typed line stays, so what is said back is
what was typed.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from advisor.language import words as lists
from advisor.language.intents import OUTSIDE, PATTERNS
from advisor.language.tokens import CONTRACTIONS, Token, stem

SHORTEST = 4  # letters of a word in which two neighbours may have changed places
LONGER = 5  # letters of a word of which one may be missing or doubled
VOWELLED = 6  # letters of a word of which one vowel may be another
LONG = 7  # letters of a word in which any one may be another
_VOWELS = frozenset("aeiouy")
_WORD = re.compile(r"[a-z]+")


class Near(NamedTuple):
    """A word that a misspelt one may be, and how far off: 0 two neighbours swapped, 1 a letter
    missing or too many, 2 one vowel for another, 3 one letter for another.
    """

    far: int
    word: str


class Lexicon:
    """Words that are known as they stand, and those that a misspelt word may be meant for."""

    def __init__(self, base, index):
        self.index = index
        self.spoken = {w: tuple(said.split()) for w, said in _part(base, "spoken").items()}
        self.trade = set(index.words)
        self.plain = _function_words() | _texts(base) | {w for w in CONTRACTIONS if w.isalpha()}
        for row in _part(base, "plain").values():
            self.plain |= set(row.split())
        self.words = self.trade | self.plain
        self.stems = frozenset(index.words.values()) | {stem(w) for w in self.plain}
        self._without: dict[str, list[str]] = {}
        self._seen: dict[str, list[Near]] = {}

    def knows(self, token: Token) -> bool:
        """Whether a word is one that stands for itself."""
        return token.text in self.words or token.stem in self.stems

    def near(self, text: str) -> list[Near]:
        """The words nearest to a misspelt one, none farther off than the first."""
        found = self._seen.get(text)
        if found is None:
            every = sorted(set(self._all_near(text)))
            if not every and text.endswith("s"):
                every = sorted(set(self._all_near(text[:-1])))
            best = [n for n in every if n.far == every[0].far]
            found = [n for n in best if n.word in self.trade] or (
                best if not best or not best[0].far else []
            )
            self._seen[text] = found
        return found

    def _all_near(self, text: str) -> Iterator[Near]:
        without = self._deletions()
        shorter = [text[:at] + text[at + 1 :] for at in range(len(text))]
        candidates = set(without.get(text, ())) | {w for w in shorter if w in self.words}
        candidates |= {word for key in shorter for word in without.get(key, ())}
        for word in candidates:
            far = distance(text, word)
            least = (SHORTEST, LONGER, VOWELLED, LONG, 99)[far]
            if len(text) >= least and len(word) >= min(least, LONGER) - (far == 1):
                yield Near(far, word)

    def _deletions(self) -> dict[str, list[str]]:
        """Every word by what is left of it without one letter."""
        if not self._without:
            for word in self.words:
                if len(word) >= SHORTEST and word.isalpha():
                    for at in range(len(word)):
                        self._without.setdefault(word[:at] + word[at + 1 :], []).append(word)
        return self._without


def distance(one: str, other: str) -> int:
    """How far off a word is (see Near); 4 for more than one letter."""
    if len(one) == len(other):
        off = [i for i, (a, b) in enumerate(zip(one, other)) if a != b]
        if len(off) == 2 and off[1] == off[0] + 1 and one[off[0]] == other[off[1]]:
            return 0 if one[off[1]] == other[off[0]] else 4
        if len(off) != 1:
            return 4
        return 2 if {one[off[0]], other[off[0]]} <= _VOWELS else 3
    short, long = sorted((one, other), key=len)
    if len(long) - len(short) != 1:
        return 4
    at = next((i for i, (a, b) in enumerate(zip(short, long)) if a != b), len(short))
    return 1 if short[at:] == long[at + 1 :] else 4


_LEXICONS: dict[str, Lexicon] = {}


def lexicon_of(base, index) -> Lexicon:
    """The words of a rule base."""
    found = _LEXICONS.get(base.sha256)
    if found is None or found.index is not index:
        if len(_LEXICONS) > 3:
            _LEXICONS.clear()
        found = _LEXICONS[base.sha256] = Lexicon(base, index)
    return found


def mended(tokens: list[Token], line: str, lexicon: Lexicon) -> list[Token]:
    """The tokens of a line as they were meant."""
    tokens = [_worn(tokens, at, lexicon) for at in range(len(tokens))]
    spoken = [part for token in tokens for part in _spoken(token, lexicon)]
    shouted = line.isupper()
    spelt = [_spelt(spoken, at, line, lexicon, shouted) for at in range(len(spoken))]
    return [part for one, other in zip(spoken, spelt) for part in _opened(one, other, lexicon)]


def _worn(tokens, at, lexicon: Lexicon) -> Token:
    """Little words as they wear down in speech: 'an' before a consonant is 'and', 'o' is 'of', "t'"
    is 'the'; and 'talkin' is 'talking'.
    """
    token = tokens[at]
    after = tokens[at + 1] if at + 1 < len(tokens) else None
    word = ""
    consonant = after is not None and after.is_word and after.text[0] not in "aeiouh"
    if token.text == "an" and after and (consonant or after.text in ("if", "i", "it", "is")):
        word = "and"
    elif token.text in ("o", "t") and after and (after.is_word or after.text == "'"):
        word = {"o": "of", "t": "the"}[token.text]
    elif (
        len(token.text) > 5
        and token.text.endswith("in")
        and not lexicon.knows(token)
        and stem(token.text + "g") in lexicon.stems
    ):
        word = token.text + "g"
    return token._replace(text=word, stem=stem(word)) if word else token


def _opened(was: Token, now: Token, lexicon: Lexicon) -> list[Token]:
    """A word put right that stands for several: 'dnuno'."""
    said = CONTRACTIONS.get(now.text) if now.text != was.text else None
    if not said:
        return _spoken(now, lexicon) if now.text != was.text else [now]
    return [
        Token(word, stem(word), now.start, now.end, now.glued if n == 0 else True)
        for n, word in enumerate(said)
    ]


def _spoken(token: Token, lexicon: Lexicon) -> list[Token]:
    said = lexicon.spoken.get(token.text)
    if not said or said == (token.text,):
        return [token]
    return [
        Token(word, stem(word), token.start, token.end, token.glued if n == 0 else True)
        for n, word in enumerate(said)
    ]


def _spelt(tokens, at, line, lexicon: Lexicon, shouted: bool) -> Token:
    token = tokens[at]
    text = token.text
    if (
        len(text) < SHORTEST
        or not (text.isalpha() and text.isascii())
        or lexicon.knows(token)
        or line[token.start : token.start + len(text)].lower() != text
        or _name(line, token, shouted)
    ):
        return token
    near = lexicon.near(text)
    sure = len({stem(n.word) for n in near}) == 1 and (
        near[0].far == 0 or (stem(near[0].word),) in lexicon.index.phrases
    )
    word = near[0].word if sure else _beside(tokens, at, near, lexicon)
    return token._replace(text=word, stem=stem(word)) if word else token


def _name(line: str, token: Token, shouted: bool) -> bool:
    """A word written with a capital inside a sentence is a name."""
    return line[token.start].isupper() and token.start > 0 and not shouted


def _beside(tokens, at, near: list[Near], lexicon: Lexicon) -> str:
    """Of several near words the one that makes a phrase with the word before it or after it."""
    phrases, begun = lexicon.index.phrases, lexicon.index.beginnings
    before = tokens[at - 1].stem if at else ""
    after = tokens[at + 1].stem if at + 1 < len(tokens) else ""
    fits = {
        stem(n.word): n.word
        for n in near
        if any(
            pair in phrases or pair in begun
            for pair in ((before, stem(n.word)), (stem(n.word), after))
        )
    }
    return next(iter(fits.values())) if len(fits) == 1 else ""


def _part(base, name: str) -> dict:
    return base.hearing.get(name, {})


def _function_words() -> set[str]:
    """All words of the lists of function words, and those by which questions are known."""
    found: set[str] = set()
    for value in vars(lists).values():
        if isinstance(value, (frozenset, tuple, dict)):
            found |= {w for text in value if isinstance(text, str) for w in _WORD.findall(text)}
    for parts in CONTRACTIONS.values():
        found |= set(parts)
    for _, pattern in PATTERNS + OUTSIDE:
        found |= {w for w in _WORD.findall(pattern.pattern) if len(w) > 2}
    return found - set(CONTRACTIONS)


def _texts(base) -> set[str]:
    """The words in which the rule base itself speaks."""
    return {word for text in _spoken_texts(base) for word in _WORD.findall(text.lower())}


def _spoken_texts(base) -> Iterable[str]:
    for attribute in base.vocabulary.by_key.values():
        yield from (attribute.asks or "", attribute.help or "", *attribute.says.values())
    for rule in base.rules:
        yield f"{rule.title} {rule.because}"
        yield from (str(getattr(effect, "text", "")) for effect in rule.effects)
