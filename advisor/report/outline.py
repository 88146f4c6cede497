"""The order in which advice is told: what to do, stops first; why; what to find out; cautions. One
outline, several faces.
"""

from __future__ import annotations

from typing import NamedTuple

from advisor.decide.verdicts import VERDICTS
from advisor.model import names
from advisor.model.advice import Advice, Number
from advisor.words import CALL_IF, HEADLINES, MORE, NO_LOCAL, ONE_ENGINE, SECTIONS, STANDINGS


class Line(NamedTuple):
    """One thing said, and what stands below it in smaller voice."""

    text: str
    below: tuple = ()


class Section(NamedTuple):
    """A heading with its lines; `numbered` when their order matters."""

    title: str
    lines: tuple
    numbered: bool = False


def outline(advice: Advice, everything: bool = False) -> tuple[str, list[Section]]:
    """(headline, sections) of an advice; without `everything` long lists end with how many more
    there are.
    """
    questions = advice.open_questions
    blocking = advice.blocking
    sections = _response(advice.response)  # what has happened comes before all planning
    if advice.stops:
        title = _stop_words(advice) if advice.response else ""  # else the headline says it
        sections.append(Section(title, _stop_lines(advice.stops), True))
    sections += _to_put_right(advice)
    if not advice.stops and blocking and "plan" in advice.about:
        headed = advice.first or advice.contradictions or advice.response
        title = SECTIONS["find first"] if headed else ""
        sections.append(Section(title, _cut(_questions(blocking), 4, everything), True))
    kit, do = _items(advice.items), _do(advice, everything)
    sections += (
        do + kit if "plan" in advice.about else kit + do
    )  # in a plan, kit out of use is among the stops
    sections.append(
        Section(
            SECTIONS["numbers"],
            _numbers(
                advice.calculations,
                advice.decisions.get(names.LADDER_ANCHOR),
                everything,
            ),
        )
    )
    sections.append(Section(SECTIONS["why"], _cut(_why(advice), 8, everything)))
    rest = [q for q in questions if advice.stops or q not in blocking or "plan" not in advice.about]
    sections.append(
        Section(
            SECTIONS["find"],
            _cut(_questions(rest), 3 if not advice.stops else 5, everything),
            True,
        )
    )
    sections.append(
        Section(
            SECTIONS["warnings"],
            _cut([_reasoned(w, w.severity) for w in advice.warnings], 4, everything),
        )
    )
    sections.append(
        Section(SECTIONS["refer"], _cut([_reasoned(r) for r in advice.refer], 4, everything))
    )
    sections += [
        Section(SECTIONS["local"], _local(advice.local)),
        Section(SECTIONS["cautions"], _cautions(advice)),
    ]
    return _headline(advice, blocking), [s for s in sections if s.lines]


def _to_put_right(advice):
    """What contradicts, and what is to be done before anyone goes to the edge; the headline says
    the first of these where nothing graver stands above.
    """
    headed = bool(advice.stops or advice.response)
    for name, items in (("contradictions", advice.contradictions), ("first", advice.first)):
        if items:
            yield Section(SECTIONS[name] if headed else "", _stop_lines(items), True)
            headed = True


def _stop_words(advice) -> str:
    return HEADLINES["stop kit" if advice.about == ("kit",) else "stop"]


def _headline(advice, blocking) -> str:
    if advice.response:
        return f"{advice.response.incident.capitalize()}. {HEADLINES['incident']}"
    if advice.stops:
        return _stop_words(advice)
    if "plan" in advice.about:
        choice = advice.decisions["go"].choice
        if advice.contradictions:
            return HEADLINES["contradiction"]
        if advice.first:
            return HEADLINES["first"]
        return (
            HEADLINES["not yet"]
            if blocking
            else (
                HEADLINES["clear"]
                if choice.startswith("nothing")
                else HEADLINES["elsewhere"].format(choice=choice)
            )
        )
    return HEADLINES["kit" if advice.items else "nothing"]


def _cut(lines, most, everything):
    lines = tuple(lines)
    return (
        lines
        if everything or len(lines) <= most
        else lines[:most] + (Line(MORE.format(n=len(lines) - most)),)
    )


def _reasoned(item, mark="") -> Line:
    return Line(
        (f"{mark.capitalize()}: " if mark else "") + item.text,
        (f"{item.because} [{item.rule}]",),
    )


def _stop_lines(stops):
    return tuple(_reasoned(s) for s in stops)


def _response(response):
    if not response:
        return []
    due = [c for c in response.calls if not c.when]
    later = [Line(CALL_IF.format(when=c.when)) for c in response.calls if c.when]
    calling = (*map(_step, due), *later, *map(_step, response.say))
    return [
        Section(SECTIONS["call" if due else "call when"], calling),
        Section(SECTIONS["do_not"], tuple(_step(d) for d in response.do_not)),
        Section(SECTIONS["steps"], tuple(_step(s) for s in response.steps), True),
    ]


def _step(item) -> Line:
    return Line(item.words)


def _do(advice, everything):
    lines = (
        Line(
            f"{name[:1].upper()}{name[1:]}: {decision.words('nothing yet', ' (equal)')}"
            f" ({STANDINGS[decision.standing]})"
        )
        for name, decision in advice.choices.items()
    )
    must, should = ([Line(r.text) for r in advice.must(s)] for s in ("must", "should"))
    return [
        Section(SECTIONS["do"], tuple(lines)),
        Section(SECTIONS["must"], _cut(must, 12, everything)),
        Section(SECTIONS["should"], _cut(should, 3, everything)),
    ]


def _items(items):
    return [
        Section(
            SECTIONS["items"],
            tuple(
                Line(
                    f"{i.item}: {i.verdict.upper()}"
                    + (
                        " (provisional: more must be looked at)"
                        if i.standing == "provisional"
                        else ""
                    ),
                    tuple(f"{r.text}. {r.because} [{r.rule}]" for r in i.reasons[:3]),
                )
                for i in sorted(items, key=lambda i: -VERDICTS.index(i.verdict))
            ),
        )
    ]


def _why(advice):
    lines = []
    for name, decision in advice.choices.items():
        subject = decision.choice or name
        lines += [Line(f"{subject}: {r.because} [{r.rule}]") for r in decision.reasons]
        lines += [Line(f"Not {a.option}: {a.lost_because}.") for a in decision.alternatives]
    return lines + [Line(f"{r.text} {r.because} [{r.rule}]") for r in advice.must("must")]


def _numbers(calculations: tuple[Number, ...], anchor, everything):
    """The key numbers, for the anchor chosen; all of them, with those that could not be worked
    out, when everything is asked for.
    """
    chosen = anchor and anchor.choice
    shown = [c for c in calculations if everything or c.serves(chosen)]
    rest = len(calculations) - len(shown)
    return tuple(Line(c.text) for c in shown) + (
        (Line(MORE.format(n=rest)),) if shown and rest else ()
    )


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
    """What local guidance was used, and where it says less than a built-in must."""
    if not local:
        return ()
    return (
        Line(f"{local.title}, {local.issued_by}, {local.date}"),
        *(Line(d.text, (f"[{d.built_in}]",)) for d in local.departures),
    )


def _cautions(advice):
    first = [Line(ONE_ENGINE)] if len(advice.checked_by) < 2 else []
    first += [Line(NO_LOCAL)] if advice.local is None and "plan" in advice.about else []
    return tuple(first + [Line(c) for c in advice.cautions])
