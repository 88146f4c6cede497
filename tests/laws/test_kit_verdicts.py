"""What is said of a piece of kit goes with the verdict on it: nothing kept is forbidden, nothing
retired is cared for, and what is not ours is not cut up.
"""

from depth import examples
from facts_strategy import advisor, cases, seeded, told
from hypothesis import HealthCheck, given, settings

KEPT = ("keep", "keep and watch")
FORBIDS = ("do not use", "do not hang", "take it out of use")
DISPOSAL = {"retire"}


def entity_verdicts(advice) -> dict:
    """Entity -> verdict, whole items only."""
    return {i.id: i.verdict for i in advice.items if ", " not in i.id}


def bound(advice, item) -> list:
    """The entities a listed item speaks of."""
    return next(d for d in advice.derivations if d.id == item.derivation).bound


def marked(rule_id) -> bool:
    """Whether an effect of the rule says beside which verdicts it is told."""
    rule = next(r for r in advisor().base.rules if r.id == rule_id)
    return any(getattr(effect, "with_verdict", ()) for effect in rule.effects)


def about_kit(rule_id) -> bool:
    return next(r for r in advisor().base.rules if r.id == rule_id).about == "kit"


def meeting(advice) -> list:
    """Sentences of prohibition about an item that is kept."""
    of = entity_verdicts(advice)
    return [
        item.text
        for item in (*advice.stops, *advice.requirements)
        if about_kit(item.rule)
        and not item.id.startswith("out of use: ")
        and any(of.get(e) in KEPT for e in bound(advice, item))
        and any(words in item.text.lower() for words in FORBIDS)
    ]


def cared_for(advice) -> list:
    """Whatever is told of a retired item and is no disposal or report."""
    of = entity_verdicts(advice)
    return [
        item.text
        for item in (*advice.requirements, *advice.warnings, *advice.refer)
        if about_kit(item.rule)
        and not marked(item.rule)
        and any(of.get(e) in DISPOSAL for e in bound(advice, item))
    ]


def of_kit(number):
    """A random case aimed at a rule about kit, always the same one for the same number."""
    rules = [r for r in advisor().base.rules if r.about == "kit"]
    return seeded(f"kit {number}", rules[number % len(rules)])


def test_keep_and_do_not_use_never_meet_and_nothing_retired_is_cared_for():
    seen = set()
    for number in range(examples(300, 7)):
        case = of_kit(number)
        advice = advisor().advise(case)
        seen |= set(entity_verdicts(advice).values())
        assert not meeting(advice), told(case)
        assert not cared_for(advice), told(case)
    assert {"retire", "set aside for a competent person"} <= seen


@settings(
    max_examples=examples(40, 50),
    deadline=None,
    derandomize=True,
    suppress_health_check=list(HealthCheck),
)
@given(cases())
def test_they_never_meet_in_a_random_case(case):
    advice = advisor().advise(case)
    assert not meeting(advice) and not cared_for(advice), told(case)
