"""What changes between two advices: decisions, stops, requirements, warnings, verdicts, steps,
numbers; and for each the rules behind it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import ClassVar, TypeVar

from advisor.decide.names import rule_name
from advisor.model.advice import Advice, Decision, Item, KitVerdict, Number
from advisor.model.base import Base
from advisor.model.record import Record
from advisor.reasons.tree import Tree
from advisor.words import ASSUMING, ONLY_ASSUMED, UNDER_LOCAL

T = TypeVar("T")


class Turned(Record, frozen=True, kw_only=True):
    """The rules and calculations that hold only after, and only before."""

    started: tuple[str, ...] = ()
    stopped: tuple[str, ...] = ()


class DecisionTurned(Turned, frozen=True, kw_only=True):
    """A decision that comes out otherwise, or stands otherwise; None where it was not there."""

    decision: str
    before: str | None
    after: str | None
    standing_before: str | None
    standing_after: str | None
    because: tuple[str, ...]


class VerdictTurned(Turned, frozen=True, kw_only=True):
    """A verdict that comes out otherwise."""

    item: str
    name: str
    before: str | None
    after: str | None


class NumberTurned(Turned, frozen=True, kw_only=True):
    """A result that comes out otherwise; `worked` is the calculation's id."""

    number: str
    before: str | None
    after: str | None
    worked: str


class ListTurned(Record, frozen=True, kw_only=True):
    """Items that came, or came to say something else, and items that went."""

    new: tuple[Item, ...]
    gone: tuple[Item, ...]


class Differences(Record, frozen=True, kw_only=True):
    """All that changes between two advices."""

    left_out_when_empty: ClassVar = (
        "assumed_before",
        "assumed_after",
        "under_local",
    )
    decisions: tuple[DecisionTurned, ...]
    stops: ListTurned
    requirements: ListTurned
    warnings: ListTurned
    refer: ListTurned
    items: tuple[VerdictTurned, ...]
    steps: ListTurned
    numbers: tuple[NumberTurned, ...]
    rules: Turned
    # What each of the two only assumes, in words.
    assumed_before: str = ""
    assumed_after: str = ""
    # Under local guidance its title, and how 'go' turns by what is built in; else empty.
    under_local: str = ""


def differences(base: Base, before: Advice, after: Advice) -> Differences:
    """What changes from one advice to another."""
    steps = (advice.response.steps if advice.response else () for advice in (before, after))
    trees = Tree(base, before), Tree(base, after)
    return Differences(
        decisions=tuple(_decisions(*trees)),
        stops=_list(before.stops, after.stops),
        requirements=_list(before.requirements, after.requirements),
        warnings=_list(before.warnings, after.warnings),
        refer=_list(before.refer, after.refer),
        items=tuple(_items(*trees)),
        steps=_list(*steps),
        numbers=tuple(_numbers(before, after)),
        rules=Turned(**_turned(*({a.id for a in tree if a.holds} for tree in trees))),
        assumed_before=before.assumed_words,
        assumed_after=after.assumed_words,
        under_local=_under_local(before, after),
    )


def _under_local(before: Advice, after: Advice) -> str:
    if not before.local or not after.local:
        return ""
    goes = (a.local.built_in.decisions.get("go") for a in (before, after) if a.local)
    was, is_ = (go.words("nothing") if go else "nothing" for go in goes)
    return UNDER_LOCAL.format(title=before.local.title, before=was, after=is_)


def _pairs(
    before: Mapping[str, T], after: Mapping[str, T]
) -> Iterator[tuple[str, T | None, T | None]]:
    for name in sorted({*before, *after}):
        yield name, before.get(name), after.get(name)


def _turned(old: set[str], new: set[str]) -> dict[str, tuple[str, ...]]:
    return {"started": tuple(sorted(new - old)), "stopped": tuple(sorted(old - new))}


def _rests_on(tree: Tree, conclusion: Decision | KitVerdict | None) -> set[str]:
    """Rules that surely hold among what a conclusion rests on."""
    behind = conclusion.behind if conclusion else ()
    return {applied.id for applied in tree.under(behind) if applied.holds}


def _decisions(before: Tree, after: Tree) -> Iterator[DecisionTurned]:
    for name, b, a in _pairs(before.advice.decisions, after.advice.decisions):
        old, new = (d.words() if d else None for d in (b, a))
        if old != new or (b and a and b.standing != a.standing):
            yield DecisionTurned(
                decision=name,
                before=old,
                after=new,
                standing_before=b.standing if b else None,
                standing_after=a.standing if a else None,
                because=tuple(r.because for r in a.reasons[:3]) if a else (),
                **_turned(_rests_on(before, b), _rests_on(after, a)),
            )


def _items(before: Tree, after: Tree) -> Iterator[VerdictTurned]:
    old_items, new_items = ({i.id: i for i in tree.advice.items} for tree in (before, after))
    for name, b, a in _pairs(old_items, new_items):
        old, new = (i.verdict if i else None for i in (b, a))
        either = a or b
        if old != new and either:
            yield VerdictTurned(
                item=name,
                name=either.item,
                before=old,
                after=new,
                **_turned(_rests_on(before, b), _rests_on(after, a)),
            )


def _result(number: Number | None) -> str | None:
    return number.result.text if number and number.result else None


def _numbers(before: Advice, after: Advice) -> Iterator[NumberTurned]:
    old_ones, new_ones = ({c.title: c for c in a.calculations} for a in (before, after))
    for name, b, a in _pairs(old_ones, new_ones):
        either = a or b
        if _result(b) != _result(a) and either:
            yield NumberTurned(
                number=name,
                before=_result(b),
                after=_result(a),
                started=(a.id,) if a and not b else (),
                stopped=(b.id,) if b and not a else (),
                worked=either.id,
            )


def _list(before: Iterable[Item], after: Iterable[Item]) -> ListTurned:
    old, new = {i.id: i for i in before}, {i.id: i for i in after}
    reworded = (new[i] for i in new if i in old and old[i].text != new[i].text)
    return ListTurned(
        new=(*(new[i] for i in new if i not in old), *reworded),
        gone=tuple(old[i] for i in old if i not in new),
    )


def told(found: Differences, base: Base | None = None) -> list[str]:
    """The differences as plain lines, gravest first; with a rule base each is followed by the
    rules that started or stopped holding.
    One line 'Nothing changes.' when there are none."""
    lines = []
    for when, words in (("before", found.assumed_before), ("after", found.assumed_after)):
        lines += [f"{ONLY_ASSUMED} {when}: {ASSUMING.format(told=words)}"] if words else []
    lines += [found.under_local] if found.under_local else []
    none = len(lines)
    for text, turned in _rows(found):
        lines.append(text)
        if base:
            lines += [f"  now holds: {rule_name(base, r)}" for r in turned.started]
            lines += [f"  holds no longer: {rule_name(base, r)}" for r in turned.stopped]
    return lines if lines[none:] else [*lines, "Nothing changes."]


def _rows(found: Differences) -> Iterator[tuple[str, Turned]]:
    """(line, rules that turned) of every difference."""
    yield from _told_list(found.stops, "stop")
    for d in found.decisions:
        steady = d.standing_before == d.standing_after
        standing = "" if steady else f" ({d.standing_before} -> {d.standing_after})"
        because = f" because {d.because[0]}" if d.before != d.after and d.because else ""
        yield f"{d.decision}: {d.before} -> {d.after}{standing}{because}", d
    for v in found.items:
        yield f"{v.name}: {v.before or 'no verdict'} -> {v.after or 'no verdict'}", v
    for n in found.numbers:
        yield f"{n.number}: {n.before or 'not worked out'} -> {n.after or 'not worked out'}", n
    yield from _told_list(found.requirements, "requirement")
    yield from _told_list(found.warnings, "warning")
    yield from _told_list(found.refer, "referral")
    yield from _told_list(found.steps, "step")


def _told_list(rows: ListTurned, word: str) -> Iterator[tuple[str, Turned]]:
    for item in rows.new:
        text = f"new {word}: {item.text} ({item.because.rstrip('.')})"
        yield text, Turned(started=(item.id,))
    for item in rows.gone:
        yield f"no longer a {word}: {item.text}", Turned(stopped=(item.id,))
