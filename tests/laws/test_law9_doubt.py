"""Law 9: a doubtful value is at least as strict as the value said, ordered or not."""

from depth import examples
from facts_strategy import advisor, cases, copy, few, state, told, worked_cases
from hypothesis import HealthCheck, given, settings
from outcomes import result

from advisor.facts.world import KNOWN
from advisor.load.case import build_case
from advisor.load.tree import parse_document


def relaxed(case, some=8):
    """What is lost when a known choice of a case is said with a question mark instead."""
    before, vocabulary = result(case), advisor().base.vocabulary
    for (entity, key), fact in few(case, some):
        attribute = vocabulary.attribute(key)
        several = " or " in fact.text or " to " in fact.text
        if attribute.type in ("text", "named") or fact.state != KNOWN or several:
            continue
        changed = copy(case)
        # A number's text is rounded, and would be another value.
        same = fact.raw if attribute.type == "number" else fact.text
        state(changed, entity, attribute, f"{same}?")
        after = result(changed)
        lost = sorted(before.sure - after.sure)
        milder = [i for i, grade in before.verdicts.items() if after.verdicts.get(i, -1) < grade]
        if lost or milder:
            yield f"{entity}.{key.partition('.')[2]}: {fact.text} -> {fact.text}?", lost, milder


@settings(
    max_examples=examples(40, 50),
    deadline=None,
    derandomize=True,
    suppress_health_check=list(HealthCheck),
)
@given(cases())
def test_doubt_never_relaxes_a_random_case(case):
    assert not list(relaxed(case)), told(case)


def test_doubt_keeps_a_stop_beside_which_a_way_is_preferred():
    """A rule that stops the plan and prefers another way says both, doubtful or not."""
    text = "about: [plan]\ngiven: {{plan: {{trip kind: led}}, site: {{kind: {}, {}: no}}}}\n"
    for kind in ("mine", "mine?"):
        given = parse_document(text.format(kind, "inspection current").encode(), "test")
        stops = {stop.rule for stop in advisor().advise(build_case(given, advisor().base)).stops}
        assert "mine.no-inspection" in stops, kind


def test_doubt_keeps_what_is_ruled_out_beside_which_a_way_is_preferred():
    """So it is with the air at an alarm point, where it is doubtful that it was read."""
    site = "{{carbon dioxide: 2 %, gas meter: {}}}"
    text = f"about: [plan]\ngiven: {{{{site: {site}, pitch: {{{{depth: 9 m}}}}}}}}\n"
    lost = []
    for said in ("yes", "yes?"):
        given = parse_document(text.format(said).encode(), "test")
        method = advisor().advise(build_case(given, advisor().base)).decisions["method"]
        lost.append(
            (method.choice, {a.option for a in method.alternatives if "ladder" in a.option})
        )
    assert lost[0] == lost[1] and lost[0][0] == "another way or no pitch", lost


def test_doubt_never_relaxes_a_worked_case():
    for case in worked_cases()[::12]:
        assert not list(relaxed(case, 6)), case.title
