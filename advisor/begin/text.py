"""A new plan as the text of a case file: what was answered as facts, the rest as comments that say
what could be written.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

import yaml
from msgspec import Struct

from advisor.facts.vocabulary import Attribute

HEAD = """\
# A plan for `pitch-advisor advise FILE`. Write what you know in place of 'unknown', and take the #
# from the lines you can fill in. `12-14 m` is an estimate, `yes?` a doubt. What is left out counts
# as unknown, never as good. `pitch-advisor facts` lists all that can be said.
"""
OPEN = "unknown"  # an answer that says nothing, to be written over
WIDTH = 98
COMMENT = "    # "


class Line(Struct, frozen=True):
    """One fact of a thing with its question; `answer` is OPEN where it was asked and left open,
    and '' where it only could be said.
    """

    entity: str
    attribute: Attribute
    question: str
    answer: str = ""


def text(title: str, lines: Sequence[Line]) -> str:
    """The case file. A thing of which nothing was asked stands in comments too."""
    entities = list(dict.fromkeys(line.entity for line in lines))
    body = [
        row for name in entities for row in _entity(name, [x for x in lines if x.entity == name])
    ]
    return "\n".join([HEAD + f"case: {quoted(title)}", "about: [plan]", "given:", *body]) + "\n"


def _entity(name: str, lines: list[Line]) -> Iterator[str]:
    known = any(line.answer for line in lines)
    yield f"  {'' if known else '# '}{quoted(name)}:"
    for line in lines:
        hint = ", ".join(line.attribute.values) or unit(line.attribute)
        asks = f"{line.question} ({hint})" if hint else line.question
        yield from textwrap.wrap(asks, WIDTH, initial_indent=COMMENT, subsequent_indent=COMMENT)
        fact = quoted(line.attribute.name)
        yield f"    {fact}: {quoted(line.answer)}" if line.answer else f"    # {fact}:"


def unit(attribute: Attribute) -> str:
    """The unit in which a number is answered, '' where it needs none."""
    if attribute.type == "time":
        return "as 14:30"
    return "" if attribute.unit in ("count", "1") else attribute.unit


def quoted(words: str) -> str:
    """Words as one YAML scalar, bare where they may stand so."""
    if words in ("yes", "no"):
        return words
    dumped: str = yaml.safe_dump(words, allow_unicode=True, width=10**9)
    return dumped.splitlines()[0]
