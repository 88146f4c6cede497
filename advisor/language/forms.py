"""Ways of saying of rules/hearing: patterns of words, sets of words and figures, found anywhere
among the tokens.

A pattern's items stand one behind the other: `word`, `=word` in just that form, `one/other`,
`two_words`, `<set>`, `{n}` or another
figure, each with a `?` behind it where it may be left out; `...` for up to three words of any
kind; `^` and `$` for the beginning and the end of a clause. Words without weight may stand
between any two items.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, NamedTuple

from advisor.facts.units import UNITS
from advisor.language.clock import clock_at
from advisor.language.index import is_filler
from advisor.language.quantities import Quantity, read_at
from advisor.language.tokens import Token, tokenise
from advisor.language.words import NEGATORS, SEPARATORS

KEPT = 200  # lines of which the patterns found are kept
GAP = 3  # words that `...` may stand for
SKIPPED = 2  # words without weight between two items
_ANYBODY = frozenset("he she they him her his one of them the a an my our me is has are".split())
_FIGURE = re.compile(r"\{([a-z]+)(?::(\w+))?\}$")
_STOPS = SEPARATORS - {"and", "&", "+", "/"}
_KINDS = {  # of figures, with the dimension they are of
    "length": "length",
    "mass": "mass",
    "minutes": "time",
    "percent": "share",
    "force": "force",
    "degrees": "temperature",
}


class Item(NamedTuple):
    """kind: 'words' (ways of stems), 'figure', 'gap', 'start' or 'end'; name: a figure's slot."""

    kind: str
    ways: tuple[tuple[str, ...], ...] = ()
    figure: str = ""
    name: str = ""
    optional: bool = False
    firsts: dict[str, tuple] = {}  # the ways by their first word


class Form(NamedTuple):
    """One pattern: its items, what it means, what it asks, the words beside which it does not hold,
    the entry of the file it is of, and words of which one each must stand in the line.
    """

    items: tuple[Item, ...]
    means: tuple[str, ...]
    asks: str
    unless: tuple[tuple[str, ...], ...]
    entry: dict[str, Any]
    say: str
    needed: tuple[frozenset, ...]

    @property
    def happens(self) -> bool:
        """Whether it tells of an incident."""
        return any(p.startswith(("incident.", "else incident.")) for p in self.means)


class Found(NamedTuple):
    """A pattern found: start, end: tokens; weight: words and figures that it covers; slots: figures
    by name.
    """

    start: int
    end: int
    weight: int
    form: Form
    slots: dict[str, Any]


class Forms:
    """All patterns of a rule base, by the stems with which they may begin."""

    def __init__(self, base):
        sets = {name: ways_of(words) for name, words in base.hearing.get("sets", {}).items()}
        self.soft = {way[0] for way in sets.pop("soft", ()) if len(way) == 1}
        self.not_now = sets.pop("not now", ())
        self.sets = sets
        person = [way for way in sets.get("person", ()) if len(way) == 1]
        self.people = {way[0] for way in person} | _ANYBODY
        self.by_first: dict[str, list[Form]] = {}
        self.by_figure: list[Form] = []
        self._figures: dict[int, Quantity | None] = {}  # of the line being read
        self._lines: dict[tuple, list[Found]] = {}  # of the rivals of a line, which is read often
        for entry in base.hearing.get("forms", ()):
            for say in entry["say"]:
                items = tuple(items_of(str(say), sets))
                needed = tuple(
                    frozenset(way[0] for way in item.ways)
                    for item in items
                    if item.kind == "words" and not item.optional
                )
                self._add(Form(items, *_meaning(entry), entry, str(say), needed))

    def _add(self, form: Form):
        for item in form.items:
            if item.kind == "figure":
                self.by_figure.append(form)
            for way in item.ways:
                self.by_first.setdefault(way[0], []).append(form)
            if item.kind in ("words", "figure") and not item.optional:
                break

    def every(self, tokens: list[Token]) -> list[Found]:
        """Every pattern that stands anywhere in a line."""
        key = tuple((t.text, t.glued, t.start < t.end) for t in tokens)
        if key not in self._lines:
            words = {t.stem for t in tokens} | {t.text for t in tokens}
            self.begin()
            if len(self._lines) > KEPT:
                self._lines.clear()
            self._lines[key] = [f for at in range(len(tokens)) for f in self._at(tokens, at, words)]
        return self._lines[key]

    def found(self, tokens: list[Token], every: list[Found] | None = None) -> list[Found]:
        """The patterns in a line, or of some, none overlapping: those that cover most first."""
        every = self.every(tokens) if every is None else every
        kept: list[Found] = []
        for found in sorted(every, key=_likeliest):
            if not any(found.start < k.end and k.start < found.end for k in kept):
                kept.append(found)
        return sorted(kept, key=lambda f: f.start)

    def _at(self, tokens, at, words) -> Iterator[Found]:
        begun = list(self.by_first.get(tokens[at].stem, ()))  # of forms that may stand in the line
        if tokens[at].text != tokens[at].stem:
            begun += self.by_first.get(tokens[at].text, ())
        if at not in self._figures:
            self._figures[at] = read_at(tokens, at)
        if self._figures[at] or tokens[at].is_number:
            begun += self.by_figure
        for form in {id(f): f for f in begun}.values():
            if any(words.isdisjoint(needed) for needed in form.needed):
                continue
            best = max(self._walk(tokens, at, form.items, 0, {}), default=None, key=_most)
            if best and best[1]:
                yield Found(at, best[0], best[1], form, best[2])

    def begin(self):
        """Read another line from here on."""
        self._figures = {}

    def walk(self, tokens, at, items) -> list[tuple]:
        """(end, weight, slots) of every way in which items stand from a token on."""
        return list(self._walk(tokens, at, items, 0, {}))

    def _walk(self, tokens, at, items, weight, slots) -> Iterator[tuple]:
        """(end, weight, slots) of every way in which items stand from a token on."""
        if not items:
            yield at, weight, slots
            return
        item, rest = items[0], items[1:]
        if item.optional:
            yield from self._walk(tokens, at, rest, weight, slots)
        if item.kind == "start":
            if at == 0 or tokens[at - 1].text in SEPARATORS:
                yield from self._walk(tokens, at, rest, weight, slots)
        elif item.kind == "end":
            if at == len(tokens) or typed_stop(tokens[at]):
                yield from self._walk(tokens, at, rest, weight, slots)
        elif item.kind == "gap":
            for end in range(at, min(at + GAP, len(tokens)) + 1):
                if any(t.text in _STOPS for t in tokens[at:end]):
                    break
                yield from self._walk(tokens, end, rest, weight, slots)
        else:
            for begin in self._reach(tokens, at, weight):
                for end, more in self._taken(tokens, begin, item):
                    yield from self._walk(
                        tokens, end, rest, weight + end - begin, {**slots, **more}
                    )

    def _reach(self, tokens, at, weight) -> Iterator[int]:
        """The tokens at which the next item may stand: here, or behind words without weight."""
        yield at
        if not weight:
            return
        for skipped in range(SKIPPED + 1):
            here = at + skipped
            if here >= len(tokens) or not self._weightless(tokens[here]):
                return
            yield here + 1

    def _taken(self, tokens, at, item: Item) -> Iterator[tuple[int, dict[str, Any]]]:
        """(end, slots) of each way in which an item stands at a token."""
        if at >= len(tokens):
            return
        if item.kind == "words":
            here = tokens[at]
            ways = item.firsts.get(here.stem, ())
            if here.text != here.stem:
                ways = (*ways, *item.firsts.get(here.text, ()))
            for way in ways:
                end = at + len(way)
                if end <= len(tokens) and all(
                    word in (t.stem, t.text) for word, t in zip(way, tokens[at:end])
                ):
                    yield end, {}
        elif item.figure == "clock":
            clock = clock_at(tokens, at, True)
            if clock:
                yield clock.end, {item.name: clock}
        else:
            if at not in self._figures:
                self._figures[at] = read_at(tokens, at)
            figure = self._figures[at]
            if figure and _is(figure, item.figure):
                yield figure.end, {item.name: figure}

    def beside(self, tokens, found: Found) -> bool:
        """Whether a word stands in the clause beside which a pattern does not hold."""
        return _any_beside(tokens, found.start, found.end, found.form.unless)

    def at_another_time(self, tokens, start: int, end: int) -> bool:
        """Whether words stand in the clause of some by which nothing happens now: it is practised,
        planned, mended or remembered.
        """
        return _any_beside(tokens, start, end, self.not_now)

    def _weightless(self, token: Token) -> bool:
        return (
            is_filler(token.stem) or token.stem in self.soft or token.text in ("-", "'")
        ) and token.text not in NEGATORS


def _any_beside(tokens, start, end, ways) -> bool:
    """Whether one of some phrases stands in the clause of the tokens from start to end, outside
    them.
    """
    outside = [i for i in around(tokens, start, end, typed_stop) if not start <= i < end]
    return stands(tokens, outside, ways)


def around(tokens, start, end, stops) -> range:
    """The tokens about those from start to end, up to where one stops on either side."""
    first = next((i + 1 for i in range(start - 1, -1, -1) if stops(tokens[i])), 0)
    last = next((i for i in range(end, len(tokens)) if stops(tokens[i])), len(tokens))
    return range(first, last)


def stands(tokens, among, ways) -> bool:
    """Whether one of some phrases stands among tokens, all of its words."""
    inside = set(among)
    return any(
        all(
            i + n in inside and word in (tokens[i + n].stem, tokens[i + n].text)
            for n, word in enumerate(way)
        )
        for way in ways
        for i in among
    )


def typed_stop(token: Token) -> bool:
    """Whether a separator was typed: a comma that is only tried parts no figure from its noun."""
    return token.text in SEPARATORS and token.start < token.end


def _likeliest(found: Found):
    """What covers most comes first; of as much, what lies closer, then what leaves less open."""
    open_ = sum(len(item.ways) for item in found.form.items)
    return -found.weight, found.end - found.start, open_, found.start


def _most(found):
    return found[1], -found[0]


def _is(figure: Quantity, kind: str) -> bool:
    if kind == "n":
        return figure.fits_count
    if kind == "year":
        return figure.fits_count and 1950 <= figure.value <= 2100
    if kind == "mm":
        return figure.unit in (None, "mm")
    if kind == "bare":
        return figure.unit is None
    if kind == "metres":  # a length, and not how thick something is
        return figure.unit not in (None, "mm") and UNITS[figure.unit][0].name == "length"
    if kind == "degrees" and figure.unit == "deg":
        return True
    if kind == "span":
        return figure.mode == "range" and figure.unit in (None, "year")
    return figure.unit is not None and UNITS[figure.unit][0].name == _KINDS.get(kind)


def ways_of(words) -> tuple[tuple[str, ...], ...]:
    """Each phrase of a set as the stems it is found by."""
    return tuple(w for phrase in words for w in _part(str(phrase).replace(" ", "_"), {}))


def _meaning(entry) -> tuple[tuple[str, ...], str, tuple[tuple[str, ...], ...]]:
    means, asks = tuple(map(str, entry.get("means", ()))), str(entry.get("asks", ""))
    return means, asks, ways_of(entry.get("unless", ()))


def items_of(say: str, sets) -> Iterator[Item]:
    for word in say.split():
        optional = word.endswith("?") and len(word) > 1
        word = word[:-1] if optional else word
        figure = _FIGURE.match(word)
        if word in ("^", "$", "..."):
            yield Item({"^": "start", "$": "end", "...": "gap"}[word], optional=optional)
        elif figure:
            kind, name = figure.groups()
            yield Item("figure", (), kind, name or kind, optional)
        else:
            ways = [w for part in word.split("/") for w in _part(part, sets)]
            firsts: dict[str, tuple] = {}
            for way in ways:
                firsts[way[0]] = (*firsts.get(way[0], ()), way)
            yield Item("words", tuple(ways), optional=optional, firsts=firsts)


def _part(part: str, sets) -> tuple[tuple[str, ...], ...]:
    if part.startswith("<"):
        return sets[part[1:-1]]
    if part.startswith("="):
        return ((part[1:],),)  # in just this form
    return (tuple(t.stem for t in tokenise(part.replace("_", " "))),)


_FORMS: dict[str, Forms] = {}


def forms_of(base) -> Forms:
    """The patterns of a rule base."""
    found = _FORMS.get(base.sha256)
    if found is None:
        if len(_FORMS) > 3:
            _FORMS.clear()
        found = _FORMS[base.sha256] = Forms(base)
    return found
