"""What people call things: options, facts and items by the user's own names."""

from __future__ import annotations

from advisor.decide.firing import name_of


def option_name(base, option: str) -> str:
    """'left ladder bolt' for the option 'anchor left ladder bolt'. Options that are words stay as
    they are, even where
    they begin with the name of an entity, such as 'leader last on a doubled line'."""
    if any(option in spec.get("options", ()) for spec in base.decisions.values()):
        return option
    return name_of(base, option) if base.vocabulary.split(option) else option


def fact_name(base, entity: str, key: str) -> str:
    """'side of left ladder bolt'."""
    return f"{key.partition('.')[2]} of {name_of(base, entity)}"


def split_id(base, identity: str):
    """('anchor left bolt', 'anchor.side') for the fact id 'anchor left bolt.side'; None where it
    is none.
    """
    entity, _, name = identity.rpartition(".")
    found = base.vocabulary.split(entity) if entity else None
    key = f"{found[0].name}.{name}" if found else ""
    return (entity, key) if base.vocabulary.attribute(key) else None


def id_name(base, identity: str) -> str:
    """A fact id in words; anything else as it stands."""
    found = split_id(base, identity)
    return fact_name(base, *found) if found else identity


def value_text(base, attribute, value) -> str:
    """A value in words, entities by the user's names."""
    from advisor.facts.values import show_value

    return (
        " or ".join(name_of(base, n) for n in value)
        if isinstance(value, tuple) and isinstance(value[0], str)
        else show_value(attribute, value)
    )


def listed(words, join: str = "and") -> str:
    """'a', 'a and b', 'a, b and c'."""
    words = list(words)
    return (
        words[0]
        if len(words) == 1
        else f"{', '.join(words[:-1])} {join} {words[-1]}"
        if words
        else ""
    )


def rule_name(base, identity: str) -> str:
    """'ladder-anchor.recheck [left bolt]' for a derivation id that names entities by their ids."""
    rule, bracket, bound = identity.partition(" [")
    return (
        f"{rule} [{', '.join(name_of(base, e) for e in bound[:-1].split(', '))}]"
        if bracket
        else identity
    )


def stop_name(base, identity: str) -> str:
    """A stop in words: its rule's title, id and entities, or what is said where no option of a
    decision is left.
    """
    head, _, decision = identity.partition(": ")
    if head == "no option left":
        return f"{base.decisions[decision]['none left'].rstrip('.')} [{identity}]"
    if head == "out of use":
        return f"{decision} is not used as it is [{identity}]"
    identity, _, bound = identity.partition(" [")
    rule, names = (
        base.rule(identity),
        ([name_of(base, e) for e in bound[:-1].split(", ")] if bound else []),
    )
    title = rule.title
    for (variable, _), name in zip(rule.variables, names):
        title = title.replace(f"{{{variable}}}", name)
    return f"{title} [{'; '.join([identity, *names])}]"


def source_name(base, source: str) -> str:
    """A source in a few words: title, publisher, year."""
    spec = base.sources[source]
    year = spec.get("year", "")
    return f"{spec['title']}, {spec['publisher']}" + (
        f", {year}" if year not in ("", "unknown") else ""
    )
