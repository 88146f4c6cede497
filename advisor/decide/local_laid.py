"""Lists of the built-in advice laid over those under local guidance, item by item: what is built in
stands word for word and in its order; what local guidance adds comes after it, marked; what it
would drop or say otherwise is told.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, TypeVar

from msgspec.structs import replace

from advisor.decide.questions import GRAVITY
from advisor.model.advice import LOCAL_MARK, Check, Departure, Ground, Hazard, Item, Question, Step

if TYPE_CHECKING:
    from advisor.load.local import Local

J = TypeVar("J", bound="Item | Question")
I = TypeVar("I", bound=Item)  # noqa: E741
OF_CHECKS = ("stop", "first", "must")  # gravities of checks, the gravest first


def marked(item: J) -> J:
    """An item that local guidance adds, so that its own words say so."""
    text = LOCAL_MARK + item.text
    if isinstance(item, Check):
        return replace(item, text=text, see=LOCAL_MARK + item.see, local=True)
    if isinstance(item, Ground) and item.found:
        return replace(item, text=text, found=LOCAL_MARK + item.found, local=True)
    return replace(item, text=text, local=True)


def added(held: Sequence[J], now: Sequence[J]) -> tuple[J, ...]:
    """What stands in `now` beyond what is built in, marked."""
    left, texts = _of_each(held), {(item.id, item.text) for item in held}
    found = []
    for items in _of_each(now).values():
        new = [item for item in items if (item.id, item.text) not in texts]
        # One with the words of a built-in one changed is no addition.
        found += new[: max(0, len(items) - len(left.get(items[0].id, ())))]
    return tuple(marked(item) for item in now if item in found)


def _of_each(items: Iterable[J]) -> dict[str, list[J]]:
    """The items by their id; a rule may say several things of one thing."""
    found: dict[str, list[J]] = {}
    for item in items:
        found.setdefault(item.id, []).append(item)
    return found


class Laid:
    """Lays lists over lists, and gathers a departure for every difference."""

    def __init__(self, local: Local) -> None:
        self.local, self.departures = local, list[Departure]()

    def over(self, what: str, held: Sequence[J], now: Sequence[J]) -> tuple[J, ...]:
        """What is built in, then what local guidance adds; `what`: a word for one of these."""
        self.compare(what, held, now)
        return (*held, *added(held, now))

    def compare(self, what: str, held: Sequence[J], now: Sequence[J]) -> None:
        """Tell what is built in and would no longer be there, or be said otherwise."""
        left = _of_each(now)
        for item in held:
            others = [_said(other) for other in left.get(item.id, ())]
            if not others:
                self.of(f"The built-in {what} stays: {_said(item)}", item)
            elif _said(item) not in others:
                self.of(
                    f"The built-in {what} stays: {_said(item)} By local guidance: {others[0]}", item
                )

    def hazards(self, held: Sequence[Hazard], now: Sequence[Hazard]) -> tuple[Hazard, ...]:
        """Each built-in hazard, with its controls as they stand in it; and more."""
        others = {hazard.id: hazard for hazard in now}
        for hazard in held:
            other = others.get(hazard.id, hazard)
            for was, is_ in zip(hazard.controls, other.controls):
                if was.standing != is_.standing:
                    text = f"The standing of a control stays: {hazard.text}: {was.title}"
                    self.of(f"{text} {was.standing}; by local guidance: {is_.standing}", hazard)
            if hazard.sure and not other.sure:
                self.of(f"The built-in hazard stays sure: {hazard.text}", hazard)
        return self.over("hazard", held, now)

    def of(self, text: str, item: Item | Question) -> None:
        """A departure from one item."""
        rule = item.rule if isinstance(item, Item) else next(iter(item.rules), item.fact)
        self.tell(text, rule, item.sources)

    def tell(
        self, text: str, rule: str, sources: Iterable[str] = (), *, turns: bool = False
    ) -> None:
        """A departure from what `rule`, a figure or a decision has."""
        self.departures.append(
            Departure(
                text=text,
                built_in=rule,
                sources=tuple(sources),
                local=self.local.title,
                turns=turns,
            )
        )

    def questions(self, held: Sequence[Question], now: Sequence[Question]) -> tuple[Question, ...]:
        """Each built-in question, the graver of the two, with all that it could bring; and more."""
        others = {question.id: question for question in now}
        stand = [self._graver(q, others[q.id]) if q.id in others else q for q in held]
        self.compare("question", held, now)
        every = (*stand, *added(held, now))
        return tuple(sorted(every, key=lambda q: GRAVITY.index(q.gravity)))

    def _graver(self, held: Question, now: Question) -> Question:
        was, is_ = (GRAVITY.index(q.gravity) for q in (held, now))
        if is_ > was:
            self.of(f"The built-in question stays as grave ({held.gravity}): {held.text}", held)
        more = tuple(LOCAL_MARK + text for text in now.could if text not in held.could)
        could = (*more, *held.could) if is_ < was else (*held.could, *more)
        rules = tuple(sorted({*held.rules, *now.rules}))
        if is_ < was:
            return replace(held, gravity=now.gravity, could=could, rules=rules)
        return replace(held, could=could, rules=rules)

    def checks(self, held: Sequence[Check], now: Sequence[Check]) -> tuple[Check, ...]:
        """Each built-in check, the graver of the two; and more."""
        others = {check.id: check for check in now}
        every = self.over("check", held, now)
        return tuple(_graver_check(c, others[c.id]) if c.id in others else c for c in every)


def _graver_check(held: Check, now: Check) -> Check:
    if OF_CHECKS.index(now.gravity) >= OF_CHECKS.index(held.gravity):
        return held
    threatens = f"{held.threatens} {LOCAL_MARK}{now.threatens}"
    return replace(held, gravity=now.gravity, threatens=threatens)


def _said(item: Item | Question) -> str:
    """What an item says."""
    return item.words if isinstance(item, Step) else item.text
