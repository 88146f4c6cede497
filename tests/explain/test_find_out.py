"""What to find out next, and what changes between two cases: each told outcome against the whole
program.
"""

from itertools import takewhile

import pytest
from depth import all_cases, case_numbers, most, not_quick, sampled, sweep, told_number
from small_base import CASES, advised, case_of, outcomes, outcomes_of, program, ran, shipped, small

from advisor.decide.names import option_name
from advisor.explain.find_out import find_out, questions
from advisor.explain.variants import with_changes
from advisor.reasons.differences import differences, told


def expected_effects(advisor, before, now):
    """What changes between two outcomes, as (rank, subject)."""
    found = {(0, i) for i in before["stops"] ^ now["stops"]}
    for kind, rank in (("decision", 1), ("item", 2)):
        names = {
            k
            for k in (*before, *now)
            if k[0] == kind and (kind == "item" or "by" not in advisor.base.decisions[k[1]])
        }
        found |= {(rank, k[1]) for k in names if before.get(k) != now.get(k)}
    return found


def told_effects(advisor, answer):
    """The same, read off an answer's sentences."""
    found = set()
    for rank, text in answer.effects:
        found.add((rank, text.partition(": ")[0] if rank else text))
    return found


@not_quick
@sweep("number", lambda: case_numbers(1, 1), told_number)
def test_every_answer_leads_where_the_whole_program_goes(number):
    advisor, case = program(), shipped()[number]
    before = outcomes(advisor, case)
    for question in questions(ran(number))[: most(6, 6) or 12]:
        for answer in question.answers:
            now = outcomes(advisor, with_changes(case, advisor.base, (answer.change,)))
            expected, found = expected_effects(advisor, before, now), told_effects(advisor, answer)
            assert {e for e in expected if e[0]} == {e for e in found if e[0]}, (
                question.item.fact,
                answer.words,
            )
            assert len([e for e in expected if not e[0]]) == len([e for e in found if not e[0]])


@pytest.mark.parametrize("given", CASES)
def test_small_cases_by_every_answer(given):
    advisor = small()
    case = case_of(advisor, given)
    found = questions(advisor.answer(case))
    assert [q.rank for q in found] == sorted(q.rank for q in found)
    words = {
        q.item.fact: {a.words: sorted(t for _, t in a.effects) for a in q.answers} for q in found
    }
    if "depth" not in given and "water: drips?" in given:
        assert (
            words["pitch.depth"][("above 20 m",)]
            == ["stop: deep it is [small.deep]", "tether: nothing yet -> hitch"]
            or words["pitch.depth"]
        )


def test_the_gravest_comes_first_and_says_what_each_answer_brings():
    advisor = small()
    case = case_of(
        advisor,
        "{pitch: {water: dry}, anchor one: {moves: no}, anchor two: {moves: no, side: right}}",
    )
    lines = find_out(advisor.answer(case))
    assert lines[1] == "1. How deep is it?"
    assert any(line.startswith("  - above 20 m: stop: deep it is [small.deep]") for line in lines)


@pytest.mark.parametrize("given", ["{pitch: {water: spray}}", *CASES])
def test_it_ends_early_only_where_nothing_would_come_before(given):
    advisor = small()
    run = advisor.answer(case_of(advisor, given))
    every = [q.item.fact for q in questions(run)]
    assert len(every) == len(run.advice.open_questions)
    for few in (1, 2):
        assert [q.item.fact for q in questions(run, most=few)[:few]] == every[:few]


def test_nothing_open_says_so():
    advisor = small()
    case = case_of(
        advisor,
        "{pitch: {depth: 8 m, water: dry}, anchor one: {moves: no, side: left, height: 1 m}}",
    )
    assert find_out(advisor.answer(case)) == ["Nothing is open on these facts."]


PAIRS = list(zip(range(0, len(all_cases()), 4), range(1, len(all_cases()), 4)))


@not_quick
@pytest.mark.parametrize("first, second", sampled(PAIRS, 2, None))
def test_differences_tell_every_change_and_the_rules_behind_it(first, second):
    before, after = advised(first), advised(second)
    found = differences(program().base, before, after)
    old, new = outcomes_of(before), outcomes_of(after)
    assert {s.id for s in found.stops.new} >= new["stops"] - old["stops"] and {
        s.id for s in found.stops.gone
    } == old["stops"] - new["stops"]
    sure = [{d.id for d in a.derivations if d.rule and d.sure} for a in (before, after)]
    for row in found.decisions + found.items:
        assert (
            set(row.started) <= sure[1]
            and set(row.stopped) <= sure[0]
            and not set(row.started) & set(row.stopped)
        )
    changed = {row.decision for row in found.decisions if row.before != row.after} - {
        "go",
        "ladder length",
    }
    assert changed == {
        k[1] for k in {**old, **new} if k[0] == "decision" and old.get(k) != new.get(k)
    } - {"ladder length"}
    back = differences(program().base, after, before)
    assert back.rules.started == found.rules.stopped
    assert back.rules.stopped == found.rules.started


@not_quick
def test_a_changed_decision_names_the_rules_that_changed_sides():
    advisor, number = (
        program(),
        next(n for n, c in enumerate(shipped()) if "arriving from the left" in c.title),
    )
    case = shipped()[number]
    attribute = advisor.base.vocabulary.attribute("pitch head.arrival side")
    from advisor.explain.variants import change_of

    other = advisor.advise(
        with_changes(
            case,
            advisor.base,
            (
                change_of(
                    advisor.base, attribute, "pitch head", 1 << attribute.values.index("right")
                ),
            ),
        )
    )
    lines = told(differences(advisor.base, advised(number), other), advisor.base)
    at = next(
        n
        for n, line in enumerate(lines)
        if line.startswith("ladder anchor: left ladder bolt -> right ladder bolt")
    )
    behind = list(takewhile(lambda line: line.startswith("  "), lines[at + 1 :]))
    assert "  now holds: ladder-anchor.nearest-arrival [right ladder bolt]" in behind
    assert "  holds no longer: ladder-anchor.nearest-arrival [left ladder bolt]" in behind
    assert option_name(advisor.base, "anchor left ladder bolt") == "left ladder bolt"


def test_nothing_changes_against_itself():
    assert told(differences(program().base, advised(0), advised(0)), program().base) == [
        "Nothing changes."
    ]
