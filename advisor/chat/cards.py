"""Cards in the talk: 'on L3 and R2 at the shaft', 'as usual but voice only', 'used L3 on Saturday,
muddy', 'what is due', 'show L3'.
"""

from __future__ import annotations

import re

from msgspec.structs import replace

from advisor.faults import Faults, Place
from advisor.records.laid import PIECES, Named, usually
from advisor.records.shown import card_lines, due_lines, entry_line
from advisor.words import EXPIRED, ON_FILE

USUAL, KIT = "practice", "kit"
KINDS = ("cards", "as usual", "kept")  # of these the first two change the plan
_WORD = r"(?:(?:we|i)(?:'re|'m| are| am)? |going |go |this time |again )*"
_ON = re.compile(
    _WORD + r"(?:on|with|taking|take|using|at|from|cards?) (?P<marks>\S.*?)[.!]?", re.I
)
_USUAL = re.compile(
    r"(?:all |everything |rigged |done )?as usual"
    r"(?:[,;:]? (?:but|except)(?: for)?:? (?P<but>.+?))?[.!]?",
    re.I,
)
_HAPPENED = re.compile(
    r"(?P<what>used|washed|dried|dropped|lent|flooded|inspected) (?P<marks>\S.*?)"
    r"(?:,? (?P<day>(?:on |last )?\b(?:mon|tues|wednes|thurs|fri|satur|sun)day|yesterday|today"
    r"|on \d\S*(?: \w+(?: \d{4})?)?))?(?:[,;:] (?P<also>.+?))?[.!]?",
    re.I,
)
_DUE = re.compile(r"(?:what(?:'s| is) |kit |is any(?:thing)? )?due(?: for examination)?[?.]?", re.I)
_SHOW = re.compile(r"(?:show|card|history of) (?P<marks>\S.*?)[?.]?", re.I)


def order(session, text: str):
    """(kind, lines) of an order about cards, or None when the line is talk."""
    if session.desk is None or not session.desk.store.there:
        return None
    line, before = " ".join(text.split()), session.said
    for kind, form, answer in _FORMS:
        match = form.fullmatch(line)
        lines = match and answer(session, match)
        if lines and kind == "kept" and session.said != before:
            return "cards", lines
        if lines:  # what was only read out is no answer yet
            return ("kept" if session.usual_read and kind == "as usual" else kind), lines
    return None


def exception(session, text: str) -> str:
    """What is otherwise than usual, where that is confirmed now; '' else."""
    match = _USUAL.fullmatch(" ".join(text.split()))
    return (match["but"] or "") if match and session.desk and session.usual_read else ""


def _marks(session, text) -> list:
    """The cards that words name; none where one of the words names none."""
    known = {mark.lower(): mark for mark in session.desk.store.cards()}
    words = re.split(r",\s*(?:and )?| and | & | at (?:the )?| on | with ", text.lower())
    words = [re.sub(r"^(?:the|ladder|rope|line|card) (?=.)", "", word.strip()) for word in words]
    found = [known.get(word) for word in words if word]
    return [session.desk.card(mark) for mark in found if mark] if all(found) else []


def _taken(session, match) -> list:
    cards = _marks(session, match["marks"])
    roles = [(session.desk.cards.role_of(card), card) for card in cards]
    without = [card.mark for role, card in roles if not role]
    lines = (
        _take(session, [Named(r, c.mark, Place("chat")) for r, c in roles if r]) if cards else []
    )
    return lines + [f"{', '.join(without)}: a plan names no such piece; nothing taken."] * bool(
        without
    )


def _take(session, named) -> list:
    """Take what cards say into the plan, in place of what these said before; what was told in
    words stands.
    """
    if not named:
        return []
    _forget(session, [one.mark for one in named])
    try:
        where = session.desk.layout.apart.where
        used = {name for (name, key), raw in session.said.items() if (key, raw) == (where, "yes")}
        laid, told = session.desk.cards.taken(named, used=used)
    except Faults as error:
        return [fault.message for fault in error.faults]
    facts = []
    for entity, thing in laid.things.items():
        kind = session.advisor.base.vocabulary.split(entity)[0].name
        for name, said in thing.facts.items():
            ref = entity, f"{kind}.{name}"
            if ref not in session.said or session.is_assumed(ref):
                facts.append((entity, f"{kind}.{name}", said.raw, said.said_by))
    messages = session.say([fact[:3] for fact in facts])
    for entity, key, raw, said_by in facts:
        if session.said.get((entity, key)) == raw:
            session.checked[entity, key] = raw, said_by
    before = session.on_file or told
    session.on_file = replace(
        told,
        cards=tuple(dict.fromkeys((*before.cards, *told.cards))),
        expired=tuple(dict.fromkeys((*before.expired, *told.expired))),
        pieces=tuple({p.entity: p for p in (*before.pieces, *told.pieces)}.values()),
        usual=(),  # in the talk it is confirmed before it is taken
    )
    session.forget_kept()
    lines = [
        ON_FILE.format(cards=", ".join(told.cards), entry=told.as_of) + f" {len(facts)} facts."
    ]
    return [*lines, *(EXPIRED.format(fact=gone) for gone in told.expired), *messages]


def _forget(session, marks) -> None:
    """Take out what came from these cards: they may say otherwise now, or nothing."""
    begins = tuple(
        text for mark in marks for text in (f"record {mark} entry ", f"records of {mark},")
    )
    said = {
        ref: raw
        for ref, raw in session.said.items()
        if not (
            ref in session.checked
            and session.checked[ref][0] == raw
            and session.checked[ref][1].startswith(begins)
        )
    }
    session.step(said)


def again(session) -> list:
    """Take the cards of the talk anew, as they stand on this day; how it is usually done was
    confirmed, and stays.
    """
    if session.desk is None or session.on_file is None:
        return []
    cards = [card.partition(" ") for card in session.on_file.cards]
    return _take(session, [Named(r, m, Place("chat")) for r, _, m in cards if r != USUAL])


def _usual(session, match) -> list:
    """Read out how it is usually done; said again it is confirmed, but for what is said after
    'but'.
    """
    card = next(iter(session.desk.all(USUAL)), None)
    if card is None:
        return ["There is no card of usual practice: 'practice add usual --from CASE' makes one."]
    if session.usual_read != card.mark:
        session.usual_read = card.mark
        told = [f"  {line}" for line in usually(card)]
        return ["Usually:", *told, "Still so? 'as usual', or 'as usual but …'."]
    session.usual_read = ""
    return _take(session, [Named(USUAL, card.mark, Place("chat"))])


def _happened(session, match) -> list:
    """Write down what happened to pieces."""
    cards = [card for card in _marks(session, match["marks"]) if card.kind == KIT]
    if not cards:
        return []
    also = [w.strip() for w in re.split(r",| and ", match["also"] or "") if w.strip()]
    desk = session.desk
    try:
        day = desk.day(re.sub(r"^on ", "", match["day"] or ""))
        kept = desk.on(day).happened([c.mark for c in cards], [match["what"].lower(), *also])
    except Faults as error:
        return [fault.message[:1].upper() + fault.message[1:] for fault in error.faults]
    events = desk.layout.events
    return [
        "Kept:",
        *(entry_line(e, events[e.what].says) for e in kept),
        f"Wrong? 'kit correct {kept[-1].number} --reason WHY' at the command line says so.",
        *(again(session) if _in_plan(session, cards) else ()),
    ]


def _in_plan(session, cards) -> bool:
    """Whether the plan took one of these cards."""
    named = session.on_file.cards if session.on_file else ()
    return any(f"{role} {card.mark}" in named for card in cards for role in PIECES)


def _due(session, _match) -> list:
    return [*_doubt(session), *due_lines(session.desk.all(KIT), session.desk.today)]


def _doubt(session) -> list:
    """What is said where the records are not whole."""
    fault = session.desk.store.doubt()
    return [fault.message[:1].upper() + fault.message[1:]] if fault else []


def _shown(session, match) -> list:
    cards = _marks(session, match["marks"])
    if match[0].lower().startswith("history"):
        lines = [entry_line(e) for c in cards for e in session.desk.store.entries(c.mark)]
    else:
        lines = [line for card in cards for line in card_lines(card)]
    return [*_doubt(session), *lines] if lines else []


_FORMS = (
    ("as usual", _USUAL, _usual),
    ("kept", _HAPPENED, _happened),
    ("kept", _DUE, _due),
    ("kept", _SHOW, _shown),
    ("cards", _ON, _taken),
)
