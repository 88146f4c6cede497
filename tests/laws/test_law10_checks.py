"""Law 10: at home the checks are exactly the open facts of the spot that could bring a stop, a
`first` or a must; answering one badly brings it, and answering all of them well brings nothing.
A rare thing, which counts only once somebody has said it, is no check.
"""

from random import Random

from depth import examples, kept, not_quick
from facts_strategy import advisor, told
from sound_plans import (
    advised,
    answered,
    at_home,
    grave,
    left_open,
    name,
    of_the_spot,
    sound_plans,
    values,
    worse_answers,
)

from advisor.decide.checks import held
from advisor.facts.vocabulary import ON_THE_SPOT
from advisor.model.advice import CLEAR_AT_HOME, IF_CHECKED, NOT_YET
from advisor.model.conditions import State

SETS = [*range(examples(15, 134))]
WEIGHT = {"must": 1, "require": 1, "first": 2, "stop": 3}
# What is worked out from other facts is not open; stated all the same it counts.
WORKED_OUT = {"pitch head.angle": "pitch head.angle by places"}


@kept
def drawn(seed):
    """(sound plan, the facts of the spot left open in it, the plan so opened, its advice)."""
    random = Random(seed)
    whole = at_home(random.choice(sound_plans()))
    refs = of_the_spot(whole)
    refs = random.sample(refs, random.randint(1, len(refs)))
    opened = left_open(whole, refs, random)
    return whole, refs, opened, advised(opened)


def ref_of(check):
    entity, _, attribute = check.fact.rpartition(".")
    return entity, f"{advisor().base.vocabulary.split(entity)[0].name}.{attribute}"


def is_worked_out(case, ref):
    key = WORKED_OUT.get(ref[1])
    world = advisor().run(case, [advisor().plain])[0].world
    return key is not None and world.columns[key][ref[0]][0] == world.columns[key][ref[0]][1]


def once_stated(item, ref):
    """Whether what a fact brings is brought only once somebody has said it: a rare thing."""
    rule = advisor().base.rule(item[1])
    return rule is not None and any(
        isinstance(part, State) and part.word == "known" and part.ref.key == ref[1]
        for part in rule.condition.walk()
    )


def said_by_nobody(item):
    """Whether a rule speaks because nobody has said something."""
    walked = advisor().base.rule(item.rule).condition.walk()
    return any(isinstance(part, State) and part.word == "unknown" for part in walked)


@not_quick
def test_every_open_fact_that_could_forbid_is_a_check():
    for seed in SETS:
        random, (whole, refs, opened, advice) = Random(seed), drawn(seed)
        checks = {check.fact for check in advice.checks}
        unchecked = [ref for ref in refs if name(ref) not in checks]
        for ref in random.sample(unchecked, min(2, len(unchecked))):
            brought = {
                (raw, *item)
                for raw in values(whole, ref)
                for item in grave(answered(whole, ref, raw)) - grave(whole)
                if not once_stated(item, ref)
            }
            assert not brought or is_worked_out(opened, ref), (seed, name(ref), brought)


@not_quick
def test_a_check_answered_badly_brings_what_it_threatens():
    for seed in SETS:
        random, (whole, _, _, advice) = Random(seed), drawn(seed)
        refs = {check.fact: ref_of(check) for check in advice.checks}
        for check in advice.checks:
            assert check.moment in ON_THE_SPOT and check.group and check.well, check
        for check in random.sample(advice.checks, min(2, len(advice.checks))):
            others = [ref for fact, ref in refs.items() if fact != check.fact]
            assert any(
                WEIGHT[item[0]] >= WEIGHT[check.gravity]
                for bad, well in worse_answers(whole, refs[check.fact], others)
                for item in grave(bad) - grave(well)
            ), (seed, check.fact, check.threatens)


@not_quick
def test_a_plan_that_lacks_only_what_is_seen_on_the_spot_is_clear_and_firm_if_that_holds():
    clear = 0
    for seed in SETS:
        whole, _, opened, advice = drawn(seed)
        go, stated = advice.decisions["go"], {name(ref) for ref in whole.facts}
        assert not stated & {question.fact for question in advice.blocking}, seed
        if go.choice == NOT_YET and advice.blocking:
            continue  # what is left open lets another fact count that the plan never told
        if go.choice == NOT_YET and all(said_by_nobody(item) for item in advice.first):
            continue  # put right first until somebody has said what became of it
        clear += 1
        assert go.choice == CLEAR_AT_HOME, (seed, told(opened), go.reasons[:2])
        assert go.open == tuple(check.fact for check in advice.checks)
        ahead = advised(held(advisor().base.vocabulary, opened, advice.checks))
        assert not ahead.stops and not ahead.first and not ahead.contradictions, (seed, ahead.stops)
        assert go.standing == ("firm" if not advice.checks else IF_CHECKED), (seed, ahead.checks)
    assert clear > 0.9 * len(SETS)
