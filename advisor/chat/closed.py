"""Orders in a closed form that the program itself reads: files, plans kept by name, 'more',
'everything', 'why do you ask'. Everything else is talk.
"""

from __future__ import annotations

import os
import re

from advisor.chat import asked, branches
from advisor.chat.changes import first_words
from advisor.chat.intents import whole
from advisor.chat.session import About
from advisor.chat.store import export
from advisor.facts.values import ASSUMED, CASE_FILE, as_assumed
from advisor.faults import Faults

_NAME = (  # up to three words: longer is talk
    r"['\"]?(?P<name>(?:[^'\"\s]+ ){0,2}[^'\"\s]{1,40}?)['\"]?[.!]?$"
)
_FORMS = tuple(
    (kind, re.compile(pattern, re.IGNORECASE))
    for kind, pattern in (
        ("keep as", r"keep (?:(?:that|this|it|the plan) )?as " + _NAME),
        ("compare", r"compare(?: (?:it|that|this))?(?: (?:with|to|and))? " + _NAME),
        ("use", r"(?:use|go with|adopt|do) " + _NAME),
        ("drop", r"drop " + _NAME),
        ("plans", r"(?:list |show )?(?:my )?(?:kept )?plans[?.]?$"),
        ("more", r"(?:more|the rest)[?.]?$"),
        ("why asked", r"why (?:do|are|did) you (?:ask|asking|want to know)[^?]*\??$"),
        (
            "everything",
            r"(?:everything|all of it|(?:show |tell )?(?:me )?(?:the whole|it all|in full))[?.]?$",
        ),
        (
            "export",
            (
                r"(?:export|save (?:(?:it|that|this) )?(?:as|to)) (?:(?:it|that|this)"
                r" )?(?:(?:as|to) )?(?P<name>\S.*\.ya?ml)['\"]?$"
            ),
        ),
        ("load", r"load (?P<name>\S.*)$"),
    )
)
_LAST = ("that", "it", "this")


def closed(session, text: str):
    """(kind, lines) of an order in a closed form, or None when the line is talk."""
    line = " ".join(text.split())
    for kind, form in _FORMS:
        match = form.match(line)
        if match:
            lines = _ORDERS[kind](session, (match.groupdict().get("name") or "").strip())
            if lines is not None:
                return kind, lines
    return None


def _use(session, name):
    if name.lower() in _LAST:
        return branches.use_supposed(session) if session.supposed else None
    return branches.use(session, name) if name.lower() in session.branches else None


def _drop(session, name):
    if name.lower() in _LAST and session.supposed:
        session.supposed = ()
        return ["Dropped; your plan is unchanged."]
    return branches.drop(session, name) if name.lower() in session.branches else None


def _more(session, name):
    if not session.rest:
        return ["There is no more of it."]
    rest, session.rest = list(session.rest), ()
    return rest


def _export(session, name):
    return [export(session, name.strip("'\""))]


def _everything(session, name):
    advice = session.advice
    return whole(advice) if advice else None


def _load(session, name):
    """`load FILE`; None when the words are not a file's name ('load is 80 kg')."""
    name = name.strip("'\"")
    if name == "-" or not (name.endswith((".yaml", ".yml")) or os.path.exists(name)):
        return None
    try:
        return load_case(session, name)
    except Faults as error:
        return (
            [str(fault) for fault in error.faults[:5]]
            + ([f"… and {len(error.faults) - 5} more faults."] if len(error.faults) > 5 else [])
            + ["Nothing was loaded."]
        )


def load_case(session, name) -> list:
    """Take all facts of a case file as one step and say so; raises Faults."""
    from advisor.load.case import read_case

    looked_up = session.desk.cards.of if session.desk else None
    case = read_case(name, session.advisor.base, cards=looked_up)
    session.title = session.title or case.title
    named = {entity for entity, _ in case.facts}
    facts = [
        (f.entity, f.key, as_assumed(f.raw) if f.said_by == ASSUMED else f.raw)
        for f in case.facts.values()
    ]
    facts += [
        (i, _first(session, i), "unknown")
        for ids in case.names.values()
        for i in sorted(ids)
        if i not in named
    ]
    session.about = _about(session, case, facts)
    messages = session.say(facts)
    session.checked.update(
        {
            (f.entity, f.key): (f.raw, f.said_by)
            for f in case.facts.values()
            if not (f.said_by == ASSUMED or f.said_by.startswith(CASE_FILE))
        }
    )
    advice = session.advice
    return [
        f"Loaded {len(case.facts)} facts from {name}.",
        *messages,
        *(first_words(advice) if advice else ()),
    ]


def _about(session, case, facts):
    """What the talk is about once a case is loaded: what the case says, together with what was
    loaded before; None leaves it to the facts.
    """
    before = (
        session.about
        if session.about and session.about.holds(session.advisor.base, session.said)
        else None
    )
    if not case.about or session.said and not before:
        return None
    topics, loaded = (before.topics, before.facts) if before else ((), {})
    return About(
        tuple(t for t in session.advisor.base.topics if t in topics or t in case.about),
        {**loaded, **{(e, k): raw for e, k, raw in facts}},
    )


def _first(session, entity):
    """Some attribute of an entity that is only named, to name it by."""
    return next(
        a.key
        for a in session.advisor.base.vocabulary.split(entity)[0].attributes.values()
        if not a.derived
    )


_ORDERS = {
    "keep as": lambda session, name: branches.keep(session, name),
    "compare": lambda session, name: branches.compare(session, name),
    "use": _use,
    "drop": _drop,
    "plans": lambda session, name: branches.listed(session),
    "more": _more,
    "why asked": lambda session, name: asked.why(session),
    "export": _export,
    "everything": _everything,
    "load": _load,
}
