"""How a fact is said back, so that a mishearing leaps to the eye; and how it is written to be
understood again.
"""

from __future__ import annotations

from advisor.facts.values import read_fact
from advisor.faults import Place
from advisor.language.readings import canonical


def echo(said, base) -> str:
    """'pitch depth 14 m'; 'left bolt worst sign: no bad sign, doubtful: counted as that
    or worse'.
    """
    attribute = base.vocabulary.attribute(said.key)
    entity, name = base.vocabulary.split(said.entity)
    thing = said.entity if entity.say_kind or not name else name
    if said.raw == "unknown":
        return (
            f"{thing}: {attribute.name} not known"
            if said.words and not name
            else f"{thing} ({entity.name}), {attribute.name} not known"
        )
    value = _value(said, attribute, base)
    if said.doubtful:
        value += (
            ", doubtful: counted as that or worse"
            if attribute.worse or attribute.ranks
            else ", doubtful: counted as not known"
        )
    return f"{thing} {attribute.name}: {value}"


def _value(said, attribute, base) -> str:
    if isinstance(said.raw, (list, tuple)):
        return " or ".join(map(str, said.raw))
    raw = said.raw.rstrip("? ") if said.doubtful else said.raw
    if not attribute.is_number:
        return str(raw)
    fact, _ = read_fact(attribute, said.entity, raw, {}, "chat", Place("chat"))
    text = fact.text if fact else str(raw)
    spoken = str(raw).replace(" ", "")
    return (
        text
        if spoken == text.replace(" ", "")
        else f"{raw} = {text}"
        if not _same_unit(spoken, text)
        else text
    )


def _same_unit(spoken, text) -> bool:
    return spoken.replace("count", "").strip() == text.strip()


def render(fact) -> str:
    """A phrase that understands back to the same fact (a Fact or a Said)."""
    raw = fact.raw if fact.raw is not None else fact.text
    name = fact.key.partition(".")[2]
    return canonical(fact.entity, _Named(name), raw)


class _Named:
    """Just an attribute's name."""

    def __init__(self, name):
        self.name = name
