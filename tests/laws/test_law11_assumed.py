"""Law 11 for what is assumed: it never makes advice more permissive than not knowing it, and makes
nothing firm that is not firm without it.
"""

from random import Random

from depth import examples
from facts_strategy import copy, state, told
from sound_plans import advised, at_home, attribute, name, sound_plans, values

from advisor.facts.values import ASSUMED
from advisor.model.advice import CAUTIOUS

SETS = [*range(examples(12, 170))]


def grave(advice):
    return {
        item.id
        for item in (*advice.stops, *advice.first, *advice.contradictions, *advice.must("must"))
    }


def assuming(case, refs, raws):
    """The case with these facts assumed."""
    ahead = copy(case)
    for ref, raw in zip(refs, raws):
        state(ahead, ref[0], attribute(ref), raw)
        if ref in ahead.facts:
            ahead.facts[ref] = ahead.facts[ref]._replace(said_by=ASSUMED)
    return ahead


def drawn(seed):
    """(a plan with facts left out, the same with those assumed, some at other values)"""
    random = Random(seed)
    whole = at_home(random.choice(sound_plans()))
    refs = random.sample(sorted(whole.facts), random.randint(1, 6))
    known = copy(whole)
    raws = []
    for ref in refs:
        others = values(whole, ref) if attribute(ref).type != "text" and seed % 2 else []
        raws.append(random.choice([whole.facts[ref].text, *others]))
        known.facts.pop(ref)
    return refs, known, assuming(known, refs, raws)


def test_what_is_assumed_clears_nothing():
    taken = 0
    for seed in SETS:
        refs, known, case = drawn(seed)
        without, ahead = advised(known), advised(case)
        taken += bool(ahead.assumed)
        assert set(ahead.assumed) == {name(ref) for ref in refs if ref in case.facts}
        assert grave(without) <= grave(ahead), told(case)
        assert {q.fact for q in without.blocking} <= {q.fact for q in ahead.blocking}
        assert {check.fact for check in without.checks} <= {check.fact for check in ahead.checks}
        assert ahead.items == without.items and ahead.response == without.response
        before, after = (advice.decisions["go"].choice for advice in (without, ahead))
        if before in CAUTIOUS and after in CAUTIOUS:
            assert CAUTIOUS.index(after) >= CAUTIOUS.index(before), (seed, before, after)
    assert taken > len(SETS) // 2


def test_what_is_assumed_makes_nothing_firm():
    loosened = 0
    for seed in SETS:
        _, known, case = drawn(seed)
        without, ahead = advised(known), advised(case)
        given = copy(case)
        for ref, fact in case.facts.items():
            given.facts[ref] = fact._replace(said_by="case file")
        bold = advised(given)
        for decision, choice in ahead.choices.items():
            before = without.decisions.get(decision)
            if choice.standing.startswith("firm"):
                assert before and before.standing.startswith("firm"), (seed, decision)
                assert before.chosen == choice.chosen, (seed, decision)
            loosened += bold.decisions[decision].standing != choice.standing
    assert loosened  # given outright it would be firmer
