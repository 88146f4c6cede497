"""The options `--records` and `--on`, and the desk they lead to."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from advisor.advise import Advisor
    from advisor.load.based_on import Laid
    from advisor.load.case import Cards
    from advisor.load.tree import Document
    from advisor.model.advice import OnFile
    from advisor.records.desk import Desk


def add(command: ArgumentParser) -> None:
    """Add them to a command."""
    command.add_argument(
        "--records", metavar="FILE", help="a club's shared file of cards (default: your own)"
    )
    command.add_argument(
        "--on", metavar="DATE", default="", help="the day it is of (default: today)"
    )


def desk(options: Namespace, advisor: Advisor, *, writes: bool = False) -> Desk:
    """The cards on the day that was named, which lies not ahead where something is written down;
    the only place that looks at the clock.
    """
    from datetime import date, datetime, timezone

    from advisor.records.desk import Desk
    from advisor.records.store import Store, usual_place

    def now() -> str:
        return datetime.now(timezone.utc).isoformat(timespec="seconds")

    path = Path(options.records) if options.records else usual_place()
    by = getattr(options, "by", "")
    store = Store(path, now, private=not options.records)
    at = Desk(advisor, store, date.today(), by)
    return at.on(at.day(options.on, ahead=not writes, whole=False)) if options.on else at


def cards(options: Namespace, advisor: Advisor) -> Cards:
    """What looks up the cards that a case names, only once one does."""

    def of(document: Document, given: Laid) -> tuple[Laid, OnFile]:
        return desk(options, advisor).cards.of(document, given)

    return of
