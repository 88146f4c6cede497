"""Law 13: facts that cannot all be true are named, each counts as doubtful, and nothing is clear
until one is put right. Law 12: a plan that names no ladder, lifeline, anchor or leader is never
clear.
"""

import pytest
from depth import examples, many_cases, not_quick
from facts_strategy import advisor, copy, seeded, told
from msgspec.structs import replace
from worked import advised, case_at

from advisor.facts.vocabulary import AT_HOME, AT_THE_HEAD
from advisor.load.case import read_case
from advisor.load.folder import find_folder
from advisor.model.advice import CLEAR, CLEAR_AT_HOME, NOT_YET
from advisor.model.effects import Contradiction

RULES = [rule for rule in advisor().base.rules if rule.gives(Contradiction)]
SOUND = find_folder("cases") / "plan/arrival-left.yaml"


def sound(*settings):
    return advisor().advise(read_case(SOUND, advisor().base, settings))


def holds(case, advice=None):
    """The contradictions of a case, after what the law asks of them was checked."""
    advice = advice or advisor().advise(case)
    states = {fact.id: fact.state for fact in advice.facts}
    for item in advice.contradictions:
        assert item.text and item.because and item.derivation in {d.id for d in advice.derivations}
        assert {states.get(fact, "doubtful") for fact in item.facts} == {"doubtful"}, told(case)
    if advice.contradictions and "go" in advice.decisions:
        assert advice.decisions["go"].choice != CLEAR, told(case)
    return advice.contradictions


@not_quick
def test_a_contradiction_is_named_and_doubted():
    met = {
        item.rule
        for rule in RULES
        for seed in range(examples(4, 12))
        for item in holds(seeded(f"{rule.id} {seed}", rule))
    }
    unmet = sorted(rule.id for rule in RULES if rule.id not in met)
    assert len(unmet) <= len(RULES) // 8, f"random facts met too few of them: {unmet}"


@many_cases
def test_no_worked_case_contradicts_itself_unsaid(path):
    case = case_at(path)
    expected = sorted(case.expect.get("contradictions", ()))
    assert sorted(item.rule for item in holds(case, advised(path))) == expected


def test_more_novices_than_people_is_not_clear():
    assert sound().decisions["go"].choice == CLEAR
    advice = sound("group.novices=60")
    assert [item.rule for item in advice.contradictions] == [
        "contradiction.more-novices-than-group"
    ]
    assert advice.decisions["go"].choice == NOT_YET
    assert {f.id for f in advice.facts if f.state == "doubtful"} == {"group.novices", "group.size"}


@pytest.mark.parametrize("kind", ["ladder", "lifeline", "anchor", "leader"])
def test_a_plan_that_does_not_name_it_is_never_clear(kind):
    whole = read_case(SOUND, advisor().base)
    case = copy(whole)
    case.names = {name: ids for name, ids in whole.names.items() if name != kind}
    gone = whole.names[kind]
    case.facts = {
        ref: fact
        for ref, fact in whole.facts.items()
        if ref[0] not in gone
        and not (isinstance(fact.value, tuple) and set(map(str, fact.value)) & gone)
    }
    for at in (AT_HOME, AT_THE_HEAD):
        advice = advisor().advise(replace(case, at=at))
        assert advice.decisions["go"].choice not in (CLEAR, CLEAR_AT_HOME)
