"""What is concluded and never read, and what people are asked to state although nobody looks at
it.
"""

from __future__ import annotations

from advisor.audit.bench import Finding, finding
from advisor.audit.space import keys_of
from advisor.model.effects import TEMPLATE, Ask, Hazard, Verdict

CONCLUDED, STATED = "unread conclusion", "unused fact"


def read_keys(base) -> set:
    """Every attribute key that a condition, a calculation, a text, a question or a verdict looks
    at.
    """
    found = {key for calculation in base.calculations for key in calculation.keys}
    for rule in base.rules:
        found |= keys_of(rule.condition)
        found |= {effect.ref.key for effect in rule.gives(Ask, Verdict) if effect.ref}
        found |= {key for hazard in rule.gives(Hazard) for key in _met_by(hazard)}
        found |= {
            _key(rule, inside)
            for text in _texts(rule)
            for inside in TEMPLATE.findall(text)
            if "." in inside
        }
    return found


def _met_by(hazard):
    """The facts that meet a hazard's controls."""
    for control in hazard.controls:
        yield from keys_of(control.met) if control.met else ()


def _texts(rule):
    yield from (rule.title, rule.because, *(words for _, words in rule.when))
    for effect in rule.effects:
        yield from effect.words


def _key(rule, inside):
    variable, _, name = inside.partition(".")
    return f"{dict(rule.variables).get(variable, variable)}.{name}"


def unread_facts(bench):
    """Findings for facts that rules conclude and nobody reads, and for stated facts that nobody
    looks at.
    """
    read, found = read_keys(bench.base), []
    for key, rules in bench.space.concluding.items():
        if key not in read:
            scene = bench.firing(rules[0])
            facts = bench.facts(scene, bench.holds(rules[0])) if scene else ()
            found.append(
                finding(
                    CONCLUDED,
                    rules[0],
                    f"nobody reads {key}, which this rule concludes; use it or drop it.",
                    facts,
                )
            )
    for attribute in bench.space.vocabulary.by_key.values():
        if attribute.type != "text" and not attribute.derived and attribute.key not in read:
            found.append(
                Finding(
                    STATED,
                    attribute.key,
                    bench.place_of_attribute(attribute),
                    "people are asked to state this, but no rule, calculation or text looks at it;"
                    " use it or drop it.",
                    (f"{attribute.key} = any value",),
                )
            )
    return found


def untested_numbers(bench):
    """Numbers that are worked out and shown but that no rule tests."""
    read = read_keys(bench.base)
    return [
        Finding(
            "note",
            key,
            bench.place_of_attribute(bench.space.vocabulary.attribute(key)),
            "worked out and shown, but no rule or text looks at it.",
            (f"{key} = any value",),
        )
        for key in sorted(bench.space.worked - read)
    ]
