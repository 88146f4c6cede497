"""Next examinations as a calendar file (RFC 5545)."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta, timezone

from advisor.records.shown import Due


def calendar(due: Iterable[Due], written: str) -> bytes:
    """A calendar of whole days; what has no date stands on the day it was asked for."""
    from icalendar import Calendar, Event

    book = Calendar()
    book.add("prodid", "-//Ladder Pitch Advisor//EN")
    book.add("version", "2.0")
    for one in due:
        day, event = one.day or one.card.on, Event()
        event.add("uid", f"{one.card.mark.encode().hex()}-examination@ladder-pitch-advisor")
        stamp = datetime.fromisoformat(written)
        event.add("dtstamp", stamp.astimezone(timezone.utc))
        event.add("dtstart", day)
        event.add("dtend", day + timedelta(days=1))
        event.add("summary", f"Examine {one.card.mark} ({one.card.type})")
        event.add("description", f"{one.why}. Not examined in time: not used.")
        book.add_component(event)
    return bytes(book.to_ical())
