"""The running order: computed from what rules look at, refused when it goes in a circle, and
without influence on any conclusion.
"""

from __future__ import annotations

from random import Random
from shutil import copytree

import pytest
import real
from compare import engines, outcome
from depth import not_quick, sampled, sweep
from generate import Universe, choices, ordered, topics, universe, world
from msgspec.structs import replace

from advisor.faults import Faults
from advisor.load.base import read_base
from advisor.load.folder import find_folder
from advisor.model.conditions import (
    AllOf,
    Chosen,
    InValues,
    Not,
    PointsAt,
    Some,
    TwoFacts,
    looks_at_choice,
)
from advisor.model.strata import Cycle, levels, strata


def in_order(base) -> bool:
    """Whether every rule runs once, and only after all rules that conclude a fact it looks at;
    decisions are looked at last.
    """
    place = {index: n for n, (_, indexes) in enumerate(base.strata) for index in indexes}
    concluded = {}
    for index, rule in enumerate(base.rules):
        concluded.setdefault(rule.derives, []).append(place[index])
    names = [name for name, _ in base.strata]
    for index, rule in enumerate(base.rules):
        for ref in rule.condition.references():
            if any(place[index] <= other for other in concluded.get(ref.key, ())):
                return False
        looks = looks_at_choice(rule.condition)
        if not rule.derives and names[place[index]] != ("arrange" if looks else "weigh"):
            return False
    return sorted(i for _, indexes in base.strata for i in indexes) == list(range(len(base.rules)))


@not_quick
def test_real_rules_run_in_order():
    assert in_order(real.base())


@sweep("seed", lambda: sampled(range(300), 8, None))
def test_random_rules_run_in_order(seed):
    assert in_order(universe(seed, 20))


def test_levels_by_hand():
    assert levels({"c": {"b", "a", "said"}, "b": {"a"}, "a": {"said"}, "lone": set()}) == {
        "a": 1,
        "b": 2,
        "c": 3,
        "lone": 1,
    }


@pytest.mark.parametrize(
    "needs, circle",
    [
        ({"a": {"a"}}, ["a", "a"]),
        ({"a": {"b"}, "b": {"a"}}, ["a", "b", "a"]),
        ({"x": {"c"}, "c": {"d", "said"}, "d": {"e"}, "e": {"c"}}, ["c", "d", "e", "c"]),
    ],
)
def test_a_circle_is_named(needs, circle):
    with pytest.raises(Cycle) as caught:
        levels(needs)
    assert caught.value.keys == circle


def test_negation_does_not_excuse_a_circle():
    rule = next(r for n in range(100) for r in universe(n).rules if r.derives)
    key = rule.derives
    circular = replace(rule, condition=AllOf((Not(InValues(rule.conclusion.ref, 1)),)))
    with pytest.raises(Cycle) as caught:
        strata([circular])
    assert caught.value.keys == [key, key]


LEANS = """\
  - id: circle.{name}
    title: One leans on the other
    for: {{a: anchor}}
    if:
      a.{looked}: yes
    then:
      - derive: {{a.{concluded}: yes}}
    because: They lean on each other.
    source: common-practice
    status: common practice
"""
CIRCLE = "topic: A circle for a test\nabout: plan\nrules:\n" + "".join(
    LEANS.format(name=name, looked=looked, concluded=concluded)
    for name, looked, concluded in (("first", "held", "sound"), ("second", "sound", "held"))
)
HELD = """\
  held:
    type: yes/no
    worse: no
    derived: yes
    otherwise: no
    help: Made up for a test.
    says: {yes: "{it} is held", no: "{it} is not held"}
"""


@not_quick
def test_a_circle_in_rule_files_is_refused_with_its_place(tmp_path):
    folder = tmp_path / "rules"
    copytree(find_folder("rules"), folder)
    anchor = folder / "vocabulary" / "anchor.yaml"
    anchor.write_text(anchor.read_text("utf-8").rstrip("\n") + "\n" + HELD, "utf-8")
    (folder / "anchors" / "circle.yaml").write_text(CIRCLE, "utf-8")
    with pytest.raises(Faults) as caught:
        read_base(folder)
    (fault,) = caught.value.faults
    lines = [
        CIRCLE.splitlines().index(f"  - id: circle.{which}") + 1 for which in ("first", "second")
    ]
    assert (
        fault.place.file.endswith("circle.yaml")
        and fault.place.line in lines
        and fault.place.column == 9
    )
    assert "anchor.held needs anchor.sound needs anchor.held" in fault.message
    assert "\n" not in str(fault) and f"circle.yaml:{fault.place.line}:9: " in str(fault)


def conclusions(base, pair, seed):
    """What both engines conclude of one random world, by rule id: instances, and every derived
    fact.
    """
    rng = Random(seed)
    found, wanted = world(rng, base.vocabulary), topics(rng)
    result = outcome(base, pair, found, wanted, choices(rng, found))
    derived = {
        a.key: result.world.columns[a.key]
        for e in base.vocabulary.entities.values()
        for a in e.attributes.values()
        if a.derived
    }
    return (
        sorted((base.rules[i.rule].id, i.bound, i.truth, i.looked_at) for i in result.instances),
        derived,
    )


def renamed(node, names):
    """A condition with its variables renamed, inner ones too."""
    if isinstance(node, Some):
        inner = {**names, node.variable: "inner_" + node.variable}
        return replace(node, variable=inner[node.variable], where=renamed(node.where, inner))
    if isinstance(node, Chosen):
        return replace(node, option=names[node.option]) if node.is_variable else node
    if node.children:
        return node.with_children(tuple(renamed(child, names) for child in node.children))
    changed = {"ref": node.ref.at(names)} if node.own else {}
    if isinstance(node, TwoFacts):
        changed["other"] = node.other.at(names)
    if isinstance(node, PointsAt):
        changed["target"] = names.get(node.target, node.target)
    return replace(node, **changed)


def with_other_names(base, rng):
    """The base with every variable named otherwise."""
    rules = []
    for rule in base.rules:
        first = rng.randrange(20)
        names = {variable: f"f{first + n}" for n, (variable, _) in enumerate(rule.variables)}
        rules.append(
            replace(
                rule,
                variables=tuple((names[v], k) for v, k in rule.variables),
                condition=renamed(rule.condition, names),
                effects=tuple(effect.renamed(names) for effect in rule.effects),
            )
        )
    return Universe(base.vocabulary, tuple(rules), ordered(tuple(rules)))


def shuffled(base, rng):
    """The base with its rules, and the conditions of each, in another order."""
    rules = []
    for rule in rng.sample(base.rules, len(base.rules)):
        nodes = rule.condition.parts
        rules.append(replace(rule, condition=AllOf(tuple(rng.sample(nodes, len(nodes))))))
    return Universe(base.vocabulary, tuple(rules), ordered(tuple(rules)))


@not_quick
@pytest.mark.parametrize("change", [shuffled, with_other_names])
def test_order_and_names_change_no_conclusion(change):
    told = 0
    for seed in range(70_000, 70_150):
        base = universe(seed, 12)
        other = change(base, Random(seed))
        assert other.rules != base.rules or not any(rule.variables for rule in base.rules)
        pair, other_pair = engines(base), engines(other)
        for number in range(2):
            first = conclusions(base, pair, seed + number)
            assert conclusions(other, other_pair, seed + number) == first
            told += len(first[0])
    assert told > 1000


@not_quick
def test_real_rules_in_reverse_change_no_conclusion():
    base = real.base()
    back = replace(
        base,
        rules=base.rules[::-1],
        strata=strata(base.rules[::-1], base.calculations),
    )
    pair, other = engines(base), engines(back)
    for seed in range(40):
        sides = []
        for one, both in ((base, pair), (back, other)):
            found, wanted = real.facts(seed)
            result = outcome(one, both, found, wanted, {"tether": "releasable hitch"})
            sides.append(
                sorted(
                    (one.rules[i.rule].id, i.bound, i.truth, i.looked_at) for i in result.instances
                )
            )
        assert sides[0] == sides[1] and sides[0]
