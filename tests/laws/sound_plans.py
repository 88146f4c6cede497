"""Sound plans, and what is grave in them when facts are left out, doubted or made worse."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from random import Random

from facts_strategy import advisor, copy, state, values_of, worked_cases
from msgspec.structs import replace
from outcomes import result

from advisor.facts.vocabulary import AT_HOME, Attribute
from advisor.load.case import Case
from advisor.model.advice import CLEAR, Advice


@cache
def sound_plans() -> tuple[Case, ...]:
    """The worked plans that come to 'nothing found that forbids it'."""
    plans = [c for c in worked_cases() if "plan" in c.topics and "incident" not in c.topics]
    return tuple(c for c in plans if advised(c).decisions["go"].choice == CLEAR)


def advised(case: Case) -> Advice:
    """The advice of a case, by the compiled engine alone."""
    program = advisor()
    return program.tell(case, *program.run(case, [program.plain]))


def at_home(case: Case) -> Case:
    return replace(copy(case), at=AT_HOME)


def attribute(ref) -> Attribute:
    return advisor().base.vocabulary.by_key[ref[1]]


def name(ref) -> str:
    """A fact as the advice names it."""
    return f"{ref[0]}.{attribute(ref).name}"


def of_the_spot(case: Case) -> list:
    """Its stated facts that are only seen on the spot."""
    return sorted(ref for ref in case.facts if attribute(ref).on_the_spot)


def left_open(case: Case, refs, random: Random) -> Case:
    """The case with these facts left out, or some of them said with a question mark."""
    opened = copy(case)
    for ref in refs:
        said = opened.facts.pop(ref).text
        if random.randrange(4) == 0 and " or " not in said and " to " not in said:
            state(opened, ref[0], attribute(ref), f"{said}?")
    return opened


def answered(case: Case, ref, raw) -> Case:
    """The case with one fact said otherwise."""
    changed = copy(case)
    state(changed, ref[0], attribute(ref), raw)
    return changed


def values(case: Case, ref) -> list:
    """Every single value worth trying for a fact, as written."""
    return values_of(attribute(ref), case.names)


def grave(case: Case) -> frozenset:
    """The stops, the `first` and the musts that are sure."""
    found = result(case)
    return frozenset(found.stops) | {
        item for item in found.sure if item[0] == "first" or item[0::3] == ("require", "must")
    }


def worse_answers(case: Case, ref, others) -> Iterator[tuple[Case, Case]]:
    """(case with a fact answered otherwise, the same with it as it was): alone, together with the
    same fact of every thing of its kind, and beside one other answer.
    """
    for raw in values(case, ref):
        yield answered(case, ref, raw), case
    alike = [other for other in case.facts if other[1] == ref[1] and other != ref]
    for raw in values(case, ref) if alike else ():
        beside = case
        for other in alike:
            beside = answered(beside, other, raw)
        yield answered(beside, ref, raw), beside
    for other in others:
        for second in values(case, other):
            beside = answered(case, other, second)
            for raw in values(case, ref):
                yield answered(beside, ref, raw), beside
