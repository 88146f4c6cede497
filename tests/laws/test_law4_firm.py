"""Law 4: firm is firm. No way of settling what is unknown, doubtful or estimated changes a firm
decision, a stop or a firm go.
"""

from belied import belied, bounds, once_stated, until_known
from depth import examples, not_quick, some_numbers
from facts_strategy import Picker, advisor, cases, copy, state, told, values_of, worked_cases
from hypothesis import HealthCheck, given, settings
from outcomes import result

from advisor.facts.quantity import read_quantity

COMPLETIONS = 6
UNTIL_KNOWN, ONCE_STATED = until_known(advisor().base), once_stated(advisor().base)
BOUNDS = bounds(advisor().base)


def read_steps(attribute, raw):
    return read_quantity(raw, attribute.unit, (attribute.low, attribute.high)).low


def completed(case, pick, share):
    """A case with every unsettled fact settled to one value it may have ('share' of 10 unknown
    ones are stated at all).
    """
    full, world = copy(case), advisor().world(case)
    for kind, entities in world.kinds.items():
        for attribute in advisor().base.vocabulary.entities[kind].attributes.values():
            for entity in (
                entities
                if attribute.type != "text"
                and not attribute.derived
                and not attribute.settles  # a summary that would deny what is said in detail
                and not belied(case, attribute.key)
                else ()
            ):
                fact = case.facts.get((entity, attribute.key))
                if (entity, attribute.key) in world.settled:
                    continue
                if fact or pick.one(range(10)) < share:
                    settle(full, entity, attribute, fact, pick)
    return full


def settle(case, entity, attribute, fact, pick):
    """State one value among those a fact leaves possible."""
    values = values_of(attribute, case.names)
    if fact and attribute.is_choice:
        values = [v for i, v in enumerate(attribute.values) if fact.value >> i & 1]
    elif fact and attribute.is_number:
        if fact.value[0] == fact.value[1]:
            return
        values = values_of(attribute, case.names, tuple(fact.value))
    elif fact:
        values = list(fact.value)
    elif attribute.key in BOUNDS:
        low, high = BOUNDS[attribute.key]
        values = [v for v in values if low <= read_steps(attribute, v) <= high]
    before = case.facts.get((entity, attribute.key))
    if values:
        state(case, entity, attribute, pick.one(values))
        new = case.facts[entity, attribute.key].value
        if (
            fact
            and attribute.is_number
            and not (fact.value[0] <= new[0] and new[1] <= fact.value[1])
        ):
            case.facts[entity, attribute.key] = before._replace(
                value=(fact.value[0], fact.value[0])
            )


def changes(case, pick):
    """[(decision, firm choice, choice after completion, facts that did it)]."""
    if any(fact.said is not None for fact in case.facts.values()):
        return []  # what doubt alone brings goes when it is settled
    before, found = result(case), []
    permits = "plan" in case.topics and not before.stops and not before.blocked
    for number in range(COMPLETIONS):
        full = completed(case, pick, (3, 6, 10)[number % 3])
        after = result(full)
        if after.parts[0].against:  # facts that cannot all be true complete nothing
            continue
        for name, choice in before.choices.items():
            then = after.choices[name]
            if choice.standing == "firm" and (then.option, set(then.equal)) != (
                choice.option,
                set(choice.equal),
            ):
                found.append(
                    (
                        name,
                        choice.option or choice.equal,
                        then.option or then.equal or then.standing,
                        told(full),
                    )
                )
        lost = {s for s in before.lost_stops(after) if s[1] not in UNTIL_KNOWN}
        if lost:
            found.append(("a stop went", lost, told(full)))
        stops = {s for s in after.stops if s[1] not in ONCE_STATED}
        if permits and stops:
            found.append(("go was firm, yet this stops", stops, told(full)))
    return found


def thinned(case, pick):
    """A case with some of its facts left out."""
    thin = copy(case)
    for key in list(thin.facts):
        if pick.chance(5):
            del thin.facts[key]
    return thin


@not_quick
@some_numbers
def test_firm_stays_firm_in_worked_cases(number):
    case = worked_cases()[number]
    assert not changes(case, Picker(seed=number))
    for seed in range(1):
        pick = Picker(seed=f"{number} {seed}")
        thin = thinned(case, pick)
        assert not changes(thin, pick), told(thin)


@settings(
    max_examples=examples(30, 67),
    deadline=None,
    derandomize=True,
    suppress_health_check=list(HealthCheck),
)
@given(cases())
def test_firm_stays_firm_in_random_cases(case):
    assert not changes(case, Picker(seed=len(case.facts))), told(case)


@not_quick
def test_firm_decisions_occur():
    """The law would hold emptily if nothing were ever firm."""
    firm = {
        name
        for case in worked_cases()
        for name, choice in result(case).choices.items()
        if choice.standing == "firm"
    }
    assert firm >= {"ladder anchor", "tether"}


@not_quick
def test_go_can_be_firm():
    permits = [
        case.title
        for case in worked_cases()
        if "plan" in case.topics and not result(case).stops and not result(case).blocked
    ]
    assert permits
