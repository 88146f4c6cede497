"""Verdicts on kit under local guidance: the worse of the two, with the reasons of both."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec.structs import replace

from advisor.decide.local_laid import Laid, added, marked
from advisor.decide.verdicts import VERDICTS
from advisor.model.advice import Advice, KitVerdict


def verdicts(laid: Laid, built_in: Advice, advice: Advice) -> tuple[KitVerdict, ...]:
    """All verdicts, the built-in ones first."""
    now, known = {item.id: item for item in advice.items}, {item.id for item in built_in.items}
    new = (item for item in advice.items if item.id not in known)
    return (
        *(_worse(laid, item, now.get(item.id)) for item in built_in.items),
        *(
            replace(
                item,
                reasons=tuple(map(marked, item.reasons)),
                beside=tuple(map(marked, item.beside)),
            )
            for item in new
        ),
    )


def _worse(laid: Laid, held: KitVerdict, now: KitVerdict | None) -> KitVerdict:
    """The built-in verdict, or the local one where it is worse."""
    was, is_ = (VERDICTS.index(v.verdict) if v else -1 for v in (held, now))
    if now is None or is_ < was:
        _tell(laid, held, f"The built-in verdict stays: {held.item}: {held.verdict}", turns=False)
        return held
    both = replace(
        held,
        reasons=(*held.reasons, *added(held.grounds, now.reasons)),
        beside=(*held.beside, *added(held.grounds, now.beside)),
        open=tuple(sorted({*held.open, *now.open})),
    )
    if is_ == was:
        firm = "firm" if {held.standing, now.standing} == {"firm"} else "provisional"
        return replace(both, standing=firm)
    text = f"Built in, {held.item} comes to: {held.verdict}. By local guidance: {now.verdict}."
    _tell(laid, held, f"{text} It stands: {now.verdict}.", turns=True)
    return replace(both, verdict=now.verdict, standing=now.standing)


def _tell(laid: Laid, held: KitVerdict, text: str, *, turns: bool) -> None:
    rule = held.reasons[0].rule if held.reasons else ""
    laid.tell(text, rule, sorted(set(_sources(held))), turns=turns)


def _sources(held: KitVerdict) -> Iterator[str]:
    for reason in held.reasons:
        yield from reason.sources
