"""The response to an incident on one screen: calls, never-dos, steps in order; no reasons unless
asked.
"""

from __future__ import annotations

from collections.abc import Iterator

from advisor.model.advice import LOCAL_MARK
from advisor.model.conditions import Condition, InValues, Not
from advisor.model.names import INCIDENT_KIND
from advisor.words import CALL_IF

FIRST_CALL = "The steps name no time for it; in doubt, call."
REAL = "Rehearsal only. In a real emergency act and call first; do not type."


def response(session, advice, everything=False) -> list:
    """Lines of the response.

    Branches that hold for any incident are left to 'what should I do' (everything).
    """
    answer, base = advice.response, session.advisor.base
    due = [f"CALL NOW: {c.text}" for c in answer.due]
    calls = due + [
        CALL_IF.format(when=c.when) if c.when else c.text
        for c in answer.calls
        if c not in answer.due and (not c.when or everything or _of_this(base, c))
    ]
    calls += [s.text for s in answer.say if everything or due]
    never = [
        f"Never: {d.text}"
        for d in answer.do_not
        if not d.when and (everything or _of_this(base, d))
    ]
    own = [text for text in never if text.startswith(f"Never: {LOCAL_MARK}")]
    built_in = [text for text in never if text not in own]
    told = steps(session, advice, everything)
    return [REAL, answer.incident.upper(), *calls, *built_in, *told, *own]


def calls(session, advice) -> list:
    """When to call, of what happened and of any incident."""
    due = [f"CALL NOW: {c.text}" for c in advice.response.due]
    when = [
        CALL_IF.format(when=c.when) if c.when else c.text
        for c in advice.response.calls
        if c not in advice.response.due
    ]
    return [*due, *when] or [FIRST_CALL]


def steps(session, advice, everything=False) -> list:
    """The numbered steps, first things first."""
    base, answer = session.advisor.base, advice.response
    shown = [s for s in answer.steps if everything or not s.when or _of_this(base, s)]
    return [f"{n}. {s.words}" for n, s in enumerate(shown, 1)]


def reasons(advice) -> list:
    """Why each step stands there."""
    answer = advice.response
    return [
        f"{n}. {s.words} Because: {s.because} [{s.rule}]" for n, s in enumerate(answer.steps, 1)
    ]


def _of_this(base, item) -> bool:
    """Whether a line belongs to few kinds of incident rather than to all."""
    kinds = [
        node.mask.bit_count()
        for node in _wanted(base.rule(item.rule).condition)
        if isinstance(node, InValues) and node.ref.key == INCIDENT_KIND.key
    ]
    return bool(kinds) and min(kinds) <= 4


def _wanted(condition: Condition) -> Iterator[Condition]:
    """A condition and all below it but what must not hold: exceptions make no rule special."""
    yield condition
    if not isinstance(condition, Not):
        for child in condition.children:
            yield from _wanted(child)
