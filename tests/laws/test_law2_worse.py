"""Law 2: making one fact worse, by the vocabulary's ordering of caution, never relaxes the advice.

Stops, requirements and warnings are compared by rule, entities and strength; verdicts by item and
part. Rules that look at
what a decision came to are left out: a worse fact may rightly lead to another choice, with other
needs. A worse value said
with a question mark is tried too; a calculation that can then no longer be worked leaves what
rests on it open. Two things worked out are bad both ways: of ladder left over at the foot a deeper
pitch takes, and more rope between belayer and lip makes a softer catch.
"""

from functools import cache

from depth import examples, sampled, some_numbers, sweep
from facts_strategy import (
    advisor,
    cases,
    copy,
    few,
    seeded,
    state,
    steps_of,
    told,
    worked_cases,
    written,
)
from hypothesis import HealthCheck, given, settings
from outcomes import rests_on_calculation, result

from advisor.model.conditions import looks_at_choice
from advisor.model.effects import Require, RuleOut, Stop, Verdict, Warn


def worse_values(attribute, fact):
    """Ways of saying something worse than a fact says (as written): every worse choice; numbers
    at and beside the limits, the
    nearest and the farthest of them and some between."""
    if attribute.is_choice and attribute.ranks:
        ranks = [rank for i, rank in enumerate(attribute.ranks) if fact.value >> i & 1]
        worse = [v for v, rank in zip(attribute.values, attribute.ranks) if rank > max(ranks)]
        same = (
            [attribute.values[attribute.ranks.index(max(ranks))] + "?"]
            if fact.value & (fact.value - 1) == 0
            else []
        )
        return worse + [v + "?" for v in worse] + same
    if attribute.is_number and attribute.worse:
        low, high = fact.value
        beyond = [
            s
            for s in steps_of(attribute.key)
            if (s > high if attribute.worse == "more" else s < low)
        ]
        return [
            written(attribute, s)
            for s in beyond[:2] + beyond[2 : -2 : max(1, len(beyond) // 4)] + beyond[-2:]
        ]
    return []


# What is worked out, and the facts whose worse values rightly take from it.
PLACES = {"anchor.distance from lip", "anchor.height", "pitch head.run to lip"}
BOTH_WAYS = {
    # A little surplus lies at the side, more is coiled up.
    "pitch.surplus counted": {"pitch.depth", "ladder.length", "ladder.surplus at foot", *PLACES},
    "lifeline.catch at lip": PLACES,
    "tether.bridle shortfall": {"tether.eyes"},  # both eyes in one connector need no bridle
}


@cache
def bad_both_ways(rule: str, key: str) -> bool:
    """Whether a rule looks at something that a worse value of a fact rightly lessens."""
    looked_at = {ref.key for ref in advisor().base.rule(rule).condition.references()}
    return any(key in facts for given, facts in BOTH_WAYS.items() if given in looked_at)


def relaxed(case, some=12):
    """[(changed fact, what was lost)] over the ways of making one fact of a case worse, for `some`
    of its facts.
    """
    before, found, vocabulary = result(case), [], advisor().base.vocabulary
    if before.parts[0].against:
        return []  # facts that cannot all be true are doubted; a worse one may settle that
    for (entity, key), fact in few(case, some):
        attribute = vocabulary.attribute(key)
        for raw in worse_values(attribute, fact):
            changed = copy(case)
            state(changed, entity, attribute, raw)
            after = result(changed)
            lost = [
                item
                for item in sorted(before.sure - after.sure)
                if not bad_both_ways(item[1], key)
                and not (
                    raw.endswith("?") and item[1] in rests_on_calculation() and item in after.open
                )
            ]
            lost += sorted(
                name
                for name, choice in before.choices.items()
                if choice.standing == "stop" != after.choices[name].standing
            )
            milder = {
                item: (grade, after.verdicts.get(item))
                for item, grade in before.verdicts.items()
                if after.verdicts.get(item, -1) < grade
            }
            if lost or milder:
                found.append(
                    (f"{entity}.{key.partition('.')[2]}: {fact.text} -> {raw}", lost, milder)
                )
    return found


GRAVE = [
    r
    for r in advisor().base.rules
    if r.gives(Stop, Require, Warn, Verdict, RuleOut) and not looks_at_choice(r.condition)
]


@sweep("rule", lambda: sampled(GRAVE, 8, 70), lambda r: r.id)
def test_worsening_the_facts_a_rule_rests_on_never_relaxes(rule):
    for seed in range(2):
        case = seeded(f"{rule.id} {seed}", rule)
        assert not relaxed(case), told(case)


@some_numbers
def test_worsening_a_worked_case_never_relaxes(number):
    assert not relaxed(worked_cases()[number], 5)


@settings(
    max_examples=examples(25, 80),
    deadline=None,
    derandomize=True,
    suppress_health_check=list(HealthCheck),
)
@given(cases())
def test_worsening_a_random_case_never_relaxes(case):
    assert not relaxed(case), told(case)


def test_the_comparison_sees_what_is_lost():
    """Made better instead of worse, some fact does take a stop, requirement or warning away."""
    assert any(relaxed_if_reversed(case) for case in map(seeded, range(50)))


def relaxed_if_reversed(case):
    """Whether making some fact as good as can be takes a stop, requirement or warning away."""
    before = result(case)
    for (entity, key), _ in sorted(case.facts.items()):
        attribute = advisor().base.vocabulary.attribute(key)
        if attribute.is_choice and attribute.ranks:
            changed = copy(case)
            state(changed, entity, attribute, attribute.values[0])
            if before.sure - result(changed).sure:
                return True
    return False
