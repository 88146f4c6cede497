"""Law 11: a later moment, a value left out and a doubtful one never make advice more permissive."""

from random import Random

from depth import examples, not_quick
from facts_strategy import copy, seeded, state, told
from msgspec.structs import replace
from sound_plans import (
    advised,
    answered,
    at_home,
    attribute,
    left_open,
    name,
    of_the_spot,
    sound_plans,
    values,
)

from advisor.facts.vocabulary import AT_HOME, AT_THE_HEAD
from advisor.facts.world import KNOWN
from advisor.model.advice import CLEAR, CLEAR_AT_HOME, NOT_YET, STOPPED

SETS = [*range(examples(30, 67))]
FARTHER = [STOPPED, NOT_YET, "another way or no pitch", CLEAR_AT_HOME, CLEAR]


def far(advice):
    """How far an advice lets people go; a clear word with checks left is no more than that."""
    go = advice.decisions["go"].choice
    return FARTHER.index(CLEAR_AT_HOME if go == CLEAR else go)


def grave(advice):
    return {
        item.id
        for item in (*advice.stops, *advice.first, *advice.contradictions, *advice.must("must"))
    }


def near_sound(seed):
    """A sound plan with a few facts said otherwise and a few left open."""
    random = Random(seed)
    case = at_home(random.choice(sound_plans()))
    for ref in random.sample(sorted(case.facts), random.randrange(3)):
        raws = values(case, ref) if attribute(ref).type != "text" else []
        case = answered(case, ref, random.choice(raws)) if raws else case
    refs = of_the_spot(case) if random.randrange(2) else []
    return random, left_open(case, random.sample(refs, random.randint(0, len(refs))), random)


def later_is_no_milder(home, head, case):
    assert grave(home) == grave(head), told(case)
    assert {q.fact for q in home.blocking} <= {q.fact for q in head.blocking}, told(case)
    assert {check.fact for check in home.checks} == {check.fact for check in head.checks}
    if "go" in home.decisions:
        assert far(head) <= far(home), told(case)
        if home.moment == AT_HOME and head.decisions["go"].choice == CLEAR:
            assert home.decisions["go"].choice == CLEAR_AT_HOME and not home.checks, told(case)


@not_quick
def test_the_head_permits_no_more_than_home():
    for seed in SETS:
        case = near_sound(seed)[1] if seed % 2 else seeded(f"moment {seed}")
        home, head = (advised(replace(copy(case), at=at)) for at in (AT_HOME, AT_THE_HEAD))
        later_is_no_milder(home, head, case)


@not_quick
def test_a_value_doubted_permits_no_more_than_the_value():
    for seed in SETS:
        random, case = near_sound(seed)
        known = [
            (ref, fact)
            for ref, fact in sorted(case.facts.items())
            if fact.state == KNOWN and (attribute(ref).is_choice or attribute(ref).is_number)
        ]
        ref, fact = random.choice([k for k in known if not {"or", "to"} & set(k[1].text.split())])
        before, changed = advised(case), copy(case)
        state(changed, ref[0], attribute(ref), f"{fact.text}?")
        assert far(advised(changed)) <= far(before), (seed, name(ref), fact.text)


@not_quick
def test_a_value_left_out_permits_no_more_than_the_best_it_could_be_or_is_a_check():
    for seed in SETS:
        random, case = near_sound(seed)
        ref = random.choice([r for r in sorted(case.facts) if attribute(r).is_choice])
        without = copy(case)
        del without.facts[ref]
        advice = advised(without)
        if name(ref) not in {check.fact for check in advice.checks}:
            best = 0
            for raw in values(case, ref):
                best = max(best, far(advised(answered(without, ref, raw))))
                if best >= far(advice):
                    break
            # Where every answer brings a stop of its own, "not yet" lets nobody go either, as long
            # as the open fact is asked for as what could forbid it.
            asked = {question.fact for question in advice.blocking}
            waits = advice.decisions["go"].choice == NOT_YET and name(ref) in asked
            assert far(advice) <= best or waits, (seed, name(ref))
