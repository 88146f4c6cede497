"""What local guidance may not say: it tightens, so what could only loosen is refused at its place.

A fact of the day is for whoever is there; what is shown sound, passed or in the stead of a built-in
step is for the built-in rules.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from typing import Any

from advisor.facts.quantity import NotAQuantity
from advisor.facts.values import Fact
from advisor.facts.vocabulary import Attribute, Vocabulary
from advisor.facts.world import KNOWN
from advisor.faults import Fault
from advisor.load.figures import kind_of, si
from advisor.load.tree import Document
from advisor.model.base import Base
from advisor.model.calculation import Figure
from advisor.model.effects import Derive, Effect, Refer, Step, Verdict
from advisor.model.rule import Rule

SOURCE, AUTHORITY = "local-guidance", "local rule"
PASSED = ("keep", "keep and watch")
# How far a local figure may lie from the base's, outside the base's own range, before it is taken
# for a slip.
WARMTH, DEGREES, TIMES = "temperature", 30, 2


def rule_faults(document: Document, rules: list[Rule], base: Base) -> Iterator[Fault]:
    """Faults for what rules of the file would loosen or borrow. `rules` are all those of it."""
    for index, (rule, spec) in enumerate(zip(rules, document.data["rules"], strict=True)):
        path: list[str | int] = ["rules", index]
        if not rule.id.startswith("local."):
            yield Fault(rule.place, f"the id '{rule.id}' of a local rule must begin with 'local.'.")
        if rule.sources != (SOURCE,):
            yield Fault(
                document.place([*path, "source"]),
                f"the source of a local rule is '{SOURCE}'; name others in its reason.",
            )
        if spec.get("authority", AUTHORITY) != AUTHORITY:
            yield Fault(
                document.place([*path, "authority"]),
                f"the authority of a local rule is '{AUTHORITY}'; leave it out, or write that.",
            )
        several = isinstance(spec["then"], list)
        for number, effect in enumerate(rule.effects):
            if message := _loosens(effect, base.vocabulary):
                where = [*path, "then", *([number] if several else [])]
                yield Fault(document.place(where), message)


def _loosens(effect: Effect, vocabulary: Vocabulary) -> str:
    """What is wrong with an effect; '' where it can only tighten."""
    if isinstance(effect, Derive):
        attribute = vocabulary.by_key[effect.ref.key]
        if not attribute.ranks or attribute.ranks[effect.value] < max(attribute.ranks):
            return (
                f"local guidance may derive nothing but the worst of '{effect.ref.key}'; what is"
                " better only the built-in rules conclude."
            )
    if isinstance(effect, Refer) and effect.decision:
        return (
            "local guidance may not take a decision out of the plan; leave 'decision' out, and say"
            " in the text what is to be asked."
        )
    if isinstance(effect, Step) and effect.instead_of:
        return (
            "local guidance may not put a step 'instead of' a built-in one; put it 'after' or"
            " 'before'."
        )
    if isinstance(effect, Verdict) and effect.give in PASSED:
        return (
            f"local guidance may not give the verdict '{effect.give}'; kit passes by the built-in"
            " rules."
        )
    return ""


def fact_fault(attribute: Attribute, fact: Fact | None, vocabulary: Vocabulary) -> str:
    """What is wrong with a fact that local guidance would lay down; '' where it may."""
    if not attribute.laid_down:
        may = ", ".join(key for key, a in vocabulary.by_key.items() if a.laid_down)
        return (
            f"'{attribute.key}' is a fact of the day, for whoever is there to state; local guidance"
            f" may lay down {may}, and rules of its own."
        )
    if fact is None or fact.state != KNOWN or _several(attribute, fact.value):
        return f"lay down one value of '{attribute.key}', and no range, choice or doubt."
    return ""


def holds_facts(vocabulary: Vocabulary) -> list[str]:
    """The entities of which it may lay down facts."""
    return list(
        dict.fromkeys(k.partition(".")[0] for k, a in vocabulary.by_key.items() if a.laid_down)
    )


DATE = re.compile(r"(\d{4})(-\d{2})?(-\d{2})?")


def date_fault(written: object) -> str:
    """What is wrong with the date of a file; '' where it is one."""
    found = DATE.fullmatch(str(written)) if str(written).isascii() else None
    if found:
        try:
            year, month, day = (int((part or "-01").lstrip("-")) for part in found.groups())
            date(year, month, day)
            return ""
        except ValueError:
            pass
    return "write the date of the guidance as 2026, 2026-03 or 2026-03-01."


def _several(attribute: Attribute, value: Any) -> bool:
    return bool(value[0] != value[1] if attribute.is_number else value & (value - 1))


def fitting(written: object, figure: Figure) -> float:
    """A local figure in SI units; raises NotAQuantity where it is of another kind than the base's,
    of another sign, or far from it.
    """
    value, shown = _one_number(written, figure), figure.shown
    if kind_of(written) != kind_of(shown):
        raise NotAQuantity(
            f"'{written}' is not a figure of the kind of '{shown}', which the base has; write one"
            " with such a unit."
        )
    if not _near(value, figure):
        raise NotAQuantity(
            f"'{written}' is too far from '{shown}', which the base has, to be meant; look at the"
            " sign, the number and the unit."
        )
    return value


def _one_number(written: object, figure: Figure) -> float:
    try:
        return si(written)
    except NotAQuantity:
        raise NotAQuantity(
            f"'{written}' is not one number with a unit known here; write a single figure, such as"
            f" '{figure.shown}'."
        ) from None


def _near(value: float, figure: Figure) -> bool:
    own = figure.value
    assert own is not None, figure.name  # local guidance sets single figures only
    if figure.limits and si(figure.limits[0]) <= value <= si(figure.limits[1]):
        return True
    if kind_of(figure.shown) == WARMTH:  # degrees have no natural nought
        return abs(value - own) <= DEGREES
    if kind_of(figure.shown) == "ratio" and (value - 1) * (own - 1) < 0:
        return False  # a share of one stays one
    return value == own or (value * own > 0 and min(value / own, own / value) * TIMES >= 1)
