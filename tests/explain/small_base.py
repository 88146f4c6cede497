"""A rule base small enough to try everything, and brute-force searches that share no code with the
program's own.
"""

from __future__ import annotations

from functools import cache
from itertools import combinations, product
from tempfile import TemporaryDirectory

from depth import kept
from small_rules import ANCHOR, SOUND, base_files, write

from advisor.advise import Advisor, Run
from advisor.explain.variants import change_of, with_changes
from advisor.load.case import build_case, read_case
from advisor.load.folder import files_of, find_folder
from advisor.load.tree import parse_document
from advisor.model.advice import Advice

SIDE_AND_HEIGHT = """  side:
    type: choice
    values: [left, right]
    asks: "On which side is {it}?"
    help: Seen facing the drop.
    change: can be changed
  height:
    type: number
    unit: m
    range: [0, 4 m]
    worse: less
    asks: "How high is {it}?"
    help: Above the lip.
    change: can be changed
"""
HEAD = "    because: So it is.\n    source: practice\n    status: common practice\n"
RULES = SOUND + "".join(
    f"  - id: small.{name}\n    title: {name} it is\n{body}{HEAD}"
    for name, body in {
        "out": (
            "    for: {a: anchor}\n    if: {a.sound: no}\n    then: {rule out: {decision: ladder"
            " anchor, option: a}}\n"
        ),
        "left": (
            "    for: {a: anchor}\n    if: {a.side: left, pitch.water: {as bad as: drips}}\n   "
            " then: {prefer: {decision: ladder anchor, option: a, strength: should, concern:"
            " soundness}}\n"
        ),
        "high": (
            "    for: {a: anchor}\n    if: {a.height: {at least: 1.5 m}}\n    then: {prefer:"
            " {decision: ladder anchor, option: a, strength: may, concern: convenience}}\n"
        ),
        "hitch": (
            "    if: {pitch.depth: {at least: 6 m}}\n    then: {prefer: {decision: tether, option:"
            " hitch, strength: should, concern: soundness}}\n"
        ),
        "cord": (
            "    if: {pitch.depth: {below: 12 m}, pitch.water: dry}\n    then: {disfavour:"
            " {decision: tether, option: cord, strength: may, concern: convenience}}\n"
        ),
        "spray": (
            "    if: {pitch.water: {as bad as: spray}, pitch.depth: {above: 10 m}}\n    then:"
            " {stop: Wait for less water.}\n"
        ),
        "deep": "    if: {pitch.depth: {above: 20 m}}\n    then: {stop: It is too deep.}\n",
    }.items()
)
FILES = base_files(RULES, ANCHOR + SIDE_AND_HEIGHT)
CASES = (
    (
        "{pitch: {depth: 8 m, water: dry}, anchor one: {moves: no, side: left, height: 1 m}, anchor"
        " two: {moves: no, side: right, height: 2 m}}"
    ),
    (
        "{pitch: {depth: 12 m, water: spray}, anchor one: {moves: no, side: left}, anchor two:"
        " {side: left, height: 2 m}}"
    ),
    (
        "{pitch: {depth: 25 m}, anchor one: {moves: yes}, anchor two: {moves: yes, height: about"
        " 1.5 m}}"
    ),
    "{pitch: {water: drips?}, anchor one: {moves: no}}",
    "{anchor one: {side: left}, anchor two: {moves: no}}",
)


@cache
def small() -> Advisor:
    """The small rule base, loaded."""
    with TemporaryDirectory() as place:
        return Advisor(write(place, FILES))


@cache
def program() -> Advisor:
    """The real rule base, loaded."""
    return Advisor()


@cache
def shipped() -> tuple:
    """Every worked case, read."""
    return tuple(read_case(p, program().base) for p in files_of(find_folder("cases")))


def advised(number: int) -> Advice:
    """The advice on a worked case."""
    return ran(number).advice


@kept
def ran(number: int) -> Run:
    """The run of a worked case."""
    return program().answer(shipped()[number])


def case_of(advisor, given: str):
    """A case from its 'given' in flow form."""
    return build_case(
        parse_document(f"about: [plan]\ngiven: {given}\n".encode(), "small case"), advisor.base
    )


def case_named(title_part: str):
    """The worked case with these words in its title."""
    return next(c for c in shipped() if title_part in c.title)


def outcomes(advisor, case) -> dict:
    """What the whole program says, read off its advice: decisions, stops, verdicts."""
    advice = advisor.tell(case, *advisor.run(case, [advisor.plain]))
    return outcomes_of(advice)


def outcomes_of(advice) -> dict:
    """The same from an advice; several equal options stand as a tuple."""
    found = {
        ("decision", n): d.choice or d.equal or d.standing
        for n, d in advice.decisions.items()
        if n != "go"
    }
    found.update({("item", i.id): i.verdict for i in advice.items})
    found["stops"] = frozenset(s.id for s in advice.stops)
    return found


def every_change(advisor, case, limits) -> list:
    """Every single change, with the values of numbers listed by hand in `limits` ({key: steps})."""
    world, found = advisor.world(case), []
    for attribute in advisor.base.vocabulary.testable:
        for entity in world.columns[attribute.key] if not attribute.derived else ():
            values = (
                [1 << i for i in range(len(attribute.values))]
                if attribute.is_choice
                else [(s, s) for s in limits[attribute.key]]
            )
            fact = case.facts.get((entity, attribute.key))
            found += [
                change_of(advisor.base, attribute, entity, v)
                for v in values
                if not (fact and fact.state == 2 and fact.value == v)
            ]
    return found


def brute_force(advisor, case, changes, wanted, size) -> set:
    """Minimal sets of (entity, key, value) that make `wanted(outcomes)` true, tried one by one on
    the whole program.
    """
    found = set()
    for count in range(1, size + 1):
        for chosen in combinations(changes, count):
            names = frozenset((c.entity, c.key, c.value) for c in chosen)
            if len({c.fact for c in chosen}) < count or any(f <= names for f in found):
                continue
            if wanted(outcomes(advisor, with_changes(case, advisor.base, chosen))):
                found.add(names)
    return found


def completions(advisor, case, limits):
    """Every way of settling what a small case leaves unsettled."""
    world, spots = advisor.world(case), []
    for attribute in advisor.base.vocabulary.testable:
        for entity, value in world.columns[attribute.key].items() if not attribute.derived else ():
            if attribute.is_choice:
                options = [1 << i for i in range(len(attribute.values)) if value >> i & 1]
            else:
                options = [
                    (s, s)
                    for s in sorted({*limits[attribute.key], *value})
                    if value[0] <= s <= value[1]
                ]
            spots.append([change_of(advisor.base, attribute, entity, v) for v in options])
    for chosen in product(*spots):
        yield with_changes(case, advisor.base, chosen)


BESIDE = {
    "pitch.depth": tuple(10000 * m + d for m in (6, 10, 12, 20) for d in (-1000, 0, 1000)),
    "anchor.height": (14000, 15000, 16000),
}
"""The figures of the small rules in steps of 0.1 mm, and 0.1 m to either side."""
ENDS = {
    key: (*steps, *{"pitch.depth": (0, 300000), "anchor.height": (0, 40000)}[key])
    for key, steps in BESIDE.items()
}
