"""What stands at the end: open questions, calculations, facts, sources, limits, cautions, and who
has the last word.
"""

from __future__ import annotations

from advisor.papers.blocks import Bullets, Heading, Line, Para, Table, cell, lines
from advisor.papers.checks import check_lines
from advisor.papers.plan import shown_here
from advisor.words import SECTIONS

GRAVEST = 10  # questions told in full
STATE = {"unknown": "not settled", "doubtful": "DOUBTFUL", "known": "known"}


def questions(s):
    """What is not known and what it could decide."""
    items = s.advice.open_questions
    blocks = [Heading(2, "Open questions")]
    if not items:
        return blocks + [Para("None: no fact that is missing could change this advice.")]
    rest = tuple(Line(q.text, q.could) for q in items[GRAVEST:])
    rows = tuple(
        (
            cell(q.text, f"({q.fact})"),
            cell(q.gravity),
            cell("; ".join(q.could)),
            cell(
                q.because,
                "; ".join(s.source(i) for i in q.sources),
                f"[{', '.join(q.rules)}]" if q.rules else "",
            ),
        )
        for q in items[:GRAVEST]
    )
    blocks = blocks + [
        Table(
            "Open questions",
            ("Find out", "Bears on", "It could bring", "Why, and from where"),
            rows,
            (25, 14, 30, 31),
        )
    ]
    more = [Para("Less grave, each with its reasons in the JSON export:"), Bullets(rest)]
    return blocks + (more if rest else [])


def checks(s):
    """What must be seen true at the head, group by group, and what follows if it is not."""
    if not s.advice.checks:
        return []
    rows = tuple(
        (
            cell(line.group),
            cell(line.text, f"well: {', '.join(line.well())}"),
            cell(*line.each("threatens")),
            cell(*line.each("because"), f"[{', '.join(sorted({c.rule for c in line.checks}))}]"),
        )
        for line in check_lines(s.advice.checks)
    )
    return [
        Heading(2, SECTIONS["checks"]),
        Table(
            "Checks at the head",
            ("Where", "See", "If not", "Why"),
            rows,
            (16, 34, 25, 25),
        ),
    ]


def calculations(s):
    """Every calculation with formula, inputs, range and sources."""
    items = s.advice.calculations
    if not items:
        return []
    rows = tuple(
        (
            cell(c.text, c.because),
            cell(c.formula, "; ".join(_input(p) for p in c.inputs)),
            cell(_range(c), f"missing: {c.missing}" if c.missing else ""),
            cell("; ".join(s.source(i) for i in c.sources), c.status),
        )
        for c in items
    )
    return [
        Heading(2, "Calculations"),
        Table(
            "Calculations",
            ("Result, and why", "Formula and inputs", "Range in SI", "Sources, standing"),
            rows,
            (28, 34, 17, 21),
        ),
    ]


def _input(part):
    return f"{part.name} = {part.value or 'not known'}" + (
        f" ({part.of})" if part.of and part.origin == "figure" else ""
    )


def _range(c):
    if not c.result:
        return "not worked out"
    low, high, unit = c.result.low, c.result.high, c.result.unit
    number = f"{low:.4g}" if low == high else f"{low:.4g} to {high:.4g}"
    return number if unit == "1" else f"{number} {unit}"


def facts(s):
    """Every fact of the case and every one concluded, with who said it."""
    kinds = shown_here(s)
    items = [
        f
        for f in s.advice.facts
        if f.concluded or s.view.base.vocabulary.split(f.entity)[0].name not in kinds
    ]
    blocks = [
        Heading(2, "Facts"),
        *(
            [
                Para(
                    "Facts listed in the pitch plan are not repeated; there the case file said"
                    " them, unless another is named."
                )
            ]
            if kinds
            else []
        ),
    ]
    if not items:
        return blocks + [Para("None beside these." if kinds else "No fact was given.")]
    rows = tuple(
        (
            cell(f.id),
            cell(f.value or "not known"),
            cell(STATE[f.state]),
            cell(f.said_by),
        )
        for f in items
    )
    return blocks + [
        Table(
            "Facts given and concluded", ("Fact", "Value", "State", "From"), rows, (42, 30, 13, 15)
        )
    ]


def sources(s):
    """Every source that anything here rests on, with how much of it was read."""
    used = sorted(
        s.advice.sources()
        | {i for response, _ in s.responses for step in response.lines for i in step.sources}
    )
    known = s.view.base.sources
    rows = tuple(
        (
            cell(known[i]["title"]),
            cell(known[i]["publisher"]),
            cell(known[i].get("year", "unknown")),
            cell(known[i]["kind"]),
            cell(known[i]["read"]),
        )
        for i in used
    )
    if not rows:
        return []
    return [
        Heading(2, "Sources"),
        Para("Excerpts are not whole documents; the last column says how much was seen."),
        Table(
            "Sources", ("Title", "Publisher", "Year", "Kind", "Read"), rows, (34, 23, 12, 12, 19)
        ),
    ]


def local_guidance(s):
    """What local guidance says otherwise than the built-in rules, which stay."""
    if not s.guidance:
        return []
    departures = lines(*(f"{d.text} [{d.built_in}]" for d in s.advice.local.departures))
    return [
        Heading(2, "Local guidance"),
        Para(f"Used beside the built-in rules, which stand word for word: {s.guidance}."),
        Bullets(departures) if departures else Para("It departs from no built-in rule here."),
    ]


def ending(s):
    """Limits, cautions, the last word."""
    cautions = s.advice.cautions
    return [
        Heading(2, "What this does not cover"),
        Bullets(lines(*s.lists["not covered"])),
        Heading(2, "Cautions"),
        Bullets(lines(*cautions[:-1])),
        Heading(2, "Who has the last word"),
        Para(cautions[-1], True),
    ]
