"""An examination point by point, in the trade's order: what is as it should be takes one key."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Any

from msgspec import Struct, field

from advisor.facts.values import read_fact
from advisor.facts.vocabulary import AFTERWARDS, Attribute, Vocabulary
from advisor.faults import Place, did_you_mean
from advisor.load.records import Point
from advisor.model.advice import Advice
from advisor.model.names import FINDING_PLACE, FINDING_WHAT
from advisor.records.card import Card

if TYPE_CHECKING:
    from advisor.records.desk import Desk

SOUND = {"", "ok", "sound", "good", "yes", "y"}
AS_ON_CARD = "until examined"


class Seen(Struct):
    """What an examination came to: findings, the facts confirmed, and those said otherwise."""

    findings: list[dict[str, str]] = field(default_factory=list)
    facts: dict[str, str] = field(default_factory=dict)
    typed: int = 0

    @property
    def body(self) -> dict[str, Any]:
        """What is written down of it."""
        told = {"facts": dict(self.facts), "findings": list(self.findings)}
        return {name: those for name, those in told.items() if those}


class BrokenOff(Exception):
    """The input ended before the last point: nothing is kept."""


def examined(
    card: Card,
    points: tuple[Point, ...],
    vocabulary: Vocabulary,
    ask: Callable[[str], str],
    tell: Callable[[str], None],
) -> Seen:
    """Go through a piece. `ask` shows a line and gives what is typed; raises BrokenOff at its
    end.
    """
    seen = Seen()
    words = vocabulary.by_key[FINDING_WHAT]
    for n, point in enumerate(points, 1):
        said = _asked(seen, ask, f"{n}/{len(points)} {point.part}: {point.look} [Enter: so] ")
        while said.lower() not in SOUND:
            finding = _finding(point, said, words, vocabulary)
            if isinstance(finding, dict):
                seen.findings.append(finding)
                said = _asked(seen, ask, "    anything else there? [Enter: no] ")
            else:
                said = _asked(seen, ask, f"    {finding} ")
    _confirm(card, vocabulary, seen, ask, tell)
    return seen


def _asked(seen: Seen, ask: Callable[[str], str], text: str) -> str:
    said = ask(text).strip()
    seen.typed += len(said) + 1
    return said


def _finding(
    point: Point, said: str, words: Attribute, vocabulary: Vocabulary
) -> dict[str, str] | str:
    """What was found at a point, or a question back: 'broken wire, count 2, size 3 mm'."""
    what, *more = (part.strip() for part in said.split(","))
    if what == "no" and point.finding:
        what = point.finding
    meant = _meant(what.lower(), point.part, words)
    like = meant or [value for value in words.values if f" {what.lower()} " in f" {value} "]
    if len(meant) != 1 and like:
        return f"'{what}' may be {' or '.join(like)}: which?"
    if not meant:
        near = did_you_mean(what, words.values)
        return f"'{what}' is no finding known here.{near} What is it?"
    (what,) = meant
    finding = {"part": point.part, "what": what}
    for part in more:
        attribute = _measure(part, vocabulary) or vocabulary.by_key[FINDING_PLACE]
        told = part.removeprefix(f"{attribute.name} ")
        message = read_fact(attribute, "finding", told, {}, "card", Place(""))[1]
        if message:
            return message
        finding[attribute.name] = told
    return finding


def _meant(said: str, part: str, words: Attribute) -> list[str]:
    """The findings that words mean: one of that name, else those of which people say so, at this
    part first.
    """
    if said in words.values:
        return [said]
    for told in (f"{said} in the {part}", said):
        found = [value for value, phrases in words.value_phrases.items() if told in phrases]
        if found:
            return found
    return []


def _measure(part: str, vocabulary: Vocabulary) -> Attribute | None:
    """The fact of a finding that a part begins with: 'how much 5 %', 'count 2'."""
    of = (a for a in vocabulary.by_key.values() if a.key.startswith("finding."))
    return next((a for a in of if part.startswith(f"{a.name} ")), None)


def _confirm(
    card: Card,
    vocabulary: Vocabulary,
    seen: Seen,
    ask: Callable[[str], str],
    tell: Callable[[str], None],
) -> None:
    """Have what the card said until now confirmed, and what is good of it as it came back."""
    lines = list(_to_confirm(card, vocabulary))
    if not lines:
        return
    tell("As on its card, and as it lies here:")
    for n, (_, _, claim) in enumerate(lines, 1):
        tell(f"  {n}. {claim}")
    said = _asked(seen, ask, "[Enter: all so; else the numbers that are not] ")
    wrong = {int(n) for n in said.replace(",", " ").split() if n.isdigit()}
    for n, (name, raw, _) in enumerate(lines, 1):
        if n not in wrong:
            seen.facts[name] = raw
            continue
        attribute = vocabulary.by_key[name]
        others = " or ".join(v for v in attribute.values if v != raw) or "the value"
        told = _asked(seen, ask, f"  {n}: {others}? [Enter: not known] ")
        if told and not read_fact(attribute, "", told, {}, "card", Place(""))[1]:
            seen.facts[name] = told


def _to_confirm(card: Card, vocabulary: Vocabulary) -> Iterator[tuple[str, str, str]]:
    """(fact, value, claim): what stood until this examination, then what is well of a piece that
    came back, of which nobody has said it.
    """
    known = {ref: held.raw for ref, held in card.facts.items()}
    known |= {ref: gone.held.raw for ref, gone in card.expired.items() if ref not in known}
    things = {thing for thing, _ in known}
    for (thing, key), raw in sorted(known.items()):
        if vocabulary.by_key[key].stands == AS_ON_CARD and _is_confirmed(key):
            yield key, raw, f"{thing} {key.partition('.')[2]}: {raw}"
    for attribute in vocabulary.by_key.values():
        new = attribute.entity in things and (attribute.entity, attribute.key) not in card.facts
        if new and attribute.known == AFTERWARDS and attribute.type == "yes/no" and attribute.ranks:
            good = attribute.values[attribute.ranks.index(0)]
            said = attribute.says.get(good, f"{attribute.name}: {good}")
            yield attribute.key, good, said.replace("{it}", card.mark)


def _is_confirmed(key: str) -> bool:
    return key.partition(".")[2] not in ("standing", "examined by", "lent out")


def ask_open(advice: Advice, desk: Desk, card: Card, seen: Seen, ask: Callable[[str], str]) -> None:
    """Ask for what its card does not say and could take it out of use."""
    for question in advice.blocking:
        thing, _, name = question.fact.rpartition(".")
        key = f"{thing.partition(' ')[0]}.{name}"
        attribute = desk.advisor.base.vocabulary.attribute(key)
        if attribute is None or not desk.layout.holds(card.kind, attribute):
            continue
        choices = f" ({' / '.join(attribute.values)})" if attribute.is_choice else ""
        said = _asked(seen, ask, f"{question.text}{choices} [Enter: not known] ")
        while said and read_fact(attribute, thing, said, {}, "card", Place(""))[1]:
            said = _asked(seen, ask, f"    '{said}' is none of these; which? [Enter: not known] ")
        if said:
            seen.facts[key] = said
