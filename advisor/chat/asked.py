"""The question that is open: its choices by number, why it is asked, what is meant by it, and what
would do for an answer.
"""

from __future__ import annotations

from advisor.language.answers import MEANING, SAME, WHICH_OF, WHY, asks_itself
from advisor.language.answers_beside import INCIDENT, speaks_of
from advisor.language.answers_choice import is_numbered
from advisor.language.parts import Intent, Said, Unclear
from advisor.language.tokens import tokenise
from advisor.model.names import KIT_TYPE

_MOST = 240  # characters of choices that are shown: three rows
_TALK, _BRIEF = 14, 3  # words; a longer line is talk, whatever was asked
ALWAYS = "'don't know' or 'skip'"


def fact_asked(session) -> tuple[str, str] | None:
    """The fact asked for; of a question for a thing itself, the fact by which one tells of it."""
    if session.question is None:
        return None
    entity, key = session.question
    if entity:
        return session.question
    kind = session.advisor.base.vocabulary.entities.get(key)
    if kind is None or not kind.told_by:
        return None
    return f"{kind.name} main" if kind.many else kind.name, f"{kind.name}.{kind.told_by}"


def _attribute(session):
    ref = fact_asked(session)
    return session.advisor.base.vocabulary.attribute(ref[1]) if ref else None


def choices(session) -> list[str]:
    """The answers by number, one line; none where there are too many, or none to choose from."""
    attribute = _attribute(session)
    if attribute is None or attribute.type != "choice" or not session.question[0]:
        return []
    if is_numbered(attribute):
        shown = "  " + ", ".join(f"{n} {value}" for n, value in enumerate(attribute.values, 1))
    else:
        shown = "  " + ", ".join(attribute.values)
    return [shown] if len(shown) <= _MOST else []


def commit(parts: tuple, text: str, context) -> tuple:
    """Of a short line that leaves the question open, and of which it is not plain what it speaks
    of, take nothing: a figure or a word in it may well be the answer. What may be an incident is
    always taken.
    """
    said = [p for p in parts if isinstance(p, Said)]
    length = len(tokenise(text))
    if not context.asked or not parts or length > _TALK or ":" in text:
        return parts
    if asks_itself(text):
        return parts  # what is asked is no reply
    if all(isinstance(p, Unclear) for p in parts):
        return (*parts, Intent(WHICH_OF, (), text.strip()))
    told = any((p.entity, p.key) == context.asked or p.key.startswith(INCIDENT) for p in said)
    if told or len(said) < len(parts) - _unclear(parts) or _plain(said, parts, text, context):
        return parts
    return Unclear(text.strip()), Intent(WHICH_OF, (), text.strip())


def _plain(said: list[Said], parts: tuple, text: str, context) -> bool:
    """Whether facts told beside the question are to be taken: a line with something not
    understood, or of a word or two, or with a bare figure, must say what it speaks of.
    """
    if _unclear(parts):
        return len(said) > 1
    brief = len(tokenise(text)) <= _BRIEF
    attribute = context.base.vocabulary.attribute
    return not all(
        not (attribute(p.key).is_number and (p.entity, p.key) in context.facts)
        and not speaks_of(context.base, p, text)
        and (brief or attribute(p.key).is_number or p.entity != context.asked[0])
        or ((brief or p.key == KIT_TYPE) and not _there(context, p))
        for p in said
    )


def _there(context, said: Said) -> bool:
    """Whether a fact is of something that was named before."""
    kind = context.base.vocabulary.split(said.entity)[0]
    return not kind.many or said.entity in context.names.get(kind.name, ())


def _unclear(parts: tuple) -> int:
    return sum(isinstance(p, Unclear) for p in parts)


def what_would_do(session) -> str:
    """One sentence on what would do for an answer; '' while nothing is asked."""
    attribute = _attribute(session)
    if attribute is None:
        return ""
    if attribute.type == "yes/no":
        return f"Say 'yes', 'no', {ALWAYS}."
    if attribute.type == "choice":
        first = attribute.values[0]
        if not is_numbered(attribute):
            return f"Say one of {', '.join(attribute.values)}; or {ALWAYS}."
        return f"Say its number or its words, such as '1' or '{first}'; or {ALWAYS}."
    if attribute.type == "time":
        return f"Say a time such as '14:30' or 'half past two in the afternoon'; or {ALWAYS}."
    unit = {"count": "", "N": " in kN or kg"}.get(attribute.unit, f" in {attribute.unit}")
    return f"Say a figure{unit}, or 'about' one, or a range; or {ALWAYS}."


def _still(session) -> list[str]:
    would = what_would_do(session)
    return [would] if would else []


def why(session) -> list[str]:
    """What the open question could bring, and the question anew."""
    if not session.question:
        return ["Nothing is being asked just now."]
    entity, key = session.question
    identity = f"{entity}.{key.partition('.')[2]}" if entity else key
    advice = session.advice
    item = next((q for q in advice.open_questions if q.fact == identity), None) if advice else None
    if item is None:
        return ["It no longer matters on these facts."]
    more = f" (and {len(item.could) - 3} more)" if len(item.could) > 3 else ""
    return [f"It could bring: {'; '.join(item.could[:3])}{more}", item.text, *choices(session)]


def _meant(session, intent) -> list[str]:
    """What a question means, and the question anew."""
    attribute = _attribute(session)
    if attribute is None:
        return ["Nothing is being asked just now."]
    asks = attribute.asks.replace("{it}", session.question[0] or session.question[1])
    return [attribute.help, asks, *choices(session), *_still(session)]


def _same(session, intent) -> list[str]:
    return ["I keep no earlier trip; say it in full.", *_still(session)]


def _which_of(session, intent) -> list[str]:
    """Which of the answers left is meant, by the numbers they were shown with."""
    attribute = _attribute(session)
    if attribute is None or not intent.arguments:
        return _still(session)
    if attribute.type == "choice":
        numbers = {value: n for n, value in enumerate(attribute.values, 1)}
        left = [f"{numbers[v]} {v}" for v in attribute.values if v in intent.arguments]
    else:
        left = list(map(str, intent.arguments))
    return [f"Which: {' or '.join(left)}? Or {ALWAYS}."]


HANDLERS = {
    WHY: lambda session, intent: why(session),
    MEANING: _meant,
    SAME: _same,
    WHICH_OF: _which_of,
}
