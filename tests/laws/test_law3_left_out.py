"""Law 3: leaving a fact out never makes the advice more permissive than every way of filling it in.

Filled in with: all values of a choice; every entity a 'named' attribute may name; for a number
the values at, just below and
just above every limit the rules use, the other side of every comparison, and the ends of its range.
A calculation is not worked while one of its inputs is not known; what rests on it must then stay
open, not vanish.
"""

from depth import examples, not_quick, sampled, some_numbers, sweep
from facts_strategy import advisor, cases, copy, few, seeded, state, told, values_of, worked_cases
from hypothesis import HealthCheck, given, settings
from outcomes import rests_on_calculation, result

from advisor.decide.verdicts import VERDICTS
from advisor.model.conditions import CompareRefs, looks_at_choice
from advisor.model.effects import Require, RuleOut, Stop, Verdict, Warn

# Its conditions on soundness and kind hang together through a third fact (only a natural anchor can
# be beyond question, and
# what makes one sound differs by kind), which three-valued logic cannot see: it stays open, and
# open keeps 'go' from permitting.
JOINT = {"lifeline-anchor.two-sound"}
# Each kind of kit has rules of its own; while the kind is not known, 'set aside for a competent
# person' is severe enough
# where every kind would be retired for a reason of its own: either way nobody uses it.
MOST_SEVERE = {"kit.type": VERDICTS.index("set aside for a competent person")}


def compared(key, case):
    """Steps at which a comparison with another stated fact turns."""
    found = set()
    for rule in advisor().base.rules:
        for node in rule.condition.walk():
            if isinstance(node, CompareRefs) and key in {ref.key for ref in node.own}:
                other, up, down = (
                    (node.other.key, node.times, node.per)
                    if key == node.ref.key
                    else (node.ref.key, node.per, node.times)
                )
                found |= {
                    end * up // down
                    for (_, k), fact in case.facts.items()
                    if k == other
                    for end in fact.value
                }
    return tuple(sorted(found))


def completions(case, entity, attribute):
    """The results of every way of stating one attribute."""
    values = values_of(
        attribute, case.names, compared(attribute.key, case) if attribute.is_number else ()
    )
    for raw in dict.fromkeys((*values[:1], *values[::-1])):
        full = copy(case)
        state(full, entity, attribute, raw)
        yield result(full)


def permissive(case, some=12):
    """[(fact left out, what every filling-in has and the partial case lacks)]."""
    found = []
    for (entity, key), _ in few(case, some):
        attribute = advisor().base.vocabulary.attribute(key)
        if attribute.type == "text":
            continue
        partial = copy(case)
        del partial.facts[entity, key]
        lost = losses_over_all(
            result(partial), completions(partial, entity, attribute), MOST_SEVERE.get(key, 9)
        )
        found += [(f"{entity}.{key.partition('.')[2]}", *loss) for loss in lost]
    return found


def losses_over_all(partial, full, most):
    """The losses over every completion.

    Each further completion can only lessen them, so it ends as soon as none is left.
    """
    seen, lost = [], []
    for one in full:
        seen.append(one)
        lost = losses(partial, seen, most)
        if not lost:
            break
    return lost


def stays_open(item, partial):
    """Shown as something that could still be; an open stop keeps 'go' from permitting."""
    return item in partial.open and (item[0] != "stop" or bool(partial.stops) or partial.blocked)


def losses(partial, full, most):
    """What the partial case lacks although every completion has it."""
    lost = frozenset.intersection(*(f.sure for f in full)) - partial.sure
    found = [
        (item,)
        for item in sorted(lost)
        if not (item[1] in JOINT | rests_on_calculation() and stays_open(item, partial))
    ]
    if all(f.stops for f in full) and not partial.stops and not partial.blocked:
        found.append(("every completion stops",))
    for item in set.intersection(*(set(f.verdicts) for f in full)):
        mildest = min(most, *(f.verdicts[item] for f in full))
        if partial.verdicts.get(item, -1) < mildest:
            found.append((item, partial.verdicts.get(item), mildest))
    return found


GRAVE = [
    r
    for r in advisor().base.rules
    if r.gives(Stop, Require, Warn, Verdict, RuleOut) and not looks_at_choice(r.condition)
]


@sweep("rule", lambda: sampled(GRAVE, 8, 70), lambda r: r.id)
def test_leaving_out_a_fact_a_rule_rests_on_never_permits(rule):
    case = seeded(f"{rule.id} 0", rule)
    assert not permissive(case), told(case)


@not_quick
@some_numbers
def test_leaving_a_fact_out_of_a_worked_case_never_permits(number):
    assert not permissive(worked_cases()[number])


@settings(
    max_examples=examples(16, 125),
    deadline=None,
    derandomize=True,
    suppress_health_check=list(HealthCheck),
)
@given(cases())
def test_leaving_a_fact_out_of_a_random_case_never_permits(case):
    assert not permissive(case), told(case)
