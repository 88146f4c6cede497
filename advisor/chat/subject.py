"""What the last answer was about: what 'why' without a name then explains, and how one thing
stands in the advice.
"""

from __future__ import annotations

from advisor.model.names import LADDER_ANCHOR
from advisor.reasons.why import why

MOST = 6  # points told of one thing


def remember(session, heard, messages, before, after):
    """Keep what a turn's answer was about, as (kind, detail); an order that tells nothing leaves
    it as it was.
    """
    if heard.kinds and heard.kinds[-1] in ("undo", "redo", "start again"):
        session.subject = None
    elif messages:
        session.subject = "refused", tuple(messages)
    elif heard.kinds:
        session.subject = _asked(session, heard) or session.subject
    elif heard.said:
        session.subject = _newest(before, after)


def _asked(session, heard):
    """What the last question of a line was about, or None."""
    kind = heard.kinds[-1]
    if kind == "what if":
        return ("supposed", tuple(session.supposed)) if session.supposed else None
    if kind == "outside":
        return "outside", heard.answer[-1] if heard.answer else ""
    if kind == "where":
        return "decision", LADDER_ANCHOR
    return ("safe", "") if kind in ("safe", "advise") else None


def _newest(before, after):
    """The decision that a turn's facts turned down: it came to no pitch, or to somebody else's
    word.
    """
    for name, decision in after.choices.items() if after else ():
        was = before.decisions.get(name) if before else None
        turned = decision.standing in ("stop", "refer")
        if turned and (
            was is None or (was.choice, was.standing) != (decision.choice, decision.standing)
        ):
            return "decision", name
    return None


def why_of_last(session):
    """Lines on why the last answer was as it was; None where it was about nothing of its own."""
    kind, detail = session.subject or ("", "")
    if kind == "refused":
        return [f"It was not taken because of this: {m.partition(': ')[2] or m}" for m in detail]
    if kind == "outside":
        return [
            (
                "My rules cover rigging, kit and incidents at ladder pitches; on anything else I"
                " would only guess."
            ),
            detail,
        ]
    advice = session.advice
    if advice is None:
        return None
    if kind == "supposed":
        return _of_supposed(session, advice, detail)
    if advice.response or advice.stops:
        return None
    if kind == "decision" and detail in advice.decisions:
        return why(session.advisor.base, advice, detail, 2)
    return _not_yet(advice) if kind == "safe" else None


def _of_supposed(session, advice, extra):
    """Why what was supposed comes out otherwise than the plan."""
    other = session.advisor.advise(session.advised_case(extra))
    known = {s.id for s in advice.stops}
    new = [s.rule for s in other.stops if s.id not in known]
    turned = [
        n
        for n, d in other.choices.items()
        if d.choice != (advice.decisions[n].choice if n in advice.decisions else None)
    ]
    names = list(dict.fromkeys(new)) or turned[:1]
    lines = [line for name in names for line in why(session.advisor.base, other, name, 2)]
    return (
        ["On what was supposed:", *lines]
        if lines
        else ["What was supposed changes no stop and no decision."]
    )


def _not_yet(advice):
    """Why a plan without a stop is still not clear."""
    grave = advice.blocking
    return (
        [
            "Nothing forbids it on these facts, but each of these could:",
            *(f"  - {q.text} ({q.could[0]})" for q in grave[:MOST]),
        ]
        if grave
        else None
    )


def standing_of(session, advice, thing) -> list:
    """How one thing stands: its verdict, what is said of it, what is still open on it."""
    if not advice.about:  # only this was told: what would be said of it in a plan
        case = session.advised_case()
        case.topics = ("plan",)
        advice = session.advisor.advise(case)
    mine = {d.id for d in advice.derivations if any(f.startswith(f"{thing}.") for f in d.facts)}
    lines = [
        f"{i.item}: {i.verdict}"
        for i in advice.items
        if i.id == thing or i.id.startswith(f"{thing},")
    ]
    lines += [f"STOP: {s.text}" for s in advice.stops if s.derivation in mine]
    lines += [
        f"{w.severity.capitalize()}: {w.text}" for w in advice.warnings if w.derivation in mine
    ]
    lines += [
        f"{r.strength.capitalize()}: {r.text}" for r in advice.requirements if r.derivation in mine
    ]
    open_ = [
        f"Not known: {q.text}" for q in advice.open_questions if q.fact.startswith(f"{thing}.")
    ]
    told = [*lines[:MOST], *open_[: max(MOST - len(lines), 2)]]
    return (
        [f"On {thing} I can say this, which is not that it is safe:", *told]
        if told
        else [f"My rules say nothing about {thing} on these facts; that does not make it good."]
    )
