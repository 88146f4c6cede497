"""What people call things: options, facts and items by the user's own names."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from advisor.decide.firing import name_of
from advisor.facts.values import show_value
from advisor.facts.vocabulary import Attribute
from advisor.model.base import Base
from advisor.model.ref import Ref


def option_name(base: Base, option: str) -> str:
    """'left ladder bolt' for the option 'anchor left ladder bolt'. Options that are words stay as
    they are, even where
    they begin with the name of an entity, such as 'leader last on a doubled line'."""
    if any(option in spec.get("options", ()) for spec in base.decisions.values()):
        return option
    return name_of(base, option) if base.vocabulary.split(option) else option


def fact_name(base: Base, entity: str, key: str) -> str:
    """'side of left ladder bolt'."""
    return f"{key.partition('.')[2]} of {name_of(base, entity)}"


def split_id(base: Base, identity: str) -> Ref | None:
    """('anchor left bolt', 'anchor.side') for the fact id 'anchor left bolt.side'; None where it
    is none.
    """
    entity, _, name = identity.rpartition(".")
    found = base.vocabulary.split(entity) if entity else None
    key = f"{found[0].name}.{name}" if found else ""
    return Ref(entity, key) if base.vocabulary.attribute(key) else None


def id_name(base: Base, identity: str) -> str:
    """A fact id in words; anything else as it stands."""
    found = split_id(base, identity)
    return fact_name(base, *found) if found else identity


def value_text(base: Base, attribute: Attribute, value: Any) -> str:
    """A value in words, entities by the user's names."""
    return (
        " or ".join(name_of(base, n) for n in value)
        if isinstance(value, tuple) and isinstance(value[0], str)
        else show_value(attribute, value)
    )


def listed(words: Iterable[str], join: str = "and") -> str:
    """'a', 'a and b', 'a, b and c'."""
    words = list(words)
    return (
        words[0]
        if len(words) == 1
        else f"{', '.join(words[:-1])} {join} {words[-1]}"
        if words
        else ""
    )


def rule_name(base: Base, identity: str) -> str:
    """'ladder-anchor.recheck [left bolt]' for a derivation id that names entities by their ids."""
    rule, bracket, bound = identity.partition(" [")
    return (
        f"{rule} [{', '.join(name_of(base, e) for e in bound[:-1].split(', '))}]"
        if bracket
        else identity
    )


def stop_name(base: Base, identity: str) -> str:
    """A stop in words: its rule's title, id and entities, or what is said where no option of a
    decision is left.
    """
    head, _, decision = identity.partition(": ")
    if head == "no option left":
        return f"{base.decisions[decision]['none left'].rstrip('.')} [{identity}]"
    if head == "out of use":
        return f"{decision} is not used as it is [{identity}]"
    identity, _, bound = identity.partition(" [")
    names = [name_of(base, e) for e in bound[:-1].split(", ")] if bound else []
    rule = base.rule(identity)
    title = rule.title if rule else identity
    for (variable, _), name in zip(rule.variables if rule else (), names):
        title = title.replace(f"{{{variable}}}", name)
    return f"{title} [{'; '.join([identity, *names])}]"


def source_name(base: Base, source: str) -> str:
    """A source in a few words: title, publisher, year."""
    spec = base.sources[source]
    year = spec.get("year", "")
    return f"{spec['title']}, {spec['publisher']}" + (
        f", {year}" if year not in ("", "unknown") else ""
    )
