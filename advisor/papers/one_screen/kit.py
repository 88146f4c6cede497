"""Kit on one screen: the verdict first, why, what to do."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from advisor.model.advice import Advice, Ground, Item, KitVerdict
from advisor.model.base import Base
from advisor.papers.one_screen.asked import asked, like
from advisor.papers.one_screen.fit import ASKED, GRAVE, LESS, PEOPLE, RIG, Piece, Section, reasoned
from advisor.papers.outline import headline, worst_first
from advisor.words import FIRST_WORDS, SCREEN, SECTIONS

MOST = 3  # of what is told before the rest
_OUT_OF_USE = "out of use: "  # how the id of such a stop begins


def verdict(advice: Advice) -> str:
    """The first word on the whole: not for use, or the worst verdict."""
    if advice.stops or not advice.items:
        return headline(advice)
    items = worst_first(advice.items)
    words = FIRST_WORDS["kit" if len(items) == 1 else "kits"]
    return words.format(n=len(items), item=items[0].item, verdict=items[0].verdict.upper())


def sections(base: Base, advice: Advice) -> Iterator[Section]:
    """Stops with the reasons of their verdicts, other verdicts, what to do, what to find out. All
    that speaks against the only piece stands in a list of its own.
    """
    alone = len({item.entity for item in advice.items}) == 1
    yield Section("", tuple(_stops(advice, alone)), numbered=True)
    against = (p for c in advice.contradictions for p in reasoned(c.text, c.because, GRAVE))
    yield Section(SECTIONS["contradictions"], tuple(against), numbered=True)
    stopped = {stop.id for stop in advice.stops}
    rest = [i for i in worst_first(advice.items) if not _stopped(i, stopped)]
    single = len(advice.items) == 1 and not stopped
    yield Section("" if single else SCREEN["kit"], tuple(_verdicts(rest, single, alone)))
    listed = worst_first(advice.items) if alone and not single else ()
    beside = [piece for item in listed for piece in _grounds(item.grounds, on=False)[1:]]
    yield Section(SCREEN["against"], tuple(replace(piece, rank=PEOPLE) for piece in beside))
    yield Section(SCREEN["do"], tuple(_do(base, advice)))
    yield asked(base, advice)


def _out_of_use(item: KitVerdict) -> str:
    """The id of the stop that takes an item out of use."""
    return f"{_OUT_OF_USE}{item.id}"


def _stopped(item: KitVerdict, stopped: set[str]) -> bool:
    """Whether a stop takes the item, or a part of it, out of use."""
    whole = _out_of_use(item)
    return any(stop == whole or stop.startswith(f"{whole}, ") for stop in stopped)


def _stops(advice: Advice, alone: bool) -> Iterator[Piece]:
    """What a verdict takes out of use stands before what has not been looked at yet; of the only
    piece the first reason alone.
    """
    for stop in sorted(advice.stops, key=lambda stop: not stop.id.startswith(_OUT_OF_USE)):
        grounds = [g for i in advice.items if _out_of_use(i) == stop.id for g in i.grounds]
        yield Piece(stop.text)
        if grounds:
            yield from _grounds(grounds)[: 1 if alone else None]
        else:
            yield Piece(stop.because, RIG, on=True)


def _verdicts(items: Sequence[KitVerdict], single: bool, alone: bool) -> Iterator[Piece]:
    """Verdicts with their reasons; of a single piece the verdict was said."""
    most = 1 if alone and not single else None
    for n, item in enumerate(items):
        if not single:
            yield Piece(f"{item.item}: {item.verdict.upper()}.", RIG if n < MOST else ASKED)
        yield from _grounds(item.grounds, on=not single)[:most]


def _grounds(grounds: Sequence[Ground], on: bool = True) -> list[Piece]:
    """What speaks against a piece: what was found and why it counts, of what is found alike or for
    the same reason in one piece; else which rule, and why.
    """
    alike: dict[str, list[str]] = {}
    for ground in grounds:
        alike.setdefault(ground.because, []).append(ground.found)
    said: dict[str, list[str]] = {}
    titles = {ground.because: ground.text.rstrip(".") for ground in reversed(grounds)}
    for because, found in alike.items():
        words = ", ".join(dict.fromkeys(filter(None, found)))
        head = f"{words[:1].upper()}{words[1:]}:" if words else f"{titles[because]}."
        said.setdefault(head, []).append(because)
    return [
        Piece(" ".join((head, *because)), LESS if n else RIG, on)
        for n, (head, because) in enumerate(said.items())
    ]


def _do(base: Base, advice: Advice) -> Iterator[Piece]:
    """What must and should be done, life before paper, what few are told before the rest; what one
    rule says of several things in one piece.
    """
    topics, layout = {rule.id: rule.topic for rule in base.rules}, base.screen
    lines: list[Item] = [*advice.first, *advice.must("must"), *advice.warnings]
    lines += advice.must("should")
    lines.sort(key=lambda n: (topics.get(n.rule) in layout.paper_topics, layout.rank(n.rule)))
    alike: dict[tuple[str, int], list[str]] = {}
    for line in lines:
        number = sum(other.derivation == line.derivation for other in lines[: lines.index(line)])
        alike.setdefault((line.rule, number), []).append(line.text)
    for n, found in enumerate(alike.values()):
        texts = list(dict.fromkeys(found))
        yield Piece(like(texts[0], len(texts) - 1), RIG if n < MOST else LESS)
