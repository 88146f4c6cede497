"""The facts people can state and those the rules conclude: type, unit, range, question, values,
and who looks at them.
"""

from __future__ import annotations

from advisor.audit.space import keys_of
from advisor.facts.times import show_time
from advisor.facts.units import show


def matching(base, word="") -> list:
    """Attributes whose key, help, question, phrases or values hold every word of `word`."""
    wanted = word.lower().split()
    return [a for a in base.vocabulary.by_key.values() if all(w in _all_text(a) for w in wanted)]


def _all_text(attribute):
    phrases = [p for group in attribute.value_phrases.values() for p in group]
    return " ".join(
        [
            attribute.key,
            attribute.help,
            attribute.asks,
            *attribute.phrases,
            *attribute.values,
            *phrases,
        ]
    ).lower()


def shown(base, attribute) -> dict:
    """One attribute as plain data."""
    span = (
        [
            show_time(v) if attribute.type == "time" else show(v, attribute.unit)
            for v in (attribute.low, attribute.high)
        ]
        if attribute.is_number
        else []
    )
    return {
        "fact": attribute.key,
        "entity": attribute.entity,
        "type": attribute.type,
        "unit": attribute.unit,
        "range": span,
        "values": list(attribute.values),
        "ordered": bool(attribute.ranks),
        "worse": attribute.worse,
        "names": list(attribute.of),
        "question": attribute.asks,
        "help": attribute.help,
        "derived": attribute.derived,
        "change": attribute.change,
        "serves": list(attribute.serves),
        "rules": [r.id for r in base.rules if attribute.key in keys_of(r.condition)],
        "calculations": [c.id for c in base.calculations if attribute.key in c.keys],
        "given_by": (
            [r.id for r in base.rules if r.derives == attribute.key]
            + [c.id for c in base.calculations if attribute.key in c.outputs]
        ),
    }


def list_lines(base, attributes) -> list:
    """Entities with their attributes, one line each."""
    lines: list[str] = []
    for entity in base.vocabulary.entities.values():
        mine = [a for a in attributes if a.entity == entity.name]
        if mine:
            lines += [""] * bool(lines) + [
                f"{entity.name}{' (several)' if entity.many else ''}: {entity.help}",
                *(f"  {a.key}: {kind_words(a)}" for a in mine),
            ]
    return [
        *lines,
        "",
        f"{len(attributes)} facts. One in full: pitch-advisor facts ENTITY.ATTRIBUTE",
    ]


def kind_words(attribute) -> str:
    """'choice: dry, drips, spray', 'number in m, 0 m to 60 m', 'yes or no'."""
    derived = "concluded; " if attribute.derived else ""
    if attribute.type == "yes/no":
        return derived + "yes or no"
    if attribute.is_choice:
        return f"{derived}{', '.join(attribute.values)}"
    if attribute.type == "time":
        return derived + "a time of day, as 14:30"
    if attribute.is_number:
        return (
            f"{derived}number in {attribute.unit}, {show(attribute.low, attribute.unit)} to"
            f" {show(attribute.high, attribute.unit)}"
        )
    return derived + (
        f"the name of a {' or '.join(attribute.of)}" if attribute.type == "named" else "free text"
    )


def fact_lines(base, attribute) -> list:
    """One attribute in full."""
    data = shown(base, attribute)
    lines = [attribute.key, f"  {attribute.help}", f"  Takes: {kind_words(attribute)}"]
    lines += (
        [f"  Values run from the best to the worst: {', '.join(attribute.values)}"]
        if attribute.ranks
        else []
    )
    lines += [f"  {attribute.worse.capitalize()} is worse."] if attribute.worse else []
    lines += (
        [f"  Question: {attribute.asks.replace('{it}', 'the ' + attribute.entity)}"]
        if attribute.asks
        else []
    )
    for title, name in (
        ("It", "change"),
        ("Serves", "serves"),
        ("Given by", "given_by"),
        ("Looked at by rules", "rules"),
        ("Used by calculations", "calculations"),
    ):
        value = data[name]
        lines += (
            [
                (
                    f"  {title}: {value if isinstance(value, str) else ', '.join(value)}"
                    if name != "change"
                    else f"  It {value}."
                )
            ]
            if value
            else []
        )
    return lines
