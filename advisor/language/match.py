"""Phrases of the vocabulary found among the tokens: longest first, none overlapping."""

from __future__ import annotations

from typing import NamedTuple

from advisor.language.index import is_filler
from advisor.language.tokens import stem
from advisor.language.words import NEGATORS


class Match(NamedTuple):
    """start, end: token indexes; stems: how many words counted; senses: all that it may mean;
    denied: a 'not' stands inside it, as in 'signals not agreed'; joined: put together from words
    that stand apart.
    """

    start: int
    end: int
    stems: int
    senses: tuple
    denied: bool = False
    joined: bool = False


def matches(tokens, index, blocked=frozenset(), alive=None) -> list[Match]:
    """All phrases in a line, left to right; none goes over a blocked token; `alive` says which
    senses can hold here.
    """
    stems = [t.stem for t in tokens]
    found = []
    for start in range(len(tokens)):
        if not is_filler(stems[start]):
            found += _from(tokens, stems, start, index, blocked, alive)
    found += _literals(tokens, index, found)
    found = [m for m in found if not blocked & set(range(m.start, m.end))]
    taken, kept = [False] * len(tokens), []
    for match in sorted(found, key=lambda m: (-m.stems, m.end - m.start, m.start)):
        if not any(taken[match.start : match.end]):
            kept.append(match)
            taken[match.start : match.end] = [True] * (match.end - match.start)
    return sorted(kept)


def _literals(tokens, index, found) -> list[Match]:
    """Phrases of words without weight, which must be said exactly."""
    begins = _beginnings(index)
    exact: list[Match] = []
    places = [
        (words, at) for at, token in enumerate(tokens) for words in begins.get(token.text, ())
    ]
    for words, at in sorted(places, key=lambda place: -len(place[0])):
        if tuple(t.text for t in tokens[at : at + len(words)]) == words and not any(
            m.start <= at
            and at + len(words) <= m.end
            and m.end - m.start > len(words)
            and m.stems == 1
            and tuple(t.text for t in tokens[m.start : m.end]) in index.literals
            for m in found + exact
        ):
            exact.append(Match(at, at + len(words), 1, tuple(index.literals[words])))
    return exact


def _beginnings(index) -> dict:
    """The exact phrases by their first word."""
    if not hasattr(index, "exact"):
        index.exact = {}
        for words in index.literals:
            index.exact.setdefault(words[0], []).append(words)
    return index.exact


def _from(tokens, stems, start, index, blocked, alive):
    """Every phrase that begins at a token, as it stands and with a 'not' inside left out."""
    found = _walk(tokens, stems, start, index, blocked, alive, False)
    if (
        any(t.text == "not" for t in tokens[start + 1 : start + 6])
        and tokens[start].text not in NEGATORS
    ):
        found += [m for m in _walk(tokens, stems, start, index, blocked, alive, True) if m.denied]
    return found


def _walk(tokens, stems, start, index, blocked, alive, skipping):
    key, found, denied = (), [], False
    for at in range(start, min(len(tokens), start + index.longest * 3)):
        text = tokens[at].text
        if at in blocked or text in ";.!?" or (text == "," and len(key) <= 2):
            break
        if skipping and text == "not":
            denied = True
        if is_filler(stems[at]) or text in "-\"'," or (skipping and text == "not"):
            continue
        key += (stems[at],)
        if key in index.phrases:
            senses = _worded(index.phrases[key], tokens[start : at + 1], denied)
            senses = tuple(s for s in senses if alive is None or alive(s, start, len(key)))
            if senses:
                found.append(
                    Match(
                        start,
                        at + 1,
                        len(key),
                        senses,
                        denied,
                    )
                )
        if key not in index.beginnings:
            break
    return found


def _worded(senses, tokens, denied) -> tuple:
    """The senses worded exactly so, or else all; a phrase with a 'not' of its own must be worded
    exactly.
    """
    spoken = [
        t.text
        for t in tokens
        if not is_filler(t.stem) and t.text not in "-\"'," and not (denied and t.text == "not")
    ]
    exact = tuple(
        s
        for s in senses
        if [w for w in s.text.split() if not is_filler(stem(w)) and w not in "-\"',"] == spoken
    )
    if exact or not any(w in NEGATORS for w in spoken):
        return exact or tuple(
            s for s in senses if len(spoken) > 1 or " " not in s.text or not s.text.endswith("ing")
        )  # 'rain' is not 'it is raining'
    return ()
