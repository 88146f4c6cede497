"""The rules that come nearest to a question which has no answer of its own, found by their words.

The search is SQLite's full-text search (FTS5); its ranking is Okapi BM25, as Robertson and Zaragoza
describe it ("The Probabilistic Relevance Framework", 2009). Each word of the question is looked for
by itself, so that a rule which speaks of more of them comes first. What is found is shown as what
the rules say, never as an answer, and tells no fact.
"""

from __future__ import annotations

import re
import sqlite3
from collections import Counter, defaultdict
from collections.abc import Iterator
from itertools import pairwise
from math import log
from re import Match

from advisor.decide.sentences import sentence
from advisor.language.index import Index, index_of
from advisor.language.mend import lexicon_of, mended
from advisor.language.tokens import Token, tokenise
from advisor.language.words import LIGHT, QUESTION_STARTS
from advisor.load.local_limits import SOURCE
from advisor.model.base import Base
from advisor.model.effects import TEMPLATE, Ask, Contradiction, Derive, Effect
from advisor.model.rule import Rule

SHOWN = 3  # rules told at once; more would bury the one that is meant
NEAREST = "What comes near it in my rules, each on its own conditions:"
OF_NOTHING = LIGHT | frozenset(
    "acceptable advisable allow allowed alright appropriate enough idea know necessary normal"
    " normally overkill permitted possible recommend recommended required safe safely sensible"
    " sound strictly typical usual usually metre metres meter meters foot feet".split()
)  # words of a question that are about nothing
WEIGHTS = "0, 4, 2, 1, 1"  # of the columns below, against each other
TABLE = (
    "create virtual table rules using fts5(number unindexed, title, said, because, conditions,"
    " tokenize='porter')"
)
LEAST = 2  # words of the question that a rule must speak of, where it has so many
SHARE = 0.33  # of what it speaks of, the rarer a word the more, that a rule must speak of too
FEW = 2  # a word that fewer rules have is looked for under its other names too

Rows = list[tuple[int, float]]  # (number of a rule, its rank), the better the higher


class Nearest:
    """A full-text index of the built-in rules that say something to a person; those of local
    guidance would take their places.
    """

    def __init__(self, base: Base):
        self.base = base
        self._index: Index = index_of(base)
        built_in = (rule for rule in base.rules if rule.sources != (SOURCE,))
        self._rules = [rule for rule in built_in if any(map(_is_said, rule.effects))]
        self._search = sqlite3.connect(":memory:", check_same_thread=False)
        self._search.execute(TABLE)
        rows = ((n, *self._columns(rule)) for n, rule in enumerate(self._rules))
        self._search.executemany("insert into rules values (?, ?, ?, ?, ?)", rows)

    def _columns(self, rule: Rule) -> tuple[str, str, str, str]:
        said = " ".join(word for effect in rule.effects for word in effect.words)
        conditions = sentence(self.base, rule.condition, dict(rule.variables))
        return rule.title, said, rule.because, conditions

    def of(self, question: str, kinds: tuple[type[Effect], ...] = ()) -> list[Rule]:
        """The rules that speak of most of what a question speaks of, the nearest first; none where
        it speaks of nothing that they do. `kinds`: only rules with such an effect.
        """
        tokens = mended(tokenise(question), question, lexicon_of(self.base, self._index))
        words = {t.stem: t for t in tokens if _speaks(t)}
        found = [self._speaking_of(token) for token in words.values()]
        rare = [log(1 + len(self._rules) / len(rows)) if rows else 0.0 for rows in found]
        near: dict[int, float] = defaultdict(float)
        share: dict[int, float] = defaultdict(float)
        met: Counter[int] = Counter()
        for rows, weight in zip(found, rare):
            for number, rank in rows:
                met[number] += 1
                share[number] += weight / sum(rare)
                near[number] += rank
        for one, other in pairwise(tokens):  # 'body belay' is more than a body and a belay
            if one.stem in words and other.stem in words:
                for number, rank in self._ranked(f'"{one.text} {other.text}"'):
                    near[number] += rank
        least = min(1 if kinds else LEAST, len(words))
        enough = [n for n in near if met[n] >= least and share[n] >= SHARE]
        enough.sort(key=lambda n: (-near[n] * share[n], n))
        rules = (self._rules[n] for n in enough)
        told = [r for r in rules if not kinds or any(isinstance(e, kinds) for e in r.effects)]
        return told[:SHOWN]

    def _speaking_of(self, token: Token) -> Rows:
        rows = self._ranked(f'"{token.text}"')
        if len(rows) >= FEW:
            return rows
        names = {token.text, *self._other_names(token)}
        return self._ranked(" OR ".join(f'"{name}"' for name in sorted(names)))

    def _ranked(self, wanted: str) -> Rows:
        """Every rule that matches, with its rank."""
        ranked = f"select number, -bm25(rules, {WEIGHTS}) from rules where rules match ?"
        return self._search.execute(ranked, (wanted,)).fetchall()

    def _other_names(self, token: Token) -> Iterator[str]:
        """What the vocabulary calls a thing, a value or an attribute of this name."""
        for sense in self._index.phrases.get((token.stem,), ()):
            if sense.rank < 2:  # a name or a phrase, no sentence
                name = sense.value or sense.key.partition(".")[2] or sense.entity
                yield name.replace('"', "")


def _speaks(token: Token) -> bool:
    """Whether a word is about something."""
    about_nothing = {token.text, token.stem} & OF_NOTHING
    return token.is_word and len(token.text) > 1 and not about_nothing


def _is_said(effect: Effect) -> bool:
    """Whether an effect tells a person something of a pitch, not only the program."""
    return not isinstance(effect, (Derive, Ask, Contradiction))


def asks(words: str) -> bool:
    """Whether words that were not understood are a question."""
    first = next((t.text for t in tokenise(words) if t.is_word and t.text not in _BEFORE), "")
    return words.rstrip().endswith("?") or first in QUESTION_STARTS


_BEFORE = frozenset("and but or so ok okay right well then also please hi hello hey".split())
_FIGURE = re.compile(r"\{[^{}]*\.")  # {a.height}
_NEAREST: dict[str, Nearest] = {}


def nearest(base: Base, question: str, *kinds: type[Effect]) -> list[str]:
    """Lines on what the rules say that comes near a question; none where nothing does, or where
    SQLite was built without its full-text search.
    """
    try:
        if base.sha256 not in _NEAREST:
            _NEAREST.clear()
            _NEAREST[base.sha256] = Nearest(base)
        found = _NEAREST[base.sha256].of(question, kinds)
    except sqlite3.OperationalError:
        return []
    return [NEAREST, *(f"- {told(rule)}" for rule in found)] if found else []


def told(rule: Rule) -> str:
    """What a rule says, why, and by what name it is found; a text with figures that are only
    worked out on a plan is left out.
    """
    kinds = dict(rule.variables)

    def of_any(match: Match[str]) -> str:
        return f"the {kinds.get(match.group(1), match.group(1))}"

    texts = [t for effect in rule.effects if (t := getattr(effect, "text", "")) and t != rule.title]
    plain = [TEMPLATE.sub(of_any, t) for t in (*texts[:1], rule.because) if not _FIGURE.search(t)]
    return " ".join([f"{rule.title}.", *plain, f"[{rule.id}]"])
