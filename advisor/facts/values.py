"""A stated fact: what was said, and the set of values that leaves possible."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from functools import reduce
from operator import or_
from typing import Any, NamedTuple

from advisor.facts.quantity import NotAQuantity, read_quantity
from advisor.facts.rounding import show_worked
from advisor.facts.times import read_time, show_time
from advisor.facts.units import show
from advisor.facts.vocabulary import Attribute, Value
from advisor.facts.world import DOUBTFUL, KNOWN
from advisor.faults import Place, did_you_mean

HALF_PAIR = re.compile(
    "[\ud800-\udfff]"
)  # comes of bytes that are no text, and of escapes such as \ud83e in quotes
# Who says a fact of the case itself; of a case below it, file and line follow.
CASE_FILE = "case file"
# Who says what is not known and only taken to look ahead: it clears nothing.
ASSUMED = "assumed"
UNKNOWN_WORDS = {"unknown", "not known", "not sure", "no idea", "don't know", "?"}


class Assumed(str):
    """A value as it was said, that is only assumed: the same words told as a fact are another."""

    __slots__ = ()
    __hash__ = str.__hash__

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Assumed) and str.__eq__(self, other)

    def __ne__(self, other: object) -> bool:
        return not self == other


def as_assumed(raw: object) -> Assumed:
    """A value as it was written, only assumed."""
    return Assumed(" or ".join(map(str, raw)) if isinstance(raw, (list, tuple)) else str(raw))


class Fact(NamedTuple):
    """entity id, attribute key, state (world.DOUBTFUL or KNOWN), value (mask, interval, text or
    tuple of names), and who said it.
    """

    entity: str
    key: str
    state: int
    value: Value
    text: str
    said_by: str
    place: Place
    raw: object = None  # as it was written
    said: Value | None = None  # of a doubtful value: it without doubt
    over: Fact | None = None  # of a fact that local guidance laid down: the one that was stated

    def doubted(self, attribute: Attribute) -> Fact:
        """The same fact where others speak against it: as bad as said, or worse."""
        if self.state == DOUBTFUL or not (attribute.is_choice or attribute.is_number):
            return self._replace(state=DOUBTFUL)
        worse = _worse_too(attribute, self.value)
        return self._replace(state=DOUBTFUL, value=worse, said=self.value)


def read_fact(
    attribute: Attribute,
    entity: str,
    raw: object,
    names: Mapping[str, Iterable[str]],
    said_by: str,
    place: Place,
) -> tuple[Fact | None, str]:
    """(Fact, '') for a value, (None, '') for 'unknown', (None, message) for a fault."""
    if raw is None or isinstance(raw, dict):
        return None, "expected a value, found " + (
            "nothing; write the value, or 'unknown'." if raw is None else "a mapping."
        )
    if isinstance(raw, str) and raw.strip().lower() in UNKNOWN_WORDS:
        return None, ""
    if raw == []:
        return None, f"{attribute.key}: an empty list says nothing; write the value, or 'unknown'."
    doubtful = isinstance(raw, str) and raw.rstrip().endswith("?")
    body = raw.rstrip().rstrip("?").rstrip() if isinstance(raw, str) and doubtful else raw
    if attribute.type == "text":
        return _text(attribute, entity, raw, said_by, place)
    try:
        value = (
            _number(attribute, body, doubtful)
            if attribute.is_number
            else (
                _choice(attribute, body, doubtful)
                if attribute.is_choice
                else _named(attribute, body, names)
            )
        )
    except NotAQuantity as error:
        return None, f"{attribute.key}: {error}"
    several = (
        isinstance(raw, list)
        and (len(value) if isinstance(value, tuple) else bin(value).count("1")) > 1
    )  # the same thing named twice is one
    return (
        Fact(
            entity,
            attribute.key,
            DOUBTFUL if doubtful or several else KNOWN,
            value,
            show_value(attribute, value),
            said_by,
            place,
            raw,
            _said(attribute, body) if doubtful else None,
        ),
        "",
    )


def _said(attribute: Attribute, body: object) -> Value | None:
    """The value without its doubt; None where several were named, and of a name: a doubt leaves it
    as it was.
    """
    if isinstance(body, list) or not (attribute.is_choice or attribute.is_number):
        return None
    return (_number if attribute.is_number else _choice)(attribute, body, False)


def _worse_too(attribute: Attribute, value: Any) -> Value:
    """A known value and everything worse; everything where there is no order of caution."""
    if attribute.is_choice:
        indexes = (i for i in range(len(attribute.values)) if value >> i & 1)
        return reduce(or_, (attribute.as_bad_as(i) for i in indexes))
    return _worse_ends(attribute, *value)


def _worse_ends(attribute: Attribute, low: int, high: int) -> tuple[int, int]:
    """A range and everything worse; everything where there is no order of caution."""
    return {"more": (low, attribute.high), "less": (attribute.low, high)}.get(
        attribute.worse, (attribute.low, attribute.high)
    )


def _text(
    attribute: Attribute, entity: str, raw: object, said_by: str, place: Place
) -> tuple[Fact | None, str]:
    if not isinstance(raw, (str, int, float)) or len(str(raw)) > 500:
        return None, f"{attribute.key}: expected words, at most 500 characters."
    if HALF_PAIR.search(str(raw)):
        return (
            None,
            (
                f"{attribute.key}: holds half a character, which can be neither shown nor kept;"
                " write it anew."
            ),
        )
    return Fact(entity, attribute.key, KNOWN, str(raw), str(raw), said_by, place, raw), ""


def _number(attribute: Attribute, body: object, doubtful: bool) -> tuple[int, int]:
    if isinstance(body, list):
        raise NotAQuantity("expected one number or a range such as '12-14 m', found a list.")
    if attribute.type == "time":
        low = high = read_time(body)
    else:
        low, high = read_quantity(body, attribute.unit, (attribute.low, attribute.high))
    # Doubtful is 'as bad as said, perhaps worse'; without an ordering it says nothing.
    return _worse_ends(attribute, low, high) if doubtful else (low, high)


def _choice(attribute: Attribute, body: object, doubtful: bool) -> int:
    mask = 0
    for word in body if isinstance(body, list) else [body]:
        text = ("yes" if word else "no") if isinstance(word, bool) else str(word)
        found = next((i for i, v in enumerate(attribute.values) if v.lower() == text.lower()), None)
        if found is None:
            raise NotAQuantity(
                f"'{text}' is not one of its values; expected one of:"
                f" {', '.join(attribute.values)}.{did_you_mean(text, attribute.values)}"
            )
        # a second trouble that may be is seen to like one that is
        wide = doubtful and not attribute.values_of
        mask |= attribute.as_bad_as(found) if wide else 1 << found
    return mask


def _named(
    attribute: Attribute, body: object, names: Mapping[str, Iterable[str]]
) -> tuple[str, ...]:
    known = sorted(i for kind in attribute.of for i in names.get(kind, ()))
    wanted = [one_blank(word) for word in (body if isinstance(body, list) else [body])]
    for word in wanted:
        if word not in known:
            raise NotAQuantity(
                f"'{word}' is not named in this case; expected one of:"
                f" {', '.join(known) or 'none yet'}.{did_you_mean(str(word), known)}"
            )
    return tuple(sorted(set(wanted)))


def one_blank(name: object) -> Any:
    """A name with single blanks inside and none around it, so that it is written one way only;
    anything else as it stands.
    """
    return " ".join(part for part in name.split(" ") if part) if isinstance(name, str) else name


def sound_words(attribute: Attribute) -> tuple[str, ...]:
    """The answers that are well, in words; none where no answer is better."""
    sound = attribute.sound
    if sound is None:
        return ()
    if attribute.is_choice:
        return tuple(v for i, v in enumerate(attribute.values) if sound >> i & 1)
    return (show_value(attribute, sound),)


def show_value(attribute: Attribute, value: Value) -> str:
    """The value in words: 'free', '12.6 m to 15.4 m', 'left or middle'; a stated number as it was
    stated, a worked-out one rounded.
    """
    if attribute.is_number and attribute.derived:
        return show_worked(attribute, *value)
    if attribute.is_number:
        low, high = (
            show_time(v) if attribute.type == "time" else show(v, attribute.unit) for v in value
        )
        return low if low == high else f"{low} to {high}"
    if attribute.is_choice:
        words = [v for i, v in enumerate(attribute.values) if value >> i & 1]
        return (
            "anything"
            if len(words) == len(attribute.values) and len(words) > 1
            else " or ".join(words)
        )
    return " or ".join(value) if isinstance(value, tuple) else str(value)
