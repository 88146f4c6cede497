"""The course of a rehearsal as a generator: it yields what to show and what to ask, and is sent
the answer. No input, no output here.
"""

from __future__ import annotations

from typing import NamedTuple
from zlib import crc32

from msgspec.structs import replace

from advisor.decide.firing import name_of
from advisor.decide.names import listed
from advisor.decide.verdicts import VERDICTS
from advisor.drill.missed import HEADING, missed
from advisor.drill.screens import screens
from advisor.drill.sheet import Entry
from advisor.explain.variants import change_of, with_changes
from advisor.model.names import INCIDENT_KIND
from advisor.words import CALL_IF

OPENING = (
    "This is a rehearsal. In a real emergency act and call first. Nobody is scored; Enter passes,"
    " 'back' goes a step back, 'quit' ends."
)
GO = {
    "nothing found that forbids it": "go on",
    "not yet": "not yet, find something out first",
    "do not go on": "do not go on",
}
MOST_RULES, MOST_STEPS, MOST_CALLS = 6, 14, 4


END = None  # in the place of a question: nothing more is asked


class Ask(NamedTuple):
    """What to show, then what to ask; '' only waits for Enter."""

    lines: tuple
    question: str | None


class Drill:
    """One rehearsal of one case; `entries` fills as it goes."""

    def __init__(self, advisor, case, incidents: int = 2):
        self.advisor, self.case, self.incidents = advisor, case, incidents
        self.entries: list = []
        self.advice = advisor.advise(case)

    def guidance(self) -> tuple:
        """Lines on the local guidance laid over the rules; none where there is none."""
        if self.advisor.local is None:
            return ()
        departures = self.advice.local.departures
        return (
            f"Local guidance is laid over the rules: {self.advisor.local.called}.",
            *(f"{d.text} [{d.built_in}]" for d in departures),
        )

    def course(self):
        """Facts in a few screens; then choice, reason, advice for each thing to settle; then
        incidents.
        """
        yield Ask((self.case.title or "A case", OPENING), "")
        pages = screens(self.advisor.base, self.case)
        for number, page in enumerate(pages, 1):
            yield Ask((f"The facts, {number} of {len(pages)}:", *page), "")
        if self.guidance():
            yield Ask(self.guidance(), "")
        if "plan" in self.case.topics:
            yield from self._go()
        for name, decision in self.advice.decisions.items():
            if (
                name in self.advisor.base.decisions
                and "by" not in self.advisor.base.decisions[name]
            ):
                yield from self._decision(name, decision)
        for item in self.advice.items:
            yield from self._item(item)
        if self.advice.response:
            yield from self._incident(self.advice)
        elif "plan" in self.case.topics:
            for advice in self._thrown_in():
                yield from self._incident(advice)
        yield Ask(tuple(self._closing()), END)

    def _closing(self):
        """Stops that no question was about, and what is left to talk over."""
        points, silent = (
            sum(bool(e.point) for e in self.entries),
            sum(not e.choice for e in self.entries),
        )
        if "plan" not in self.case.topics:
            yield from (f"STOP: {s.text} {s.because} [{s.rule}]" for s in self.advice.stops)
        yield (
            "That is the end. "
            + (
                f"Points to take to a qualified trainer: {points}."
                if points
                else "No point was raised to take to a trainer."
            )
            + (f" Questions passed without an answer: {silent}." if silent else "")
        )

    def _settle(self, asked, options, agreed, advice, differing, named=()):
        """Choice and reason first; then the advice; `agreed` are the options it agrees with,
        `differing(choice)` the rules between the two, `named` what the words are held against.
        """
        choice = yield Ask(
            (asked, *(f"  {n}. {o}" for n, o in enumerate(options, 1))), "Your first choice?"
        )
        reason = yield Ask((), "And your reason?")
        meant = match(options, choice)
        rules, same = tuple(differing(meant)), meant in agreed
        lines = (f"The advice: {advice[0]}", *(f"  - {line}" for line in advice[1:]))
        lines += (
            ("The advice is the same.",)
            if same
            else ("Rules that differ:", *(f"  - {r}" for r in rules))
            if rules
            else ()
        )
        silent = tuple(missed(f"{choice} {reason}" if reason else "", named))
        lines += _told_missed(silent)
        point = yield Ask(lines, "Anything you see otherwise? (Enter if not)")
        differ = () if same else rules
        self.entries.append(
            Entry(asked, meant or choice, reason, tuple(advice), differ, point, silent)
        )

    def _go(self):
        go = self.advice.decisions["go"]
        agreed = GO.get(go.choice, go.choice)
        local = self.advice.local
        first = local.built_in.decisions["go"].reasons if local else ()  # before those that it adds
        own = [reason for reason in go.reasons if reason not in first]
        reasons = [f"{r.text} {r.because}" for r in (*first[:MOST_RULES], *own[:MOST_RULES])]
        rules = [f"{s.because} [{s.rule}]" for s in self.advice.stops if not s.local] or [
            f"{q.text} It decides: {q.could[0]}" for q in self.advice.blocking
        ]
        rules = rules[:MOST_RULES]
        rules += [f"{s.because} [{s.rule}]" for s in self.advice.stops if s.local][:MOST_RULES]
        told = f"{go.choice}, on the facts given"
        yield from self._settle(
            "Would you go on with this, on these facts?",
            dict.fromkeys((*GO.values(), agreed)),
            (agreed,),
            (told, *reasons),
            lambda meant: rules if meant else [],
            self.advice.stops,
        )

    def _decision(self, name, decision):
        spec, base = self.advisor.base.decisions[name], self.advisor.base
        options = (
            spec["options"]
            if "options" in spec
            else [name_of(base, e) for e in sorted(self.case.names.get(spec["each"], ()))]
        )
        if len(options) < 2:
            return
        agreed = decision.chosen
        told = listed(agreed, "or") or (
            f"none. {spec['none left']}" if decision.standing == "stop" else "nothing yet"
        )
        told += "" if decision.standing in ("firm", "stop") else f" ({decision.standing})"
        reasons = (
            []
            if decision.standing == "stop"
            else [f"{r.because} [{r.rule}]" for r in decision.reasons[:MOST_RULES]]
        )
        yield from self._settle(
            spec["question"],
            options,
            agreed,
            (told, *reasons, *filter(None, (decision.of_itself,))),
            lambda meant: _against(decision, meant),
        )

    def _item(self, item):
        reasons = [f"{r.text}. {r.because} [{r.rule}]" for r in item.reasons[:MOST_RULES]]
        yield from self._settle(
            f"What becomes of {item.item}?",
            VERDICTS,
            (item.verdict,),
            (item.verdict, *reasons),
            lambda meant: [r.rule for r in item.reasons] if meant else [],
        )

    def _incident(self, advice):
        response = advice.response
        asked = f"Suppose this happens: {response.incident}."
        choice = yield Ask((asked,), "What do you do, in what order?")
        reason = yield Ask((), "And your reason?")
        told = told_response(response)
        certain = [line for line in response.lines if not line.when]
        silent = tuple(missed(f"{choice} {reason}", certain))
        point = yield Ask(
            ("The advice:", *(f"  {line}" for line in told), *_told_missed(silent)),
            "Anything you would do otherwise? (Enter if not)",
        )
        self.entries.append(
            Entry(asked, choice, reason, ("in this order", *told), (), point, silent)
        )

    def _thrown_in(self):
        """Incidents of the vocabulary in its order, beginning at a place that differs from case to
        case, on the facts of this case.
        """
        base = self.advisor.base
        attribute = base.vocabulary.attribute(INCIDENT_KIND.key)
        if attribute is None:
            return
        first, kinds = crc32(self.case.title.encode()), len(attribute.values)
        for number in range(min(self.incidents, kinds)):
            change = change_of(base, attribute, "incident", 1 << (first + number) % kinds)
            names = {**self.case.names, "incident": {"incident"}}
            advice = self.advisor.advise(
                replace(with_changes(self.case, base, (change,)), names=names, topics=("incident",))
            )
            if advice.response:
                yield advice


def _told_missed(silent) -> tuple:
    return (HEADING, *(f"  - {line}" for line in silent)) if silent else ()


def _against(decision, meant) -> list:
    """What stands between an option and the advice, each with its rules."""
    found = [
        f"not {meant}: {a.lost_because}"
        f" [{', '.join(dict.fromkeys(d.partition(' [')[0] for d in a.derivations))}]"
        for a in decision.alternatives
        if a.option == meant
    ]
    return found + [
        f"not {meant}: {r.because} [{r.rule}]"
        for r in decision.reasons
        if meant and r.option == meant
    ]


def told_response(response) -> list:
    """Calls with what is said, what not to do, then every step where it belongs in the order; of
    the branches only the first ones.
    """
    lines = [f"CALL NOW: {c.text}" for c in response.due]
    later = [c for c in response.calls if c not in response.due]
    lines += [
        c.words if c.local else CALL_IF.format(when=c.when)
        for c in (*[c for c in later if not c.local][:MOST_CALLS], *(c for c in later if c.local))
    ]
    lines += [s.text for s in response.say]
    lines += [d.text for d in response.do_not if not d.when]
    branches = [s for s in response.steps if s.when and not s.local]
    shown = [s for s in response.steps if not s.when or s.local or s in branches[:MOST_STEPS]]
    lines += [f"{n}. {s.words}" for n, s in enumerate(shown, 1)]
    lines += (
        [f"… and {len(branches) - MOST_STEPS} more branches"] if len(branches) > MOST_STEPS else []
    )
    return lines


def match(options, answer: str):
    """The option that an answer means: its number, its words, or a part of the words of one only;
    None otherwise.
    """
    answer, options = answer.strip().lower(), list(options)
    if answer.isdecimal() and len(answer) < 9 and 1 <= int(answer) <= len(options):
        return options[int(answer) - 1]
    exact = [o for o in options if o.lower() == answer]
    near = [o for o in options if answer and answer in o.lower()]
    return exact[0] if exact else near[0] if len(near) == 1 else None
