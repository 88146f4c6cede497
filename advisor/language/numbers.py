"""Numbers in words and figures: 'two and a half', 'a hundred and fifty', 'half a dozen', '3 1/2',
'¾'.
"""

from __future__ import annotations

from fractions import Fraction

from advisor.language.words import GROUPS, NUMBER_WORDS, PARTS, SCALES

_GLYPH = {"½": Fraction(1, 2), "¼": Fraction(1, 4), "¾": Fraction(3, 4)}


def read_number(tokens, at: int):
    """(value, index after it) for a number that begins at token `at`, or None."""
    found = _figures(tokens, at) or _half_of(tokens, at) or _words(tokens, at)
    if not found:
        return None
    return _and_a_part(tokens, *found)


def _text(tokens, at):
    return tokens[at].text if at < len(tokens) else ""


def _figures(tokens, at):
    text = _text(tokens, at)
    if text in _GLYPH:
        return _GLYPH[text], at + 1
    if not text[:1].isdecimal() or ":" in text:
        return None
    if (
        _text(tokens, at + 1) == "/"
        and _text(tokens, at + 2).isdecimal()
        and 0 < int(_text(tokens, at + 2)) < 9
        and int(Fraction(text)) < int(_text(tokens, at + 2))
    ):
        return Fraction(int(Fraction(text)), int(_text(tokens, at + 2))), at + 3
    value, at = Fraction(text), at + 1
    if _text(tokens, at) in _GLYPH:
        return value + _GLYPH[_text(tokens, at)], at + 1
    if _text(tokens, at) in ("hundred", "thousand", "dozen") or (
        _text(tokens, at) == "k" and tokens[at].glued and _text(tokens, at + 1) not in ("g", "n")
    ):
        return value * {**SCALES, **GROUPS}[_text(tokens, at)], at + 1
    part = (
        _figures(tokens, at)
        if _text(tokens, at).isdecimal() and _text(tokens, at + 1) == "/"
        else None
    )
    return (value + part[0], part[1]) if part and part[0] < 1 else (value, at)


def _half_of(tokens, at):
    """'half a dozen', 'half an hour' (the unit is left standing), 'a quarter of an hour', 'three
    quarters of an hour'.
    """
    start = at + 1 if _text(tokens, at) in ("a", "an") else at
    part = _text(tokens, start)
    if part not in ("half", "quarter"):
        return None
    value, at = Fraction(PARTS[part]), start + 1
    at += _text(tokens, at) == "of"
    article = _text(tokens, at) in ("a", "an")
    if article and _text(tokens, at + 1) in ("dozen", "hundred"):
        return value * {**GROUPS, **SCALES}[_text(tokens, at + 1)], at + 2
    return (value, at + 1) if article else None


def _words(tokens, at):
    start = at
    if (
        _text(tokens, at) in ("a", "an")
        and _text(tokens, at + 1)
        in ("hundred", "thousand", "dozen", "couple", "pair", "score", "good")
        or _text(tokens, at) in GROUPS
    ):
        at += _text(tokens, at) in ("a", "an")
        if _text(tokens, at) in GROUPS:
            return Fraction(GROUPS[_text(tokens, at)]), at + 1 + (_text(tokens, at + 1) == "of")
        if _text(tokens, at) not in SCALES:
            return None
        total = Fraction(0)
    elif _text(tokens, at) in NUMBER_WORDS:
        total = Fraction(0)
    else:
        return None
    total, at = _run(tokens, at, total)
    if _text(tokens, at) == "point" and _text(tokens, at + 1) in NUMBER_WORDS:
        digits, at = "", at + 1
        while _text(tokens, at) in NUMBER_WORDS and NUMBER_WORDS[_text(tokens, at)] < 10:
            digits, at = digits + str(NUMBER_WORDS[_text(tokens, at)]), at + 1
        total += Fraction("0." + digits) if digits else 0
    if _text(tokens, at) in ("quarter", "quarters", "thirds") and total < 4:
        at += 1
        at += _text(tokens, at) == "of"
        at += _text(tokens, at) in ("a", "an")
        total *= Fraction(
            PARTS[_text(tokens, at - 1)] if _text(tokens, at - 1) in PARTS else Fraction(1, 4)
        )
    return (total, at) if at > start else None


def _run(tokens, at, total):
    """Number words as far as they make one number: 'a hundred and twenty-five'."""
    current, ones = Fraction(0), True
    while at < len(tokens):
        text = tokens[at].text
        if text in NUMBER_WORDS:
            value = NUMBER_WORDS[text]
            if not ones and not (current % 100 >= 20 and current % 10 == 0 and 0 < value < 10):
                break
            current, ones, at = current + value, False, at + 1
        elif text in SCALES and text != "k":
            current, ones, at = max(current, Fraction(1)) * SCALES[text], True, at + 1
        elif text == "dozen" and current:
            return total + current * 12, at + 1
        elif (
            text == "-"
            and not ones
            and current % 10 == 0
            and current >= 20
            and _text(tokens, at + 1) in NUMBER_WORDS
            and tokens[at].glued
            and NUMBER_WORDS[tokens[at + 1].text] < 10
        ):
            at += 1
        elif (
            text == "and"
            and current
            and current % 100 == 0
            and _text(tokens, at + 1) in NUMBER_WORDS
            and NUMBER_WORDS[tokens[at + 1].text] > 0
        ):
            ones, at = True, at + 1
        else:
            break
    return total + current, at


def _and_a_part(tokens, value, at):
    """'two and a half', 'one and three quarters'; 'an hour and a half' is the quantity's affair."""
    if (
        _text(tokens, at) == "and"
        and _text(tokens, at + 1) in ("a", "one")
        and _text(tokens, at + 2) in ("half", "quarter")
    ):
        return value + Fraction(PARTS[_text(tokens, at + 2)]), at + 3
    if _text(tokens, at) == "and" and _text(tokens, at + 1) == "half":
        return value + Fraction(1, 2), at + 2  # 'two and half hours'
    if (
        _text(tokens, at) == "and"
        and _text(tokens, at + 1) == "three"
        and _text(tokens, at + 2) == "quarters"
    ):
        return value + Fraction(3, 4), at + 3
    return value, at
