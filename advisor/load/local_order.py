"""What local guidance may not say together: steps that wait for each other, facts concluded from
themselves, rules that are not there, the same option preferred and ruled out.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from graphlib import CycleError, TopologicalSorter

from msgspec.structs import replace

from advisor.faults import Fault, Faults
from advisor.load.order import ordered, unknown_rules
from advisor.load.tree import Document
from advisor.model.base import Base
from advisor.model.effects import Disfavour, Effect, Prefer, RuleOut, Step
from advisor.model.rule import Rule


def together_faults(document: Document, rules: Sequence[Rule], base: Base) -> Iterator[Fault]:
    """Faults in how the rules of a file stand to each other and to those of the base."""
    unknown = unknown_rules(rules, [rule.id for rule in base.rules])
    yield from unknown
    if not unknown:
        yield from _without_step(rules, base)
        yield from _step_circle(rules, base)
    try:
        ordered((*base.rules, *rules), base.calculations, rules)
    except Faults as error:
        yield from error.faults
    yield from _at_odds(rules)
    yield from _departed_twice(document)


def loose(rules: Sequence[Rule]) -> tuple[Rule, ...]:
    """The rules with steps that name none but each other's, so that they cannot tie built-in steps
    to another order; where they stand among these is found when the built-in ones are in order.
    """
    own = {rule.id for rule in rules}

    def loosened(effect: Effect) -> Effect:
        if not isinstance(effect, Step):
            return effect
        after, before = (
            tuple(other for other in named if other in own)
            for named in (effect.after, effect.before)
        )
        return replace(effect, after=after, before=before)

    return tuple(replace(rule, effects=tuple(map(loosened, rule.effects))) for rule in rules)


def _without_step(rules: Sequence[Rule], base: Base) -> Iterator[Fault]:
    """Steps that are to stand beside a rule which gives no step."""
    steps = {rule.id for rule in (*base.rules, *rules) if rule.gives(Step)}
    for rule in rules:
        for step in rule.gives(Step):
            for other in (*step.after, *step.before):
                if other not in steps:
                    yield Fault(rule.place, f"'{other}' gives no step to stand beside.")


def _step_circle(rules: Sequence[Rule], base: Base) -> Iterator[Fault]:
    """Steps of the file that must each come before the other, by way of built-in ones as well."""
    ahead: dict[str, set[str]] = {}
    for rule in (*base.rules, *rules):
        for step in rule.gives(Step):
            ahead.setdefault(rule.id, set()).update(step.after)
            for other in step.before:
                ahead.setdefault(other, set()).add(rule.id)
    try:
        TopologicalSorter(ahead).prepare()
    except CycleError as error:
        circle = list(error.args[1])
        place = next(rule.place for rule in rules if rule.id in circle)
        words = " before ".join(circle)
        yield Fault(place, f"these steps go round in a circle: {words}; break it.")


def _at_odds(rules: Sequence[Rule]) -> Iterator[Fault]:
    """Options that the file both speaks for and against where the same is so."""
    for n, rule in enumerate(rules):
        for other in rules[: n + 1]:
            if (other.variables, other.condition) != (rule.variables, rule.condition):
                continue
            both = _speaks(rule) & {(*rest, not good) for *rest, good in _speaks(other)}
            for decision, option in sorted({(decision, option) for decision, option, _ in both}):
                yield Fault(
                    rule.place,
                    f"on the same facts the option '{option}' of '{decision}' is both preferred"
                    f" and ruled out or disfavoured, here and at {other.place}; keep one.",
                )


def _speaks(rule: Rule) -> set[tuple[str, str, bool]]:
    """{(decision, option, whether the rule is for it)}"""
    found = {(e.decision, e.option, True) for e in rule.gives(Prefer)}
    against = (*rule.gives(RuleOut), *rule.gives(Disfavour))
    return found | {(e.decision, e.option, False) for e in against}


def _departed_twice(document: Document) -> Iterator[Fault]:
    seen: set[str] = set()
    for n, row in enumerate(document.data.get("departures", ())):
        if row["from"] in seen:
            place = document.place(["departures", n, "from"])
            yield Fault(place, f"'{row['from']}' stands here twice; say one thing of it.")
        seen.add(row["from"])
