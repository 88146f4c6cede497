"""A reply to a question for a figure or a time of day: '95', '16 stone with his kit', 'none',
'half two'.
"""

from __future__ import annotations

from advisor.facts.units import UNITS
from advisor.facts.vocabulary import Attribute
from advisor.language.answers_yes_no import Answer, Open
from advisor.language.clock import Clock, clock_at
from advisor.language.quantities import Quantity
from advisor.language.reply import Reply, Span, is_light
from advisor.language.reply_words import any_of, found_at
from advisor.language.words import NUMBER_WORDS

_PEOPLE = frozenset(
    "people person persons kid kids child children adult adults lad lads lass lasses of us them"
    " em folk folks novices bods heads souls people's ish odd off year years yr yrs old"
    " dad mum mate bloke guy fella chap man woman girl boy big small".split()
)
_DEGREES = frozenset("biggest smallest heaviest lightest oldest youngest max min total".split())
_TAKES_BACK = frozenset("but without excluding".split())  # '95, but that is without kit'
_MENDS = frozenset(", . - no sorry wait i mean meant rather oops make that it actually er".split())
_SPEAKERS = frozenset("me i us myself".split())
_ROUGH = frozenset("before after past not".split())  # 'after 1' is no time to keep to
_LESS = frozenset("all but bar except minus ish".split())  # 'all but two' is no figure of its own
_ARE = frozenset("there we".split())  # 'there are 14' counts people
_LOOSE = frozenset("by at around about before for from until til till".split())


def number(
    reply: Reply, attribute: Attribute, own: frozenset[str], foreign: frozenset[str]
) -> Answer | Open | None:
    """What a reply says of a figure; `own`: stems of the question, `foreign`: stems that name
    another thing or matter.
    """
    fitting = [q for q in reply.quantities if q.fits(attribute)]
    fitting = _corrected(reply, fitting)
    clear = [q for q in fitting if _clear(reply, q, attribute, own, foreign)]
    chosen = _chosen(clear, attribute)
    if chosen is None:
        return _without_figure(reply, attribute, bool(fitting))
    reply.take(chosen.start, chosen.end - chosen.start)
    raw = chosen.raw(attribute)
    doubt = any_of(reply.words[chosen.start : chosen.end], "doubt") is not None
    doubt = doubt or bool(_TAKES_BACK & set(reply.words[chosen.end :]))
    return Answer(raw + "?" if doubt or reply.doubtful else raw)


def _corrected(reply: Reply, fitting: list[Quantity]) -> list[Quantity]:
    """Of '95, no, 105' only what it was put right to."""
    for first, second in zip(fitting, fitting[1:], strict=False):
        between = reply.words[first.end : second.start]
        if _mended(between):
            reply.take(first.start, second.start - first.start)
            return [second]
    return fitting


def _clear(reply: Reply, quantity: Quantity, attribute: Attribute, own, foreign) -> bool:
    """Whether a figure can only be the one asked for."""
    clause = reply.clause_of(quantity.start)
    inside = range(quantity.start, quantity.end)
    named = {reply.tokens[i].stem for i in range(clause.start, clause.end) if i not in inside}
    before = frozenset(reply.words[clause.start : quantity.start])
    if named & foreign - own - _PEOPLE or reply.denied(quantity.start, 2) or before & _LESS:
        return False
    if quantity.unit is not None:
        return True
    if quantity.start and reply.tokens[quantity.start - 1].is_number:
        return False  # '12 14'
    if reply.words[quantity.start] == "one" and attribute.unit != "count" and len(reply.words) > 1:
        return False  # 'the same one', 'one lad'
    clock = any(clock_at(reply.tokens, at) for at in range(clause.start, quantity.end))
    people = attribute.unit != "count" and bool(before & _ARE)
    strange = [i for i in reply.heavy(Span(clause.start, quantity.start), own) if _odd(reply, i)]
    return not (clock or people or strange or _counts_others(reply, quantity, own, attribute))


def _odd(reply: Reply, at: int) -> bool:
    """Whether a word before a bare figure is neither a person nor a word for 'about'."""
    return reply.tokens[at].is_word and not (
        reply.words[at] in _PEOPLE | _DEGREES or reply.line[reply.tokens[at].start].isupper()
    )


def _counts_others(reply: Reply, quantity: Quantity, own, attribute: Attribute) -> bool:
    """The pieces of 'one piece' are not the joins that were asked for."""
    at = quantity.end
    while at < len(reply.words) and reply.words[at] in ("of", "the", "more", "whole", "big"):
        at += 1
    if at >= reply.clause_of(quantity.start).end:
        return False
    if not reply.tokens[at].is_word:
        return reply.tokens[at].is_number  # 'three 5 m sections'
    token = reply.tokens[at]
    behind = reply.words[quantity.end : quantity.end + 2]
    if behind in (("of", "us"), ("of", "them"), ("of", "em")) and attribute.unit != "count":
        return True
    if behind[0] == "something":
        return True  # '90 something'
    return not (is_light(token.text) or token.text in _PEOPLE or token.stem in own)


def _chosen(clear: list[Quantity], attribute: Attribute) -> Quantity | None:
    """The one figure meant; None where there is none or it is not plain which."""
    if len({(q.points, q.mode) for q in clear}) == 1:
        return clear[0]
    like = UNITS[attribute.unit][0].name
    own_unit = [q for q in clear if q.unit and UNITS[q.unit][0].name == like]
    own_unit = own_unit or [q for q in clear if q.unit is not None]
    return own_unit[0] if len(own_unit) == 1 else None


def _without_figure(reply: Reply, attribute: Attribute, figure: bool) -> Answer | Open | None:
    words = set(reply.words)
    if figure or (attribute.unit == "count" and "and" in words and words & _SPEAKERS):
        return Open()  # 'Sam and me' are two, but that is for them to say
    at = 0
    while at < len(reply.words):
        found = found_at(reply.words, at, "vague number", "unknown", "later", "none", "polite")
        if found is None or found.kind in ("unknown", "later"):
            return None
        if found.kind == "vague number":
            return Open()
        if found.kind == "none":
            if attribute.unit != "count" or attribute.low != 0:
                return Open()
            reply.take(at, found.length)
            return Answer("0?" if reply.doubtful else "0")
        at += found.length
    return None


def time_of_day(
    reply: Reply, attribute: Attribute, earlier: str, later: str
) -> Answer | Open | None:
    """What a reply says of a time of day; `earlier` and `later`: times known that stand before and
    after it, 'HH:MM' or ''.
    """
    clocks = _clocks(reply)
    if any(reply.words[c.start - 1] in _ROUGH for c in clocks if c.start):
        return Open()
    if len({clock.readings for clock in clocks}) != 1:
        return Open() if clocks or any(_vague(reply)) else None
    readings = _in_order(clocks[0].readings, earlier, later)
    reply.take(clocks[0].start, clocks[0].end - clocks[0].start)
    if len(readings) > 1:
        return Open(tuple(sorted(readings)))
    return Answer(readings[0] + "?" if reply.doubtful else readings[0])


def _clocks(reply: Reply) -> list[Clock]:
    """The times of day in a reply; of '3 pm, no, 4 pm' only what it was put right to."""
    clocks = list[Clock]()
    for at in range(len(reply.tokens)):
        if clocks and at < clocks[-1].end:
            continue
        clock = _spoken(reply, at) or clock_at(reply.tokens, at, expected=_stands_alone(reply, at))
        if clock and clocks and _mended(reply.words[clocks[-1].end : clock.start]):
            clocks = [clock]
        elif clock and not reply.denied(at, 2):
            clocks.append(clock)
    return clocks


def _mended(between: tuple[str, ...]) -> bool:
    """Whether words between two figures put the first right."""
    return set(between) <= _MENDS and bool(set(between) - {",", ".", "-"})


def _spoken(reply: Reply, at: int) -> Clock | None:
    """'Seven thirty': hour and minutes as two numbers."""
    hour, minute = (NUMBER_WORDS.get(w, 0) for w in (*reply.words[at : at + 2], "", "")[:2])
    if not (0 < hour < 13 and minute in (10, 15, 20, 30, 40, 50)):
        return None
    return Clock(
        at, at + 2, (f"{hour % 12 + 12:02d}:{minute:02d}", f"{hour % 12:02d}:{minute:02d}")
    )


def _vague(reply: Reply):
    return (found_at(reply.words, at, "vague time") for at in range(len(reply.words)))


def _stands_alone(reply: Reply, at: int) -> bool:
    """Whether a bare figure may be a time of day: nothing is counted with it."""
    if at and reply.tokens[at - 1].is_number:
        return False
    if at and reply.words[at - 1] in ("a", "half", "quarter", "past", "to", "-"):
        return False
    if reply.words[at].isdecimal() and len(reply.words[at]) == 4:
        return True  # '1800 hrs'
    end = next((q.end for q in reply.quantities if q.start <= at < q.end), at + 1)
    unit = any(q.start <= at < q.end and q.unit for q in reply.quantities)
    behind = reply.words[end] if end < reply.clause_of(at).end else ""
    return not unit and (not behind or is_light(behind) or behind in _LOOSE | {"-", "ish"})


def _in_order(readings: tuple[str, ...], earlier: str, later: str) -> tuple[str, ...]:
    """Of morning and afternoon, what fits between the times that are known."""
    fits = tuple(r for r in readings if (not earlier or r > earlier) and (not later or r < later))
    return fits if (earlier or later) and fits else readings
