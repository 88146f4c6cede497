"""The question that is open: its choices by number, why it is asked, what is meant by it, and what
would do for an answer.
"""

from __future__ import annotations

from advisor.language.answers import MEANING, SAME, WHICH_OF, WHY
from advisor.language.parts import Said, Unclear
from advisor.language.tokens import tokenise

_MOST = 240  # characters of choices that are shown: three rows
_TALK = 14  # words; a longer line is talk, whatever was asked
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
    shown = "  " + ", ".join(f"{n} {value}" for n, value in enumerate(attribute.values, 1))
    return [shown] if len(shown) <= _MOST else []


def commit(parts: tuple, text: str, context) -> tuple:
    """Of a short line that leaves the question open and was not understood whole, take nothing: a
    figure or a word in it may well be the answer.
    """
    asked = context.asked
    said = [p for p in parts if isinstance(p, Said)]
    if not asked or not said or any((p.entity, p.key) == asked for p in said):
        return parts
    whole = not any(isinstance(p, Unclear) for p in parts) or len(tokenise(text)) > _TALK
    return parts if whole or len(said) > 1 else (Unclear(text.strip()),)


def what_would_do(session) -> str:
    """One sentence on what would do for an answer; '' while nothing is asked."""
    attribute = _attribute(session)
    if attribute is None:
        return ""
    if attribute.type == "yes/no":
        return f"Say 'yes', 'no', {ALWAYS}."
    if attribute.type == "choice":
        first = attribute.values[0]
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
