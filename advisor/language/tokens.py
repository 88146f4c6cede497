"""A line cut into tokens that keep their place in what was typed."""

from __future__ import annotations

import functools
import re
import unicodedata
from typing import NamedTuple

from advisor.language.words import CONTRACTIONS, NUMBER_WORDS, SPELLINGS

# '7,5 m': a comma inside a figure with a unit is a decimal one; '8,10 m' may be two figures.
_DECIMAL_COMMA = (
    r"\d+,(?:\d|25|50|75)(?=\s?(?:mm|cm|m|met|kg|kilo|ft|foot|feet|ton|kn|h|hour|min)\w*\b)"
    r"|\d+,\d{1,2}(?=\s?(?:%|percent\b|per cent\b))"
    r"|(?:(?<=oxygen )|(?<=o2 ))\d{1,2},\d\b"
)
_PIECE = re.compile(
    r"\d+(?:,\d{3})+(?:\.\d+)?|"
    + _DECIMAL_COMMA
    + r"|\d+(?:[.:]\d+)?|[½¼¾]|[^\W\d_]+(?:'[^\W\d_]+)*|[^\w\s]|_",
    re.UNICODE,
)
_ANSWER = re.compile(
    r"\((?:yes|no|matter|\d|or worse|alone)\)", re.I
)  # the marks of a phrase in the vocabulary, see index.py
_HALF_DAY = re.compile(r"\b([ap])\.m\b\.?")
_QUOTES = (
    {ord(c): "'" for c in "’‘`´′"} | {ord(c): '"' for c in "“”″"} | {ord(c): "-" for c in "‐‑‒–—−"}
)


class Token(NamedTuple):
    """text in lower case; stem for comparing; start and end in the typed line; glued: no space
    before it.
    """

    text: str
    stem: str
    start: int
    end: int
    glued: bool

    @property
    def is_word(self) -> bool:
        return self.text[0].isalpha()

    @property
    def is_number(self) -> bool:
        return self.text[0].isdecimal() or self.text in "½¼¾"


def tokenise(line: str) -> list[Token]:
    """Tokens of a line.

    Contractions come apart ("isn't" -> is, not); both parts then share one place. A lone n stands
    for 'and', but N, or an n that touches its number, for newtons.
    """
    typed, line = line, plain(line)
    line = _HALF_DAY.sub(lambda m: m.group(1) + "m" + " " * (len(m.group()) - 2), line)
    line = _ANSWER.sub(lambda m: " " * len(m.group()), line)
    tokens: list[Token] = []
    last = -1
    for match in _PIECE.finditer(line):
        start, end, glued = match.start(), match.end(), match.start() == last
        counted = bool(tokens) and tokens[-1].is_number and (glued or typed[start] == "N")
        for part in (match.group(),) if match.group() == "n" and counted else _parts(match.group()):
            tokens.append(Token(part, stem(part), start, end, glued))
            glued = True
        last = end
    return tokens


def plain(line: str) -> str:
    """The same line, place for place, in lower case with plain quotes, dashes and spaces."""
    line = line.translate(_QUOTES)
    if line.isascii():
        return line.lower()
    return "".join(_letter(c) for c in line)


def _letter(char: str) -> str:
    if char in "½¼¾":
        return char
    folded = unicodedata.normalize("NFKD", char)[:1] or " "
    lower = folded.lower()
    return lower if len(lower) == 1 else folded


def _parts(word: str) -> tuple:
    if word[0].isdecimal():
        thousands = re.search(r",\d{3}", word)
        return (word.replace(",", "" if thousands else "."),)
    if word.endswith("ish") and word[:-3] in NUMBER_WORDS:
        return word[:-3], "ish"
    if word in CONTRACTIONS:
        return CONTRACTIONS[word]
    for ending, parts in (
        ("n't", ("not",)),
        ("'s", ("is",)),
        ("'re", ("are",)),
        ("'ve", ("have",)),
        ("'ll", ("will",)),
        ("'d", ("would",)),
        ("'m", ("am",)),
    ):
        if word.endswith(ending) and len(word) > len(ending):
            return (word[: -len(ending)], *parts)
    return (word.replace("'", "") or word,)


@functools.lru_cache(maxsize=20_000)
def stem(word: str) -> str:
    """A word without its ending, in one spelling: drips, dripping, dripped -> drip."""
    word = SPELLINGS.get(word, word)
    if len(word) < 4 or not word.isalpha():
        return word
    if word.endswith("ies") and len(word) > 4:
        word = word[:-3] + "y"
    elif word.endswith("es") and word[:-2].endswith(("s", "x", "z", "ch", "sh")):
        word = word[:-2]
    elif word.endswith("s") and not word.endswith(("ss", "us", "is")):
        word = word[:-1]
    word = SPELLINGS.get(word, word)
    for ending in ("ing", "ed"):
        rest = word[: -len(ending)]
        if (
            word.endswith(ending)
            and len(rest) > 2
            and any(v in rest for v in "aeiouy")
            and not word.endswith("eed")
        ):
            word = rest[:-1] if rest[-1] == rest[-2] and rest[-1] not in "lsz" else rest
            break
    return word[:-1] if word.endswith("e") and len(word) > 4 else word
