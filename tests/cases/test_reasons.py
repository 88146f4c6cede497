"""Why an option lost is a reason against that option, never one for the option it lost to."""

from depth import many_cases, not_quick
from worked import advised, program

from advisor.decide.names import option_name
from advisor.model.effects import Disfavour, RuleOut


def against(base, advice, name, option):
    """What the fired rules that rule out or disfavour an option give as their reason."""
    for derivation in advice.derivations:
        rule = base.rule(derivation.rule)
        for effect in rule.effects if rule else ():
            if not isinstance(effect, RuleOut | Disfavour) or effect.decision != name:
                continue
            if option_name(base, effect.of(rule.bind(derivation.bound))) == option:
                yield rule.because.partition("{")[0].rstrip(".")


@not_quick
@many_cases
def test_what_lost_is_told_by_what_speaks_against_it(path):
    base = program().base
    advice = advised(path)
    for name, decision in advice.decisions.items():
        for lost in decision.alternatives:
            spec = base.decisions[name]
            own = spec.get("each of itself") or spec["options"][lost.option]
            said = [own["against"].rstrip("."), *against(base, advice, name, lost.option)]
            assert any(words in lost.lost_because for words in said), (name, lost)


@many_cases
def test_every_choice_has_a_reason(path):
    advice = advised(path)
    for name, decision in advice.decisions.items():
        if decision.choice and name in program().base.decisions:
            assert decision.reasons or decision.of_itself, name


def test_every_option_has_reasons_of_its_own():
    own = [o for d in program().base.decisions.values() for o in d.get("options", {}).values()]
    said = [text for reasons in own for text in (reasons["for"], reasons["against"])]
    assert len(said) == len(set(said)) and all(text.endswith(".") for text in said)
