"""The front of the paper: title block, and on one page what it comes to."""

from __future__ import annotations

from advisor.facts.vocabulary import AT_THE_HEAD
from advisor.model import names
from advisor.papers.blocks import Bullets, Heading, Para, Sign, Table, cell, lines, shortened
from advisor.papers.checks import check_lines
from advisor.papers.outline import built_in, looking_ahead, sequence, worst_first
from advisor.papers.response import part_blocks
from advisor.words import ONE_ENGINE, SECTIONS, STANDINGS

MOST_STOPS, MOST_OPEN = 12, 5  # shown on the first page; the rest stand in the rationale
FIRST_STEPS, MOST_KIT = 8, 8


def title_block(s):
    """Title, what was asked for, and what made the paper."""
    base = s.advice.rule_base
    rows = [
        ("Site and pitch", s.title),
        ("About", ", ".join(s.advice.about) or "nothing yet"),
        ("Asked", s.advice.moment),
        ("Date", s.date),
        ("Rule base", f"version {base.version}, SHA-256 {base.sha256}"),
        ("Local guidance used", s.guidance or "none"),
        ("Checked by", ", ".join(s.advice.checked_by)),
    ]
    blocks = [
        Heading(1, f"Risk assessment papers: {s.title}"),
        Table(
            "This paper", ("What", "Given"), tuple((cell(a), cell(b)) for a, b in rows), (22, 78)
        ),
    ]
    return blocks + ([Para(ONE_ENGINE, True)] if len(s.advice.checked_by) < 2 else [])


def summary(s):
    """The page a leader carries: go or stop, decisions, numbers, people, times, kit."""
    advice = s.advice
    blocks = [Heading(2, "Summary"), Para(s.headline(), True)]
    blocks += _first(advice) + _first_steps(advice.response)
    if advice.assumed:
        blocks.append(Para(f"{SECTIONS['assumed']}: {looking_ahead(advice)}", True))
    decisions = [
        (cell(name[:1].upper() + name[1:]), cell(chosen(d)), cell(STANDINGS[d.standing]))
        for name, d in advice.choices.items()
    ]
    if decisions:
        blocks.append(
            Table(
                "Decisions", ("Decision", "Recommended", "Standing"), tuple(decisions), (24, 44, 32)
            )
        )
    blocks += _numbers(s) + _people_and_times(s) + _kit(s)
    blocks.append(Para(f"{advice.cautions[-1]}", True))
    return blocks


def signature(s):
    """Where the leader decides and signs."""
    return [
        Heading(2, "Decision and signature"),
        Para("Left blank: these are for the leader and the organisation."),
        Sign(s.lists["signature"], tuple(s.lists["signature fields"])),
    ]


def chosen(decision) -> str:
    """What a decision came to, in words."""
    return decision.words("nothing yet", " (equal)")


def _first(advice):
    """The stops, what contradicts and what is to be done first, or else the questions that could
    still stop it; at the head also the checks.
    """
    every = (*advice.stops, *advice.contradictions, *advice.first)
    found = built_in(every)
    told = [f"{item.text} [{item.rule}]" for item in found] or [q.text for q in advice.blocking]
    if not told and advice.moment == AT_THE_HEAD:
        told = [line.text for line in check_lines(advice.checks)]
    own = [f"{item.text} [{item.rule}]" for item in every if item.local]
    most, rest = MOST_STOPS if advice.stops else MOST_OPEN, "… and {n} more in the rationale."
    return [shortened(lines(*texts), most, rest, True) for texts in (told, own) if texts]


def _first_steps(response):
    """What to do first where something has happened; the whole sequence has its own page."""
    if not response:
        return []
    parts = {part.name: part_blocks(part) for part in sequence(response)}
    steps = parts.pop("steps")[1:]
    own = sum(step.local for step in response.steps)  # those cost no built-in step its place
    calls = [block for name in ("call", "call when") for block in parts.get(name, [])]
    rest = "… and {n} more under 'Response sequences'."
    return [
        *calls,
        Para("First steps", True),
        *(
            shortened(b.items, FIRST_STEPS + own, rest, True)
            for b in steps
            if isinstance(b, Bullets)
        ),
    ]


def _numbers(s):
    """Key numbers in two columns, those of the anchor chosen only."""
    anchor = s.view.decided(names.LADDER_ANCHOR)
    texts = [c.text for c in s.advice.calculations if c.serves(anchor)]
    if not texts:
        return []
    half = (len(texts) + 1) // 2
    rows = tuple((cell(a), cell(b)) for a, b in zip(texts[:half], texts[half:] + [""] * half))
    return [Table("Key numbers", ("Number", "Number, continued"), rows, (50, 50), row_heads=False)]


PEOPLE_AND_TIMES = (
    ("People", names.GROUP_TOLD),
    ("Leaders", names.LEADERS_TOLD),
    ("Times", names.TIMES_TOLD),
    ("Call-out", names.CALL_OUT_TOLD),
)


def _people_and_times(s):
    """Who and when; what is not known is said."""
    if "plan" not in s.advice.about:
        return []
    rows = []
    for word, told in PEOPLE_AND_TIMES:
        rows.append(
            (
                cell(word),
                cell("; ".join(f"{ref.attribute}: {s.view.told(*ref)}" for ref in told)),
            )
        )
    return [
        Table(
            "People, times and call-out", ("What", "As given or worked out"), tuple(rows), (18, 82)
        )
    ]


def _kit(s):
    """The main pieces to carry, and verdicts where kit was looked at."""
    view, rows = s.view, []
    if "plan" in s.advice.about:
        ladders = [
            f"{view.name(e)}: {view.told(e, names.LADDER_LENGTH)}, rated"
            f" {view.told(e, names.LADDER_RATING)}"
            for e in view.entities("ladder")
        ]
        rows.append((cell("Ladders"), cell("; ".join(ladders) or "none named")))
        rows.append(
            (
                cell("Lifeline"),
                cell(
                    f"{view.told(*names.LIFELINE_CLASS)},"
                    f" {view.told(*names.LIFELINE_DIAMETER)},"
                    f" {view.told(*names.LIFELINE_LENGTH)}; device:"
                    f" {view.told(*names.LIFELINE_DEVICE)}"
                ),
            )
        )
        rows.append(
            (
                cell("Tether"),
                cell(
                    f"{view.decided(names.TETHER_FORM) or 'form not decided'};"
                    f" {view.told(*names.TETHER_MATERIAL)},"
                    f" {view.told(*names.TETHER_DIAMETER)}, cord"
                    f" {view.told(*names.TETHER_CORD)}; connector:"
                    f" {view.told(*names.TETHER_CONNECTOR)}"
                ),
            )
        )
    items = worst_first(s.advice.items)
    rows += [
        (
            cell(i.item),
            cell(i.verdict.upper() + (" (provisional)" if i.standing == "provisional" else "")),
        )
        for i in items[:MOST_KIT]
    ]
    rows += (
        [(cell("others"), cell(f"{len(items) - MOST_KIT} more under 'Kit verdicts'"))]
        if len(items) > MOST_KIT
        else []
    )
    return [Table("Kit", ("Piece", "What is known of it"), tuple(rows), (18, 82))] if rows else []
