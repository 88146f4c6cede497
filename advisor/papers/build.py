"""The papers on a subject: each by itself, and those that are printed together."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from advisor.papers.assessment import assessment
from advisor.papers.blocks import Heading, Page, Paper, Picture, Table
from advisor.papers.card import card
from advisor.papers.evidence import evidence, nothing
from advisor.papers.forms import briefing, packing, report, trip
from advisor.papers.kit import kit
from advisor.papers.response import responses
from advisor.papers.sheet import plan

PAPERS: dict[str, Callable[..., list]] = {
    "plan": plan,
    "card": card,
    "assessment": assessment,
    "kit": kit,
    "incidents": responses,
    "evidence": evidence,
    "trip": trip,
    "packing": packing,
    "briefing": briefing,
    "report": report,
}
NARROWER = {"letter": 10}  # mm that the lines of a card need more where half a sheet is narrower
FITTING = {"incident": "incidents", "plan": "working", "kit": "kit"}


def fitting(s) -> str:
    """What is printed where nothing is named: what has happened comes before all planning."""
    return next((kind for about, kind in FITTING.items() if about in s.advice.about), "working")


def build(s, kind: str = "all", size: str = "A4") -> Paper:
    """One paper, or those of a bundle."""
    names = s.lists["bundles"].get(kind, (kind,))
    found = [(name, PAPERS[name](s)) for name in names]
    blocks = [block for _, told in found for block in _begun(told)] or nothing(s)
    blocks = [b for b in (_fitted(b, NARROWER.get(size, 0)) for b in blocks) if b]
    title = f"{s.lists['titles'][kind]}: {s.title}"
    blocks = list(_quieted(_first(title, blocks)))
    return Paper(title, f"{title} | {s.date} | {s.version}", tuple(blocks), size)


def _quieted(blocks: list) -> Iterator:
    """Blocks where no table says again what stands in the heading above it."""
    heading = ""
    for block in blocks:
        if isinstance(block, Heading):
            heading = block.text
        elif isinstance(block, Table):
            caption = block.caption.rpartition(": ")[2]
            again = bool(heading) and (caption in heading or heading in block.caption)
            block, heading = block._replace(quiet=again), ""
        yield block


def _fitted(block, less: int):
    """A block, or a picture on a card that leaves more room to lines of fewer letters; None where
    too little of it is left.
    """
    if not (less and isinstance(block, Picture) and block.tall):
        return block
    return block._replace(tall=block.tall - less) if block.tall - less >= block.least else None


def _begun(blocks: list) -> list:
    """A paper that begins a page of its own."""
    return blocks if not blocks or isinstance(blocks[0], Page) else [Page(), *blocks]


def _first(title: str, blocks: list) -> list:
    """The title stands on the first page, in place of its first heading where that says as much."""
    start = blocks[:1] if blocks and isinstance(blocks[0], Page) else []
    rest = blocks[len(start) :]
    if rest and isinstance(rest[0], Heading) and rest[0].text.startswith(title.partition(":")[0]):
        long = rest[0].text if len(rest[0].text) > len(title) else title
        return [*start, Heading(1, long), *_raised(rest[1:])]
    return [*start, Heading(1, title), *rest]


def _raised(blocks: list) -> Iterator:
    """Blocks whose headings stand a level higher, as far as the next section: what was over them
    has become the title.
    """
    within = True
    for block in blocks:
        if isinstance(block, Heading):
            within = within and block.level > 2
            block = block._replace(level=block.level - within)
        yield block
