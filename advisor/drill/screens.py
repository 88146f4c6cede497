"""The facts of a case in a few screens, by entity: the place first, as the topics of
decisions.yaml have them, then the rest of the vocabulary.
"""

from __future__ import annotations

import textwrap

from advisor.decide.firing import name_of
from advisor.facts.values import ASSUMED
from advisor.load.local import LOCAL

LINES, WIDTH = 18, 76  # what can be read at once on a small terminal


def screens(base, case) -> list:
    """Lists of lines; an entity's facts stay together unless they fill a screen by themselves."""
    found: list[list[str]] = []
    page: list[str] = []
    for lines in _paragraphs(base, case):
        if page and len(page) + len(lines) > LINES:
            found.append(page)
            page = []
        page = page + lines
        while len(page) > LINES:
            found.append(page[:LINES])
            page = page[LINES:]
    return found + [page] if page else found


def _paragraphs(base, case):
    facts = {}
    for (entity, key), fact in case.facts.items():
        doubt = " (doubtful)" if fact.state == 1 else ""
        doubt += f" ({fact.said_by})" if fact.said_by in (ASSUMED, LOCAL) else ""
        facts.setdefault(entity, []).append(f"{key.partition('.')[2]} = {fact.text}{doubt}")
    order = dict.fromkeys(name for kinds in base.topics.values() for name in kinds) | dict.fromkeys(
        base.vocabulary.entities
    )
    for kind in (base.vocabulary.entities[name] for name in order):
        for entity in sorted(e for e in facts if base.vocabulary.split(e)[0] is kind):
            label = name_of(base, entity) + (
                f" ({kind.name})" if kind.many and not kind.say_kind else ""
            )
            yield textwrap.wrap(
                f"{label}: {'; '.join(facts[entity])}.",
                WIDTH,
                subsequent_indent="    ",
                break_on_hyphens=False,
            )
