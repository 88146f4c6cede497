"""Every known trap of the durable-rules core that our guard stands before: one test each, at the
guard itself.

The traps were found by trying the core (version 2.0.28) and in its public source; each line here
would crash it, hang it or make it
answer wrongly, silently, if it got through.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest

from advisor.engine import written
from advisor.engine.session import EngineError, RuleSet
from advisor.engine.written import Pattern, hash32

TWINS = (
    "lsexqzd",
    "ztxtxde",
)  # two words with one FNV-32 hash, by which the core knows names, ids and joined values
UNSAFE_NAMES = [
    "",
    "a.b",
    "a b",
    "id",
    "sid",
    "k",
    "$and",
    "1a",
    "_open",
    "a-b",
    "é",
    "a\n",
    "a\x00",
    "\ud800",
    "😀",
    "a'b",
    'a"b',
    "a" * 41,
    "x" * 70_000,
    5,
    None,
    True,
    ("a",),
    b"a",
]
UNSAFE_VALUES = [
    0.5,
    1.0,
    1e-5,
    1e16,
    -0.0,
    float("nan"),
    float("inf"),
    -float("inf"),
    2**53 + 1,
    -(2**53) - 1,
    2**63,
    2**70,
    True,
    False,
    None,
    "",
    "two words",
    "a.b",
    "1",
    "5.5",
    "é",
    "😀",
    "\ud800",
    "a\x00",
    "a\r\n",
    "%s%n",
    "a" * 41,
    "a" * 65_536,
    b"a",
    ("a",),
    ["a"],
    {"a": 1},
    {1},
    Decimal("1"),
    Fraction(1, 2),
    date(2026, 1, 1),
]


def one(kind="ladder", tests=(("eq", "x", 1),), joins=(), name="r"):
    """A rule set of one rule with one pattern."""
    return RuleSet({name: [Pattern(kind, tests, joins)]})


def short(value):
    return repr(value)[:24]


@pytest.mark.parametrize("name", UNSAFE_NAMES, ids=short)
@pytest.mark.parametrize("place", ["kind", "field", "rule", "join"])
def test_names_the_core_would_misread_are_refused(name, place):
    with pytest.raises(EngineError):
        if place == "join":
            RuleSet({"r": [Pattern("ladder"), Pattern("anchor", (), [(name, 0, "e")])]})
        else:
            one(
                **(
                    {"kind": name}
                    if place == "kind"
                    else {"name": name}
                    if place == "rule"
                    else {"tests": [("eq", name, 1)]}
                )
            )


def test_the_twins_really_share_a_hash():
    # FNV-1a, 32 bit, as its authors publish it (Fowler, Noll and Vo, IETF draft 'The FNV
    # Non-Cryptographic Hash Algorithm', test vectors).
    assert (hash32(""), hash32("a"), hash32("foobar")) == (0x811C9DC5, 0xE40C292C, 0xBF9CF968)
    assert TWINS[0] != TWINS[1] and hash32(TWINS[0]) == hash32(TWINS[1])


@pytest.mark.parametrize(
    "rules",
    [
        {TWINS[0]: [Pattern("a")], TWINS[1]: [Pattern("a")]},
        {"r": [Pattern(TWINS[0])], "s": [Pattern(TWINS[1])]},
        {"r": [Pattern("a", [("eq", TWINS[0], 1), ("eq", TWINS[1], 1)])]},
    ],
    ids=["rules", "kinds", "fields"],
)
def test_names_with_one_hash_are_refused(rules):
    with pytest.raises(EngineError):
        RuleSet(rules)


def test_a_kind_of_fact_with_the_hash_of_a_tested_kind_is_refused():
    with pytest.raises(EngineError, match="kind"):
        one(TWINS[0], ()).run([("f0", TWINS[1], {})])


def test_fact_ids_with_one_hash_are_refused():
    with pytest.raises(EngineError, match="stands twice"):
        one().run([(TWINS[0], "ladder", {"x": 1}), (TWINS[1], "ladder", {"x": 1})])


def test_joined_values_with_one_hash_are_refused():
    pair = RuleSet({"r": [Pattern("a"), Pattern("b", (), [("e", 0, "e")])]})
    with pytest.raises(EngineError, match="clashes"):
        pair.run([("f0", "a", {"e": TWINS[0]}), ("f1", "b", {"e": TWINS[1]})])
    assert pair.run([("f0", "a", {"e": TWINS[0]}), ("f1", "b", {"e": TWINS[0]})]) == [
        ("r", ("f0", "f1"))
    ]


def test_the_ids_and_marks_the_engine_gives_itself_never_clash():
    for letter in "fe":
        assert len({hash32(f"{letter}{n}") for n in range(20_000)} | {hash32("_open")}) == 20_001


@pytest.mark.parametrize(
    "identity", ["_open", "a b", "é", "", "f" * 41, "id\n", None, 7], ids=short
)
def test_unsafe_fact_ids_are_refused(identity):
    with pytest.raises(EngineError, match="not safe"):
        one().run([(identity, "ladder", {"x": 1})])


def test_a_fact_id_given_twice_is_refused_even_for_an_equal_fact():
    with pytest.raises(EngineError, match="stands twice"):
        one().run([("f0", "ladder", {"x": 1}), ("f0", "ladder", {"x": 1})])


@pytest.mark.parametrize("kind", [None, 3, "", "two words", "_open", "$s"], ids=short)
def test_unsafe_kinds_of_fact_are_refused(kind):
    with pytest.raises(EngineError):
        one().run([("f0", kind, {"x": 1})])


@pytest.mark.parametrize("value", UNSAFE_VALUES, ids=short)
def test_values_the_core_does_not_compare_exactly_are_refused(value):
    with pytest.raises(EngineError):
        one(tests=[("eq", "x", value)])
    with pytest.raises(EngineError):
        one().run([("f0", "ladder", {"x": value})])
    with pytest.raises(EngineError):
        RuleSet({"r": [Pattern("a"), Pattern("b", (), [("x", 0, "x")])]}).run(
            [("f0", "a", {"x": value}), ("f1", "b", {"x": value})]
        )


@pytest.mark.parametrize("value", [0, 1, -1, -(2**53), 2**53, 2**31, -(2**31) - 1, 2**53 - 1])
def test_whole_numbers_up_to_the_limit_compare_exactly(value):
    near = RuleSet({op: [Pattern("a", [(op, "x", value)])] for op in written.OPERATORS})
    want = {-1: {"lt", "lte", "neq"}, 0: {"eq", "lte", "gte"}, 1: {"gt", "gte", "neq"}}
    for step in (-1, 0, 1):
        if abs(value + step) <= written.MAX_NUMBER:
            assert {name for name, _ in near.run([("f0", "a", {"x": value + step})])} == want[step]


def test_a_fact_that_lacks_a_tested_field_is_refused_rather_than_passed_over():
    for op in written.OPERATORS:
        with pytest.raises(EngineError, match="lacks x"):
            one(tests=[(op, "x", 1)]).run([("f0", "ladder", {"y": 1})])
    with pytest.raises(EngineError, match="lacks e"):
        RuleSet({"r": [Pattern("a"), Pattern("b", (), [("e", 0, "e")])]}).run(
            [("f0", "a", {}), ("f1", "b", {"e": "e1"})]
        )


def test_a_field_is_a_number_or_a_word_but_never_both():
    with pytest.raises(EngineError, match="both as a number and as a word"):
        RuleSet({"r": [Pattern("a", [("eq", "x", 1)])], "s": [Pattern("a", [("eq", "x", "one")])]})
    with pytest.raises(EngineError, match="wrong type"):
        one().run([("f0", "ladder", {"x": "one"})])
    with pytest.raises(EngineError, match="wrong type"):
        one(tests=[("neq", "x", "one")]).run([("f0", "ladder", {"x": 1})])


@pytest.mark.parametrize("op", ["lt", "lte", "gt", "gte"])
def test_words_are_never_put_in_order(op):
    with pytest.raises(EngineError, match="no order"):
        one(tests=[(op, "x", "b")])


@pytest.mark.parametrize(
    "op",
    [
        "",
        "=",
        "$lt",
        "foo",
        "ex",
        "nex",
        "mt",
        "imt",
        "iall",
        "iany",
        "or",
        "and",
        "not",
        "add",
        "div",
        None,
        "EQ",
    ],
    ids=short,
)
def test_other_operators_are_refused(op):
    with pytest.raises(EngineError, match="not allowed"):
        one(tests=[(op, "x", 1)])
    with pytest.raises(EngineError, match="not allowed"):
        one(tests=[(op, "x", "y")])  # with a word the core would accept it and never match


@pytest.mark.parametrize("alias", [-1, 1, 2, 99])
def test_a_join_looks_back_at_an_earlier_pattern_only(alias):
    with pytest.raises(EngineError, match="look back"):
        RuleSet({"r": [Pattern("a"), Pattern("b", (), [("e", alias, "e")]), Pattern("c")]})


def test_a_join_in_the_first_pattern_is_refused():
    with pytest.raises(EngineError, match="look back"):
        one(joins=[("e", 0, "e")])


def test_a_rule_without_patterns_or_with_too_many_is_refused():
    for number in (0, written.MAX_PATTERNS + 1, 17):
        with pytest.raises(EngineError, match="patterns"):
            RuleSet({"r": [Pattern(f"k{n}") for n in range(number)]})


def test_too_many_tests_or_joins_in_a_pattern_are_refused():
    with pytest.raises(EngineError, match="tests too much"):
        one(tests=[("gte", f"x{n}", 1) for n in range(written.MAX_TESTS + 1)])
    with pytest.raises(EngineError, match="tests too much"):
        RuleSet({"r": [Pattern("a"), Pattern("b", (), [(f"e{n}", 0, f"e{n}") for n in range(30)])]})


@pytest.mark.parametrize("number", [written.MAX_PATTERNS_PER_KIND + 1, 256])
def test_too_many_patterns_of_a_kind_are_refused(number):
    with pytest.raises(EngineError, match="too many"):
        RuleSet({f"r{n}": [Pattern("a")] for n in range(number)})
    with pytest.raises(EngineError, match="too many"):
        RuleSet({f"r{n}": [Pattern("a", [("eq", "x", n)])] for n in range(number)})


@pytest.mark.parametrize("number", [written.MAX_KINDS + 1, 513])
def test_too_many_kinds_are_refused(number):
    with pytest.raises(EngineError, match="too many"):
        RuleSet({f"r{n}": [Pattern(f"a{n}")] for n in range(number)})
