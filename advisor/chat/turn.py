"""One turn of the conversation: what was heard, what that changes, the answer, the next question.
Data in, data out.
"""

from __future__ import annotations

from typing import NamedTuple

from advisor.chat import (
    asked,
    assuming,
    cards,
    checks,
    in_words,
    incident,
    intents,
    nearest,
    noting,
    subject,
    topics,
)
from advisor.chat.changes import changed
from advisor.chat.closed import closed
from advisor.chat.session import names_of
from advisor.facts.vocabulary import AT_HOME
from advisor.language.echo import echo
from advisor.language.understand import Context, Intent, Outside, Said, Unclear, understand
from advisor.model.advice import Advice
from advisor.model.names import INCIDENT_KIND

NOT_HEARD = "Nothing in that was about a pitch, people or kit; say 'help' for what can be said."
MOVING = (
    "undo",
    "redo",
    "start again",
    "use",
    "load",
    assuming.FORGOTTEN,
)  # what changes the facts without telling one
PUSHING = (
    "skip",
    "advise",
    "safe",
    "unknowns",
    *MOVING,
    "drop",
    *checks.KINDS,
    "cards",
    "as usual",
)  # after these the next question is asked


class Reply(NamedTuple):
    """heard: facts taken, as they are said back; facts: the same as data; unclear: (words,
    readings) not understood;
    changed and answer: lines; question: text or ''; advice: as it stands now."""

    turn: int
    heard: tuple
    facts: tuple
    unclear: tuple
    changed: tuple
    intents: tuple
    answer: tuple
    question: str
    advice: Advice | None
    leave: bool = False


def take(session, text: str, asking: bool = True) -> Reply:
    """Understand one line, change the session, and say what follows; asking: whether a question
    may be put.
    """
    session.turn += 1
    text = text.encode("utf-8", "replace").decode(
        "utf-8"
    )  # half a character pair can be neither shown nor saved
    before, said_before = session.advice, session.said
    but = cards.exception(session, text)
    told = _listen(session, but)[0] if but else None  # what is told stands over what is usual
    line, read_out = " ".join(text.split()), (session.read_out, session.choosing)
    order = (
        checks.order(session, line)
        or in_words.order(session, line, lambda: understand(line, context_of(session)).parts)
        or cards.order(session, text)
        or noting.order(session, line)
        or closed(session, text)
        or assuming.order(session, text)
    )
    session.read_out, session.choosing = (), False
    if order and order[0] in (in_words.KEPT_OPEN, in_words.ASKS_BACK):
        session.read_out, session.choosing = read_out  # still waiting for its answer
    if order:
        taken = _taken(said_before, session.said) if order[0] in checks.KINDS else ()
        heard = _Heard(taken, (), (), (order[0],), tuple(order[1]), False)
        if told:
            answer = (*heard.answer, *told.answer)
            heard = told._replace(kinds=heard.kinds, answer=answer, leave=False)
        return _told(session, before, said_before, heard, asking)
    heard, refused = _listen(session, text)
    subject.remember(session, heard, refused, before, session.advice)
    heard = heard._replace(answer=(*heard.answer, *noting.hint(session, line, heard.unclear)))
    return _told(session, before, said_before, heard, asking)


def _rings(said) -> bool:
    """Whether a line tells of what has happened: that is no question of the trade at large."""
    return any(p.key == INCIDENT_KIND.key for p in said)


class _Part(NamedTuple):
    """A fact that was answered by its number."""

    entity: str
    key: str
    doubtful: bool = False


def _taken(before, after) -> tuple:
    """The facts said since, or said otherwise."""
    return tuple(_Part(*ref) for ref, raw in after.items() if before.get(ref) != raw)


class _Heard(NamedTuple):
    """What a line came to before its consequences."""

    said: tuple
    echoes: tuple
    unclear: tuple
    kinds: tuple
    answer: tuple
    leave: bool
    answered: bool = False  # whether the question asked was answered or put off


def _listen(session, text):
    """(what a line came to, messages about facts refused): take its facts and answer its
    questions.
    """
    context = context_of(session)
    parts, assumes = assuming.heard(text, lambda line: understand(line, context).parts)
    parts = asked.commit(parts, text, context)
    said = [p for p in parts if isinstance(p, Said)]
    topic = None if _rings(said) else topics.topic_of(session.advisor.base, text)
    if topic:
        said = [p for p in said if p.raw != "unknown"]  # what is only named in a question
    echoes, messages = _take_facts(session, said, assumes) if said else ([], [])
    if assumes:
        messages += assuming.told(session, [(p.entity, p.key) for p in said])
    wanted = [p for p in parts if isinstance(p, Intent)]
    answer, leave = list(messages), False
    if topic:
        wanted = [i for i in wanted if not topics.otherwise(topic, i)]
        answer = [*topics.told(session.advisor.base, topic), *answer]
    wanted = [i for i in wanted if i.kind == "what if"] + [i for i in wanted if i.kind != "what if"]
    for intent in wanted:
        lines, ends = intents.answer(session, intent, wanted[0].kind == "what if")
        figures = any(i.kind in intents.FIGURES for i in wanted)
        supposed = intent.kind == "what if" and session.supposed and wanted[1:]
        if supposed and (figures or not session.said):
            lines = intents.briefly(lines)
        if intent.kind in intents.FIGURES and session.supposed:
            answer = [*lines, *answer]  # what is asked stands above what it is worked out on
            continue
        answer += [li for li in lines if li != intents.NOTHING_YET or li not in answer]
        leave = leave or ends
    outside = [p for p in parts if isinstance(p, Outside)]
    answer += [line for p in outside for line in intents.outside(p)]
    unclear = tuple((p.words, tuple(p.readings)) for p in parts if isinstance(p, Unclear))
    answer += [] if topic else _near(session, text, unclear, answer)
    if not (echoes or answer or unclear):
        answer.append(NOT_HEARD)
    return (
        _Heard(
            tuple(said),
            tuple(echoes),
            unclear,
            (*(i.kind for i in wanted), *("outside" for _ in outside)),
            tuple(answer),
            leave,
            bool(context.asked) and session.question is None,
        ),
        messages,
    )


def _near(session, text, unclear, answer) -> list:
    """What comes near a question in the rules, where it is not understood or nothing was told
    that it could be answered on.
    """
    unheard = intents.NOTHING_YET in answer or intents.NOTHING_SUPPOSED in answer
    questions = [words for words, _ in unclear if nearest.asks(words)]
    if not (questions or unheard) or nearest.NEAREST in answer:
        return []
    return nearest.nearest(session.advisor.base, text if unheard else " ".join(questions))


def _take_facts(session, said, assumed):
    """(facts as they are said back, with what they replace; messages about facts that were
    refused).
    """
    old = session.case().facts
    messages = session.say([(p.entity, p.key, p.raw) for p in said], assumed)
    session.supposed = ()
    new, echoes = session.case().facts, {}
    for part in said:
        place = part.entity, part.key
        if place not in session.said:
            continue  # refused, with a message
        was, now = old.get(place), new.get(place)
        text = echo(part, session.advisor.base) + (
            f" (was {was.text})" if was and (now is None or was.text != now.text) else ""
        )
        echoes[place] = (
            text
            if echoes.get(place, text) == text
            else f"{text} (heard twice, first as {echoes[place].rpartition(': ')[2]})"
        )
    return list(echoes.values()), messages


def _told(session, before, said_before, heard: _Heard, asking) -> Reply:
    """The consequences of what was heard."""
    after = session.advice
    moved = session.said is not said_before
    answer = list(heard.answer)
    lines = changed(session.advisor.base, before, after) if moved or heard.said else ()
    asked = [kind for kind in heard.kinds if kind not in ("outside", "call when")]
    fresh = after and after.response and not (before and before.response)
    if fresh and heard.said and heard.kinds and INCIDENT_KIND.entity not in heard.kinds:
        answer = [*incident.response(session, after), *answer]  # it stands above what was asked
        lines = tuple(line for line in lines if line.startswith("STOP"))
    elif after and after.response and (moved or heard.said) and not asked:
        lines, more = _incident(session, before, after, lines)
        answer += more
    if "load" in heard.kinds or "start again" in heard.kinds:
        lines = ()
    pushes = asking and (bool(heard.said) or any(k in PUSHING for k in heard.kinds))
    brief = "advise" in heard.kinds and session.at == AT_HOME
    held = heard.leave or (heard.unclear and not heard.answered)
    question = ask(session, after, brief) if pushes and not held else ""
    facts = tuple(fact_data(session, p) for p in heard.said if (p.entity, p.key) in session.said)
    return Reply(
        session.turn,
        heard.echoes,
        facts,
        heard.unclear,
        tuple(lines),
        heard.kinds,
        tuple(answer),
        question,
        after,
        heard.leave,
    )


def _incident(session, before, after, lines):
    """(changed lines, answer lines) in an incident: the steps, as soon as they are other than
    before; stops stay said.
    """
    stops = tuple(line for line in lines if line.startswith("STOP"))
    if (
        before
        and before.response
        and incident.response(session, before) == incident.response(session, after)
    ):
        return (*stops, "The steps stay as they were."), []
    return stops, incident.response(session, after)


def context_of(session) -> Context:
    """What the reader of a line may lean on."""
    case = session.case()
    return Context(
        session.advisor.base,
        names_of(session.advisor.base, session.said),
        case.facts,
        asked.fact_asked(session),
        session.last_entity,
        session.last_key,
        bool(session.read_out),
    )


def ask(session, advice, brief=False) -> str:
    """What matters most now, or '': one question, or what is read out and answered together. At
    the head the next group of checks comes before what could forbid nothing. `brief`: one question
    at most, below an answer that fills the screen.
    """
    session.question = None
    found = session.next_question(advice)
    lines, how = ([], "") if session.quiet or brief else checks.read_out(session, advice, found)
    if lines:
        return "\n".join([*lines, how])
    if not found:
        return ""
    session.question, item = found
    session.asked.add(session.question)
    return "\n".join([item.text, *asked.choices(session)])


def fact_data(session, part) -> dict:
    """One heard fact as data: fact, value, unit, doubtful."""
    attribute = session.advisor.base.vocabulary.attribute(part.key)
    fact = session.case().facts.get((part.entity, part.key))
    return {
        "fact": f"{part.entity}.{attribute.name}",
        "value": fact.text if fact else "unknown",
        "unit": attribute.unit,
        "doubtful": bool(part.doubtful),
    }
