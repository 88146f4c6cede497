"""Words kept as they were typed, which no rule weighs: 'note it' keeps the line before, 'note: …'
what stands behind.
"""

from __future__ import annotations

import re

from advisor.model.names import FINDING_ITEM
from advisor.model.names import REMARKS as PLAN_REMARKS

_FORM = re.compile(
    r"note(?:\s*:\s*(?P<words>.+)|(?: (?:it|that|this))?(?: down)?[.!]?)$", re.IGNORECASE
)
HINT = (
    "'note it' keeps that line as you typed it, weighed by no rule; leave people's names out of it."
)
NOTED = 'Noted, weighed by no rule: "{words}". It stands among the facts of {place}.'
ON_PAPER = "It is printed on the assessment too."
NOTHING = "There is no line to note; say 'note: …' with the words."
REMARKS = "remarks"  # the attribute that holds them


def order(session, line: str):
    """('note', lines) where a line asks for words to be kept; None where it does not."""
    found = _FORM.match(line)
    if not found:
        return None
    words = (found["words"] or session.unheard or "").strip()
    if not words:
        return "note", (NOTHING,)
    entity, key = _where(session)
    before = session.said.get((entity, key))
    messages = session.say([(entity, key, f"{before}; {words}" if before else words)])
    session.unheard = ""
    place = session.advisor.base.vocabulary.split(entity)
    called = place[1] or f"the {place[0].name}"
    if messages:
        return "note", tuple(messages)
    noted = NOTED.format(words=words, place=called)
    return "note", (f"{noted} {ON_PAPER}" if (entity, key) == PLAN_REMARKS else noted,)


def hint(session, line: str, unclear) -> tuple[str, ...]:
    """Remember a line with words that nothing was made of; the first time, say what can be done."""
    lost = any(not readings for _, readings in unclear)
    first = lost and session.unheard is None
    if lost or session.unheard is not None:
        session.unheard = line if lost else ""
    return (HINT,) if first else ()


def _where(session) -> tuple[str, str]:
    """The thing whose remarks they become: the piece of kit spoken of, the incident, the plan."""
    topics, spoken_of = session.case().topics, session.last_entity
    spoken_of = session.said.get((spoken_of, FINDING_ITEM), spoken_of)  # a finding's piece of kit
    kinds = session.advisor.base.vocabulary
    kind = kinds.split(spoken_of)[0].name if spoken_of and kinds.split(spoken_of) else ""
    if "plan" not in topics and kinds.attribute(f"{kind}.{REMARKS}"):
        return spoken_of, f"{kind}.{REMARKS}"
    single = "incident" if topics == ("incident",) else "plan"
    return single, f"{single}.{REMARKS}"
