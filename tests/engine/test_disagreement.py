"""When the engines differ the program gives no advice: one line, exit code 1, and a file with the
facts and both answers.
"""

from __future__ import annotations

import json
import re
import tempfile
from pathlib import Path

import pytest
import real
from depth import not_quick

from advisor.cli import FAULT, OK, STOP, main
from advisor.engine.plain import PlainEngine
from advisor.engine.rete import ReteEngine
from advisor.engine.session import EngineError, RuleSet
from advisor.load.case import read_case

CASE = next((Path(__file__).resolve().parents[2] / "cases" / "plan").glob("*.yaml"))
LINE = re.compile(
    r"pitch-advisor: internal fault: (?P<what>[^\n]+); no advice is given\. Details:"
    r" (?P<path>[^\n]+)\n\Z"
)


@pytest.fixture(autouse=True)
def own_folders(tmp_path, monkeypatch):
    """Reports and the cache of read rules go to the test's own folder."""
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))


def advise(capsys, *more):
    """(exit code, what was printed, what was printed as an error) of one run."""
    code = main(["advise", str(CASE), *more])
    return code, *capsys.readouterr()


def forget_one(engine, patch, dropped):
    """Let an engine keep one firing to itself, each time it has any."""
    run = engine.run

    def without(self, *arguments):
        found = sorted(run(self, *arguments))
        dropped.extend(found[:1])
        return found[1:]

    patch.setattr(engine, "run", without)


def test_engines_that_agree_give_advice(capsys):
    code, out, err = advise(capsys)
    assert code in (OK, STOP) and out and err == ""


@not_quick
@pytest.mark.parametrize("form", ["text", "json", "markdown"])
@pytest.mark.parametrize("engine", [PlainEngine, ReteEngine])
def test_one_line_no_advice_and_a_report(engine, form, capsys, monkeypatch):
    dropped = []
    forget_one(engine, monkeypatch, dropped)
    code, out, err = advise(capsys, "--format", form)
    line = LINE.match(err)
    assert (code, out) == (FAULT, "") and line, err
    assert "disagree" in line["what"] and "Traceback" not in err
    report = json.loads(Path(line["path"]).read_text("utf-8"))
    heard, unheard = ("only_second_engine", "only_first_engine")[
        :: 1 if engine is PlainEngine else -1
    ]
    assert repr(dropped[0]) in report[heard] and report[unheard] == "[]"


@not_quick
def test_the_report_holds_every_fact_of_the_case(capsys, monkeypatch):
    forget_one(ReteEngine, monkeypatch, [])
    _, _, err = advise(capsys, "--set", "pitch.depth=11 m")
    report = json.loads(Path(LINE.match(err)["path"]).read_text("utf-8"))
    case = read_case(CASE, real.base(), ["pitch.depth=11 m"])
    assert case.facts and sorted(map(tuple, report["facts"])) == sorted(
        (f.entity, f.key, f.text, f.said_by) for f in case.facts.values()
    )
    assert ["pitch", "pitch.depth", "11 m", "command line"] in report["facts"]


@not_quick
def test_a_truth_that_differs_is_a_disagreement_too(capsys, monkeypatch):
    run = ReteEngine.run
    monkeypatch.setattr(
        ReteEngine,
        "run",
        lambda self, *rest: [
            (rule, bound, 3 - truth, seen) for rule, bound, truth, seen in run(self, *rest)
        ],
    )
    code, out, err = advise(capsys)
    assert (code, out) == (FAULT, "") and "disagree" in LINE.match(err)["what"]


@not_quick
def test_facts_looked_at_that_differ_are_a_disagreement_too(capsys, monkeypatch):
    run = PlainEngine.run
    monkeypatch.setattr(
        PlainEngine,
        "run",
        lambda self, *rest: [(*item, seen[1:]) for *item, seen in run(self, *rest)],
    )
    code, out, err = advise(capsys)
    assert (code, out) == (FAULT, "") and "disagree" in LINE.match(err)["what"]


@not_quick
def test_a_fault_inside_an_engine_gives_no_advice_either(capsys, monkeypatch):
    def refuse(self, facts):
        raise EngineError("firing budget exceeded")

    monkeypatch.setattr(RuleSet, "recalled", refuse)
    code, out, err = advise(capsys)
    line = LINE.match(err)
    assert (code, out) == (FAULT, "") and line and "Traceback" not in err
    assert "firing budget exceeded" in json.loads(Path(line["path"]).read_text("utf-8"))["error"]
