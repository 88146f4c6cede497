"""Every eighth rule is shown; its example fires it in both engines, and the near one does not."""
import json
from functools import lru_cache

import pytest

from advisor.advise import Advisor
from advisor.audit.goals import FALSE
from advisor.browse import rules as browse
from advisor.browse.example import Examples
from advisor.cli import main


@lru_cache(maxsize=None)
def program():
    return Advisor()


@lru_cache(maxsize=None)
def examples():
    return Examples(program())


RULES = program().base.rules


@pytest.mark.parametrize("rule", RULES[::8], ids=lambda r: r.id)   # a sample: all of them take too long for CI
def test_rule_is_shown_with_confirmed_examples(rule):
    found = examples().of(rule)
    assert found.fires and (found.near or always(rule))
    for engine in program().engines:
        assert examples().truth(rule, found.fires, [engine]) == 2
        assert not found.near or examples().truth(rule, found.near, [engine]) == 0


def always(rule) -> bool:
    """Whether no facts at all keep the rule from firing, by exhaustive search."""
    return not rule.variables and examples().bench.scene([(rule.condition, {}, FALSE, {})]) is None


@pytest.mark.parametrize("rule", RULES[::25], ids=lambda r: r.id)
def test_lines_say_what_matters(rule):
    data = browse.shown(program(), rule, examples())
    shown = "\n".join(browse.rule_lines(data))
    assert all(part in shown for part in (rule.id, rule.title, rule.because, rule.status, *data["sources"], *data["fires"], *data["near"]))
    assert data["place"].startswith("rules/") and data["fires"] != data["near"]


def test_examples_can_be_typed_as_facts(tmp_path, capsys):
    rule = RULES[0]
    data = browse.shown(program(), rule, examples())
    settings = [item for line in data["fires"] if " = " in line for item in ("--set", line.replace(" = ", "=", 1))]
    case = tmp_path / "case.yaml"
    case.write_text(f"about: [{rule.about}]\ngiven:\n  pitch: {{}}\n", encoding="utf-8")
    assert main(["advise", str(case), *settings, "--format", "json"]) in (0, 3)
    assert rule.id in capsys.readouterr().out


def test_list_search_and_json(capsys, monkeypatch):
    monkeypatch.setenv("COLUMNS", "70")
    assert main(["rules"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert max(map(len, lines)) <= 70 and sum(rule.id in line for rule in RULES[:1] for line in lines) >= 1
    assert main(["rules", "anchor", "--format", "json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found and len(found) < len(RULES) and all({"id", "title", "topic", "about"} == set(f) for f in found)


def test_a_word_no_rule_speaks_of(capsys):
    assert main(["rules", "zzzz"]) == 2
    assert "no rule speaks of 'zzzz'" in capsys.readouterr().err
