"""Law 11 for what is assumed: it never makes advice more permissive than not knowing it, and makes
nothing firm that is not firm without it.
"""

from functools import cache
from random import Random

import pytest
from depth import examples, not_quick
from facts_strategy import copy, state, told
from msgspec.structs import replace
from sound_plans import advised, at_home, attribute, name, sound_plans, values

from advisor.advise import Advisor
from advisor.decide.questions import GRAVITY
from advisor.facts.values import ASSUMED
from advisor.load.folder import find_folder
from advisor.model.advice import BLOCKING, CAUTIOUS

pytestmark = not_quick
SETS = [*range(examples(6, 340))]
STANDINGS = ("firm", "firm, if the checks hold", "provisional", "refer", "stop")


def grave(advice):
    return {
        item.id
        for item in (*advice.stops, *advice.first, *advice.contradictions, *advice.must("must"))
    }


def caution(choice):
    """How cautious a 'go' is; another way than the ladder before 'not yet', a stop before all."""
    order = (*CAUTIOUS[:-1], "another way", CAUTIOUS[-1])
    return order.index(choice if choice in CAUTIOUS else "another way")


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
    whole = random.choice(sound_plans())
    whole = at_home(whole) if seed % 3 else whole
    refs = random.sample(sorted(whole.facts), random.randint(1, 6))
    known = copy(whole)
    raws = []
    for ref in refs:
        others = values(whole, ref) if attribute(ref).type != "text" and seed % 2 else []
        raws.append(random.choice([whole.facts[ref].text, *others]))
        known.facts.pop(ref)
    return refs, known, assuming(known, refs, raws)


def loosened(without, ahead):
    """What of the advice on what is known the advice with assumptions takes back or softens."""
    found = [f"gone: {item}" for item in grave(without) - grave(ahead)]
    asked = {q.id: q.gravity for q in ahead.open_questions}
    for q in without.open_questions:
        if q.id not in asked or GRAVITY.index(asked[q.id]) > GRAVITY.index(q.gravity):
            found.append(f"asked less: {q.id}")
    checks = {c.id for c in ahead.checks}
    found += [f"not checked: {c.id}" for c in without.checks if c.id not in checks]
    hazards = {h.id: h for h in ahead.hazards}
    found += [f"hazard: {h.id}" for h in without.hazards if hazards.get(h.id) != h]
    for decision, was in without.choices.items():
        now = ahead.decisions[decision]
        if STANDINGS.index(now.standing) < STANDINGS.index(was.standing):
            found.append(f"standing of {decision}: {was.standing} -> {now.standing}")
        if now.standing.startswith("firm") and set(now.chosen) != set(was.chosen):
            found.append(f"firm and another: {decision}")
    before, after = (advice.decisions["go"].choice for advice in (without, ahead))
    found += [f"go: {before} -> {after}"] if caution(after) < caution(before) else []
    found += ["kit"] if ahead.items != without.items else []
    return found + (["response"] if without.response not in (None, ahead.response) else [])


def test_what_is_assumed_clears_nothing():
    taken = 0
    for seed in SETS:
        refs, known, case = drawn(seed)
        without, ahead = advised(known), advised(case)
        taken += bool(ahead.assumed)
        assert set(ahead.assumed) == {name(ref) for ref in refs if ref in case.facts}
        assert not loosened(without, ahead), (seed, told(case))
    assert taken > len(SETS) // 2


def test_it_makes_less_firm_than_given_outright():
    firmer = 0
    for seed in SETS:
        _, _, case = drawn(seed)
        ahead, bold = advised(case), advised(given(case))
        firmer += any(
            bold.decisions[decision].standing != choice.standing
            for decision, choice in ahead.choices.items()
        )
    assert firmer


def given(case):
    """The case with what is assumed given."""
    outright = copy(case)
    for ref, fact in case.facts.items():
        outright.facts[ref] = fact._replace(said_by="case file")
    return outright


def test_what_only_an_assumed_value_would_ask_is_as_grave_as_if_it_were_given():
    for seed in SETS:
        _, _, case = drawn(seed)
        ahead, bold = advised(case), advised(given(case))
        asked = {q.id: q.gravity for q in ahead.open_questions}
        for q in bold.blocking:
            assert asked[q.id] in BLOCKING, (seed, q.id)


def test_a_thing_named_only_to_look_ahead_is_not_there():
    random = Random(11)
    things = [(case, thing) for case in sound_plans() for thing in sorted(case.names["anchor"])]
    stopped = 0
    for whole, thing in random.sample(things, min(len(things), examples(6, 20))):
        refs = [ref for ref in whole.facts if ref[0] == thing]
        left = replace(copy(whole), named=frozenset())
        for ref in refs:
            left.facts.pop(ref)
        left.names["anchor"].discard(thing)
        ahead = replace(assuming(whole, refs, [whole.facts[ref].text for ref in refs]))
        ahead.named = frozenset()
        without, told_ahead = advised(left), advised(ahead)
        assert not loosened(without, told_ahead), (whole.title, thing)
        stopped += bool(without.stops)
    assert stopped  # without one of its anchors a line may not be rigged


@cache
def guided():
    """The program under the example of local guidance, by the compiled engine alone."""
    program = Advisor(local_file=str(find_folder("rules") / "local" / "example.yaml"))
    program.engines, program.built_in.engines = [program.plain], [program.built_in.plain]
    return program


def test_under_local_guidance_it_clears_nothing_either():
    program = guided()
    for seed in SETS[::2]:
        refs, known, case = drawn(seed)
        without, ahead = (program.advise(program.under_local(c)) for c in (known, case))
        assert set(ahead.assumed) == {name(ref) for ref in refs if ref in case.facts}
        assert not loosened(without, ahead), (seed, told(case))


@pytest.mark.parametrize("depth", ["10 m", "25 m"])
def test_what_local_guidance_lays_down_does_not_make_an_assumed_fact_known(depth):
    program = guided()
    whole = next(c for c in sound_plans() if ("leader", "leader.authorised depth") in c.facts)
    ref = ("leader", "leader.authorised depth")
    known = copy(whole)
    known.facts.pop(ref)
    case = assuming(known, [ref], [depth])
    without, ahead = (program.advise(program.under_local(c)) for c in (known, case))
    assert ahead.assumed == ("leader.authorised depth",)
    assert f"authorised depth {depth}" in ahead.assumed_words
    assert ahead.decisions["go"].choice == without.decisions["go"].choice == "not yet"
    assert set(without.local.departures) <= set(ahead.local.departures)
    assert not loosened(without, ahead)


def test_each_thing_told_has_its_reasons_and_rests_on_what_is_known():
    for seed in SETS:
        _, known, case = drawn(seed)
        without, ahead = advised(known), advised(case)
        ids = [d.id for d in ahead.derivations]
        assert len(ids) == len(set(ids)) and ids == sorted(ids)
        there = set(ids)
        for item in ahead.said:
            assert there.issuperset(item.behind), (seed, item.id)
        old, new = ({d.id: d for d in a.derivations} for a in (without, ahead))
        for item in (*without.stops, *without.first, *without.requirements):
            for behind in item.behind:
                assert new[behind].sure >= old[behind].sure, (seed, behind)
