"""Things told together, each by its number or its side: 'bolts 3 and 4' is bolt 3 and bolt 4, 'two
bolts, left and right' a left bolt and a right bolt.
"""

from __future__ import annotations

from advisor.facts.units import unit
from advisor.language.tokens import Token
from advisor.language.words import NEGATORS, NUMBER_WORDS

_MEASURED = frozenset("depth length diameter mass size".split())
_JOINS = frozenset("and & + ,".split())
_BESIDE = frozenset(", : ( ) - and & + one the on at in is to hand side".split())
_BEHIND = frozenset("hand side one )".split())
_MOST = 8  # above which a number is rather a measure


def one_by_one(tokens: list[Token], base, index) -> list[Token]:
    """The tokens with the noun before each number, where a plural noun stands before several; not
    of things that have a length or a size, which the numbers may be.
    """
    found: list[Token] = []
    at = 0
    while at < len(tokens):
        numbers, end = _numbers(tokens, at + 1) if _several(tokens[at], base, index) else ([], 0)
        if len(numbers) < 2:
            found.append(tokens[at])
            at += 1
            continue
        noun = tokens[at]._replace(text=tokens[at].stem)
        found += [noun, numbers[0]]
        for number in numbers[1:]:
            here = number._replace(end=number.start)
            found += [
                here._replace(text="and", stem="and"),
                here._replace(text=noun.text, stem=noun.stem),
                number._replace(glued=False),
            ]
        at = end
    return found


def side_by_side(tokens: list[Token], index) -> list[Token]:
    """The tokens with each of several things named with its own side, where as many sides are told
    behind their noun as there are things.
    """
    for at in range(1, len(tokens)):
        kinds = _kinds(tokens[at], index)
        start = _number_before(tokens, at)
        sides, end = _sides(tokens, at + 1, kinds, index) if start is not None else ([], 0)
        if start is None or len(sides) != _count(tokens[start]):
            continue
        noun = [*tokens[start + 1 : at], tokens[at]._replace(text=tokens[at].stem)]
        found = tokens[:start]
        for place, side in enumerate(sides):
            here = side._replace(end=side.start)
            found += [here._replace(text="and", stem="and")] if place else []
            found += [side, *(here._replace(text=t.text, stem=t.stem) for t in noun)]
        return found + side_by_side(tokens[end:], index)
    return tokens


def _kinds(token: Token, index) -> set[str]:
    """The kinds of things of which a word names several."""
    if token.text != token.stem + "s":
        return set()
    return {s.entity for s in index.phrases.get((token.stem,), ()) if s.form == "entity"}


def _count(token: Token) -> int:
    text = str(NUMBER_WORDS.get(token.text, token.text))
    return int(text) if text.isdecimal() else 0


def _number_before(tokens: list[Token], at: int) -> int | None:
    """The number that stands before a noun, with no more than two words between."""
    for start in range(at - 1, max(at - 4, -1), -1):
        if 1 < _count(tokens[start]) <= _MOST:
            return None if start and tokens[start - 1].text in NEGATORS else start
        if not tokens[start].is_word:
            return None
    return None


def _sides(tokens: list[Token], at: int, kinds: set[str], index) -> tuple[list[Token], int]:
    """(the words for the sides told from a token on, none twice; the index behind them)."""
    found: list[Token] = []
    told: set[str] = set()
    end = at
    while at < len(tokens) and kinds:
        value = next(
            (
                s.value
                for s in index.phrases.get((tokens[at].stem,), ())
                if s.form == "value" and s.key.endswith(".side") and s.entity in kinds
            ),
            None,
        )
        if value and value not in told:
            told.add(value)
            found.append(tokens[at])
            end = at + 1
        elif value or tokens[at].text not in _BESIDE:
            break
        elif tokens[at].text in _BEHIND and end == at and found:
            end = at + 1
        at += 1
    return found, end


def _several(token: Token, base, index) -> bool:
    """Whether a word names several things of one kind that have no length or size of their own."""
    entities = [base.vocabulary.entities[kind] for kind in _kinds(token, index)]
    return len(entities) == 1 and all(
        e.many and not _MEASURED & {a.name for a in e.attributes.values()} for e in entities
    )


def _numbers(tokens: list[Token], at: int) -> tuple[list[Token], int]:
    """(the small bare numbers, the index behind) of a list: '3 and 4', '2 to 4'."""
    found: list[Token] = []
    while _small(tokens, at):
        found.append(tokens[at])
        at += 1
        if at < len(tokens) and tokens[at].text in ("to", "-") and _small(tokens, at + 1):
            at += 1
            between = range(int(found[-1].text) + 1, int(tokens[at].text))
            found += [tokens[at]._replace(text=str(n), stem=str(n)) for n in between]
            found.append(tokens[at])
            at += 1
        step = 1 if at < len(tokens) and tokens[at].text in _JOINS else 0
        step += step and at + 1 < len(tokens) and tokens[at + 1].text == "and"
        if not step or not _small(tokens, at + step):
            break
        at += step
    return found, at


def _small(tokens: list[Token], at: int) -> bool:
    """Whether a token is a small whole number with no unit behind it."""
    if at >= len(tokens) or not tokens[at].text.isdecimal():
        return False
    behind = tokens[at + 1].text if at + 1 < len(tokens) else ""
    return 0 < int(tokens[at].text) <= _MOST and unit(behind) is None
