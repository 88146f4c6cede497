"""The phrase index: every word sequence of the vocabulary and all that it may mean.

A phrase of a yes/no attribute states its 'yes', unless it ends in a mark: "burr (no)" states the
'no',
"life (matter)" only names what is talked of. A phrase of a number that ends in "(1)" states that
count: "and me (1)". A phrase of a choice that ends in "(or worse)"
leaves open how bad it is: "rusty (or worse)". A phrase of a number that ends in "(alone)" is its
cue only where the clause says
nothing else: "there are (alone)", in 'there are 14', but not in 'there are 14 rungs'.
"""

from __future__ import annotations

from typing import NamedTuple

from advisor import kept
from advisor.facts.vocabulary import PHRASE_MARK
from advisor.language.phrase_senses import Phrases
from advisor.language.tokens import stem, tokenise
from advisor.language.words import COMMON, FILLERS, NUMBER_WORDS

_LOOSE = frozenset(
    "what where which how who when on use used part place item size state kind type count many much"
    " number standing start calls past share none sides side whole device".split()
)


class Sense(NamedTuple):
    """form: 'entity', 'matter' (names an attribute) or 'value'; value for 'value'; rank: 0 a
    name, 1 a phrase, 2 only a sentence;
    text: the phrase itself, to tell an exact wording from one that only has the same stems."""

    form: str
    entity: str
    key: str
    value: str
    rank: int
    text: str = ""


class Index:
    """beginnings: how phrases of several words begin; phrases: stems -> senses; longest: stems of
    the longest phrase; words: every word known -> its stem.
    """

    def __init__(self, vocabulary, plain: dict | None = None):
        if plain:
            self._take(vocabulary, plain)
            return
        self.vocabulary, self.longest = vocabulary, 1
        self.phrases: dict = {}
        self.beginnings: set = set()
        self.alone: dict = {}  # phrases that are a cue only in a clause of their own
        # phrases of filler words only, such as 'of them', which must be said exactly
        self.literals: dict = {}
        self.words = {}  # text -> stem of every word known
        for entity in vocabulary.entities.values():
            self._entity(entity)
        for text in COMMON | frozenset(NUMBER_WORDS):
            self.words[text] = stem(text)

    def plain(self) -> dict:
        """The index as plain data, to be kept."""
        rows = {
            name: {
                stems: tuple(tuple(s) for s in senses)
                for stems, senses in getattr(self, name).items()
            }
            for name in ("phrases", "alone", "literals")
        }
        return {**rows, "longest": self.longest, "beginnings": self.beginnings, "words": self.words}

    def _take(self, vocabulary, plain):
        self.vocabulary, self.longest, self.beginnings, self.words = (
            vocabulary,
            plain["longest"],
            plain["beginnings"],
            plain["words"],
        )
        self.phrases = Phrases(plain["phrases"], Sense._make)
        self.alone, self.literals = (
            {words: [Sense._make(row) for row in rows] for words, rows in plain[name].items()}
            for name in ("alone", "literals")
        )

    def _entity(self, entity):
        for rank, phrase in [(0, entity.name)] + [(1, p) for p in entity.phrases]:
            self._add(phrase, Sense("entity", entity.name, "", "", rank))
        noun = next(
            (
                a
                for a in entity.attributes.values()
                if entity.many and a.type == "choice" and a.name in ("kind", "type")
            ),
            None,
        )
        for attribute in entity.attributes.values():
            if attribute.derived or attribute.type == "text":
                continue
            self._attribute(attribute, attribute is noun)

    def _attribute(self, attribute, noun):
        entity, key = attribute.entity, attribute.key
        with_mark = [p for p in attribute.phrases if PHRASE_MARK.search(p)]
        marked = {PHRASE_MARK.sub("", p).lower() for p in with_mark}
        for rank, phrase in [(0, attribute.name)] + [(1, p) for p in attribute.phrases]:
            mark = PHRASE_MARK.search(phrase)
            if not mark and phrase.lower() in marked:
                continue
            if mark and mark.group(1).lower() == "alone":
                self.alone.setdefault(tuple(t.text for t in tokenise(phrase)), []).append(
                    Sense("matter", entity, key, "", rank)
                )
            elif attribute.type == "yes/no":
                value = mark.group(1).lower() if mark else "yes"
                self._add(
                    phrase,
                    (
                        Sense("matter", entity, key, "", rank)
                        if value == "matter"
                        else Sense("value", entity, key, value, rank)
                    ),
                )
            else:
                self._add(
                    phrase,
                    (
                        Sense("value", entity, key, mark.group(1), rank)
                        if mark
                        else Sense("matter", entity, key, "", rank)
                    ),
                )
        for value in attribute.values:
            words = [(0, value)] if attribute.type == "choice" else []
            for rank, phrase in (
                words
                + [(1, p) for p in attribute.value_phrases.get(value, ())]
                + [(2, attribute.says.get(value, "").replace("{it}", " "))]
            ):
                self._add(phrase, Sense("value", entity, key, value, rank))
                if str(phrase).endswith("(or worse)"):
                    self._add(phrase, Sense("value", entity, key, attribute.values[-1], rank))
                if noun and rank < 2:
                    self._add(phrase, Sense("entity", entity, key, value, rank))

    def _add(self, phrase, sense):
        tokens = tokenise(PHRASE_MARK.sub("", str(phrase)))
        stems = content(t.stem for t in tokens if t.text not in _MARKS)
        if (
            len(stems) < 2
            and len(tokens) > 2
            and not (stems and all(t.text in _PLAIN for t in tokens if t.stem != stems[0]))
            or not stems
            and len(tokens) > 1
        ):
            self.literals.setdefault(tuple(t.text for t in tokens), []).append(
                sense._replace(text=" ".join(t.text for t in tokens))
            )
            return
        if not stems or (
            len(stems) == 1
            and (tokens[0].text in _LOOSE or (len(tokens) > 1 and stems[0] in _COMMON_STEMS))
        ):
            return
        senses = self.phrases.setdefault(stems, [])
        senses.append(sense._replace(text=" ".join(t.text for t in tokens)))
        self.longest = max(self.longest, len(stems))
        for length in range(1, len(stems)):
            self.beginnings.add(stems[:length])
        for token in tokens:
            if token.is_word:
                self.words[token.text] = token.stem


_MARKS = frozenset(",;:-'\"")
_PLAIN = frozenset("a an the is are it its of bit very quite rather some".split())
_COMMON_STEMS = frozenset(stem(w) for w in COMMON)
_FILLER_STEMS = frozenset(t.stem for w in FILLERS for t in tokenise(w))


def is_filler(stem: str) -> bool:
    """Whether a word is left out when phrases are compared."""
    return stem in _FILLER_STEMS


def content(stems) -> tuple:
    """The stems that count when phrases are compared."""
    return tuple(s for s in stems if s not in _FILLER_STEMS)


_INDEXES: dict = {}
_NAME = "phrases"  # of what is kept between starts


def index_of(base) -> Index:
    """The index of a rule base; kept while the program runs, and between runs where there is a
    folder for it.
    """
    found = _INDEXES.get(base.sha256)
    if found is None or found.vocabulary is not base.vocabulary:
        if len(_INDEXES) > 3:
            _INDEXES.clear()
        found = _INDEXES[base.sha256] = _read(base) or _built(base)
    return found


def _built(base) -> Index:
    index = Index(base.vocabulary)
    if base.sha256:
        kept.write(_NAME, base.sha256, index.plain())
    return index


def _read(base) -> Index | None:
    data = kept.read(_NAME, base.sha256) if base.sha256 else None
    return (
        Index(base.vocabulary, data)
        if isinstance(data, dict)
        and {"phrases", "alone", "literals", "longest", "beginnings", "words"} <= set(data)
        else None
    )
