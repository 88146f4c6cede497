"""What would change it: complete and minimal against brute force, and the cone of a question
against the whole program.
"""

import random

import pytest
from depth import case_numbers, not_quick, some_numbers, sweep, told_number
from small_base import (
    BESIDE,
    CASES,
    advised,
    brute_force,
    case_named,
    case_of,
    every_change,
    outcomes,
    program,
    ran,
    shipped,
    small,
)

from advisor.explain import nearest
from advisor.explain.cone import Cone
from advisor.explain.grouping import grouped
from advisor.explain.nearest import Finding, possible_changes, search
from advisor.explain.targets import Target, read_target, state_of
from advisor.explain.variants import with_changes
from advisor.explain.what_would import what_would
from advisor.explain.why_not import why_not
from advisor.faults import Disagreement
from advisor.progress import Watch

QUESTIONS = (
    "tether",
    "tether=cord",
    "ladder anchor",
    "ladder anchor=two",
    "stops",
    "small.spray",
    "small.deep=stands",
)


def wanted(text, before):
    """The same question as a test of the whole program's outcomes."""
    name, _, option = text.partition("=")
    if name == "stops":
        return lambda now: before["stops"] and not now["stops"]
    if name.startswith("small."):
        return lambda now: (
            (name in now["stops"]) != (name in before["stops"])
            and (not option or (name in now["stops"]) == (option == "stands"))
        )
    now_is = before["decision", name]
    return lambda now: (
        now["decision", name] == option != now_is if option else now["decision", name] != now_is
    )


def searched(advisor, case, text, size):
    """All minimal sets of changes that bring what is asked about."""
    run = advisor.answer(case)
    return search(run, read_target(run, text), size)


ASKED = [
    (n, text)
    for n, given in enumerate(CASES)
    for text in QUESTIONS
    if not text.endswith("=two") or "anchor two" in given
]


@pytest.mark.parametrize("number, text", ASKED)
def test_search_finds_exactly_what_brute_force_finds(number, text):
    advisor = small()
    case = case_of(advisor, CASES[number])
    found = searched(advisor, case, text, 2)
    expected = brute_force(
        advisor, case, every_change(advisor, case, BESIDE), wanted(text, outcomes(advisor, case)), 2
    )
    assert {
        frozenset((c.entity, c.key, c.value) for c in f.changes) for f in found.found
    } == expected
    assert found.complete == 2 and len(found.found) == len(expected) == found.confirmed


@not_quick
def test_three_at_once_is_complete_too():
    advisor = small()
    case = case_of(advisor, CASES[0])
    found = searched(advisor, case, "stops", 3)
    assert found.found == [] and found.complete == 3  # nothing stops it, so nothing can be cleared
    case = case_of(
        advisor,
        "{pitch: {water: dry}, anchor one: {moves: yes, side: right, height: 1 m}, anchor two:"
        " {moves: no, side: right, height: 2 m}}",
    )
    found = searched(advisor, case, "ladder anchor=one", 3)
    expected = brute_force(
        advisor,
        case,
        every_change(advisor, case, BESIDE),
        wanted("ladder anchor=one", outcomes(advisor, case)),
        3,
    )
    assert {
        frozenset((c.entity, c.key, c.value) for c in f.changes) for f in found.found
    } == expected
    assert {len(f.changes) for f in found.found} >= {2, 3}


@not_quick
def test_search_on_the_real_rules_finds_exactly_what_brute_force_finds():
    """The tether of a case, every single change of the facts that bear on it, against the whole
    program.
    """
    advisor = program()
    case = case_of(
        advisor,
        "{pitch: {depth: 8 m}, group: {novices: 2}, leader: {practised tether: both}, tether:"
        " {form: releasable hitch}}",
    )
    run = advisor.answer(case)
    target = read_target(run, "tether")
    changes = possible_changes(run, Cone(advisor, case, target))
    before = outcomes(advisor, case)["decision", "tether"]
    expected = brute_force(
        advisor, case, changes, lambda now: now["decision", "tether"] != before, 1
    )
    assert (
        {
            frozenset((c.entity, c.key, c.value) for c in f.changes)
            for f in search(run, target, 1).found
        }
        == expected
        != set()
    )


@not_quick
@some_numbers
def test_the_cone_says_what_the_whole_program_says(number):
    """Random changes on every worked case: each decision, all stops and all verdicts, from the
    cone and from the whole rule base.
    """
    advisor, case, rng = program(), shipped()[number], random.Random(number)
    choices = ran(number).choices
    targets = [
        Target("all", "", ""),
        Target("stops", "", ""),
        *(Target("decision", name, "") for name in choices),
    ]
    for target in rng.sample(targets, min(3, len(targets))):
        cone = Cone(advisor, case, target)
        changes = possible_changes(ran(number), cone)
        for size in (0, 1, 2, 6):
            chosen = tuple(
                {c.fact: c for c in rng.sample(changes, min(size, len(changes)))}.values()
            )
            whole = advisor.run(with_changes(case, advisor.base, chosen), [advisor.plain])
            assert state_of(advisor.base, target, *cone.run(chosen)) == state_of(
                advisor.base, target, *whole
            ), (target, chosen)


def test_facts_outside_the_cone_do_not_bear():
    """Changing any fact that the cone leaves out changes nothing of the target: tried on every
    fact of the small base.
    """
    advisor = small()
    for given in CASES:
        case = case_of(advisor, given)
        before = outcomes(advisor, case)
        for name in ("tether", "ladder anchor"):
            keys = Cone(advisor, case, Target("decision", name, "")).keys
            for change in every_change(advisor, case, BESIDE):
                if change.key not in keys:
                    assert (
                        outcomes(advisor, with_changes(case, advisor.base, (change,)))[
                            "decision", name
                        ]
                        == before["decision", name]
                    )


@not_quick
def test_ctrl_c_shows_what_was_found_and_says_so():
    advisor = program()
    case = case_named("Four bolts at Quarry Shaft, people arriving from the left")

    class Impatient(Watch):
        def __call__(self, done, total, what):
            assert total > done >= 0
            if what == "sets of 2":
                raise KeyboardInterrupt

    impatient = Impatient()
    lines = what_would(advisor.answer(case), "ladder anchor=right ladder bolt", 2, impatient)
    assert any("arrival side of the pitch head: right" in line for line in lines)
    assert "all sets of up to 1 change were tried (the search was stopped early)" in lines[-1]
    assert impatient.stopped


def test_a_search_that_differs_from_the_whole_program_is_an_internal_fault(monkeypatch):
    advisor = small()
    case = case_of(advisor, CASES[0])
    monkeypatch.setattr(nearest, "Cone", Liar)
    with pytest.raises(Disagreement):
        searched(advisor, case, "tether", 1)


class Liar(Cone):
    """A cone that answers as if nothing were known of the depth."""

    def _world(self, changes, facts=()):
        world = super()._world(changes, facts)
        if changes:
            world.columns["pitch.depth"] = {"pitch": (0, 300000)}
        return world


def test_findings_that_differ_in_one_value_are_one_group():
    advisor = small()
    case = case_of(advisor, CASES[0])
    changes = {(c.entity, c.key, c.value): c for c in every_change(advisor, case, BESIDE)}
    drips, spray = (changes["pitch", "pitch.water", 1 << n] for n in (1, 2))
    deep = [c for c in changes.values() if c.key == "pitch.depth"][:2]
    findings = [Finding((w, d), "x") for w in (drips, spray) for d in deep] + [
        Finding((drips,), "y")
    ]
    assert [
        ({k[1]: len(v) for k, v in choices.items()}, state) for choices, state in grouped(findings)
    ] == [({"pitch.water": 2, "pitch.depth": 2}, "x"), ({"pitch.water": 1}, "y")]


def test_each_group_stands_for_all_of_its_findings_and_no_other():
    advisor = small()
    for given in CASES:
        case = case_of(advisor, given)
        findings = searched(advisor, case, "tether", 2).found
        spelt = {(frozenset(f.changes), f.state) for f in findings}
        told = set()
        for choices, state in grouped(findings):
            sets = [frozenset()]
            for changes in choices.values():
                sets = [s | {c} for s in sets for c in changes]
            told |= {(s, state) for s in sets}
        assert told == spelt


def options_with_names(number):
    """(decision, option by the user's name) of a worked case."""
    advice = advised(number)
    for name, d in advice.decisions.items():
        if name in program().base.decisions and "by" not in program().base.decisions[name]:
            yield from (
                (name, o)
                for o in dict.fromkeys(
                    [
                        d.choice,
                        *d.equal,
                        *(a.option for a in d.alternatives),
                        *(r.option for r in d.reasons),
                    ]
                )
                if o
            )


def plans():
    """Some worked cases that are about a plan."""
    return [n for n in case_numbers(5, 60) if "plan" in shipped()[n].topics]


@not_quick
@sweep("number", plans, told_number)
def test_why_not_says_what_became_of_every_option(number, monkeypatch):
    monkeypatch.setattr(
        "advisor.explain.why_not._missing", lambda *_: []
    )  # what is missing is searched for in the tests below
    advice = advised(number)
    for name, option in options_with_names(number):
        first = why_not(ran(number), f"{name}={option}")[0]
        decision = advice.decisions[name]
        if decision.choice == option:
            assert first.startswith(f"{option} is the choice")
        elif option in decision.equal:
            assert first.startswith(f"{option} is as good as")
        else:
            assert first.startswith(f"Not {option}: ")


@not_quick
def test_what_is_missing_would_do_it():
    """Each single change that why-not names brings the option when made on the whole program."""
    advisor, case = (
        program(),
        case_named("Four bolts at Quarry Shaft, people arriving from the left"),
    )
    found = searched(advisor, case, "ladder anchor=right ladder bolt", 1).found
    assert found and all(
        outcomes(advisor, with_changes(case, advisor.base, f.changes))["decision", "ladder anchor"]
        == "right ladder bolt"
        for f in found
    )


def test_where_no_single_change_does_it_why_not_says_how_to_try_two():
    advisor = small()
    case = case_of(
        advisor,
        "{pitch: {water: dry}, anchor one: {moves: yes, side: right, height: 1 m}, anchor two:"
        " {moves: no, side: right, height: 1 m}}",
    )
    run = advisor.answer(case)
    assert any("--changes 2" in line for line in why_not(run, "ladder anchor=one"))
    assert any("moves of one" in line for line in what_would(run, "ladder anchor=one", 2))
