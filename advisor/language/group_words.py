"""A reply to several lines, cut into clauses that each speak of some lines: numbers, 'all', 'the
rest', and whether it is so.
"""

from __future__ import annotations

from msgspec import Struct, field

from advisor.language.reply import BREAKS
from advisor.language.reply_words import found_at, words_of
from advisor.language.tokens import Token, tokenise
from advisor.language.words import FILLERS, NUMBER_WORDS

_JOINS = frozenset("and + & or to - through till".split())
_LIGHT = FILLERS | frozenset(
    "and or on in at by for from with as so then now also too one ones here there me my no not yes"
    " up down out off if can could will when where who what which though tho but just still yet"
    " today again any some more than other".split()
)
_BEFORE = frozenset(
    "and or , . ; ( not no yes on to about for but except bar line lines number numbers nr # so"
    " only just is are & + with of the a".split()
)
_ORDINALS = {
    **{w: n for n, w in enumerate("first second third fourth fifth sixth seventh".split(), 1)},
    **{f"{n}{e}": n for n, e in enumerate("st nd rd th th th th th th".split(), 1)},
}
_DEGREES = frozenset(
    "only hardly barely out quite exactly strictly properly really slightly bit needs need wants"
    " might touch forgot lost trouble problem problems issue issues".split()
)
POINTERS = frozenset("right there here like".split())  # these may belong to a name or a place
_TURNS = frozenset("but though tho however bit might may except only just maybe".split())
_SIGNS = {"so": "so", "not so": "no"}
_OPENERS = ("doubt", "unknown", "later", "not yet", "less")


class Clause(Struct):
    """words: its words; numbers: the lines named by number; scope: 'all', 'rest' or ''; sign: 'so',
    'no', 'open' or ''; heavy: stems that carry something; excepted: it stands behind 'but';
    after_all: 'all' was said before it; stray: a number stands in it that may be that of a line;
    turns: it holds a word such as 'but' or 'a bit'.
    """

    words: list[str] = field(default_factory=list)
    numbers: list[int] = field(default_factory=list)
    scope: str = ""
    signs: list[str] = field(default_factory=list)
    heavy: tuple[str, ...] = ()
    excepted: bool = False
    after_all: bool = False
    stray: bool = False

    @property
    def turns(self) -> bool:
        return bool(_TURNS & set(self.words))

    @property
    def sign(self) -> str:
        """What it says on the whole: doubt outweighs a 'no', and that a 'yes'."""
        return next((s for s in ("open", "no", "so") if s in self.signs), "")

    @property
    def empty(self) -> bool:
        return not (self.numbers or self.scope or self.signs or self.heavy or self.stray)


class _Cutter:
    """Goes through the words once, from left to right."""

    def __init__(self, tokens: list[Token], last: int):
        self.tokens, self.words, self.last = tokens, words_of(tokens), last
        self.clauses = [Clause()]
        self.signed = -1  # the place behind the last word that said whether it is so

    @property
    def now(self) -> Clause:
        return self.clauses[-1]

    def begin(self, excepted: bool = False) -> None:
        """A new clause, where the last one holds something."""
        if self.now.empty:
            self.now.excepted = self.now.excepted or excepted
            return
        self.clauses.append(Clause(excepted=excepted))

    def cut(self) -> list[Clause]:
        at = 0
        while at < len(self.words):
            at += self.step(at)
        told, sign = False, ""
        for clause in self.clauses:
            clause.after_all = told
            told = told or clause.scope == "all"
            if clause.numbers and not clause.signs and {"too", "also"} & set(clause.words):
                clause.signs = [sign] if sign else []
            sign = clause.sign
        return [clause for clause in self.clauses if not clause.empty]

    def step(self, at: int) -> int:
        """Take what stands at a place; returns how many words it takes."""
        word = self.words[at]
        if word in BREAKS:
            if not (word == "." and at and self.words[at - 1] in ("no", "nr")):
                self.begin()
            return 1
        idle = found_at(self.words, at, "no scope")
        if idle:
            self.now.words += self.words[at : at + idle.length]
            return idle.length
        if word == "x" and at + 1 < len(self.words) and self.value(at + 1) == self.last:
            self.now.scope = "all"  # 'yes x3'
            return 2
        scope = self.scope(at)
        if scope:
            return scope
        numbers, length = self.numbers(at)
        if numbers:
            if self.now.signs and (self.now.numbers or self.now.scope or self.now.heavy):
                self.begin()
            self.now.numbers += [n for n in numbers if n not in self.now.numbers]
            self.now.words += self.words[at : at + length]
            return length
        return self.sign(at) or self.plain(at)

    def scope(self, at: int) -> int:
        """'All', 'the rest', 'but' at a place: a clause of their own begins."""
        found = found_at(self.words, at, "rest", "all", "except")
        counted = self.counted(at)
        if counted:
            self.begin()
            self.now.scope = "rest"
            return counted
        if found is None:
            return 0
        if found.kind == "except":
            self.begin(excepted=any(c.scope == "all" for c in self.clauses))
            self.now.words += self.words[at : at + found.length]
            return found.length
        subject = len(self.now.heavy) == 1 == len(self.now.words) and found.kind == "all"
        if subject:
            self.now.heavy = ()  # 'anchors all fine'
        elif self.now.scope or self.now.heavy or self.now.numbers:
            self.begin()
        self.now.scope = found.kind
        return found.length + self.behind(at + found.length)

    def counted(self, at: int) -> int:
        """'The other five', '8 of the 9': all but some."""
        words = self.words
        if words[at] == "other" and at + 1 < len(words) and self.value(at + 1):
            return 2
        if self.value(at) and words[at + 1 : at + 3] == ("of", "the"):
            of = self.value(at + 3) if at + 3 < len(words) else 0
            return 4 if of == self.last else 0
        return 0

    def behind(self, at: int) -> int:
        """The number in 'all seven', and 'of them' behind it."""
        length = 1 if at < len(self.words) and self.value(at) == self.last else 0
        if self.words[at + length : at + length + 1] == ("of",):
            length += 2
        return length

    def value(self, at: int) -> int:
        word = self.words[at]
        if word.isdecimal() and len(word) < 3:
            return int(word)
        return NUMBER_WORDS.get(word, 0)

    def numbers(self, at: int) -> tuple[list[int], int]:
        """The lines that are named by number at a place, and how many words that takes."""
        many = self.several(at)
        if many:
            return many
        one = self.number(at)
        if not one:
            return [], 0
        return self.run([one], at + 1, at)

    def run(self, numbers: list[int], end: int, at: int) -> tuple[list[int], int]:
        """Go on with '1 to 4', '2 and 5', '1, 4'."""
        while end + 1 < len(self.words) and self.words[end] in _JOINS | {","}:
            other = self.number(end + 1, joined=True)
            if not other:
                break
            if self.words[end] in ("to", "-", "through", "till") and other > numbers[-1]:
                numbers += range(numbers[-1] + 1, other + 1)
            else:
                numbers.append(other)
            end += 2
        return numbers, end - at

    def several(self, at: int) -> tuple[list[int], int] | None:
        """'First two', 'last one', 'the first 2'."""
        word = self.words[at]
        if word not in ("first", "last") or at + 1 >= len(self.words):
            return None
        count = 1 if self.words[at + 1] in ("one", "is", "one's") else self.value(at + 1)
        if not 0 < count <= self.last:
            return None
        some = (
            range(1, count + 1) if word == "first" else range(self.last - count + 1, self.last + 1)
        )
        return list(some), 1 + (self.words[at + 1] != "is")

    def number(self, at: int, joined: bool = False) -> int:
        """The number of a line at a place, or 0 where a number counts something else."""
        word = self.words[at]
        value = _ORDINALS.get(word, 0)
        alone = self.value(at) if word.isdecimal() else 0
        if not value and not alone:
            return 0
        before = self.words[at - 1] if at else ","
        behind = self.words[at + 1] if at + 1 < len(self.words) else "."
        if self.tokens[at + 1 : at + 2] and behind.isalpha() and not self.ends(at + 1):
            return 0
        known = before in _BEFORE or before.isdecimal() or self.signed == at
        if known or joined or not self.now.words:
            self.now.stray = self.now.stray or (value or alone) > self.last
            return (value or alone) if (value or alone) <= self.last else 0
        self.now.stray = self.now.stray or (value or alone) <= self.last
        return 0

    def ends(self, at: int) -> bool:
        """Whether what stands behind a number leaves it the number of a line."""
        word = self.words[at]
        if word in ("more", "of", "m", "other"):
            return False
        said = found_at(self.words, at, "so", "not so", "rest", "all", "except", *_OPENERS)
        return said is not None or word in _JOINS or word in _LIGHT

    def sign(self, at: int) -> int:
        """What a place says of whether it is so."""
        found = found_at(self.words, at, *_OPENERS, *_SIGNS)
        if found is None:
            return 0
        sign = _SIGNS.get(found.kind, "open")
        if sign == "so" and "no" in self.now.signs and not self.now.heavy:
            sign = "no"  # 'not done'
        self.now.signs.append(sign)
        self.now.words += self.words[at : at + found.length]
        self.signed = at + found.length
        if "date" in self.words[at : at + found.length]:
            self.now.heavy += ("date",)  # 'in date' tells of what as well
        if found.kind == "less" and found.length == 1 and self.words[at] not in _DEGREES:
            self.now.heavy += (self.tokens[at].stem,)  # 'poky' may name a line too
        return found.length

    def two_sided(self, at: int) -> bool:
        """Whether an 'and' joins two things said, not two names: something was said, or much
        stands on both sides.
        """
        if self.now.signs and (self.now.numbers or self.now.heavy):
            return True
        behind = 0
        for word in self.words[at + 1 :]:
            if word in BREAKS:
                break
            behind += word not in _LIGHT | _BEFORE
        return len(self.now.heavy) > 1 and behind > 1

    def plain(self, at: int) -> int:
        """A word that says nothing of that itself."""
        word, token = self.words[at], self.tokens[at]
        polite = found_at(self.words, at, "polite")
        if polite and word not in POINTERS:
            self.now.words += self.words[at : at + polite.length]
            return polite.length
        if word in ("and", "&", "+") and self.two_sided(at):
            self.begin()
        self.now.words.append(word)
        if token.is_word and word not in _LIGHT | _BEFORE:
            self.now.heavy += (token.stem,)
        return 1


def clauses_of(text: str, last: int) -> list[Clause]:
    """The clauses of a reply to so many lines."""
    return _Cutter(tokenise(text), last).cut()
