"""Where a question stands, and how far it goes: nothing in it is told as a fact."""

from __future__ import annotations

from advisor.language.intents import intent_in
from advisor.language.quantities import sequence_at
from advisor.language.words import (
    HYPOTHETICALS,
    LATER_HYPOTHETICALS,
    NUMBER_WORDS,
    QUESTION_STARTS,
)

_OPENING = frozenset(
    "ok okay so and but right well now then yes no just oh um er also hey hang on"
    " sorry please".split()
)
WH = frozenset("what why where when who which whose how".split())
SUBJECTS = frozenset(
    "i we you he she it they there that this the a an my our his her somebody"
    " someone anybody anyone"
    " any one all those these".split()
)
MODAL = frozenset("may can could should shall would will do does did must might".split())
_FINITE = frozenset("is are was were has have had will would can could do does did".split())


def asked_to(scene, clauses, at) -> int | None:
    """The last clause of the question that opens with one, or None where none does; what happened
    and what is supposed have readers of their own.
    """
    clause = clauses[at]
    begin = clause.start
    if at == 0 and len(clauses) > 1 and _why_last(scene, clauses[-1]):
        return len(clauses) - 1  # 'a sling or a wire, why'
    while begin < clause.end and scene.tokens[begin].text in _OPENING:
        begin += 1
    if begin >= clause.end or not _opens(scene.tokens, begin, clause):
        return None
    if at and not clause.opener and scene.tokens[begin].text in _FINITE:
        return None  # the verb of what was said just before
    side = begin > clause.start and scene.tokens[begin - 1].text in ("right", "left")
    if side and scene.tokens[begin].text not in WH:
        return None  # 'right has a slight wobble'
    last = at
    while last + 1 < len(clauses) and (
        _goes_on(scene, clauses, last) or _in_its_if(scene, begin, clauses[last + 1])
    ):
        last += 1
    text = " ".join(t.text for t in scene.tokens[clause.start : clauses[last].end])
    found = intent_in(text)
    why = scene.tokens[begin].text == "why"  # 'why not …, if it is sound?'
    supposes = found and found[0] == "what if" or _supposes(scene, clause.start, clauses[last].end)
    if found and found[0] == "incident" or supposes and not why:
        return None
    return last


def _why_last(scene, clause) -> bool:
    texts = [t.text for t in scene.tokens[clause.start : clause.end]]
    return clause.opener == "," and texts in (["why"], ["how"], ["which"], ["how", "long"])


def _opens(tokens, at, clause) -> bool:
    """Whether a question begins at a token: 'what', 'may a', 'is it', 'can you'."""
    text = tokens[at].text
    after = tokens[at + 1].text if at + 1 < clause.end else ""
    asked = clause.closer == "?" or clause.closer_of_all == "?"
    if text == "at" and after == "what":
        return True
    if text in ("has", "have", "had") and not asked:
        return after in ("anyone", "anybody", "somebody", "someone", "you", "they", "he", "she")
    if text in WH:
        return after != "if" and not (
            text in ("when", "where", "who", "which")
            and not asked
            and after not in MODAL | _FINITE | {"would", "should", "to"}
        )
    if text == "did" and not asked:
        return after in ("i", "you", "we", "they", "he", "she", "anyone", "anybody", "somebody")
    if text in _WISHING and _several(tokens, at + 1, clause):
        return True
    if text == "were" and after == "all" and not asked:
        return False  # 'were all getting on fine' is 'we're' without its apostrophe
    if text in MODAL:
        counted = after in NUMBER_WORDS or after.isdecimal()
        return asked or after in SUBJECTS or counted and text not in ("will", "may", "must")
    subject = after in SUBJECTS or after.isdecimal() and text in ("is", "are")
    return text in QUESTION_STARTS and text in _FINITE and (subject or asked)


def _several(tokens, at, clause) -> bool:
    """Whether a noun for several stands here: 'do kids need', 'can novices go'."""
    if at >= clause.end:
        return False
    text, base = tokens[at].text, tokens[at].stem
    return text in _PEOPLE or text.endswith("s") and text[:-1] == base


_WISHING = frozenset("do does can could should would shall".split())
_PEOPLE = frozenset("people kids children everyone everybody".split())


def _goes_on(scene, clauses, at) -> bool:
    """Whether the next clause is still of the question: no separator parts them, or it has no verb
    of its own.
    """
    one, other = clauses[at], clauses[at + 1]
    if not other.opener:
        return True
    if one.closer not in ("and", "or", "then", "but", "&", "/"):
        return False
    texts = [t.text for t in scene.tokens[other.start : other.end]]
    for word in ("if", "or"):  # 'off one bolt if it is resin', 'from below or is it too short'
        texts = texts[: texts.index(word)] if word in texts else texts
    return not _FINITE & set(texts[1:]) and not {"i", "we", "he", "she", "they"} & set(texts[:2])


def _in_its_if(scene, begin, clause) -> bool:
    """Whether a clause goes on with what a question only supposes: 'why not hang it there, if it is
    resin and good for 20 kN', in which a comma that nobody typed parts nothing.
    """
    comma = scene.tokens[clause.start - 1]
    untyped = clause.opener in ("and", "&") or clause.opener == "," and comma.start == comma.end
    return untyped and "if" in [t.text for t in scene.tokens[begin : clause.end]]


def _supposes(scene, start, end) -> bool:
    return any(
        sequence_at(scene.tokens, at, HYPOTHETICALS if at == start else LATER_HYPOTHETICALS)
        for at in range(start, end)
    )
