"""Every fact can be listed and shown with its type, question and the rules that look at it."""

import json

from depth import not_quick, sampled, sweep
from worked import program

from advisor.browse import facts as browse
from advisor.cli import main

BASE = program().base


@not_quick
@sweep("attribute", lambda: sampled(BASE.vocabulary.by_key.values(), 20, None), lambda a: a.key)
def test_fact_is_shown(attribute):
    data, lines = browse.shown(BASE, attribute), "\n".join(browse.fact_lines(BASE, attribute))
    assert attribute.key in lines and attribute.help in lines
    assert all(v in lines for v in attribute.values) and all(i in lines for i in data["rules"])
    assert data["unit"] == attribute.unit and json.loads(json.dumps(data)) == data


def test_rules_that_look_at_a_fact_are_those_that_name_it():
    data = browse.shown(BASE, BASE.vocabulary.attribute("anchor.moves"))
    assert data["fact"] == "anchor.moves" and data["rules"] and data["question"].endswith("?")


@not_quick
def test_list_and_one(capsys, monkeypatch):
    monkeypatch.setenv("COLUMNS", "80")
    assert main(["facts", "anchor"]) == 0
    out = capsys.readouterr().out
    assert "anchor.moves" in out and max(map(len, out.splitlines())) <= 80
    assert main(["facts", "anchor.moves", "--format", "json"]) == 0
    assert json.loads(capsys.readouterr().out)["fact"] == "anchor.moves"


def test_an_unknown_fact_names_the_nearest(capsys):
    assert main(["facts", "anchor.movs"]) == 2
    assert "Did you mean 'anchor.moves'" in capsys.readouterr().err
