"""The sweep of single facts: in each sound plan one fact is made another, and what answers is kept.

`python tests/flips/sweep.py` works it all out anew, writes sweep.csv, and shows every fact made
worse that nothing answers and for which sweep-silent.yaml has no reason. A row of the table is one
flip, a column one plan: the gravest thing that is said now and was not said before, and by which
rules. `worse` is by the vocabulary's order of caution: yes, no, or `-` where it has none.
"""

from __future__ import annotations

import csv
import fnmatch
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import yaml
from msgspec.structs import replace

from advisor.advise import Advisor
from advisor.facts.values import Fact, show_value
from advisor.facts.vocabulary import Attribute, Value
from advisor.facts.world import KNOWN
from advisor.faults import Place
from advisor.load.case import Case
from advisor.load.folder import find_folder
from advisor.model.advice import Advice
from advisor.model.thresholds import highest, thresholds

HERE = Path(__file__).parent
TABLE, SILENT = HERE / "sweep.csv", HERE / "sweep-silent.yaml"
# The column of the table, and the sound plan it starts from.
PLANS = {
    "bolts": "plan/arrival-left.yaml",
    "natural": "plan/all-natural.yaml",
    "mine": "plan/mine-timber-and-rail.yaml",
    "peers": "plan/four-peers.yaml",
}
# From the gravest down. `lesser` is advice to be weighed (should, caution, a question that does not
# block); in `figure` and `nothing` no line is new, in `figure` a number or its wording changes.
GRADES = (
    *("stop", "contradiction", "first", "must", "danger", "question"),
    *("go", "decision", "lesser", "figure", "nothing"),
)
QUIET = GRADES[GRADES.index("figure") :]
NAMED = 2  # so many rules are named in a cell of the table


@dataclass(frozen=True)
class Flip:
    """One fact of a plan, set to another value; `worse` is 'yes', 'no' or '-'."""

    plan: str
    entity: str
    attribute: Attribute
    value: Value
    worse: str

    @property
    def row(self) -> tuple[str, str, str]:
        """What its row in the table is called."""
        return self.fact, show_value(self.attribute, self.value), self.worse

    @property
    def fact(self) -> str:
        return f"{self.entity}.{self.attribute.name}"


@cache
def program() -> Advisor:
    """The advisor by its first engine alone: that both agree is for other tests to show."""
    advisor = Advisor()
    advisor.engines = [advisor.plain]
    return advisor


@cache
def plan(name: str) -> Case:
    return program().read(find_folder("cases") / PLANS[name])


@cache
def before(name: str) -> Advice:
    return program().advise(plan(name))


@cache
def compared() -> dict[str, set[int]]:
    return thresholds(program().base.rules)


def flips(name: str) -> Iterator[Flip]:
    """Every flip of a plan: of what it states to all else, of what it leaves out to the worst."""
    case, vocabulary = plan(name), program().base.vocabulary
    for kind, things in sorted(case.names.items()):
        for entity in sorted(things):
            for attribute in vocabulary.entities[kind].attributes.values():
                if attribute.derived or not (attribute.is_choice or attribute.is_number):
                    continue
                fact = case.facts.get((entity, attribute.key))
                of = _choices if attribute.is_choice else _numbers
                for value, worse in of(attribute, fact.value if fact else None):
                    yield Flip(name, entity, attribute, value, worse)


def _choices(attribute: Attribute, held: int | None) -> Iterator[tuple[int, str]]:
    grades = attribute.ranks or (0,) * len(attribute.values)
    now = None if held is None else max(g for i, g in enumerate(grades) if held >> i & 1)
    for index, grade in enumerate(grades):
        if (held == 1 << index) or (now is None and grade < max(grades)):
            continue
        worse = "-" if not attribute.ranks else "yes" if now is None or grade > now else "no"
        yield 1 << index, worse


def _numbers(attribute: Attribute, held: tuple | None) -> Iterator[tuple[tuple[int, int], str]]:
    """At and just beyond every figure that a rule compares it with, at the ends of its range, and
    at half and double what it was.
    """
    turns = {
        _beside(attribute, t, d) for t in compared().get(attribute.key, ()) for d in (-1, 0, 1)
    }
    wanted = {attribute.low, highest(attribute), *turns}
    if held is not None:
        wanted |= {held[0] // 2, held[1] * 2} if attribute.type == "number" else set()
    for steps in sorted(wanted):
        if not attribute.low <= steps <= highest(attribute) or (held and steps in held):
            continue
        worse = _worse(attribute, held, steps)
        if worse != "no" or (held is not None and steps in turns):
            yield (steps, steps), worse


def _beside(attribute: Attribute, steps: int, way: int) -> int:
    """The nearest number on one side that is shown otherwise than the one given."""
    shown, by = show_value(attribute, (steps, steps)), way
    while way and show_value(attribute, (steps + by, steps + by)) == shown:
        by *= 10
    return steps + by


def _worse(attribute: Attribute, held: tuple | None, steps: int) -> str:
    if not attribute.worse:
        return "-"
    if held is None:
        best = attribute.low if attribute.worse == "more" else highest(attribute)
        return "no" if steps == best else "yes"
    return "yes" if (steps > held[1] if attribute.worse == "more" else steps < held[0]) else "no"


def advised(flip: Flip) -> Advice:
    """The advice on a plan with one fact flipped."""
    case, shown = plan(flip.plan), flip.row[1]
    place = Place("flip", 1, 1)
    fact = Fact(flip.entity, flip.attribute.key, KNOWN, flip.value, shown, "flip", place)
    facts = {**case.facts, (flip.entity, flip.attribute.key): fact}
    return program().advise(replace(case, facts=facts))


def answer(flip: Flip) -> str:
    """The gravest thing said only after the flip, and by which rules: a cell of the table. What
    a rule said of one anchor and now says of another is not new.
    """
    old, new = _said(before(flip.plan)), _said(advised(flip))
    for grade in GRADES[:-1]:
        found = sorted({name for name, _ in Counter(new[grade]) - Counter(old[grade])})
        if found:
            return " ".join([grade, *found[:NAMED], *(["…"] if len(found) > NAMED else [])])
    return "nothing"


def _said(advice: Advice) -> dict[str, list[tuple[str, str]]]:
    """{grade: [(the rule, fact or decision it comes of, what tells it from others of the same)]}"""
    musts, dangers = advice.must("must"), [w for w in advice.warnings if w.severity == "danger"]
    items = (*advice.requirements, *advice.warnings, *advice.refer, *advice.hazards)
    return {
        "stop": [(s.rule, "") for s in advice.stops],
        "contradiction": [(c.rule, "") for c in advice.contradictions],
        "first": [(f.rule, "") for f in advice.first],
        "must": [(m.rule, "") for m in musts],
        "danger": [(w.rule, "") for w in dangers],
        "question": [(q.fact, "") for q in (*advice.blocking, *advice.checks)],
        "go": [(advice.decisions["go"].choice, "")],
        "decision": [(name, f"{d.words()}, {d.standing}") for name, d in advice.choices.items()],
        "lesser": [
            *((i.rule, "") for i in items if i not in musts and i not in dangers),
            *((v.id, v.verdict) for v in advice.items),
            *((q.fact, "") for q in advice.open_questions),
        ],
        "figure": [
            *((n.calculation, n.text) for n in advice.calculations),
            *((i.rule, i.text) for i in items),
        ],
    }


@dataclass(frozen=True)
class Reason:
    """Why some flips for the worse may stay without an answer."""

    facts: tuple[str, ...]
    values: tuple[str, ...]
    plans: tuple[str, ...]
    because: str

    def covers(self, plan: str, fact: str, value: str) -> bool:
        return (
            plan in (self.plans or (plan,))
            and any(fnmatch.fnmatchcase(fact, pattern) for pattern in self.facts)
            and value in (self.values or (value,))
        )


@cache
def reasons() -> tuple[Reason, ...]:
    rows = yaml.safe_load(SILENT.read_text("utf-8"))
    return tuple(
        Reason(
            *(tuple(str(v) for v in row.get(key, ())) for key in ("facts", "values", "plans")),
            row["because"],
        )
        for row in rows
    )


def unexplained(plan: str, fact: str, value: str, worse: str, cell: str) -> bool:
    """Whether it is a flip for the worse that nothing answers, and nobody has said why."""
    quiet = worse == "yes" and cell.split(" ")[0] in QUIET
    return quiet and not any(r.covers(plan, fact, value) for r in reasons())


def kept() -> dict[tuple[str, str, str], dict[str, str]]:
    """The table as it is kept: {row: {plan: cell}}."""
    with TABLE.open(encoding="utf-8", newline="") as file:
        rows = csv.DictReader(file)
        return {(r["fact"], r["value"], r["worse"]): {p: r[p] for p in PLANS if r[p]} for r in rows}


def main() -> int:
    table: dict[tuple[str, str, str], dict[str, str]] = {}
    for name in PLANS:
        for flip in flips(name):
            table.setdefault(flip.row, {})[name] = answer(flip)
    with TABLE.open("w", encoding="utf-8", newline="") as file:
        out = csv.writer(file, lineterminator="\n")
        out.writerow(["fact", "value", "worse", *PLANS])
        for row, cells in sorted(table.items(), key=lambda item: item[0][0]):
            out.writerow([*row, *(cells.get(name, "") for name in PLANS)])
    count = 0
    for row, cells in sorted(table.items()):
        for name, cell in cells.items():
            if unexplained(name, *row, cell):
                count += 1
                print(name, *row[:2], cell, sep=" | ")
    print(f"{sum(map(len, table.values()))} flips, {count} for the worse without an answer")
    return 1 if count else 0


if __name__ == "__main__":
    sys.exit(main())
