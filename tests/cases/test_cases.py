"""Every worked case says what it teaches, comes out as it expects with both engines, and keeps the
outside contract.
"""

import re

import pytest
from depth import all_cases, every_case, not_quick, some_cases
from jsonschema import Draft202012Validator
from worked import advised, case_at, program

from advisor.load.schema import schema
from advisor.load.tree import read_document
from advisor.model.record import as_json
from advisor.papers.faces import markdown, text
from advisor.papers.outline import whole_paper

FILES = all_cases()
VALIDATOR = Draft202012Validator(schema("advice"))


def worked(path):
    """(Case, advice) of a worked case."""
    return case_at(path), advised(path)


def test_there_are_cases_of_every_kind():
    assert {p.parent.name for p in FILES} >= {"plan", "incident", "kit"}


def test_titles_differ():
    titles = [read_document(path).data["case"] for path in FILES]
    assert len(set(titles)) == len(titles)


@every_case
def test_case_says_what_it_is_teaches_and_expects(path):
    case = case_at(path)
    assert case.title and case.teaches.endswith(".") and case.expect and "stops" in case.expect


@not_quick
@every_case
def test_both_engines_answered(path):
    assert advised(path).checked_by == ("compiled", "durable-rules")


@every_case
def test_stops_are_exactly_those_expected(path):
    case, advice = worked(path)
    found = [s.id if ": " in s.id else s.rule for s in advice.stops]
    assert sorted(set(found)) == sorted(case.expect["stops"])


@every_case
def test_decisions_and_standings(path):
    case, advice = worked(path)
    decisions = advice.decisions
    assert {
        name: decisions[name].choice for name in case.expect.get("decisions", ())
    } == case.expect.get("decisions", {})
    assert {
        name: decisions[name].standing for name in case.expect.get("standings", ())
    } == case.expect.get("standings", {})


@every_case
def test_verdicts(path):
    case, advice = worked(path)
    found = {
        name: item.verdict
        for item in advice.items
        for name in (item.id, item.id.removeprefix("kit "))
    }
    assert {item: found.get(item) for item in case.expect.get("items", ())} == case.expect.get(
        "items", {}
    )


@every_case
def test_requirements_warnings_and_referrals(path):
    case, advice = worked(path)
    for expected, listed in (
        ("first", "first"),
        ("contradictions", "contradictions"),
        ("requires", "requirements"),
        ("warns", "warnings"),
        ("refers", "refer"),
    ):
        told = {item.rule for item in getattr(advice, listed)}
        wanted = set(case.expect.get(expected, ()))
        assert wanted <= told, expected
        assert wanted or expected not in case.expect or not told, f"{expected}: none expected"


@every_case
def test_certain_steps_come_in_the_order_expected(path):
    case, advice = worked(path)
    if "steps" in case.expect:
        certain = [
            step.rule
            for step in (advice.response.steps if advice.response else ())
            if not step.when
        ]
        assert certain == case.expect["steps"]


@every_case
def test_the_response_gives_for_certain_what_is_expected(path):
    case, advice = worked(path)
    lines = advice.response.lines if advice.response else ()
    assert set(case.expect.get("response", ())) <= {line.rule for line in lines if not line.when}


@every_case
def test_every_rule_named_in_expect_exists(path):
    named = {
        i
        for key in ("stops", "requires", "warns", "refers", "steps", "response")
        for i in case_at(path).expect.get(key, ())
    }
    assert not [
        i
        for i in named
        if program().base.rule(i) is None and not i.startswith(("no option left: ", "out of use: "))
    ]


@some_cases
def test_json_keeps_its_schema(path):
    advice = advised(path)
    assert not [
        f"{list(e.absolute_path)}: {e.message[:200]}"
        for e in VALIDATOR.iter_errors(advice.to_json())
    ]
    assert as_json(advice).endswith("}\n")


def flat(words: str) -> str:
    """Text without line breaks and Markdown's escapes, so that wrapping does not hide a
    sentence.
    """
    return re.sub(r"(?<=\w)- ", "-", " ".join(words.replace("\\", "").split()))


@some_cases
@pytest.mark.parametrize(
    "face",
    [lambda a: text.advised(a, 80, False), lambda a: markdown.render(whole_paper(a))],
    ids=["text", "markdown"],
)
def test_every_face_shows_what_matters(path, face):
    advice = advised(path)
    shown = flat(face(advice))
    wanted = [s.text for s in advice.stops] + [
        r.text for r in advice.requirements if r.strength != "may"
    ]
    wanted += (
        [w.text for w in advice.warnings] + [r.text for r in advice.refer] + list(advice.cautions)
    )
    assert not [w for w in wanted if flat(w) not in shown]
    assert flat(advice.cautions[-1]) == flat(program().base.last_word)


@not_quick
def test_the_schema_itself_is_sound_and_strict():
    Draft202012Validator.check_schema(schema("advice"))
    advice = {**advised(FILES[0]).to_json(), "score": 9}
    assert list(VALIDATOR.iter_errors(advice))
    less = {k: v for k, v in advised(FILES[0]).to_json().items() if k != "cautions"}
    assert list(VALIDATOR.iter_errors(less))
