"""A reply to several lines read out together: 'all but 3', '1 and 4 no, rest yes', 'stance is a
bit poky, rest fine'. Which lines are so, which are not, and which are left open.
"""

from __future__ import annotations

from collections import Counter
from typing import NamedTuple

from advisor.language.group_words import POINTERS, Clause, clauses_of
from advisor.language.near_words import distance_one
from advisor.language.reply import own_stems

_EVIDENT = 0.45  # of a clause's words, weighed by how few lines have them, the least that names one
# A line that fits as well as this share of the best is meant too: of what is so, of what is not.
_AS_GOOD, _AS_BAD = 0.7, 0.3
_POINTING = frozenset("it its that this they them those he she will there".split())
_NEGATIVE = frozenset("no not nobody never nothing without lacks none neither".split())


class Line(NamedTuple):
    """A line read out: its words, and other words by which people speak of it."""

    text: str
    about: frozenset[str] = frozenset()

    @property
    def stems(self) -> frozenset[str]:
        return own_stems(self.text) | self.about

    @property
    def negative(self) -> bool:
        """Whether the line itself says that something is not so."""
        words = self.text.lower().replace(",", " ").replace(".", " ").split()
        return bool(_NEGATIVE & set(words))


class GroupReply(NamedTuple):
    """Numbers of lines, from 1: so, not so, spoken of and left open; `sure`: whether it could be
    read in one way only; `plain`: whether it names lines by number, or all of them, or the rest.
    """

    so: tuple[int, ...]
    not_so: tuple[int, ...]
    left: tuple[int, ...]
    sure: bool
    plain: bool


class _Read(NamedTuple):
    """A clause with the lines that it speaks of."""

    clause: Clause
    lines: frozenset[int]
    plain: bool  # whether they were named by number


def read_group(text: str, lines: list[Line]) -> GroupReply | None:
    """What a reply says of the lines read out; None where it says nothing of them."""
    clauses = clauses_of(text, len(lines))
    reads = [_read(clause, lines) for clause in clauses]
    if any(_of_something_else(r.clause, lines) for r in reads):
        return None
    every = any(r.clause.scope and r.clause.sign in ("so", "") for r in reads)
    every = every or _agreed(reads)
    if any(r.clause.scope == "all" and r.clause.sign in ("no", "open") for r in reads):
        return None
    return _summed(reads, lines, every)


def _of_something_else(clause: Clause, lines: list[Line]) -> bool:
    """'… with all my gear on': 'all' of what no line speaks of."""
    heavy = set(clause.heavy) - POINTERS  # 'they are all right'
    if clause.scope != "all" or not heavy:
        return False
    return not any(_like(stem, line.stems) for stem in heavy for line in lines)


def _agreed(reads: list[_Read]) -> bool:
    """'Yes, …': the first words say so of all, and the rest takes nothing back."""
    first = reads[0] if reads else None
    if first is None or first.clause.sign != "so" or first.lines or first.clause.heavy:
        return False
    return not any(r.plain and r.clause.sign == "so" for r in reads)


def _read(clause: Clause, lines: list[Line]) -> _Read:
    if clause.numbers:
        return _Read(clause, frozenset(clause.numbers), True)
    if clause.scope or not clause.heavy:
        return _Read(clause, frozenset(), False)
    share = _AS_GOOD if clause.sign == "so" else _AS_BAD
    return _Read(clause, named_in(clause.heavy, lines, share), False)


def named_in(stems: tuple[str, ...], lines: list[Line], share: float) -> frozenset[int]:
    """The lines that some words speak of, from 1: those that fit nearly as well as the best."""
    held = Counter(stem for line in lines for stem in line.stems)
    scores = {}
    for number, line in enumerate(lines, 1):
        hits = {s: _like(s, line.stems) for s in set(stems)}
        scores[number] = sum(1 / max(held[h], 1) for h in hits.values() if h)
    best = max(scores.values(), default=0)
    if best < _EVIDENT:
        return frozenset()
    return frozenset(n for n, score in scores.items() if score >= best * share)


def _covered(stems: tuple[str, ...], spoken: frozenset[int], lines: list[Line]) -> bool:
    """Whether the lines meant have every word said that any line has."""
    mine = frozenset[str]().union(*(lines[n - 1].stems for n in spoken))
    return all(_like(s, mine) or not any(_like(s, line.stems) for line in lines) for s in stems)


def _each_named(stems: tuple[str, ...], spoken: frozenset[int], lines: list[Line]) -> bool:
    """Whether each of some lines is named by a word that no other line has."""
    held = Counter(stem for line in lines for stem in line.stems)
    return all(
        any(held[hit] == 1 for s in stems if (hit := _like(s, lines[n - 1].stems))) for n in spoken
    )


def _like(stem: str, stems: frozenset[str]) -> str:
    """The stem of a line that a typed one means, or ''."""
    if stem in stems:
        return stem
    near = [s for s in stems if len(s) > 4 and len(stem) > 4 and s[0] == stem[0]]
    return next((s for s in near if distance_one(s, stem)), "")


def _summed(reads: list[_Read], lines: list[Line], every: bool) -> GroupReply | None:
    so, not_so, left = set[int](), set[int](), set[int]()
    sure = not any(read.clause.stray for read in reads)
    before: frozenset[int] = frozenset()
    for read in reads:
        clause, spoken = read.clause, read.lines
        if clause.scope or (clause.sign == "so" and not spoken and not clause.heavy):
            continue
        if not spoken:
            sure = sure and _beside(clause, before, every)
            continue
        if len(spoken) > 3 and not read.plain:
            sure = sure and every and clause.sign == "so"
            continue
        before = spoken
        sign = _sign(read, lines, every)
        {"so": so, "no": not_so}.get(sign, left).update(spoken)
        if sign == "so" and not (every or read.plain):
            sure = sure and _covered(clause.heavy, spoken, lines)
        several = sign == "so" and len(spoken) > 1 and not (read.plain or every)
        sure = sure and not (several and not _each_named(clause.heavy, spoken, lines))
    whole = set(range(1, len(lines) + 1))
    not_so -= left
    so -= not_so | left
    if every:
        so = whole - not_so - left
    if _rest_without(reads) and so == whole:
        sure = False
    if not (so or not_so or left):
        return None
    plain = every or any(r.plain or r.clause.scope for r in reads)
    return GroupReply(_sorted(so), _sorted(not_so), _sorted(left), sure, plain)


def _sorted(some: set[int]) -> tuple[int, ...]:
    return tuple(sorted(some))


def _rest_without(reads: list[_Read]) -> bool:
    """'… rest yes', and what is not so could not be made out."""
    rest = any(r.clause.scope == "rest" and r.clause.sign in ("so", "") for r in reads)
    return rest and not any(r.lines for r in reads)


def _beside(clause: Clause, before: frozenset[int], every: bool) -> bool:
    """Whether words that name no line only tell more of what was said."""
    if not clause.heavy and clause.sign not in ("no", "open"):
        return True
    if before and (not clause.heavy or _POINTING & set(clause.words)):
        return True
    return every and not before and clause.sign not in ("no", "open") and not clause.turns


def _sign(read: _Read, lines: list[Line], every: bool) -> str:
    """Whether what a clause speaks of is so: 'so', 'no' or 'open'."""
    clause = read.clause
    if clause.excepted:
        return "no" if read.plain and clause.sign == "no" else "open"
    if clause.sign == "so":
        return "so"
    if clause.sign == "no" and "yet" in clause.words and not read.plain:
        return "open"
    if clause.sign == "no":
        turned = any(lines[n - 1].negative for n in read.lines if n <= len(lines))
        several = len(read.lines) > 1 and not read.plain
        return "open" if several or (turned and not read.plain) else "no"
    return "so" if not clause.sign and every and not clause.turns and clause.after_all else "open"
