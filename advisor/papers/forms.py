"""Sheets to be filled in by hand or read aloud: their words stand in rules/papers.yaml."""

from __future__ import annotations

from advisor.load.papers import TITLE
from advisor.papers.blocks import (
    Bullets,
    Heading,
    Page,
    Para,
    Picture,
    Table,
    cell,
    lines,
    ticked,
)
from advisor.papers.sheet import Rig
from advisor.pictures import changeover, tether
from advisor.pictures.view import NOT_KNOWN

FIELD = ("Field", "Entry")
TALL = 84  # mm, of the pictures shown to everyone


def trip(s) -> list:
    """What a person outside is given; what is known stands in it."""
    said = Rig(s).told("times").get("TIMES", "")
    fields = s.lists["trip"]["fields"]
    told = {field["field"]: _known(s, field.get("from", "")) for field in fields}
    blocks = _form(s, "trip", told, told)
    return [*blocks, Para(f"Times of the plan: {said}")] if said else blocks


def _known(s, fact: str) -> str:
    """A fact in words; '' where it is not known or none is named."""
    if fact in ("", TITLE):
        return s.title if fact else ""
    told: str = s.view.told(fact.partition(".")[0], fact)
    return "" if told == NOT_KNOWN else told


def report(s) -> list:
    """The incident report, blank."""
    return _form(s, "report", s.lists["report"]["fields"], {})


def _form(s, kind: str, fields, told: dict[str, str]) -> list:
    rows = tuple((cell(field), cell(told.get(field, ""))) for field in fields)
    title = s.lists["titles"][kind]
    return [
        Page(),
        Heading(2, title),
        Para(s.lists[kind]["note"]),
        Table(title, FIELD, rows, (34, 66), fillable=True),
    ]


def packing(s) -> list:
    """The packing list, with what was told of the kit."""
    lists = s.lists["packing"]
    rows = tuple(
        (cell(ticked(item)), cell(group["group"]), ())
        for group in lists["groups"]
        for item in group["items"]
    )
    heads, title = ("Thing", "For", "Number, mark"), s.lists["titles"]["packing"]
    blocks: list[object] = [Page(), Heading(2, title), Para(lists["note"])]
    kit = [f"{n}: {text}" for n, text in Rig(s).told("rig").items() if n in ("Length", "Rope")]
    blocks += [Bullets(lines(*kit))] if kit else []
    return [*blocks, Table(title, heads, rows, (56, 22, 22), fillable=True)]


def briefing(s) -> list:
    """What everyone is told before the edge, to be ticked."""
    lists, title = s.lists["briefing"], s.lists["titles"]["briefing"]
    rows = tuple((cell(ticked(topic)), ()) for topic in lists["topics"])
    people = Rig(s).told("people")
    told = [f"{name}: {text}" for name, text in people.items()]
    blocks: list[object] = [Page(), Heading(2, title), Para(lists["note"])]
    blocks += [Bullets(lines(*told))] if told else []
    calls = Para(f"{s.lists['card']['calls']} {s.lists['card']['local calls']}")
    table = Table(title, ("Tell", "Notes"), rows, (60, 40), fillable=True)
    shown = {"The change-over.": changeover.draw(s.view), "The tether.": tether.draw(s.view)}
    pictures = [Picture(made, said, True, TALL) for said, made in shown.items() if made]
    return [*blocks, calls, table, *pictures]
