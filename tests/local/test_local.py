"""Local guidance tightens and never silently loosens (law 6).

Invented guidance over the shipped base.
"""

from __future__ import annotations

import copy
from pathlib import Path

import pytest
from depth import not_quick, sampled, some_cases
from strict import softened

from advisor.advise import Advisor
from advisor.cli import main
from advisor.explain.targets import stop_ids

ROOT = Path(__file__).resolve().parents[2]
EXAMPLE = str(ROOT / "rules/local/example.yaml")

LOOSER = """
local guidance: Looser than the base
issued by: Nobody's Centre (invented)
date: 2026-01-01
figures: {overhead for each person: 1.5 min, climbing load factor: 1}
topic: Looser rules
about: plan
rules:
  - id: local.a-cord-is-simplest
    title: A fixed cord is the simplest
    if: {pitch.depth: {above: 0 m}}
    then:
      prefer:
        {decision: tether, option: fixed cord, strength: should, concern: rescue and release}
    because: The centre says so.
    source: local-guidance
    status: read in the source
    authority: local rule
departures:
  - {from: tether.fixed-with-novices, says: Fixed cord is accepted here.}
"""


@pytest.fixture(scope="module")
def looser(tmp_path_factory):
    path = tmp_path_factory.mktemp("local") / "looser.yaml"
    path.write_text(LOOSER, "utf-8")
    return Advisor(local_file=str(path))


@pytest.fixture(scope="module")
def plain():
    return Advisor()


@not_quick
@some_cases
def test_nothing_built_in_is_lost(path, looser, plain):
    built_in, local = plain.advise(plain.read(path)), looser.advise(looser.read(path))
    assert {s.id for s in built_in.stops} <= {s.id for s in local.stops}
    assert {r.id for r in built_in.requirements if r.strength == "must"} <= {
        r.id for r in local.requirements
    }
    assert not softened(built_in, local)
    kept = [s for s in built_in.stops if s.rule in {d.built_in for d in local.local.departures}]
    assert all(
        s.text in " ".join(d.text for d in local.local.departures)
        or s.rule == "tether.fixed-with-novices"
        for s in kept
    )


@not_quick
def test_a_loosening_is_told_with_both_sides(looser):
    advice = looser.advise(looser.read(PLAN, ["ladder main.breaking load=1.5 kN"]))
    told = advice.local.departures
    assert any(d.text.startswith("The built-in stop stays") for d in told), told
    assert any("climbing load factor" in d.text and "2.0" in d.text for d in told), told
    assert all(d.built_in and d.local for d in told)


@not_quick
def test_a_local_rule_stops_what_the_base_allows(tmp_path):
    case = tmp_path / "case.yaml"
    case.write_text(
        "given:\n  pitch: {depth: 8 m, water: spray}\n  group: {size: 6, children: 3}\n", "utf-8"
    )
    before, after = Advisor(), Advisor(local_file=EXAMPLE)
    assert "local.no-children-in-spray" not in {
        s.rule for s in before.advise(before.read(case)).stops
    }
    assert "local.no-children-in-spray" in {s.rule for s in after.advise(after.read(case)).stops}


@not_quick
def test_the_more_cautious_fact_stands(tmp_path):
    case, local = tmp_path / "case.yaml", Advisor(local_file=EXAMPLE)
    for given, stands in (("18 m", "12 m"), ("9 m", "9 m")):
        case.write_text(
            f"given:\n  pitch: {{depth: 8 m}}\n  leader: {{authorised depth: {given}}}\n", "utf-8"
        )
        facts = {f.id: f for f in local.advise(local.read(case)).facts}
        assert facts["leader.authorised depth"].value == stands


@not_quick
def test_who_to_ask_is_named():
    local = Advisor(local_file=EXAMPLE)
    advice = local.advise(local.read(ROOT / "cases/incident/leg-trapped-releasable.yaml"))
    assert any("the centre's technical adviser" in r.text for r in advice.refer)


def test_without_local_guidance_the_advice_says_so(capsys):
    main(["advise", str(PLAN), "--all"])
    assert "No local guidance was given" in " ".join(capsys.readouterr().out.split())


@not_quick
@pytest.mark.parametrize(
    "old, new, says",
    [
        ("local.no-children-in-spray", "centre.no-children", "must begin with 'local.'"),
        ("overhead for each person", "overhed for each person", "Did you mean"),
        ("authorised depth: 12 m", "authorised depth: 12 kg", "length is expected"),
        ("leader: {", "leeder: {", "Did you mean"),
        ("from: tether.fixed-with-novices", "from: tether.fixed-with-novice", "Did you mean"),
        ("pitch.water", "pitch.watr", "Did you mean"),
        ("local guidance: Ladder", "locl guidance: Ladder", "not known here"),
    ],
)
def test_a_wrong_file_is_told_with_its_place(tmp_path, capsys, old, new, says):
    path = tmp_path / "local.yaml"
    path.write_text(Path(EXAMPLE).read_text("utf-8").replace(old, new, 1), "utf-8")
    assert main(["advise", str(ROOT / "cases/plan/arrival-left.yaml"), "--local", str(path)]) == 2
    error = capsys.readouterr().err
    assert says in error and f"{path}:" in error and "Traceback" not in error


@not_quick
def test_reading_local_guidance_leaves_the_base_alone(plain):
    before = copy.deepcopy(plain.base.figures)
    Advisor(local_file=EXAMPLE)
    assert plain.base.figures == before and plain.base.rule("local.no-children-in-spray") is None


HEAD = "local guidance: Our own\nissued by: A centre (invented)\ndate: 2026-03-01\n"
PLAN = ROOT / "cases/plan/arrival-left.yaml"


def guided(tmp_path, text):
    (tmp_path / "own.yaml").write_text(HEAD + text, "utf-8")
    return Advisor(local_file=str(tmp_path / "own.yaml"))


@not_quick
def test_a_fact_without_an_order_of_caution_stays_as_the_case_has_it_and_is_told(tmp_path):
    local = guided(tmp_path, "facts:\n  plan: {rating scale: five by five}\n")
    advice = local.advise(local.read(PLAN, ["plan.rating scale=other scale"]))
    assert {f.id: f.value for f in advice.facts}["plan.rating scale"] == "other scale"
    assert any(
        "other scale" in d.text and "five by five" in d.text for d in advice.local.departures
    )
    assert not local.advise(local.read(PLAN, ["plan.rating scale=five by five"])).local.departures


@pytest.mark.parametrize(
    "figure",
    [
        "climbing load factor: -1",
        "climbing load factor: 0",
        "climbing load factor: 0.1",
        "lifeline tie-in length: 5 kg",
        "overhead for each person: -4 min",
        "overhead for each person: 1 kN",
        "overhead for each person: 4 °C",
        "overhead for each person: 4",
        "overhead for each person: 4 year",
        "knot factor bowline: 3",
        "cave air temperature: 90 °C",
        "heat made at rest: abc W",
        "heat made at rest: inf W",
        "heat made at rest: 100 MPa",
    ],
)
def test_a_figure_of_another_kind_sign_or_size_is_refused(tmp_path, capsys, figure):
    path = tmp_path / "own.yaml"
    path.write_text(f"{HEAD}figures:\n  {figure}\n", "utf-8")
    assert main(["advise", str(PLAN), "--local", str(path)]) == 2
    error = capsys.readouterr().err
    assert error.count("\n") == 1 and error.startswith(f"{path}:5:")


@not_quick
@pytest.mark.parametrize(
    "figure",
    [
        "overhead for each person: 240 s",
        "cave air temperature: -2 °C",
        "climbing load factor: 3",
        "heat made at rest: 90 W",
    ],
)
def test_a_figure_of_the_same_kind_is_taken(tmp_path, figure):
    assert guided(tmp_path, f"figures:\n  {figure}\n")


def test_nobody_is_asked_whom_no_rule_names(tmp_path, capsys):
    path = tmp_path / "own.yaml"
    path.write_text(f"{HEAD}ask:\n  local guidence: the adviser\n", "utf-8")
    assert (
        main(["advise", str(PLAN), "--local", str(path)]) == 2
        and "Did you mean 'local guidance'" in capsys.readouterr().err
    )


@not_quick
def test_questions_know_the_stops_of_the_built_in_rules(tmp_path, capsys):
    path = tmp_path / "own.yaml"
    path.write_text(f"{HEAD}figures:\n  climbing load factor: 1\n", "utf-8")
    arguments = [
        "advise",
        str(PLAN),
        "--local",
        str(path),
        "--set",
        "ladder main.breaking load=1.5 kN",
    ]
    local = Advisor(local_file=str(path))
    case = local.read(PLAN, arguments[-1:])
    held = {
        s.rule
        for s in local.advise(case).stops
        if s.id not in stop_ids(local.base, *local.run(case))
    }
    assert held, "the guidance must be looser than the base in this case"
    for question in sampled(("--how-sure", "--what-would"), normal=1):
        assert main([*arguments, question, "stops"]) == 3
        told = capsys.readouterr().out
        assert all(rule in told for rule in held) and "By the built-in rules" in told
