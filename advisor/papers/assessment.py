"""The risk assessment in five steps: hazards with who and how, controls with how they stand, and
places for ratings and further action, which are for people.
"""

from __future__ import annotations

from collections.abc import Iterator

from advisor.model import names
from advisor.model.advice import Control, Hazard
from advisor.papers.blocks import Heading, Page, Para, Table, cell, place, ticked
from advisor.papers.outline import assumed_first

HEADS = (
    "Hazard; who, and how",
    "Controls, and how each stands",
    "Before",
    "After",
    "Further action",
)
# Narrow where there are no words to tick.
WIDTHS, NARROW = (27, 48, 6, 6, 13), (26, 52, 4.5, 4.5, 13)
ACROSS, FIELDS, NAMES = 3, ("Field", "Entry") * 3, (2, 4)
ACTION = (place("What"), place("By whom"), f"{place('By when')} {ticked('done')}")
# The gravest standing first; how each begins.
STANDS = {
    "broken": "BROKEN",
    "not known": "NOT KNOWN: check",
    "met": "Met by",
    "to do": "On the day",
    "rehearse": "Rehearse",
    "not asked for": "Not asked for on these facts",
}
ON_PAPER = tuple(list(STANDS)[:-1])  # the rest stands in the register
GRAVELY = ("broken", "not known")
TO_COME = ("to do", "rehearse")
MOST_FACTS = 2


def assessment(s) -> list:
    """The assessment on wide pages; the boxes are left empty."""
    texts = s.lists["assessment"]
    blocks: list[object] = [Page(wide=True), Heading(2, s.lists["titles"]["assessment"])]
    blocks += assumed_first(s.advice)
    blocks.append(_by_hand(s, texts))
    if remarks := s.view.case.facts.get(names.REMARKS):
        blocks.append(Para(texts["noted"].format(words=remarks.text)))
    blocks += [Para(texts["intro"]), Para(_scale(s))]
    table = hazards(s)
    blocks += [table] if table.rows else [Para("No hazard follows from the facts given.")]
    return [
        *blocks,
        Heading(3, texts["step 4"]),
        Para(texts["in effect"]),
        Para(texts["step 5"]),
        Table(
            "Changes on the day",
            tuple(texts["changes"]),
            (((),) * len(texts["changes"]),) * 2,
            (40, 40, 12, 8),
            row_heads=False,
            fillable=True,
        ),
    ]


def _by_hand(s, texts) -> Table:
    """Who assessed what, when, in three columns of fields; what the plan tells is filled in."""
    told = _told(s, texts)
    pairs = [(cell(f["field"]), cell(told.get(f.get("told", ""), ""))) for f in texts["record"]]
    pairs += [((), ())] * (-len(pairs) % ACROSS)
    rows = tuple(
        tuple(part for pair in pairs[n : n + ACROSS] for part in pair)
        for n in range(0, len(pairs), ACROSS)
    )
    return Table(
        "This assessment", FIELDS, rows, (11, 31, 10, 22, 11, 15), fillable=True, names=NAMES
    )


def _told(s, texts) -> dict[str, str]:
    """What the plan tells for the fields at the head."""
    size, novices, children = (s.view.told(*ref) for ref in names.GROUP_TOLD[:3])
    return {
        "place": s.title,
        "people": texts["people"].format(size=size, novices=novices, children=children),
        "guidance": texts["guidance"].format(guidance=s.guidance) if s.guidance else "",
        "emergency": texts["emergency"].format(time=s.view.told(*names.CALL_OUT_TOLD[0])),
        "version": s.version,
    }


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
            cell(f"{n}. {_called(h)}", f"{_who(h)}. {h.because}"),
            tuple(told.controls(n, h.controls)),
            rating,
            rating,
            ACTION,
        )
        for n, h in enumerate(in_order(s), 1)
    )
    widths = WIDTHS if s.scale else NARROW
    return Table("Hazards and controls", HEADS, rows, widths, fillable=True)


def _called(hazard: Hazard) -> str:
    local = "Local: " if hazard.local and not hazard.text.startswith("Local") else ""
    return f"{local}{hazard.text}"


def _who(hazard: Hazard) -> str:
    """Who could be harmed and how; of what may exist that is said first."""
    return hazard.who if hazard.sure else f"May exist: {hazard.who}"


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
    """The controls told so far, each by its number."""

    def __init__(self, s) -> None:
        self.values = {fact.id: fact.value for fact in s.advice.facts}
        self.name = s.view.name
        self.numbers: dict[str, str] = {}

    def controls(self, hazard: int, controls: tuple[Control, ...]) -> Iterator[str]:
        """What is broken, not known and met, a line each; what is left to do, and what was told
        before, in one.
        """
        told: dict[str, list[str]] = {}
        before: dict[str, None] = {}
        order = list(STANDS)
        printed = [c for c in controls if c.standing in ON_PAPER]
        for control in sorted(printed, key=lambda c: order.index(c.standing)):
            number = self.numbers.get(control.title)
            if number is not None:
                grave = control.standing in GRAVELY
                before[f"{number} ({control.standing})" if grave else number] = None
                continue
            number = f"{hazard}.{1 + sum(map(len, told.values()))}"
            self.numbers[control.title] = number
            said = f"{number} {control.title.rstrip('.')}{self._by(control)}"
            told.setdefault(control.standing, []).append(said)
        lines = {standing: _marked(standing, said) for standing, said in told.items()}
        yield from (line for standing, line in lines.items() if standing not in TO_COME)
        rest = [line for standing, line in lines.items() if standing in TO_COME]
        rest += [f"Also {', '.join(before)}."] if before else []
        if rest:
            yield " ".join(rest)

    def _by(self, control: Control) -> str:
        """What a standing rests on: the facts, or what would settle it."""
        if control.standing == "not known":
            return f" \u2013 {' '.join(self._fact(control.facts[0]))}?"
        if control.standing not in ("broken", "met") or not control.facts:
            return ""
        told = [self._fact(fact) for fact in control.facts[:MOST_FACTS]]
        first, rest = told[0], [(name, said) for name, said in told[1:]]
        same = [said if name == first[0] else f"{name} {said}" for name, said in rest]
        return f" \u2013 {', '.join([' '.join(first), *same])}"

    def _fact(self, fact: str) -> tuple[str, str]:
        """(whose, what and how it is) of a fact."""
        whose, _, what = fact.partition(".")
        told = f"{what} {self.values.get(fact, '')}".strip()
        return self.name(whose).removeprefix("the "), told


def _marked(standing: str, controls: list[str]) -> str:
    """The controls of one standing behind its mark."""
    mark = STANDS[standing]
    said = " ".join(f"{text}{'' if text.endswith('?') else '.'}" for text in controls)
    return f"{mark}{'' if ':' in mark else ':'} {said}"
