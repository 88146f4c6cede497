"""A plan on one screen: the verdict with up to three reasons of its own, the rig, the people, the
standing drill, the times, what to find out.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from advisor.model.advice import Advice, Item
from advisor.model.base import Base
from advisor.model.layout import Row
from advisor.model.names import METHOD
from advisor.papers.checks import check_lines
from advisor.papers.one_screen.asked import KEPT, KEPT_HELD, asked, asked_too, first_open
from advisor.papers.one_screen.filling import Filling
from advisor.papers.one_screen.fit import (
    ALWAYS,
    ASKED,
    FIRST_ASKED,
    GRAVE,
    LEAST,
    LESS,
    PEOPLE,
    RIG,
    WHY,
    WRONG,
    Piece,
    Section,
    reasoned,
)
from advisor.papers.one_screen.news import News, news
from advisor.papers.outline import headline, only_checks, worst_first
from advisor.words import FIRST_WORDS, SCREEN, Doors

REASONS = 3
REASONED = 2  # of what must be put right, so many keep their reason as long as room can be made
LOOKED_FIRST = 5  # checks named on the screen
# What else is wrong with a plan is told before what every plan is told, so much of it.
OTHERS = 8


class Plan:
    """The verdict and the sections of one plan."""

    def __init__(self, base: Base, advice: Advice, doors: Doors) -> None:
        self.base, self.advice, self.doors = base, advice, doors
        self.layout, self.filling = base.screen, Filling(base, advice)
        self.topics = {rule.id: rule.topic for rule in base.rules}
        self.method = advice.decisions.get(METHOD)
        chosen = self.method.chosen if self.method else ()
        # What only open facts keep back is not refused.
        open_too = (
            (a.option for a in self.method.alternatives)
            if self.method and self.method.standing == "provisional"
            else ()
        )
        self.by_ladder = not {*chosen, *open_too}.isdisjoint(base.screen.rigged)
        self.elsewhere = bool(chosen) and not self.by_ladder
        # What forbids it for the whole group is put right first; what can be re-rigged need not be.
        self.kept_out = any(self._first(stop.rule) for stop in advice.stops)
        self.rigged = self.by_ladder and not self.kept_out

    def _first(self, rule: str) -> bool:
        """Whether a rule is about what can take the whole group."""
        return self.topics.get(rule) in self.base.told_first

    def verdict(self) -> str:
        """The first word on the whole."""
        advice = self.advice
        put_right = (*advice.contradictions, *advice.first)
        refused = self.elsewhere and not self.kept_out and (advice.stops or not put_right)
        if self.method and refused:
            return FIRST_WORDS["not by ladder"].format(choice=self.method.words())
        if advice.blocking and not (advice.stops or put_right):
            words = FIRST_WORDS["see to these" if self._news() else "not yet"]
            return words.format(first=first_open(self.base, advice), all=len(advice.blocking))
        return headline(advice)

    def sections(self) -> Iterator[Section]:
        """Its sections; the rig, and what goes with it, only where it can stand."""
        reasons, others = self._reasons()
        see = only_checks(self.advice)
        if see:  # the verdict leads to them
            yield self._see()
        yield replace(reasons, title=SCREEN["also"] if see else "")
        also, held = Section(SCREEN["also"], others), self._held()
        if held:  # what else is wrong is put right before the rig is built
            yield also
        if self.rigged:
            rig = (*self._rows(self.layout.rig, RIG), *self._kit_in_use())
            yield Section(SCREEN[self._rig_title()], rig)
            standing = LESS if held else PEOPLE  # reasons come before it
            people = self._rows(self.layout.people, standing)
            drill = self._rows(self.layout.drill, RIG)
            # Of what is held back nothing is called right.
            known = Filling(self.base, self.advice, known=True)
            in_order = () if held else self._rows(self.layout.in_order, PEOPLE, known)
            yield Section(SCREEN["people"], (*people, *drill, *in_order))
            if not held:
                yield also
            yield Section("", self._rows(self.layout.times, LESS if held else RIG))
        if self.advice.stops and not self.rigged:
            yield Section("", tuple(self._instead()))
            return  # no answer to a question would bring the rig back
        yield asked(self.base, self.advice, KEPT, KEPT_HELD if held else KEPT)
        yield asked_too(self.base, self.advice, ASKED if held else RIG)
        if self.advice.checks and not see:
            yield Section("", tuple(self._checks(PEOPLE if held else FIRST_ASKED)))

    def _instead(self) -> Iterator[Piece]:
        """That nothing is to be rigged, and what is to be found out in its place."""
        refused = self.elsewhere and not self.kept_out
        yield Piece(SCREEN["no rig" if refused else "no rig yet"], RIG, name="Rig")
        if refused:
            yield Piece(SCREEN["elsewhere"], RIG, name="Find")
            turn = self.doors.turn.format(decision=METHOD, option=self.layout.rigged[0])
            yield Piece(SCREEN["turn"].format(turn=turn), RIG, on=True)

    def _held(self) -> bool:
        """Whether something must be put right before anyone goes."""
        advice = self.advice
        return bool(advice.stops or advice.first or advice.contradictions or not self.rigged)

    def _rig_title(self) -> str:
        """A rig told below what must be put right, or found out, is not yet the rig to build."""
        advice = self.advice
        if advice.stops:
            return "rig then"
        open_yet = advice.first or advice.contradictions or advice.blocking
        return "rig so far" if open_yet else "rig"

    def _checks(self, rank: int) -> Iterator[Piece]:
        """How many checks wait for the head, and some of them, of a `rank`."""
        number = self.doors.checks.format(n=len(self.advice.checks))
        yield Piece(number, name=SCREEN["checks"])
        seen = {self.base.vocabulary.key_of(check.fact) for check in self.advice.checks}
        first = [say for key, say in self.layout.look_first.items() if key in seen]
        if first:
            these = "; ".join(first[:LOOKED_FIRST])
            yield Piece(SCREEN["looked first"].format(these=these), rank, on=True)

    def _see(self) -> Section:
        """What must be seen at the head."""
        pieces = (Piece(line.text, WHY) for line in check_lines(self.advice.checks))
        rest = SCREEN["more checks"].format(n="{n}", all=self.doors.all)
        return Section("", tuple(pieces), rest=rest)

    def _reasons(self) -> tuple[Section, tuple[Piece, ...]]:
        """(what stands in the way and what stands out here, the rest of what stands out). Of a
        plan whose rig cannot stand, what could be re-rigged stands out last, and only if it is
        rare.
        """
        advice, pieces = self.advice, list[Piece]()
        put_right: list[tuple[Item, int]] = [(stop, ALWAYS) for stop in advice.stops]
        put_right += [(item, GRAVE) for item in (*advice.contradictions, *advice.first)]
        for n, (item, rank) in enumerate(put_right):
            pieces += reasoned(item.text, item.because, rank, WRONG if n < REASONED else WHY)
        said = {item.rule for item in (*advice.stops, *advice.contradictions, *advice.first)}
        pieces += self._not_by_ladder(said) if self.elsewhere else ()
        left = [new for new in self._news() if new.rule not in said]
        free = max(0, REASONS - sum(not piece.on for piece in pieces))
        for new in left[:free]:
            pieces += reasoned(new.text, new.because, self._filling_rank(new))
        others = self._others(left[free:], said, {piece.text for piece in pieces})
        return Section("", tuple(pieces), numbered=True), others

    def _filling_rank(self, new: News) -> int:
        """How long what only stands out is told: why something must be put right outlasts it."""
        if new.gravely or not self._held():
            return GRAVE
        return WRONG if new.wrong else ASKED

    def _others(self, left: Sequence[News], said: set[str], texts: set[str]) -> tuple[Piece, ...]:
        """The rest of what stands out, what is wrong before what would be better. Where no ladder
        is to be used nothing is told of how it would be rigged.
        """
        if not self.rigged and not self.elsewhere:
            told = {*said, *(new.rule for new in self._news())}
            again = (new for new in news(self.base, self.advice) if new.rule not in told)
            left = [*left, *(new for new in again if new.rare and new.text not in texts)]
        pieces, held = list[Piece](), self._held()
        for n, new in enumerate(left):
            wrong = new.wrong if held else new.gravely
            rank = WRONG if wrong and n < OTHERS else LEAST
            pieces += reasoned(new.text, new.because, rank) if not self.rigged else ()
            pieces += (Piece(new.short, rank),) if self.rigged else ()
        return tuple(pieces)

    def _news(self) -> list[News]:
        """What stands out and can be told of this plan: of one that no ladder is rigged for, what
        is gravely wrong and could take the whole group.
        """
        found = [new for new in news(self.base, self.advice) if self.by_ladder or new.gravely]
        return [new for new in found if self.rigged or self._first(new.rule)]

    def _not_by_ladder(self, said: set[str]) -> Iterator[Piece]:
        """Why not, where no rule has `said` so: in the words of the rule, else of the decision."""
        rules = {d.id: d.rule or "" for d in self.advice.derivations}
        told = set(said)
        for lost in self.method.alternatives if self.method else ():
            if lost.option not in self.layout.rigged:
                continue
            against = {rules.get(derivation, "") for derivation in lost.derivations}
            if told & against:
                continue
            told |= against
            lines = [w for w in self.advice.warnings if w.derivation in lost.derivations]
            for line in lines:
                yield from reasoned(line.text, line.because, GRAVE)
            if not lines:
                yield Piece(SCREEN["not ladder"].format(because=lost.lost_because), GRAVE)

    def _rows(
        self, rows: Sequence[Row], rank: int, filling: Filling | None = None
    ) -> tuple[Piece, ...]:
        """Named rows of what is told."""
        advice, filling = self.advice, filling or self.filling
        given = {
            line.rule
            for line in (*advice.requirements, *advice.warnings, *advice.first, *advice.stops)
        }
        found: dict[str, Piece] = {}
        for row in rows:
            said = filling.said(row.say) if given.issuperset(row.given) else ""
            if said:
                piece = Piece(said, RIG if row.kept else rank, name=row.name)
                found.setdefault(row.name, piece)
        return tuple(found.values())

    def _kit_in_use(self) -> Iterator[Piece]:
        """Verdicts on the kit of a plan that are settled and ask for something."""
        stopped = " ".join(stop.text for stop in self.advice.stops)
        for item in worst_first(self.advice.items):
            if item.standing == "firm" and item.verdict != "keep" and item.item not in stopped:
                yield Piece(f"{item.item}: {item.verdict.upper()}.", LESS)
