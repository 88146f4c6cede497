"""The order in which advice is told: what to do, stops first; why; what to find out; cautions. One
outline, for every face and for the papers.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple, TypeVar

from msgspec.structs import replace

from advisor.decide.verdicts import VERDICTS
from advisor.facts.vocabulary import AT_THE_HEAD
from advisor.model.advice import (
    CAUTIOUS,
    CLEAR,
    CLEAR_AT_HOME,
    NOT_YET,
    Advice,
    Item,
    KitVerdict,
    OnFile,
    Question,
    Response,
    Step,
)
from advisor.papers.blocks import Bullets, Heading, Line, Paper, Para, lines, shortened
from advisor.papers.checks import AT_A_TIME, CheckLine, check_lines
from advisor.words import (
    ASSUMING,
    BESIDE_LOCAL,
    CALL_IF,
    CONFIRM_USUAL,
    EXPIRED,
    HEADLINES,
    NO_LOCAL,
    ON_FILE,
    ONE_ENGINE,
    SECTIONS,
    STANDINGS,
    USUALLY,
    quoted,
)

I = TypeVar("I", bound="Item | Question")  # noqa: E741
CLEARED = {CLEAR: "clear", CLEAR_AT_HOME: "clear at home"}  # the choice and its headline
UNTITLED = "Advice for a ladder pitch"


class Part(NamedTuple):
    """One part of a response: its name in words.SECTIONS and what stands in it."""

    name: str
    steps: tuple[Step, ...]
    numbered: bool = False


def whole_paper(advice: Advice) -> Paper:
    """The whole advice as a paper of its own."""
    base, title = advice.rule_base, advice.case or UNTITLED
    ending = (
        f"Rule base version {base.version}, SHA-256 {base.sha256}. Checked by:"
        f" {', '.join(advice.checked_by)}."
    )
    return Paper(title, title, (Heading(1, title), *outline(advice), Para(ending)))


def outline(advice: Advice) -> tuple:
    """The whole advice as blocks."""
    kit, do = _kit(advice), _do(advice)
    sections = [
        *(do + kit if "plan" in advice.about else kit + do),  # kit out of use is among the stops
        ("numbers", Bullets(lines(*(n.text for n in advice.calculations)))),
        ("why", Bullets(tuple(_why(advice)))),
        ("find", _find(advice)),
        ("checks", _checks(advice)),
        ("warnings", Bullets(tuple(_reasoned(w, w.severity) for w in advice.warnings))),
        ("refer", Bullets(tuple(map(_reasoned, advice.refer)))),
        ("local", Bullets(_local(advice.local))),
        ("cautions", Bullets(_cautions(advice))),
    ]
    blocks = [*opening(advice)]
    for name, bullets in sections:
        blocks += [Heading(2, SECTIONS[name]), bullets] if bullets.items else []
    return tuple(blocks)


def opening(advice: Advice, most: int | None = None, more: str = "") -> tuple:
    """The first word on the whole, what to do where something has happened, and what stands in
    the way of a plan; of questions at `most` so many, `more` words how many are left.
    """
    blocks: list[object] = [Para(headline(advice), True)]
    for part in sequence(advice.response):  # what has happened comes before all planning
        if part.steps:
            said = lines(*(step.words for step in part.steps))
            blocks += [Heading(2, SECTIONS[part.name]), Bullets(said, part.numbered)]
    for name, bullets in _in_the_way(advice, most, more):
        # The headline itself leads to the first list.
        title = _stop_words(advice) if name == "stops" else SECTIONS[name]
        blocks += [bullets] if len(blocks) == 1 else [Heading(2, title), bullets]
    assumed = looking_ahead(advice)
    blocks += [Heading(2, SECTIONS["on file"]), on_file(advice.on_file)] if advice.on_file else []
    return (
        *blocks,
        *((Heading(2, SECTIONS["assumed"]), Bullets((Line(assumed),))) if assumed else ()),
    )


def on_file(told: OnFile) -> Bullets:
    """What was taken from cards, each fact of them that no longer stands, and how it is usually
    done.
    """
    taken = ON_FILE.format(cards=", ".join(told.cards), entry=told.as_of)
    usual = USUALLY.format(said="; ".join(told.usual))
    gone = (EXPIRED.format(fact=fact) for fact in told.expired)
    return Bullets(lines(taken, *gone, *([usual] if told.usual else ())))


def from_cards(advice: Advice, most: int) -> str:
    """What was taken from cards and how much of it no longer stands, in one sentence; '' where
    none was named.
    """
    told = advice.on_file
    if told is None:
        return ""
    text = ON_FILE.format(cards=", ".join(told.cards), entry=told.as_of)
    left = len(told.expired) - most
    more = f"; and {left} more" if left > 0 else ""
    gone = "; ".join(told.expired[:most]) + more
    text = f"{text} {EXPIRED.format(fact=gone)}" if told.expired else text
    return f"{text} {CONFIRM_USUAL.format(n=len(told.usual))}" if told.usual else text


def looking_ahead(advice: Advice) -> str:
    """What is only assumed, in one sentence; '' where all that was told is known."""
    return ASSUMING.format(told=advice.assumed_words) if advice.assumed else ""


def assumed_first(advice: Advice) -> list[Para]:
    """What a paper begins with where something is only assumed."""
    told = looking_ahead(advice)
    return [Para(f"{SECTIONS['assumed']}: {told}", True)] if told else []


def _stop_words(advice: Advice) -> str:
    return HEADLINES["stop kit" if advice.about == ("kit",) else "stop"]


def _in_the_way(advice: Advice, most: int | None, more: str) -> Iterator[tuple[str, Bullets]]:
    """Stops, contradictions, what is to be done first, and what is to be found out first."""
    for name, items in (
        ("stops", advice.stops),
        ("contradictions", advice.contradictions),
        ("first", advice.first),
    ):
        if items:
            yield name, Bullets(tuple(map(_reasoned, items)), True)
    if built_in(advice.stops):
        return
    if advice.blocking and "plan" in advice.about:
        yield "find first", shortened(_questions(advice.blocking), most, more, True)
    elif only_checks(advice):
        at_a_time = most and AT_A_TIME
        yield "checks", shortened(map(_check, check_lines(advice.checks)), at_a_time, more)


def built_in(items: Iterable[I]) -> list[I]:
    """The items that the built-in rules bring: those of local guidance stand beside what is told,
    and take nothing from it.
    """
    return [item for item in items if not item.local]


def leading(advice: Advice) -> tuple[Question, ...]:
    """The questions that could each stop a plan, which stand first where nothing stops it yet."""
    if built_in(advice.stops) or "plan" not in advice.about:
        return ()
    return advice.blocking


def sequence(response: Response | None) -> Iterator[Part]:
    """A response in the order in which it is told: calls, what not to do, steps."""
    if response:
        due = response.due
        later = tuple(
            replace(call, text=_call_later(call), when="") if call.when else call
            for call in response.calls
            if call not in due
        )
        yield Part("call" if due else "call when", (*due, *later, *response.say))
        yield Part("do_not", response.do_not)
        yield Part("steps", response.steps, True)


def _call_later(call: Step) -> str:
    """When to call, for a call that hangs on something; a local one says in full what it is."""
    return call.words if call.local else CALL_IF.format(when=call.when)


def worst_first(items: tuple[KitVerdict, ...]) -> list[KitVerdict]:
    """Verdicts, the gravest first."""
    return sorted(items, key=lambda item: -VERDICTS.index(item.verdict))


def headline(advice: Advice) -> str:
    """The first word on the whole: stop, not yet, nothing found that forbids it …"""
    if advice.response:
        return f"{advice.response.incident.capitalize()}. {HEADLINES['incident']}"
    if advice.stops:
        return _stop_words(advice)
    if "plan" in advice.about:
        choice = advice.decisions["go"].choice or ""
        if choice not in CAUTIOUS:
            return HEADLINES["elsewhere"].format(choice=choice)
        if advice.contradictions and not (advice.first and advice.contradictions[0].local):
            return HEADLINES["contradiction"]  # built-in words lead to what stands first
        if advice.first:
            return HEADLINES["first"]
        if choice == NOT_YET:
            return HEADLINES["not yet" if advice.blocking else "checks"]
        return HEADLINES[CLEARED[choice]].format(n=len(advice.checks) or "none")
    return HEADLINES["kit" if advice.items else "nothing"]


def _do(advice: Advice) -> list[tuple[str, Bullets]]:
    """Decisions, then what must and what should be."""
    decided = (
        f"{name[:1].upper()}{name[1:]}: {decision.words('nothing yet', ' (equal)')}"
        f" ({STANDINGS[decision.standing]})"
        for name, decision in advice.choices.items()
    )
    must, should = (lines(*(r.text for r in advice.must(s))) for s in ("must", "should"))
    return [("do", Bullets(lines(*decided))), ("must", Bullets(must)), ("should", Bullets(should))]


def _kit(advice: Advice) -> list[tuple[str, Bullets]]:
    """Verdicts with their first reasons."""
    return [("items", Bullets(tuple(map(_verdict, worst_first(advice.items)))))]


def _find(advice: Advice) -> Bullets:
    """The questions that were not told first."""
    told = leading(advice)
    return Bullets(tuple(_questions([q for q in advice.open_questions if q not in told])), True)


def _checks(advice: Advice) -> Bullets:
    """The checks that were not told first."""
    told = only_checks(advice)
    return Bullets(() if told else tuple(map(_check, check_lines(advice.checks))))


def only_checks(advice: Advice) -> bool:
    """Whether at the head nothing but the checks is left open."""
    left = any((built_in(advice.stops), built_in(advice.blocking)))
    return bool(advice.checks) and advice.moment == AT_THE_HEAD and not left


def _check(line: CheckLine) -> Line:
    """What must be seen, and what follows if it is not."""
    group = f"{line.group[:1].upper()}{line.group[1:]}: " if line.group else ""
    return Line(group + line.text, (f"If not: {' '.join(line.each('threatens'))}",))


def _reasoned(item, mark="") -> Line:
    return Line(
        (f"{mark.capitalize()}: " if mark else "") + item.text,
        (f"{item.because} [{item.rule}]",),
    )


def _verdict(item) -> Line:
    mark = " (provisional: more must be looked at)" if item.standing == "provisional" else ""
    return Line(
        f"{item.item}: {item.verdict.upper()}{mark}",
        tuple(f"{g.said}. {g.because} [{g.rule}]" for g in item.grounds),
    )


def _why(advice):
    lines = []
    for name, decision in advice.choices.items():
        subject = decision.choice or name
        lines += [Line(f"{subject}: {r.because} [{r.rule}]") for r in decision.reasons]
        lines += [Line(f"{subject}: {decision.of_itself}")] if decision.of_itself else []
        lines += [Line(f"Not {a.option}: {a.lost_because}.") for a in decision.alternatives]
    return lines + [Line(f"{r.text} {r.because} [{r.rule}]") for r in advice.must("must")]


def _questions(questions):
    return [
        Line(
            q.text,
            (
                f"It decides: {q.could[0]}"
                + (f" (and {len(q.could) - 1} more)" if len(q.could) > 1 else ""),
            ),
        )
        for q in questions
    ]


def _local(local):
    """What local guidance was used, and where it differs from what is built in."""
    if not local:
        return ()
    return (
        Line(f"{quoted(local.title)}, {quoted(local.issued_by)}, {local.date}"),
        *(Line(d.text, (f"[{d.built_in}]",)) for d in local.departures),
    )


def _cautions(advice):
    first = [Line(ONE_ENGINE)] if len(advice.checked_by) < 2 else []
    custom = NO_LOCAL if advice.local is None else BESIDE_LOCAL
    first += [Line(custom)] if "plan" in advice.about else []
    return tuple(first + [Line(c) for c in advice.cautions])
