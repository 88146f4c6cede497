"""Law 5: every conclusion has a derivation down to stated facts, absences and sources; nothing is
concluded from nothing.
"""

from depth import examples, not_quick, some_numbers
from facts_strategy import advisor, cases, told, worked_cases
from hypothesis import HealthCheck, given, settings
from msgspec.structs import replace

from advisor.model.conditions import looks_at_choice

RULES = {rule.id: rule for rule in advisor().base.rules}


def items_of(advice):
    """Every listed item of an advice that must say where it comes from."""
    for item in (*advice.said, *advice.calculations):
        yield type(item).__name__, item
    for name, decision in advice.decisions.items():
        yield from ((f"decision {name}", reason) for reason in decision.reasons)
    for verdict in advice.items:
        yield from ((f"verdict on {verdict.id}", reason) for reason in verdict.reasons)
    for step in advice.response.lines if advice.response else ():
        yield "response", step


def missing(advice):
    """All that is not derived as it should be."""
    derivations, facts = (
        {d.id: d for d in advice.derivations},
        {f.id: f for f in advice.facts},
    )
    calculations = {c.id: c for c in advice.calculations}
    found = [
        f"derivation {d} stands twice"
        for d in {d.id for d in advice.derivations}
        if sum(e.id == d for e in advice.derivations) > 1
    ]
    for where, item in items_of(advice):
        found += [
            f"{where}: {item.id} has no derivation {d!r}"
            for d in [item.derivation, *getattr(item, "derivations", ())]
            if d not in derivations
        ]
        found += [
            f"{where}: {item.id} has an unknown source {s!r}"
            for s in item.sources
            if s not in advisor().base.sources
        ]
        if getattr(item, "rule", "") and not item.sources:
            found.append(f"{where}: {item.id} has no source")
    for decision in advice.decisions.values():
        found += [
            f"a lost option has no derivation {d!r}"
            for a in decision.alternatives
            for d in a.derivations
            if d not in derivations
        ]
    for derivation in derivations.values():
        found += unfounded(derivation, derivations, facts, calculations)
    return found + circles(derivations, facts)


def unfounded(derivation, derivations, facts, calculations):
    """What is wrong with one derivation.

    A calculation may rest on trade figures alone; it lists them as its inputs.
    """
    found, rule = [], RULES.get(derivation.rule)
    figures = derivation.rule is None and any(
        c in calculations and calculations[c].inputs for c in derivation.calculations
    )
    if not (
        derivation.facts
        or derivation.absences
        or figures
        or (rule and looks_at_choice(rule.condition))
    ):
        found.append(f"{derivation.id} rests on nothing")
    for name in derivation.facts:
        entity, _, attribute = name.rpartition(".")
        kind = advisor().base.vocabulary.split(entity)
        declared = kind and kind[0].attributes.get(attribute)
        if not declared:
            found.append(f"{derivation.id} rests on {name}, which the vocabulary does not know")
        elif declared.derived:
            behind = derivations_of(facts, name)
            found += (
                [f"{derivation.id} rests on {name}, which nothing derives"] if not behind else []
            )
            found += [f"{name} has no derivation {d!r}" for d in behind if d not in derivations]
    return found


def derivations_of(facts, name):
    return facts[name].derivations if name in facts else ()


def facts_of(derivations, identity):
    return derivations[identity].facts if identity in derivations else ()


def circles(derivations, facts):
    """Derived facts that rest on themselves."""
    found = []
    for start in derivations:
        seen, waiting = set(), [start]
        while waiting:
            for name in facts_of(derivations, waiting.pop()):
                for behind in derivations_of(facts, name):
                    if behind == start:
                        found.append(f"{start} rests on itself")
                    if behind not in seen:
                        seen.add(behind)
                        waiting.append(behind)
    return found


def stated_facts_are_told(case, advice):
    """Whether the facts told as said are those of the case and, of an incident, what its plan says
    of it.
    """
    told_facts = {f.id: f for f in advice.facts if not f.concluded}
    stated = {f"{entity}.{key.partition('.')[2]}" for entity, key in case.facts}
    return stated <= told_facts.keys() and all(
        "incident" in case.topics and said_by_the_plan(case, told_facts[name])
        for name in told_facts.keys() - stated
    )


def said_by_the_plan(case, fact):
    """Whether a fact of the incident follows from what the case says of its plan."""
    attribute = advisor().base.vocabulary.attribute(f"{fact.entity}.{fact.attribute}")
    key, leads_to = attribute.from_plan or ("", {})
    planned = case.facts.get((key.partition(".")[0], key))
    return planned is not None and fact.value in leads_to.values()


@not_quick
@some_numbers
def test_everything_in_a_worked_case_is_derived(number):
    case = worked_cases()[number]
    advice = advisor().advise(case)
    assert not missing(advice)
    assert stated_facts_are_told(case, advice)


@not_quick
@settings(
    max_examples=examples(40, 50),
    deadline=None,
    derandomize=True,
    suppress_health_check=list(HealthCheck),
)
@given(cases())
def test_everything_in_a_random_case_is_derived(case):
    advice = advisor().advise(case)
    assert not missing(advice), told(case)
    assert stated_facts_are_told(case, advice)


def test_every_rule_has_a_source_and_a_condition():
    assert not [
        r.id
        for r in RULES.values()
        if not r.sources or not set(r.sources) <= set(advisor().base.sources)
    ]


def test_a_missing_derivation_is_seen():
    advice = next(a for a in map(advisor().advise, worked_cases()) if a.requirements)
    needed = advice.requirements[0].derivation
    left = tuple(d for d in advice.derivations if d.id != needed)
    assert not missing(advice) and missing(replace(advice, derivations=left))
