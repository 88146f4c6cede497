"""The risk assessment in five steps: hazards with who and how, controls with how they stand, and
places for ratings and further action, which are for people.
"""

from __future__ import annotations

from collections.abc import Iterator

from advisor.model.advice import Control, Hazard
from advisor.papers.blocks import Heading, Page, Para, Table, cell, ticked
from advisor.papers.outline import assumed_first

HEADS = (
    "Hazard; who, and how",
    "Controls, and how each stands",
    "Before",
    "After",
    "Further action",
    "By whom",
    "By when",
    "Done",
)
WIDTHS = (20, 47, 6, 6, 8, 5, 5, 3)
# The gravest standing first; how each begins.
STANDS = {
    "broken": "BROKEN",
    "not known": "NOT KNOWN: check",
    "to do": "On the day",
    "rehearse": "Rehearse",
    "met": "Met by",
    "not asked for": "Not asked for on these facts",
}
ON_PAPER = tuple(list(STANDS)[:-1])  # the rest stands in the register
GRAVELY = ("broken", "not known")
MOST_FACTS = 2


def assessment(s) -> list:
    """The assessment on wide pages; the boxes are left empty."""
    texts = s.lists["assessment"]
    blocks: list[object] = [Page(wide=True), Heading(2, s.lists["titles"]["assessment"])]
    blocks += assumed_first(s.advice)
    blocks += [_by_hand(s, texts["record"]), Para(texts["intro"]), Para(_scale(s))]
    table = hazards(s)
    blocks += [table] if table.rows else [Para("No hazard follows from the facts given.")]
    return [
        *blocks,
        Heading(3, texts["step 4"]),
        Para(texts["in effect"]),
        Heading(3, texts["step 5"]),
        Table(
            "Changes on the day",
            tuple(texts["changes"]),
            (((),) * len(texts["changes"]),) * 2,
            (40, 40, 12, 8),
            row_heads=False,
            fillable=True,
        ),
    ]


def _by_hand(s, fields) -> Table:
    """Who assessed what, when, in two columns of fields; the plan's own date stands above."""
    given = {"Activity": f"{', '.join(s.advice.about)}: {s.title}", "Version": s.version}
    pairs = [(cell(f), cell(given.get(f, ""))) for f in fields]
    half = (len(pairs) + 1) // 2
    rows = tuple(
        (*a, *b) for a, b in zip(pairs[:half], [*pairs[half:], ((), ())][:half], strict=True)
    )
    heads = ("Field", "Entry", "Field", "Entry")
    return Table("This assessment", heads, rows, (14, 46, 14, 26), fillable=True)


def _scale(s) -> str:
    texts = s.lists["assessment"]
    return texts["scale"].format(words=", ".join(s.scale)) if s.scale else texts["no scale"]


def hazards(s) -> Table:
    """Hazards and controls, the gravest first; a control told under an earlier hazard is named by
    its number there.
    """
    told = Told(s)
    rating = tuple(ticked(word) for word in s.scale)
    rows = tuple(
        (
            cell(f"{n}. {_called(h)}", f"{h.who}. {h.because}"),
            tuple(told.controls(n, h.controls)),
            rating,
            rating,
            *((),) * 4,
        )
        for n, h in enumerate(in_order(s), 1)
    )
    return Table("Hazards and controls", HEADS, rows, WIDTHS, fillable=True)


def _called(hazard: Hazard) -> str:
    local = "Local: " if hazard.local and not hazard.text.startswith("Local") else ""
    return f"{local}{hazard.text}{'' if hazard.sure else ' (may exist)'}"


def in_order(s) -> list[Hazard]:
    """Hazards with a broken control first, then with one not known; those by the phases of a day,
    the gravest of each first.
    """
    named = [rule for phase in s.lists["phases"] for rule in phase["hazards"]]
    place = {rule: n for n, rule in enumerate(named)}

    def rank(hazard: Hazard) -> tuple[int, bool, int]:
        stand = {control.standing for control in hazard.controls}
        worst = next((n for n, w in enumerate(GRAVELY) if w in stand), len(GRAVELY))
        return worst, not hazard.sure, place.get(hazard.rule, len(place))

    return sorted(s.advice.hazards, key=rank)


class Told:
    """The controls told so far, each by its number, and the questions already asked."""

    def __init__(self, s) -> None:
        self.values = {fact.id: fact.value for fact in s.advice.facts}
        self.numbers: dict[str, str] = {}
        self.asked: dict[str, str] = {}

    def controls(self, hazard: int, controls: tuple[Control, ...]) -> Iterator[str]:
        """One line for each standing, and one for what was told before."""
        lines: dict[str, list[str]] = {}
        before: list[str] = []
        order = list(STANDS)
        printed = [c for c in controls if c.standing in ON_PAPER]
        for control in sorted(printed, key=lambda c: order.index(c.standing)):
            number = self.numbers.get(control.title)
            if number is not None:
                before.append(number)
                continue
            number = f"{hazard}.{1 + sum(map(len, lines.values()))}"
            self.numbers[control.title] = number
            said = f"{number} {control.title.rstrip('.')}{self._by(control, number)}"
            lines.setdefault(control.standing, []).append(said)
        for standing, texts in lines.items():
            mark = STANDS[standing]
            yield f"{mark}{'' if ':' in mark else ':'} {'. '.join(texts)}."
        if before:
            yield f"Also {', '.join(dict.fromkeys(before))}."

    def _by(self, control: Control, number: str) -> str:
        """What a standing rests on: the facts, or the question that would settle it."""
        facts = "; ".join(self._fact(fact) for fact in control.facts[:MOST_FACTS])
        if control.standing == "not known":
            asks = [self._ask(ask, number) for ask in control.ask[:1]]
            return f" \u2013 {asks[0] if asks else facts}?"
        if control.standing == "broken":
            return f" \u2013 {facts}"
        return f" \u2013 {facts}" if control.standing == "met" and facts else ""

    def _fact(self, fact: str) -> str:
        value = self.values.get(fact, "")
        return f"{fact.replace('.', ' ')} {value}".strip()

    def _ask(self, ask: str, number: str) -> str:
        """A question, once; later the number of the control that asks it."""
        first = self.asked.setdefault(ask, number)
        return ask.rstrip("?") if first == number else f"as {first}"
