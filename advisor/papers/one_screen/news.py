"""What stands out in one plan: lines that its own facts bring and few sound plans have, the gravest
first, before those that nearly every plan has.
"""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct
from msgspec.structs import replace

from advisor.model.advice import Advice, Item, Requirement, Warned
from advisor.model.base import Base
from advisor.model.layout import FEW, NONE, SOME
from advisor.papers.one_screen.asked import like
from advisor.papers.one_screen.filling import NOT_KNOWN
from advisor.papers.one_screen.fit import sentence

# What stands out most has the least sum: of how common a line is, and of how grave it is. Of notes
# and of what may be done, and of what many plans have, nothing is news.
COMMON = {NONE: 0, FEW: 1, SOME: 5}
GRAVE = {"danger": -2, "must": 0, "caution": 2, "should": 4, "refer": 5}


# The most that a line weighs which says that something in this plan is wrong, or gravely so.
WRONG, GRAVELY = 5, 1

TOLD = 2  # of the lines that one rule brings


class News(Struct, frozen=True):
    """One thing that stands out: by which rule, in words, and why; in `short`, the first thing to
    do, else the danger; whether few sound plans have it, and whether it says that something here
    is `wrong`, rather than what would be better, or `gravely` so.
    """

    rule: str
    text: str
    because: str
    short: str
    rare: bool = True
    wrong: bool = False
    gravely: bool = False


def news(base: Base, advice: Advice) -> list[News]:
    """What stands out, the first first; what one rule brings is said in one piece."""
    layout, known = base.screen, frozenset(f.id for f in advice.facts if f.value != NOT_KNOWN)
    topics = {rule.id: rule.topic for rule in base.rules}
    rests = {d.id: not known.isdisjoint(d.facts) for d in advice.derivations}
    found: dict[str, list[Item]] = {}
    for line in (*advice.requirements, *advice.warnings, *advice.refer):
        if (
            weight(line) in GRAVE
            and layout.band(line.rule) in COMMON
            and rests.get(line.derivation)
        ):
            found.setdefault(line.rule, []).append(line)

    def rank(rule: str) -> tuple[bool, int]:
        paper = rule in layout.paper_rules or topics.get(rule) in layout.paper_topics
        return (
            paper,
            COMMON[layout.band(rule)] + min(GRAVE[weight(line)] for line in found[rule]),
        )

    def stands_out(rule: str) -> News:
        rare, weighs = layout.band(rule) in (NONE, FEW), rank(rule)[-1]
        new = _in_one(rule, found[rule])
        wrong, gravely = (rare and weighs <= most for most in (WRONG, GRAVELY))
        return replace(new, rare=rare, wrong=wrong, gravely=gravely)

    return [stands_out(rule) for rule in sorted(found, key=rank)]


def weight(line: Item) -> str:
    """How much a line weighs, in a word."""
    if isinstance(line, Requirement):
        return line.strength
    return line.severity if isinstance(line, Warned) else "refer"


def _in_one(rule: str, lines: list[Item]) -> News:
    """What a rule says of the first thing it is about: what to do, then the danger, else why."""
    first = [line for line in lines if line.derivation == lines[0].derivation]
    do = _texts(line for line in first if not isinstance(line, Warned))
    danger = _texts(line for line in first if isinstance(line, Warned))
    more = len({line.derivation for line in lines}) - 1
    text = " ".join((do or danger)[:TOLD])
    return News(
        rule,
        like(text, more),
        " ".join(danger) if do and danger else first[0].because,
        like((do or danger)[0], more),
    )


def _texts(lines: Iterable[Item]) -> list[str]:
    return list(dict.fromkeys(sentence(line.text) for line in lines))
