"""Kit verdicts with their reasons, and a record for each piece to be filled in and kept."""

from __future__ import annotations

from advisor.decide.verdicts import VERDICTS
from advisor.model import names
from advisor.papers.blocks import Heading, Page, Para, Table, cell
from advisor.papers.outline import on_file, worst_first
from advisor.pictures.view import NOT_KNOWN
from advisor.words import SECTIONS

OUT = VERDICTS.index("replace part")  # from here on a piece is out of use
DAYS = ("made", "examined", "next examination")
CARD_HEADS = ("Piece", "Made", "Last examined", "Next examination", "Examined by")


def kit(s):
    """Verdicts, then one record a piece; empty when no kit was looked at."""
    items = s.advice.items
    if not items:
        return []
    rows = tuple(
        (
            cell(i.item),
            cell(
                i.verdict.upper(),
                "provisional: more must be looked at" if i.standing == "provisional" else "firm",
            ),
            tuple(f"{g.said}. {g.because} [{g.rule}]" for g in i.grounds)
            or cell("No rule is sure of more."),
            cell("; ".join(i.open) or "nothing"),
        )
        for i in items
    )
    blocks: list = [
        Page(),
        Heading(2, s.lists["titles"]["kit"]),
        Para(_headline(s), True),
        Table("Verdicts", ("Piece", "Verdict", "Reasons", "Open"), rows, (18, 19, 43, 20)),
    ]
    blocks += [
        Heading(3, "Examination records"),
        Para(
            "One record a piece. What was not stated is marked; the other fields are for the person"
            " who examines."
        ),
    ]
    for entity in dict.fromkeys(i.entity for i in items):
        blocks += [Heading(4, s.view.name(entity)), _record(s, entity)]
    blocks += on_cards(s) if "plan" not in s.advice.about else []
    blocks += _tags(s)
    return blocks + [
        Para(f"Fields after: {'; '.join(s.source(i) for i in s.lists['record source'])}.")
    ]


def _headline(s) -> str:
    """The first word on the whole, with the pieces that must not be used."""
    out = [i.item for i in worst_first(s.advice.items) if VERDICTS.index(i.verdict) >= OUT]
    said = s.headline()
    return f"{said} {', '.join(out)}." if said.endswith(":") and out else said


def _record(s, entity):
    rows = tuple((cell(f["field"]), cell(_entry(s, entity, f))) for f in s.lists["record fields"])
    return Table(
        f"Record: {s.view.name(entity)}", ("Field", "Entry"), rows, (35, 65), fillable=True
    )


def _entry(s, entity, field) -> str:
    """What is known for a field, from its card before the case."""
    return _on_card(s, entity, field) or _value(s, entity, field["from"])


def _tags(s):
    """A tag to cut out for each piece that must not be used."""
    out = {i.entity: i for i in worst_first(s.advice.items) if VERDICTS.index(i.verdict) >= OUT}
    blocks: list = []
    for entity, item in out.items():
        rows = tuple((cell(field), ()) for field in s.lists["tag fields"])
        told = f"{s.lists['tag']}: {s.view.name(entity)}. {item.verdict.upper()}"
        blocks += [Heading(3, told), Table(told, ("Field", "Entry"), rows, (35, 65), fillable=True)]
    return blocks


def register_rows(s) -> list[tuple[str, ...]]:
    """One row a piece: its verdict, its findings, and the fields of its record."""
    fields = s.lists["record fields"]
    rows = [("Piece", *(f["field"] for f in fields), "Title", "Date", "Version")]
    for entity in dict.fromkeys(i.entity for i in s.advice.items):
        told = (_entry(s, entity, field) for field in fields)
        rows.append((s.view.name(entity), *told, s.title, s.date, s.version))
    return rows


def _on_card(s, entity, field):
    """What the card of a piece tells for a field; '' without one."""
    pieces = s.advice.on_file.pieces if s.advice.on_file else ()
    piece = next((p for p in pieces if p.entity == entity), None)
    if piece is None:
        return ""
    told = {"mark": piece.mark, "by": piece.by, **piece.days}
    wanted = [(name, told[name]) for name in field.get("card", ()) if told.get(name)]
    return "; ".join(f"{name}: {text}" if len(wanted) > 1 else text for name, text in wanted)


def on_cards(s):
    """The pieces taken from cards, each with its mark and days, and how it is usually done; empty
    where no card was named.
    """
    told = s.advice.on_file
    if told is None:
        return []
    blocks = [Heading(3, SECTIONS["on file"]), on_file(told)]
    if told.pieces:
        rows = tuple(
            (cell(f"{p.mark} ({p.type})"), *(cell(p.days.get(d, "not on its card")) for d in DAYS),
             cell(p.by or "not said"))
            for p in told.pieces
        )  # fmt: skip
        blocks.append(Table("Kit on cards", CARD_HEADS, rows, (24, 16, 20, 20, 20)))
    return blocks


def _value(s, entity, wanted):
    """What is known for a field; '' leaves it to be written by hand."""
    if wanted == "verdict":
        return "; ".join(f"{i.item}: {i.verdict}" for i in s.advice.items if i.entity == entity)
    if wanted == "findings":
        return (
            "; ".join(
                _finding(s, f) for f in s.view.entities("finding") if (entity in _named(s, f))
            )
            or "none stated"
        )
    kind = s.view.base.vocabulary.split(entity)[0]
    keys = [
        f"{kind.name}.{name}"
        for name in ([wanted] if isinstance(wanted, str) else wanted)
        if name in kind.attributes
    ]
    told = [(key, s.view.told(entity, key)) for key in keys]
    known = [
        f"{key.partition('.')[2]}: {value}" if len(keys) > 1 else value
        for key, value in told
        if value != NOT_KNOWN
    ]
    return "; ".join(known) or (NOT_KNOWN if keys else "")


def _named(s, finding):
    value = s.view.world.columns[names.FINDING_ITEM].get(finding, 0)
    return [entity for entity, bit in s.view.world.bits.items() if value == bit]


def _finding(s, finding):
    parts = [
        s.view.told(finding, f"finding.{key}")
        for key in ("part", "what", "count", "how much", "size")
        if (finding, f"finding.{key}") in s.view.case.facts
    ]
    return " ".join(parts)
