"""Misspelt words: put right only where one word of the vocabulary is near, and only one."""

from __future__ import annotations

from advisor.language.words import COMMON, NUMBER_WORDS


def corrected(token, index) -> str | None:
    """The stem of the one known word that a misspelt token must mean, or None."""
    text = token.text
    if len(text) < 5 or text in index.words or text in NUMBER_WORDS or token.stem in _stems(index):
        return None
    known = _seen(index)
    if text not in known:
        if len(known) > 5000:
            known.clear()
        near = {
            index.words[word]
            for word in _buckets(index).get(text[0], ())
            if abs(len(word) - len(text)) <= 1 and distance_one(text, word)
        }
        known[text] = near.pop() if len(near) == 1 else None
    return known[text]


def _stems(index):
    if not hasattr(index, "stems"):
        index.stems = frozenset(index.words.values())
    return index.stems


def _seen(index):
    if not hasattr(index, "corrections"):
        index.corrections = {}
    return index.corrections


def _buckets(index):
    """Words of the vocabulary by first letter; short words are too easily mistaken for one
    another.
    """
    if not hasattr(index, "buckets"):
        index.buckets = {}
        for word in index.words:
            if len(word) >= 5 and word not in COMMON:
                index.buckets.setdefault(word[0], []).append(word)
    return index.buckets


def distance_one(one: str, other: str) -> bool:
    """Whether one letter left out or added, one vowel for another, or two neighbours swapped turn
    one word into the other.
    """
    if len(one) > len(other):
        one, other = other, one
    at = next((i for i, (a, b) in enumerate(zip(one, other)) if a != b), len(one))
    if len(one) < len(other):
        return one[at:] == other[at + 1 :]
    vowels = (
        one[at : at + 1] in "aeiouy" and other[at : at + 1] in "aeiouy"
    )  # 'kicked' is not 'kinked', but 'hangar' is 'hanger'
    return (vowels and one[at + 1 :] == other[at + 1 :]) or (
        one[at : at + 2] == other[at : at + 2][::-1] and one[at + 2 :] == other[at + 2 :]
    )
