"""One question for several things alike: of which of them something is so. It is put where neither
answer is the better one; the numbers that were read out are the answer.
"""

from __future__ import annotations

import re

from advisor.chat.questions import split_fact
from advisor.chat.together import still_to_ask
from advisor.decide.firing import name_of

_FORM = re.compile(
    r"(?:only )?(?P<numbers>\d{1,2}(?:(?: ?, ?| and | )\d{1,2})*)[.!]?$"
    r"|(?P<all>(?:all(?: of them)?|both)[.!]?$)|(?P<none>(?:none(?: of them)?|neither)[.!]?$)",
    re.IGNORECASE,
)
HOW = "Say '1', '1 and 2', 'all' or 'none'."


def alike(session, advice, found) -> tuple:
    """The facts to be asked for together with the one found next; () where it stands alone."""
    base, ((entity, key), _) = session.advisor.base, found
    attribute = base.vocabulary.attribute(key)
    if not entity or attribute.type != "yes/no" or attribute.ranks:
        return ()
    asked = [split_fact(base, q.fact) for q in still_to_ask(session, advice)]
    same = [reference for reference in asked if reference[1] == key]
    return tuple(sorted(same)) if (entity, key) in same and len(same) > 1 else ()


def lines(session, facts) -> list:
    """The question and its numbered things."""
    base = session.advisor.base
    so = base.vocabulary.attribute(facts[0][1]).says["yes"].replace("{it}", "which of these")
    things = (f"{n}. {name_of(base, entity)}" for n, (entity, _) in enumerate(facts, 1))
    return [f"{so[:1].upper()}{so[1:]}?", *things]


def answered(session, line: str):
    """The facts that a line of numbers says: [(entity, key, yes or no)]; None where it is none."""
    match = _FORM.match(line)
    if not (match and session.choosing):
        return None
    last = len(session.read_out)
    said = match.groupdict()
    numbers = {int(n) for n in re.findall(r"\d+", said["numbers"] or "")}
    if said["all"]:
        numbers = set(range(1, last + 1))
    if not numbers <= set(range(1, last + 1)):
        return None
    return [
        (*refs[0], "yes" if n in numbers else "no") for n, refs in enumerate(session.read_out, 1)
    ]
