"""Answers to what people ask in the conversation. Each gives plain lines; none prints."""

from __future__ import annotations

import re

from advisor.chat import asked, branches, incident, nearest, subject
from advisor.chat.changes import changed
from advisor.explain.both import both
from advisor.explain.find_out import find_out
from advisor.explain.how_sure import how_sure
from advisor.explain.what_would import what_would
from advisor.explain.why_not import TRY_TWO, why_not
from advisor.faults import Fault, Faults, Place
from advisor.model.effects import CallNow
from advisor.model.names import INCIDENT_KIND, LADDER_ANCHOR
from advisor.papers.faces.text import unwrapped
from advisor.papers.one_screen.screen import screen
from advisor.papers.outline import opening, outline
from advisor.reasons.why import why
from advisor.words import CHECKS_BESIDES, DOORS_SAID, MORE_SAID

HELP = (  # 60 columns, 22 rows: one screen
    "TELL  what you know: 14 m shaft, dripping, nine of them.",
    "      Exactly: anchor left bolt kind: resin bolt?",
    "ASK   what should I do / where does the ladder go / why",
    "      is it safe to go / why not the flake / sources",
    "      what would change that / what can go wrong",
    "      how long / how much rope / what kit / everything",
    "      what should I find out / how sure is the tether",
    "      what don't you know / what have I told you",
    "TRY   suppose it is a stream, then: use that",
    "      or keep that as b / compare b / use b / drop b / plans",
    "      assume the depth is 9 m: looks ahead, clears nothing",
    "MEND  sorry, 16 not 18 / undo / redo / start again",
    "REPLY or: no idea / skip / just tell me / why do you ask",
    "THERE at the head, then: all / all but 3 / 3 no; at home",
    "      checked by AB: initials go with the answers",
    "DRILL Say: foot jammed in the ladder; 'more' tells the rest.",
    "      In a real emergency act and call first; do not type.",
    "FILES load NAME.yaml / export NAME.yaml",
    "      Each turn is saved; 'chat --resume' goes on.",
    "KEYS  Tab completes, Up and Ctrl-R search what you typed,",
    "      Ctrl-C drops the line, Ctrl-D or 'quit' leaves.",
)
ASKED = 4  # questions told at once
CALL_WHEN = "Say what happened; when to call then stands above the steps. In doubt, call."
_HOW_SURE = re.compile(r"how (?:sure|firm)|is (?:that|it|this) (?:firm|certain|final|sure)", re.I)
_GO = re.compile(r"\b(?:it|this|that) (?:a )?(?:go|yes|clear|safe|ok|okay)\b|to get a go\b", re.I)
_STOP = re.compile(r"\b(?:a|the) (?:stop|no go|no)\b", re.I)
NO_STOP = "There is no STOP on these facts; what could still bring one:"
NOTHING_SUPPOSED = "I heard no fact in what you suppose; nothing was worked out."
NOTHING_YET = "Tell me something first: how deep, which anchors, how many people, what kit."


def answer(session, intent, supposing=False):
    """(lines, whether to leave) for one intent; supposing: whether its line supposes something, on
    which figures are then worked out.
    """
    handler = HANDLERS.get(intent.kind)
    if handler is None:
        return [f"I cannot answer that: {intent.words}."], False
    try:
        if supposing and session.supposed and intent.kind in ON_WHAT_IS_SUPPOSED:
            return _on_what_is_supposed(session, intent), False
        return handler(session, intent), intent.kind == "quit"
    except Faults as error:
        return [fault.message[:1].upper() + fault.message[1:] for fault in error.faults], False


def outside(part) -> list:
    """The answer to what is not this program's job."""
    return [f"That is outside what I can answer: {part.words}. Ask {part.to}."]


def _need(session):
    run = session.run()
    if run is None:
        raise _Nothing()
    return run


class _Nothing(Faults):
    """Nothing was said yet."""

    def __init__(self):
        super().__init__([Fault(Place("chat"), NOTHING_YET)])


def _advise(session, intent):
    advice = _need(session).advice
    if advice.response:
        return incident.response(session, advice, everything=True)
    return unwrapped(screen(session.advisor.base, advice, doors=DOORS_SAID).blocks)


def whole(advice) -> list:
    """The whole advice."""
    return unwrapped(outline(advice))


def _where(session, intent):
    advice = _need(session).advice
    decision = advice.decisions.get(LADDER_ANCHOR)
    if not decision:
        return [NOTHING_YET]
    chosen = decision.words("no anchor yet")
    return [
        f"Ladder on: {chosen} ({decision.standing})",
        *(f"  because {r.because}" for r in decision.reasons),
        *(f"  {words}" for words in (decision.of_itself,) if words),
        *(f"  not {a.option}: {a.lost_because}" for a in decision.alternatives),
    ]


def _why(session, intent):
    last = None if intent.arguments else subject.why_of_last(session)
    if last:
        return last
    advice = _need(session).advice
    if _STOP.search(intent.words) and not (intent.arguments or advice.stops or advice.response):
        return [NO_STOP, *unwrapped(opening(advice, ASKED, MORE_SAID))]
    name = _named(intent, 0) or _main(advice)
    if _is_thing(session, advice, name):
        return subject.standing_of(session, advice, name)
    if not name:
        return (
            incident.reasons(advice)
            if advice.response
            else ["Nothing was decided yet on these facts."]
        )
    if name == "stops":
        return [line for s in advice.stops for line in why(session.advisor.base, advice, s.rule, 2)]
    lines = why(session.advisor.base, advice, name, 2)
    return (
        lines if len(lines) > 1 else [*lines, "Nothing decides it yet; say 'what don't you know'."]
    )


def _main(advice) -> str:
    """What a question without a name is about: the stops, else the ladder's anchor, else the first
    item.
    """
    if advice.response:
        return ""
    if advice.stops:
        return "stops"
    return (
        LADDER_ANCHOR
        if LADDER_ANCHOR in advice.decisions
        else advice.items[0].id
        if advice.items
        else ""
    )


def _named(intent, place) -> str:
    return (
        str(intent.arguments[place])
        if len(intent.arguments) > place and isinstance(intent.arguments[place], str)
        else ""
    )


def _why_not(session, intent):
    run = _need(session)
    advice = run.advice
    decision, option = _named(intent, 0) or LADDER_ANCHOR, _named(intent, 1)
    if not option:  # 'what about the tether', with no option named
        known = decision in advice.decisions and not _is_thing(session, advice, decision)
        return (
            why(session.advisor.base, advice, decision, 2)
            if known
            else subject.standing_of(session, advice, decision)
        )
    asked = f"{decision}={option}"
    return _searched(session, run, lambda by, watch: why_not(by, asked, watch=watch))


def _is_thing(session, advice, name) -> bool:
    """Whether a name is a thing of the case that this advice neither decides on nor gives a
    verdict on.
    """
    known = session.advisor.base.vocabulary.split(name) if name else None
    return (
        bool(known)
        and name not in advice.decisions
        and not any(i.id.startswith(name) for i in advice.items)
    )


def _thing(session, intent):
    thing = _named(intent, 0) or session.last_entity or ""  # "is that ok" asks of the last one
    return subject.standing_of(session, _need(session).advice, thing)


def _what_if(session, intent):
    extra = [(s.entity, s.key, s.raw) for s in intent.arguments]
    if not extra:
        return [NOTHING_SUPPOSED]
    advice = session.advice  # None where nothing was told: then all of it is supposed
    together = {**session.said, **{(e, k): raw for e, k, raw in extra}}
    for entity, key, raw in extra:
        message = session.refusal(entity, key, raw, together)
        if message:
            return [message]
    session.supposed = tuple(extra)
    other = session.advisor.advise(session.advised_case(extra))
    rehearsed = other.response and not (advice and advice.response)
    lines = (
        incident.response(session, other)
        if rehearsed
        else [f"  - {line}" for line in changed(session.advisor.base, advice, other)]
    )
    return [
        f"Supposing {'; '.join(branches.said_back(session, extra))} (your plan is unchanged):",
        *lines,
        "'use that' takes it over; 'keep that as plan b' keeps it beside your plan.",
    ]


def _what_would(session, intent):
    run = _need(session)
    asked = set(re.findall(r"\w+", intent.words.lower()))
    if _HOW_SURE.match(intent.words) and _ENOUGH.search(intent.words) and asked & NOUNS["rope"]:
        return _figures(run.advice, intent._replace(kind="how much rope"))
    name = _named(intent, 0) or _main(run.advice)
    if _GO.search(intent.words) and not _named(intent, 0):
        return _safe(session, intent)
    if not name:
        return ["Say what happened next, or what else is there; the steps follow the facts."]
    if _HOW_SURE.match(intent.words):
        return _searched(session, run, lambda by, watch: how_sure(by, name, watch))
    return _searched(session, run, lambda by, watch: what_would(by, name, 1, watch))


def _searched(session, run, ask) -> list:
    """The answer of a search, how far it is being shown; Ctrl-C gives what was found."""
    watch = session.watch()
    try:
        return [_in_talk(line) for line in both(run, lambda by: ask(by, watch))]
    finally:
        watch.clear()


def _in_talk(line) -> str:
    """A line as the talk says it: no option of the command line, and no number that reads as that
    of a step.
    """
    said = line.replace("; --all shows them", "").replace(TRY_TWO, "")
    return re.sub(r"^(\d+)\. ", r"\1) ", said)


def _unknowns(session, intent):
    run = _need(session)
    if "find out" in intent.words.lower():
        return _searched(session, run, lambda by, watch: find_out(by, watch=watch))
    advice = run.advice
    questions, checks = advice.open_questions, len(advice.checks)
    told = [f"{CHECKS_BESIDES.format(n=checks)} Say 'checks'."] if checks else []
    return (
        [
            f"{len(questions)} open; the gravest first:",
            *(f"  - {q.text} ({q.gravity}: {q.could[0]})" for q in questions[:8]),
            *told,
        ]
        if questions
        else told or ["Nothing is open on these facts."]
    )


def _safe(session, intent):
    return _forbidding(_need(session).advice)


def _forbidding(advice):
    return [
        "I cannot say that it is safe; I can say what forbids it.",
        *unwrapped(opening(advice, ASKED, MORE_SAID)),
    ]


def _numbers(session, intent):
    return _figures(_need(session).advice, intent)


def _figures(advice, intent, supposed=()):
    """What was worked out whose title has one of the words of what is asked for."""
    subjects = FIGURES[intent.kind]
    said = set(re.findall(r"\w+", intent.words.lower()))
    named = [subject for subject in subjects if said & NOUNS[subject]]
    titles = tuple(title for subject in named or subjects for title in TITLES[subject])
    items = [c for c in advice.calculations if any(t in c.title.lower() for t in titles)]
    told = [c.text for c in ([c for c in items if c.result] or items)]
    told.sort(key=lambda text: " needed" not in text.partition(":")[0])
    return [*_verdict(advice, named, intent.words, supposed), *told] or [
        "That could not be worked out on these facts; say 'what don't you know'."
    ]


def _verdict(advice, named, words, supposed) -> list:
    """In the first line whether it is enough, where that is asked of rope or ladder."""
    meant = named or [LENGTH_OF[f[0].partition(" ")[0]] for f in supposed if _is_length(f)]
    spare = next((c for n in meant for c in advice.calculations if c.title == SPARE.get(n)), None)
    if spare is None or spare.result is None or not _ENOUGH.search(words):
        return []
    figures = set(re.findall(r"\d+", words))
    if not figures <= set(re.findall(r"\d+", " ".join(str(fact[2]) for fact in supposed))):
        return []  # worked out without a figure that was asked about
    low, high = spare.result.low, spare.result.high
    if low is not None and low >= 0:
        return [f"Long enough, on these facts: {spare.result.text}."]
    if high is not None and high < 0:
        return [f"Not long enough: {spare.result.text}."]
    return [f"Not shown to be long enough: {spare.result.text}; it turns on what is not known yet."]


def _is_length(fact) -> bool:
    return fact[0].partition(" ")[0] in LENGTH_OF and fact[1].endswith(".length")


def _on_what_is_supposed(session, intent) -> list:
    """What a question comes to on what was just supposed."""
    other = session.advisor.advise(session.advised_case(session.supposed))
    if intent.kind in FIGURES:
        return _figures(other, intent, session.supposed)
    if intent.kind == "safe":
        near = [] if session.said else nearest.nearest(session.advisor.base, intent.words)
        return [*(f"STOP: {s.text}" for s in other.stops), *near] if near else _forbidding(other)
    return incident.calls(session, other) if other.response else [incident.REAL, CALL_WHEN]


FIGURES = {"how long": ("time",), "how much rope": ("rope", "ladder")}  # by the question
NOUNS = {  # by which a line asks for one of them alone
    "time": frozenset[str](),
    "rope": frozenset("rope ropes line lines lifeline lifelines".split()),
    "ladder": frozenset("ladder ladders".split()),
}
TITLES = {  # words in the titles of what is worked out
    "time": ("time", "long", "start", "wait"),
    "rope": ("lifeline needed", "lifeline to spare", "rope kept in reserve"),
    "ladder": (
        "ladder needed",
        "ladders",
        "to the floor",
        "ladder with its spare",
        "surplus of ladder",
    ),
}
SPARE = {"rope": "Lifeline to spare", "ladder": "Ladder on the landing"}  # what is over, by title
LENGTH_OF = {"lifeline": "rope", "ladder": "ladder"}  # of which a length that is supposed tells
_ENOUGH = re.compile(r"\b(?:enough|sufficient|reach|reaches|long enough|ok|okay|alright)\b", re.I)
ON_WHAT_IS_SUPPOSED = (*FIGURES, "call when", "safe")


def briefly(lines) -> list:
    """What a supposition comes to, where the line goes on to ask for something: only what it is,
    and what forbids it.
    """
    return [lines[0], *(line for line in lines[1:-1] if line.startswith("  - STOP"))]


def _kit(session, intent):
    advice = _need(session).advice
    return [
        *(f"{i.item}: {i.verdict}" for i in advice.items),
        *(r.text for r in advice.requirements),
    ] or ["Nothing about kit on these facts yet."]


def _wrong(session, intent):
    advice = _need(session).advice
    return [
        *(h.text for h in advice.hazards[:12]),
        *(f"{w.severity}: {w.text}" for w in advice.warnings[:8]),
    ] or ["Say what the pitch is like first."]


def _incident(session, intent):
    advice = session.advice
    if advice and advice.response:
        return incident.response(session, advice)
    return [
        incident.REAL,
        "Say what happened: foot jammed in the ladder, hanging limp on the line, water rising …",
    ]


def _call_when(session, intent):
    """When to call: what the steps of what happened say, else what they say of any incident."""
    advice = session.advice
    if not (advice and advice.response):
        near = nearest.nearest(session.advisor.base, intent.words, CallNow)
        return [incident.REAL, CALL_WHEN, *near]
    return incident.calls(session, advice)


def _drop(session, intent):
    """Back from what was only supposed, or from an incident that is over, to the plan."""
    if session.supposed:
        session.supposed = ()
        return ["Dropped; your plan is unchanged."]
    told = {ref for ref in session.said if ref[0] == INCIDENT_KIND.entity}
    if told:
        session.step({ref: raw for ref, raw in session.said.items() if ref not in told})
        return ["The incident is put away; your plan is as it was. 'undo' brings it back."]
    return ["Nothing was supposed; your plan is as it was."]


def _told_so_far(session, intent):
    return branches.said_back(session, [(e, k, raw) for (e, k), raw in session.said.items()]) or [
        "Nothing yet."
    ]


def _skip(session, intent):
    if not session.question:
        return ["Nothing was being asked."]
    session.skipped.add(session.question)
    session.question = None
    return ["Skipped."]


def _quiet(session, intent):
    session.quiet, session.question = True, None
    return [
        "No more questions; ask 'what don't you know' when you want them.",
        *(_advise(session, intent) if session.said else []),
    ]


def _undo(session, intent):
    return ["Taken back."] if session.undo() else ["There is nothing to take back."]


def _redo(session, intent):
    return ["Brought back."] if session.redo() else ["There is nothing to bring back."]


def _restart(session, intent):
    session.restart()
    return ["All facts put away; 'undo' brings them back."]


def _explain(session, intent):
    from advisor.reasons.working import find, lines

    advice = _need(session).advice
    return [
        line
        for item in find(advice, _named(intent, 0))
        for line in lines(item, session.advisor.base)
    ]


def _sources(session, intent):
    from advisor.decide.names import source_name

    base, advice = session.advisor.base, _need(session).advice
    told = (*advice.stops, *advice.requirements, *advice.warnings, *advice.refer)
    used = {source for item in told for source in item.sources}
    return [source_name(base, s) for s in sorted(used)]


def _export(session, intent):
    from advisor.chat.store import export

    return [export(session, _named(intent, 0))]


HANDLERS = {
    "advise": _advise,
    "where": _where,
    "why": _why,
    "why not": _why_not,
    "what if": _what_if,
    "what would change": _what_would,
    "unknowns": _unknowns,
    "safe": _safe,
    "how long": _numbers,
    "how much rope": _numbers,
    "what kit": _kit,
    "what can go wrong": _wrong,
    "incident": _incident,
    "call when": _call_when,
    "drop": _drop,
    "start again": _restart,
    "undo": _undo,
    "redo": _redo,
    "told": _told_so_far,
    "skip": _skip,
    "just tell me": _quiet,
    "help": lambda session, intent: list(HELP),
    "quit": lambda session, intent: ["Saved. Good bye."],
    "explain number": _explain,
    "thing": _thing,
    "sources": _sources,
    "export": _export,
    **asked.HANDLERS,
}
