"""Cards in words: a card, its history, the list of them, what is due."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from msgspec import Struct

from advisor.load.records import Layout
from advisor.records.card import CARD, CORRECTED, EXAMINED, TOLD, Card, Held, as_counted
from advisor.records.dates import in_words, months_before
from advisor.records.entry import Entry

INTERVAL, STANDING = "examination interval", "standing"
RETIRED = "retired"
SAID_PLAIN = ("what", "part")  # of a finding, without their names


def words(day: str) -> str:
    """A day of an entry in words."""
    return in_words(date.fromisoformat(day))


def card_lines(card: Card, verdict: str = "") -> list[str]:
    """A card: what it is, what is known and since when, what no longer stands."""
    what = card.type or card.kind
    head = f"{card.mark}: {what}, as of {in_words(card.on)}"
    lines = [f"{head}. By the rules: {verdict.upper()}." if verdict else f"{head}."]
    lines += [
        f"  {name} {words(str(e.body['dates'][name]))}"
        for name, e in card.dates.items()
        if name != EXAMINED
    ]
    lines += [_last_examined(card.dates[EXAMINED])] if EXAMINED in card.dates else []
    for (thing, key), held in sorted(card.facts.items()):
        lines.append(f"  {_called(thing, key)}: {held.raw} ({_since(held)})")
    lines += [f"  {pair}: {held.raw} apart ({_since(held)})" for pair, held in card.apart.items()]
    for (thing, key), gone in sorted(card.expired.items()):
        lines.append(
            f"  {_called(thing, key)}: NOT KNOWN any more; {gone.held.raw} until"
            f" {words(gone.since)}: {gone.why}"
        )
    found = [f for e in card.findings for f in e.body["findings"]]
    lines += [f"  Found: {found_words(finding)}" for finding in found]
    return lines


def found_words(finding: Mapping[str, object]) -> str:
    """A finding: what and on which part, how much of it, then where."""
    plain = [finding[name] for name in SAID_PLAIN if name in finding]
    more = [f"{n} {v}" for n, v in finding.items() if n not in (*SAID_PLAIN, "place")]
    return ", ".join(map(str, (*plain, *more, *filter(None, [finding.get("place")]))))


def _last_examined(entry: Entry) -> str:
    """The last examination with the verdict of that day, which is worked anew at the head."""
    body = entry.body
    who = ", ".join(part for part in (entry.by, str(body.get("competence", ""))) if part)
    by = f" by {who}" if who else ""
    then = f"; the rules then said {body['verdict']}" if "verdict" in body else ""
    return f"  examined {words(entry.on)}{by}{then} (entry {entry.number})"


def _called(thing: str, key: str) -> str:
    return f"{thing} {key.partition('.')[2]}"


def _since(held: Held) -> str:
    return f"{words(held.on)}, entry {held.entry.number}"


def entry_line(entry: Entry, says: str = "") -> str:
    """One entry in one line."""
    body = entry.body
    told = {CARD: "card made", TOLD: "told", CORRECTED: f"entry {body.get('entry')} is wrong"}
    parts = [
        told.get(entry.what, says or entry.what),
        *(f"{name} {raw}" for name, raw in body.get("dates", {}).items()),
        *(f"{name} {raw}" for name, raw in body.get("facts", {}).items()),
        *(f"{pair} {raw} apart" for pair, raw in body.get("apart", {}).items()),
        *(f"found: {found_words(f)}" for f in body.get("findings", ())),
        *(
            f"{name}: {body[name]}"
            for name in ("trip", "people", "verdict", "competence", "reason", "disposal", "to")
            if body.get(name)
        ),
    ]
    by = f" ({entry.by})" if entry.by else ""
    return f"{entry.number:5d}  {entry.on}  {entry.card}: {'; '.join(parts)}{by}"


class Due(Struct, frozen=True):
    """When a piece is to be examined next: no `day` where that cannot be told."""

    card: Card
    day: date | None
    why: str

    @property
    def overdue(self) -> bool:
        return self.day is None or self.day <= self.card.on


def due(card: Card) -> Due | None:
    """When a piece is due; None for what is retired or is no kit."""
    if card.kind != "kit" or _of(card, STANDING) == RETIRED:
        return None
    interval = _of(card, INTERVAL).partition(" ")
    if EXAMINED not in card.dates:
        return Due(card, None, "no examination on its card")
    if not interval[0].isdigit() or not interval[2].startswith("month"):
        return Due(card, None, "its examination interval is not on its card")
    seen = date.fromisoformat(card.dates[EXAMINED].on)
    return Due(card, months_before(seen, -int(interval[0])), f"examined {in_words(seen)}")


def _of(card: Card, name: str) -> str:
    return next((held.raw for (_, k), held in card.facts.items() if k.endswith(f".{name}")), "")


def due_by(cards: Iterable[Card], by: date) -> list[Due]:
    """What is due by a day, the longest overdue first."""
    found = [d for d in map(due, cards) if d and (d.day is None or d.day <= by)]
    return sorted(found, key=lambda d: (d.day is not None, d.day or by, as_counted(d.card.mark)))


def due_lines(cards: Iterable[Card], by: date) -> list[str]:
    """What is due by a day, in words."""
    found = due_by(cards, by)
    lines = [f"{len(found)} due by {in_words(by)}" + (":" if found else ".")]
    for one in found:
        when = in_words(one.day) if one.day else "NOW"
        late = " OVERDUE" if one.day and one.overdue else ""
        lines.append(f"  {one.card.mark}: {one.card.type}, {when}{late}; {one.why}")
    return lines


def list_line(card: Card, layout: Layout) -> str:
    """A card in one line: what it is, what matters of its kind, when it is due, whether it is out
    of use.
    """
    told = (card.value(key) for key in layout.in_lists.get(card.type or card.kind, ()))
    then = due(card)
    when = f"; examine by {in_words(then.day)}" if then and then.day else ""
    parts = [card.type or card.kind, *filter(None, told)]
    return f"  {card.mark}: {', '.join(parts)}{when}{_state(card)}"


def standing_of(card: Card) -> str:
    """Whether it is in use, set aside or retired; '' where nobody said."""
    return _of(card, STANDING)


def _state(card: Card) -> str:
    state = standing_of(card)
    return f"; {state.upper()}" if state and state != "in use" else ""
