"""Two troubles at once: the steps of both are kept, the graver first."""

import itertools

import pytest
from depth import not_quick
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from rehearsed import certain, program, response, told

from advisor.model.effects import Step

GRAVEST = program().base.vocabulary.attribute("incident.what").gravest
# Facts that turn branches, each said or not; both troubles are on the same facts.
FACTS = {
    "where": ("near the top", "middle"),
    "conscious": ("yes", "no"),
    "answers": ("yes", "no"),
    "feels_faint": ("yes", "no"),
    "hurt": ("none", "one limb", "serious"),
    "can_hold_on": ("yes", "no"),
    "still_trapped": ("yes", "no"),
    "confused": ("yes", "no"),
    "base_safe": ("yes", "no"),
    "line_runs_free": ("yes", "no"),
    "line_reaches_base": ("yes", "no"),
    "helpers_at_top": ("0", "3"),
    "helper_on_own_line": ("yes", "no"),
    "someone_on_the_ladder": ("yes", "no"),
    "people_below": ("0", "4"),
    "water_on_the_ladder": ("yes", "no"),
}


def kept_by(graver, lesser, facts):
    """What the graver trouble alone asks for that is lost when the lesser comes on top."""
    alone = response(graver, **facts)
    both = response(graver, also=lesser, **facts)
    sure = {(p, r) for p in ("steps", "do_not") for r in certain(alone, p)}
    texts = {(p, i.text) for p in ("steps", "do_not") for i in getattr(both, p) if not i.when}
    of = {(p, i.rule): i.text for p in ("steps", "do_not") for i in getattr(alone, p)}
    return {s for s in sure if (s[0], of[s]) not in texts}


def pairs():
    return list(itertools.combinations(GRAVEST, 2))


@not_quick
def test_a_second_trouble_takes_no_step_from_the_graver():
    lost = {}
    for graver, lesser in pairs()[::7]:
        missing = kept_by(graver, lesser, {})
        if missing:
            lost[graver, lesser] = missing
    assert not lost


@not_quick
@settings(max_examples=60, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
@given(
    st.sampled_from(pairs()),
    st.fixed_dictionaries({}, optional={k: st.sampled_from(v) for k, v in FACTS.items()}),
)
def test_a_second_trouble_takes_no_step_from_the_graver_on_any_facts(pair, facts):
    assert not kept_by(*pair, facts)


@not_quick
@pytest.mark.parametrize(
    "what, also",
    [
        ("leg trapped in the ladder", "water rising"),
        ("frozen or panicked", "rockfall"),
        ("cold casualty", "unconscious on the lifeline"),
        ("person hurt at the base", "ladder broken or come off"),
    ],
)
def test_the_graver_is_told_first_whichever_was_named_first(what, also):
    one, other = response(what, also=also), response(also, also=what)
    assert [s.rule for s in one.steps] == [s.rule for s in other.steps]
    assert one.incident == f"{also}, and {what}"
    own = set(certain(response(also))) - set(certain(response(what)))
    lesser = set(certain(response(what))) - set(certain(response(also)))
    for phase in ("at once", "then", "when over"):
        order = [r for r in certain(one) if phase_of(r) == phase and r in own | lesser]
        assert order == sorted(order, key=lambda r: r in lesser), phase


def phase_of(rule):
    return next(step.phase for step in program().base.rule(rule).gives(Step))


def test_the_same_trouble_twice_is_one():
    alone = response("rockfall")
    assert response("rockfall", also="rockfall") == alone


def test_an_unsure_second_trouble_is_seen_to_as_well():
    assert "rock.shelter" in certain(response("frozen or panicked", also="rockfall?"))


def test_each_line_says_once_what_two_rules_ask():
    answer = response("water rising", also="leg trapped in the ladder", conscious="no")
    for part in ("call_now", "say", "do_not"):
        texts = [(i.text, i.when) for i in getattr(answer, part)]
        assert len(texts) == len(set(texts))


def test_both_engines_see_both_troubles():
    case = told({"incident.what": "frozen or panicked", "incident.also": "rockfall"})
    outcomes = [program().run(case, [engine])[0].instances for engine in program().engines]
    assert len(outcomes) == 2 and sorted(outcomes[0]) == sorted(outcomes[1])
