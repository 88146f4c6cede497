"""Runs of a guarded rule set: what one run, fault or rule set leaves behind must not reach the
next.
"""

from __future__ import annotations

import json

import pytest
from test_traps import one

from advisor.engine import session, written
from advisor.engine.session import EngineError, RuleSet
from advisor.engine.written import Pattern


@pytest.mark.parametrize("tests", [1, 2, 12, written.MAX_TESTS])
def test_the_fullest_rule_set_allowed_still_answers(tests):
    """All tests of all patterns alive at once on one fact: the core counts 64 of them."""

    def pattern(n):
        return Pattern(
            "a",
            [("gte", f"x{t}", n) if t % 2 else ("lte", f"x{t}", 1000 + n) for t in range(tests)],
        )

    full = RuleSet({f"r{n}": [pattern(n)] for n in range(written.MAX_PATTERNS_PER_KIND)})
    fired = full.run([("f0", "a", {f"x{t}": 500 for t in range(tests)})])
    assert sorted(name for name, _ in fired) == sorted(full.written.sizes)


def test_the_most_kinds_allowed_still_answer():
    wide = RuleSet(
        {f"r{n}": [Pattern(f"a{n}", [("eq", "x", n)])] for n in range(written.MAX_KINDS)}
    )
    assert (
        len(wide.run([(f"f{n}", f"a{n}", {"x": n}) for n in range(written.MAX_KINDS)]))
        == written.MAX_KINDS
    )


def test_only_tested_fields_reach_the_core():
    """255 keys, objects, free text and unpaired surrogates would each stop or crash it."""
    ballast = {f"y{n}": n for n in range(300)} | {
        "note": "\ud800",
        "more": {"deep": [1]},
        "x" * 100_000: 1.5,
        7: None,
    }
    assert one().run([("f0", "ladder", {"x": 1, **ballast})]) == [("r", ("f0",))]


def test_one_fact_may_stand_for_two_patterns():
    """The core's default forbids it; whether two variables may name one thing is for our own check
    to say.
    """
    twice = RuleSet({"r": [Pattern("a"), Pattern("a", (), [("e", 0, "e")])]})
    assert twice.run([("f0", "a", {"e": "e0"})]) == [("r", ("f0", "f0"))]


def test_no_object_of_the_definition_holds_two_tests(monkeypatch):
    """All but the first of two would be ignored; an empty one would never end."""
    given = []

    class Core:
        @staticmethod
        def create_ruleset(name, definition):
            given.append(json.loads(definition))

        @staticmethod
        def delete_ruleset(handle):
            pass

    monkeypatch.setattr(session, "core", lambda: Core)
    RuleSet(
        {
            "r": [
                Pattern("a", [("lte", "x", 1), ("gte", "x", 0), ("eq", "y", 1)]),
                Pattern("b", (), [("e", 0, "e"), ("v", 0, "v")]),
                Pattern("c"),
            ]
        }
    )
    (rules,) = given
    for rule in rules.values():
        aliases = [alias for pattern in rule["all"] for alias in pattern]
        assert len(set(aliases)) == len(rule["all"]) and set(rule) <= {"all", "dist"}
        for pattern in rule["all"]:
            ((_, body),) = pattern.items()
            assert all(len(test) == 1 for test in body.get("$and", [body]))
            assert next(iter(body.get("$and", [body]))).keys() == {"k"}


def many():
    """A rule set that fires 400 times on its 20 facts, and the facts."""
    return RuleSet({"r": [Pattern("a"), Pattern("b")]}), [
        (f"f{n}", "ab"[n % 2], {}) for n in range(40)
    ]


@pytest.mark.parametrize("budget", [0, 1, 399])
def test_after_the_budget_is_exceeded_the_next_run_is_clean(budget):
    rules, facts = many()
    first = rules.run(facts)
    assert len(first) == 400
    for _ in range(3):
        with pytest.raises(EngineError, match="budget"):
            rules.run(facts, budget=budget)
        assert rules.run(facts) == first
        assert rules.run(facts[:1]) == []


def test_after_a_fault_in_the_middle_the_next_run_is_clean():
    rules, facts = many()
    first = rules.run(facts)
    for bad in (("f0", "a", {}), ("é", "a", {}), ("f99", "a b", {})):
        with pytest.raises(EngineError):
            rules.run([*facts, bad])
        assert rules.run(facts) == first


def test_a_fault_of_the_core_in_the_middle_leaves_the_next_run_clean(monkeypatch):
    rules, facts = many()
    first, core = rules.run(facts), rules.core

    class Faulty:
        calls = 0
        start_action_for_state, delete_state, complete_and_start_action = (
            core.start_action_for_state,
            core.delete_state,
            core.complete_and_start_action,
        )

        @classmethod
        def assert_fact(cls, handle, message):
            cls.calls += 1
            return (2, 0) if cls.calls == 9 else core.assert_fact(handle, message)

    monkeypatch.setattr(rules, "core", Faulty)
    with pytest.raises(EngineError, match="refused the fact"):
        rules.run(facts)
    monkeypatch.undo()
    assert rules.run(facts) == first


def test_a_run_without_any_fact_or_without_any_match_is_safe():
    """Deleting a session in which no rule ever completed would crash the core."""
    for _ in range(50):
        assert one().run([]) == []
        assert one().run([("f0", "ladder", {"x": 2})]) == []
        assert one().run([("f0", "something", {})]) == []


def test_more_runs_than_the_core_holds_sessions():
    """It holds 1,024 at once; each run must give its own back."""
    rules = one()
    for _ in range(1100):
        assert rules.run([("f0", "ladder", {"x": 1})]) == [("r", ("f0",))]


def test_two_rule_sets_side_by_side_do_not_see_each_other():
    first, second = (
        one(tests=[("eq", "x", 1)], name="first"),
        one(tests=[("eq", "x", 2)], name="second"),
    )
    for _ in range(5):
        assert first.run([("f0", "ladder", {"x": 1})]) == [("first", ("f0",))]
        assert second.run([("f0", "ladder", {"x": 1})]) == []
        assert second.run([("f0", "ladder", {"x": 2})]) == [("second", ("f0",))]


def test_facts_of_one_run_are_gone_in_the_next():
    pair = RuleSet({"r": [Pattern("a"), Pattern("b", (), [("e", 0, "e")])]})
    assert pair.run([("f0", "a", {"e": "e0"})]) == []
    assert pair.run([("f1", "b", {"e": "e0"})]) == []
    assert pair.run([("f1", "b", {"e": "e0"}), ("f0", "a", {"e": "e0"})]) == [("r", ("f0", "f1"))]


def test_without_the_core_a_rule_set_says_so(monkeypatch):
    monkeypatch.setattr(session, "core", lambda: None)
    with pytest.raises(EngineError, match="not installed"):
        one()


def test_what_is_remembered_is_what_the_core_says():
    """However the tested fields change and come back, and whatever else a fact carries."""
    rules = RuleSet({"r": [Pattern("thing", [("gte", "size", 3)])]})

    def facts(size, also=0):
        return [("f0", "thing", {"size": size, "weight": also})]

    asked = rules.sessions
    for size in (1, 3, 5, 3, 1):
        assert list(rules.recalled(facts(size, size))) == rules.run(facts(size))
    assert rules.sessions - asked == 5 + 3, "each of the three sizes is asked about once"
    with pytest.raises(EngineError, match="lacks size"):
        rules.recalled([("f0", "thing", {"weight": 1})])
