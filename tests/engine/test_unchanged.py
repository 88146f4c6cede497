"""What the second engine judged before is judged again where anything it rests on has changed."""

import pytest
from worked import program

from advisor.engine.rete import ReteEngine
from advisor.engine.unchanged import LastWorld, looked_at
from advisor.facts.world import World
from advisor.load.folder import find_folder
from advisor.model.conditions import AllOf, Chosen, InValues, Not, Some
from advisor.model.ref import Ref

PLAN = find_folder("cases") / "plan/arrival-left.yaml"
ONE_FACT = [
    (),
    ("pitch.water=stream",),
    ("pitch.water=stream?",),  # the same value, said with doubt
    ("pitch.depth=11 m",),
    ("anchor spare bolt.kind=resin bolt",),  # one more thing
    ("incident.what=leg trapped in the ladder",),  # another topic
    ("group.novices=3",),
    (),
]


def world(**facts):
    """A world of two anchors, in which some facts are stated."""
    vocabulary = program().base.vocabulary
    made = World(vocabulary, {"anchor": ["anchor left", "anchor right"]})
    for key, value in facts.items():
        made.columns[key.replace("_", ".")][key.partition("_")[0]] = value
    return made


def test_only_what_differs_is_named():
    last = LastWorld()
    assert last.changed(world()) is None  # nothing was looked at before
    assert last.changed(world()) == set()
    assert last.changed(world(pitch_water=1)) == {"pitch.water"}
    doubted = world(pitch_water=1)
    doubted.states["pitch", "pitch.water"] = 1
    assert last.changed(doubted) == {"pitch.water"}
    doubted.choices["tether"] = "releasable hitch"
    assert last.changed(doubted) == {"choice of tether"}
    assert last.changed(world()) == {"pitch.water", "choice of tether"}
    doubted.columns["pitch.water"]["pitch"] = 2  # a world that was filled after it was looked at
    assert last.changed(world()) == set()


def test_other_things_are_another_world():
    last = LastWorld()
    last.changed(world())
    assert last.changed(World(program().base.vocabulary, {"anchor": ["anchor left"]})) is None


def test_a_condition_turns_on_all_within():
    water, depth = Ref("pitch", "pitch.water"), Ref("a", "anchor.kind")
    some = Some(1, "a", "anchor", Not(InValues(depth, 1)))
    whole = AllOf((InValues(water, 1), some, Chosen("tether", "fixed sling", False)))
    assert looked_at(whole) == {"pitch.water", "anchor.kind", "choice of tether"}


@pytest.mark.parametrize("after", range(1, len(ONE_FACT)))
def test_an_engine_that_remembers_answers_as_a_fresh_one(after):
    base, topics = program().base, frozenset({"plan", "incident"})
    old, fresh = (ReteEngine(base.rules, base.strata, base.vocabulary) for _ in range(2))
    cases = [program().read(PLAN, ONE_FACT[n]) for n in (after - 1, after)]
    worlds = [program().world(case) for case in cases]
    for number in range(len(base.strata)):
        old.run(number, worlds[0], topics)
        assert old.run(number, worlds[1], topics) == fresh.run(number, worlds[1], topics)
