"""Another rule engine, CLIPS, comes to the same firings on the real rules that are translated for
it, each by itself on the finished facts.
"""

from __future__ import annotations

import peers
import pytest
import real
from clips_rules import Clips
from compare import engines
from depth import not_quick, sampled

import advisor.engine.truth as truth
from advisor.model.conditions import SameWord, Some


@pytest.fixture(scope="module")
def own():
    pair = engines(real.base())
    return pair, Clips(real.base())


def differences(pair, clips, seed):
    """What only one side says fires, and how much fires."""
    found = real.outcome(pair, seed)
    ours = {(i.rule, i.bound, i.truth) for i in found.instances if i.rule not in clips.left}
    theirs = clips.fired(clips.facts(found.world, real.facts(seed)[1]), found.world)
    return ours ^ theirs, len(ours)


@not_quick
def test_real_rules_on_random_facts(own):
    for seed in sampled(range(70_000, 70_060), 2, 10):
        differ, fired = differences(*own, seed)
        assert not differ and fired > 50, seed


@not_quick
def test_a_planted_bug_is_found(own, monkeypatch):
    pair, clips = own
    kept = truth._LEAF[truth.PointsAt]
    monkeypatch.setitem(truth._LEAF, truth.PointsAt, lambda *args: min(1, kept(*args)))
    assert any(differences(pair[1:], clips, seed)[0] for seed in range(70_000, 70_020))


def test_what_is_not_translated_is_named(own):
    _, clips = own
    rules = real.base().rules
    assert 0 < len(clips.left) < len(rules) // 20
    for number, rule in enumerate(rules):
        odd = any(isinstance(node, (Some, SameWord)) for node in rule.condition.walk())
        assert odd == (number in clips.left), rule.id


@not_quick
def test_the_benchmark_runs_its_peers_on_the_real_rules(own, capsys, monkeypatch):
    monkeypatch.setattr(peers, "SPAN", 0.01)
    peers.compare()
    told = capsys.readouterr().out
    for name in ("compiled", "clingo", "clipspy"):
        assert f"  {name}: " in told
    assert (
        told.count("the same firings") == 2 and f"not translated: {len(own[1].left)} rules" in told
    )
