"""What people say in reply to a question, whatever it asks: the lists of reply_words.yaml, found
among words.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import NamedTuple

import yaml

from advisor.language.tokens import Token, tokenise

LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
FILE = Path(__file__).with_name("reply_words.yaml")


class Found(NamedTuple):
    """A phrase of a list that stands at a place: the list's name, and how many words it takes."""

    kind: str
    length: int


@cache
def _lists() -> dict[str, dict[str, tuple[tuple[str, ...], ...]]]:
    """{list: {first word: phrases as words, the longest first}}."""
    lists = {}
    for kind, phrases in yaml.load(FILE.read_text("utf-8"), LOADER).items():
        firsts: dict[str, list] = {}
        for phrase in phrases:
            words = words_of(tokenise(phrase))
            firsts.setdefault(words[0], []).append(words)
        lists[kind] = {w: tuple(sorted(all_, key=len, reverse=True)) for w, all_ in firsts.items()}
    return lists


def words_of(tokens: list[Token]) -> tuple[str, ...]:
    """The texts of tokens, marks too."""
    return tuple(token.text for token in tokens)


def found_at(words: tuple[str, ...], at: int, *kinds: str) -> Found | None:
    """The longest phrase of some lists that stands at a place; of two as long, that of the list
    named first.
    """
    best = None
    for kind in kinds:
        for phrase in _lists()[kind].get(words[at], ()):
            if (best is None or len(phrase) > best.length) and words[
                at : at + len(phrase)
            ] == phrase:
                best = Found(kind, len(phrase))
    return best


def any_of(words: tuple[str, ...], *kinds: str) -> Found | None:
    """A phrase of some lists, wherever it stands."""
    return next((f for at in range(len(words)) if (f := found_at(words, at, *kinds))), None)
