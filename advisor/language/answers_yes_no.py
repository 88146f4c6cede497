"""A reply to a question of yes or no: 'aye', 'not a chance', 'should be', 'yes, but not all'."""

from __future__ import annotations

from typing import NamedTuple

from advisor.facts.vocabulary import Attribute
from advisor.language.reply import BREAKS, Reply, Span
from advisor.language.reply_words import Found, found_at

_SIGNS = {
    "yes": ("yes", False),
    "no": ("no", False),
    "doubtful yes": ("yes", True),
    "doubtful no": ("no", True),
    "alone yes": ("yes", False),
    "alone no": ("no", False),
}
_HEARD = ("idiom", "unknown", "later", "undone", *_SIGNS, "polite")
_BEGINNERS = frozenset("i we it they that there he she and".split())
_TURNS = frozenset("but except only apart though tho however unless if bar".split())
_NEGATIVE = frozenset("no not nobody never without lacks".split())


class Answer(NamedTuple):
    """What a reply says of the fact asked for: raw as read_fact takes it ('?' where doubtful)."""

    raw: object


class Open(NamedTuple):
    """A reply that speaks of the fact asked for, and leaves it open: one of several, or none."""

    left: tuple[str, ...] = ()


class Opening(NamedTuple):
    """What the first words of a reply say: the kinds of phrases found, the signs among them,
    whether doubt is thrown on it, and where it ends.
    """

    kinds: frozenset[str]
    signs: frozenset[str]
    doubt: bool
    end: int


def opening(reply: Reply, start: int = 0) -> Opening:
    """Read yes, no, doubt and the like from the first words on, as far as they go."""
    at, end, found = start, start, list[tuple[Found, bool]]()
    while at < len(reply.words):
        if reply.words[at] in BREAKS - {"?"} or reply.words[at] == "-":
            at += 1
            continue
        one = found_at(reply.words, at, *_HEARD)
        if one is None or not _complete(reply, at, one):
            if reply.words[at] in _BEGINNERS and _goes_on(reply, at + 1):
                at += 1
                continue
            break
        found.append((one, _neutral(reply, at, one)))
        at += one.length
        if one.kind != "polite":
            end = at
    return _summed(found, end)


def _complete(reply: Reply, at: int, one: Found) -> bool:
    """Whether 'it is' is all that is said, not the beginning of 'it is 14 m deep'."""
    end = at + one.length
    if not one.kind.startswith("alone") or end >= len(reply.words):
        return True
    if reply.words[end] in BREAKS | {"-"}:
        return True
    return found_at(reply.words, end, *_HEARD) is not None


def _goes_on(reply: Reply, at: int) -> bool:
    one = found_at(reply.words, at, *_HEARD) if at < len(reply.words) else None
    return one is not None and one.kind != "polite" and _complete(reply, at, one)


def _neutral(reply: Reply, at: int, one: Found) -> bool:
    """'Probably' alone is a doubtful yes; beside a 'no' it only doubts that."""
    doubt = found_at(reply.words, at, "doubt") if one.kind == "doubtful yes" else None
    return doubt is not None and doubt.length == one.length


def _summed(found: list[tuple[Found, bool]], end: int) -> Opening:
    kinds = frozenset(one.kind for one, _ in found) - {"polite"}
    firm = {_SIGNS[one.kind][0] for one, neutral in found if one.kind in _SIGNS and not neutral}
    signs = firm or {_SIGNS[one.kind][0] for one, _ in found if one.kind in _SIGNS}
    doubt = bool(kinds & {"doubtful yes", "doubtful no", "unknown", "later"})
    return Opening(kinds, frozenset(signs), doubt, end)


def yes_no(reply: Reply, attribute: Attribute, own: frozenset[str]) -> Answer | Open | None:
    """What a reply says of a yes-or-no fact; None where it says nothing of it."""
    said = opening(reply)
    if "idiom" in said.kinds or len(said.signs) > 1 or _nobody(reply, said, attribute):
        return Open(("yes", "no"))
    if not said.signs and "undone" in said.kinds:
        reply.take(0, said.end)
        return Answer("no" if _bad(attribute, "no") else "unknown")
    if not said.signs:
        return _later_sign(reply, attribute) or _asserted(reply, attribute, own)
    reply.take(0, said.end)
    (sign,) = said.signs
    doubt = said.doubt or _doubted(reply, said.end, sign, attribute)
    return Answer(sign + "?" if doubt else sign)


def _nobody(reply: Reply, said: Opening, attribute: Attribute) -> bool:
    """'Nobody' to 'has nobody …?': which way round is it meant?"""
    asks = frozenset(attribute.asks.lower().replace(",", " ").split())
    return bool(
        _NEGATIVE & asks
        and said.signs
        and reply.words[0] in ("nobody", "none", "nothing", "never", "no one", "noone")
    )


def _bad(attribute: Attribute, value: str) -> bool:
    """Whether a value is the worse one."""
    if not attribute.ranks:
        return False
    return attribute.ranks[attribute.values.index(value)] == max(attribute.ranks)


def _doubted(reply: Reply, end: int, sign: str, attribute: Attribute) -> bool:
    """Whether what comes behind takes some of a 'yes' or 'no' back."""
    if reply.doubtful:
        return True
    if _bad(attribute, sign):
        return False
    rest = Span(end, len(reply.words))
    turned = any(reply.words[i] in _TURNS for i in range(rest.start, rest.end))
    return turned or (sign == "yes" and reply.negator(rest))


def _later_sign(reply: Reply, attribute: Attribute) -> Answer | None:
    """'Never needed one, so no': the answer stands at the end."""
    last = reply.clauses[-1] if len(reply.clauses) > 1 else None
    if last is None:
        at = next((i for i in range(1, len(reply.words)) if reply.words[i] == "so"), None)
        last = Span(at, len(reply.words)) if at else None
    if last is None:
        return None
    said = opening(reply, last.start)
    firm = len(said.signs) == 1 and not said.kinds & {"idiom", "unknown", "later"}
    if not firm or any(w not in BREAKS for w in reply.words[said.end :]):
        return None
    reply.take(last.start, said.end - last.start)
    (sign,) = said.signs
    doubt = said.doubt or reply.doubtful
    return Answer(sign + "?" if doubt else sign)


def _asserted(reply: Reply, attribute: Attribute, own: frozenset[str]) -> Answer | None:
    """'We have got a meter': the words of the question, said or denied."""
    for clause in reply.clauses:
        hits = [
            i
            for i in range(clause.start, clause.end)
            if reply.tokens[i].stem in own and not _plain(reply.words[i])
        ]
        strange = len(reply.heavy(clause, own))
        denied = reply.negator(clause)
        sure = bool(hits) and not strange
        grave = len(hits) > 1 and strange < 3 and not denied and _bad(attribute, "yes")
        if not (sure or grave) or reply.words[-1] == "?":
            continue
        doubt = reply.doubtful
        reply.take(clause.start, clause.end - clause.start)
        return Answer(("no" if denied else "yes") + ("?" if doubt else ""))
    return None


def _plain(word: str) -> bool:
    return word in _NEGATIVE or len(word) < 3
