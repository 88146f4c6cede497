"""Every rule has an example that fires it in both engines, and a near one that does not."""

import json
from functools import cache

from depth import not_quick, sampled, sweep

from advisor.advise import Advisor
from advisor.audit.goals import FALSE, Goal
from advisor.browse import rules as browse
from advisor.browse.example import Examples
from advisor.cli import main


@cache
def program():
    return Advisor()


@cache
def examples():
    return Examples(program())


RULES = program().base.rules


@not_quick
@sweep("start", lambda: sampled(range(0, len(RULES), 50), 1, 4), lambda n: f"from {RULES[n].id}")
def test_both_engines_confirm_the_examples_of_every_rule(start):
    for rule in RULES[start : start + 50]:
        found = examples().of(rule)
        assert found.fires and (found.near or always(rule)), rule.id
        assert examples().truth(rule, found.fires, both=True) == 2, rule.id
        assert not found.near or examples().truth(rule, found.near, both=True) == 0, rule.id


@not_quick
@sweep("rule", lambda: sampled(RULES, 3, 13), lambda r: r.id)
def test_the_part_behind_a_rule_says_what_the_whole_base_says(rule):
    found, bound = examples().of(rule), tuple(examples().bench.bound(rule).values())
    for scene, wanted in ((found.fires, [2]), (found.near, [])):
        outcome, _ = program().run(examples().case(rule, scene))
        as_said = outcome.against or outcome  # before facts that contradict others are doubted
        assert [
            i.truth for i in as_said.instances if RULES[i.rule] is rule and i.bound == bound
        ] == wanted


def always(rule) -> bool:
    """Whether no facts at all keep the rule from firing, by exhaustive search."""
    return (
        not rule.variables and examples().bench.scene([Goal(rule.condition, {}, FALSE, {})]) is None
    )


@not_quick
@sweep("rule", lambda: sampled(RULES, 5, 21), lambda r: r.id)
def test_lines_say_what_matters(rule):
    data = browse.shown(program(), rule, examples())
    shown = "\n".join(browse.rule_lines(data))
    assert all(
        part in shown
        for part in (
            rule.id,
            rule.title,
            rule.because,
            rule.status,
            *data["sources"],
            *data["fires"],
            *data["near"],
        )
    )
    assert data["place"].startswith("rules/") and data["fires"] != data["near"]


@not_quick
def test_examples_can_be_typed_as_facts(tmp_path, capsys):
    rule = RULES[0]
    data = browse.shown(program(), rule, examples())
    settings = [
        item
        for line in data["fires"]
        if " = " in line
        for item in ("--set", line.replace(" = ", "=", 1))
    ]
    case = tmp_path / "case.yaml"
    case.write_text(f"about: [{rule.about}]\ngiven:\n  pitch: {{}}\n", encoding="utf-8")
    assert main(["advise", str(case), *settings, "--format", "json"]) in (0, 3)
    assert rule.id in capsys.readouterr().out


def test_list_search_and_json(capsys, monkeypatch):
    monkeypatch.setenv("COLUMNS", "70")
    assert main(["rules"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert (
        max(map(len, lines)) <= 70
        and sum(rule.id in line for rule in RULES[:1] for line in lines) >= 1
    )
    assert main(["rules", "anchor", "--format", "json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert (
        found
        and len(found) < len(RULES)
        and all({"id", "title", "topic", "about"} == set(f) for f in found)
    )


def test_a_word_no_rule_speaks_of(capsys):
    assert main(["rules", "zzzz"]) == 2
    assert "no rule speaks of 'zzzz'" in capsys.readouterr().err
