"""Local guidance at the other doors: papers, conversation and rehearsal follow it and say so."""

from __future__ import annotations

import io
import json
from html import unescape

import pytest
from depth import not_quick

from advisor.advise import Advisor
from advisor.chat.session import Session
from advisor.chat.store import Store, load
from advisor.chat.turn import take
from advisor.cli import main
from advisor.load.folder import find_folder

EXAMPLE = str(find_folder("rules") / "local/example.yaml")
CALLED = '"Ladder pitches with novice groups", "Heather Moor Outdoor Centre (invented)", 2026-03-01'
DEPARTS = "A fixed cord is accepted with novices where two instructors are at the lip."
STOP = "Do not take children down a pitch in spray (centre rule)."
CHILDREN = """
case: Children in spray
given:
  pitch: {depth: 8 m, water: spray}
  group: {size: 6, children: 3}
"""


@pytest.fixture
def case(tmp_path):
    path = tmp_path / "case.yaml"
    path.write_text(CHILDREN, "utf-8")
    return str(path)


@pytest.fixture(scope="module")
def local():
    return Advisor(local_file=EXAMPLE)


def one_line(text):
    return " ".join(text.replace("\\", "").split())


@not_quick
@pytest.mark.parametrize("form", ["md", "html"])
def test_papers_follow_it_and_say_so(case, tmp_path, form):
    before, after = tmp_path / f"before.{form}", tmp_path / f"after.{form}"
    main(["export", case, "--paper", "all", "-o", str(before)])
    told = ["--paper", "all", "--local", EXAMPLE]
    assert main(["export", case, *told, "-o", str(after)]) == 3
    before, after = (one_line(unescape(p.read_text("utf-8"))) for p in (before, after))
    assert STOP in after and STOP not in before
    assert after.count(CALLED) >= 2 and CALLED not in before
    assert DEPARTS in after and "tether.fixed-with-novices" in after.split(DEPARTS)[1]
    for paper in (before, after):
        row = paper.split("Local guidance used")[1][:20]
        assert ("none" in row) == (paper is before)


@not_quick
def test_papers_as_data_and_as_a_word_file(case, tmp_path):
    assert main(["export", case, "--local", EXAMPLE, "-o", str(tmp_path / "papers.docx")]) == 3
    assert main(["export", case, "--local", EXAMPLE, "-o", str(tmp_path / "papers.json")]) == 3
    papers = json.loads((tmp_path / "papers.json").read_text("utf-8"))
    assert papers["paper"]["local guidance"] == CALLED
    depth = next(f for f in papers["advice"]["facts"] if f["id"] == "leader.authorised depth")
    assert depth["value"] == "12 m"


def rehearsal(monkeypatch, capsys, *arguments):
    monkeypatch.setattr("sys.stdin", io.StringIO("\n" * 300))
    code = main(["drill", *arguments])
    shown = capsys.readouterr()
    assert (code, shown.err) == (0, "")
    return one_line(shown.out)


@not_quick
def test_a_rehearsal_follows_it_and_says_so(case, tmp_path, monkeypatch, capsys):
    sheet = tmp_path / "sheet.md"
    shown = rehearsal(monkeypatch, capsys, case, "--local", EXAMPLE, "--sheet", str(sheet))
    assert f"Local guidance is laid over the rules: {CALLED}." in shown and DEPARTS in shown
    assert STOP in shown and shown.index(CALLED) < shown.index("Would you go on")
    kept = one_line(sheet.read_text("utf-8"))
    assert CALLED in kept and DEPARTS in kept and STOP in kept
    plain = rehearsal(monkeypatch, capsys, case)
    assert "Local guidance is" not in plain and STOP not in plain


@not_quick
def test_a_conversation_follows_it_and_says_so(case, monkeypatch, capsys):
    monkeypatch.setattr("sys.stdin", io.StringIO("everything\n"))
    assert main(["chat", case, "--local", EXAMPLE]) == 3
    shown = one_line(capsys.readouterr().out)
    assert f"With local guidance: {CALLED}." in shown
    assert STOP in shown and DEPARTS in shown and "No local guidance was given" not in shown


@not_quick
def test_one_turn_as_an_object_has_it_in_its_advice(case, monkeypatch, capsys):
    monkeypatch.setattr("sys.stdin", io.StringIO("is it safe\n"))
    assert main(["chat", case, "--local", EXAMPLE, "--format", "json"]) == 3
    shown = capsys.readouterr()
    turns = [json.loads(line) for line in shown.out.splitlines()]
    assert all(t["advice"]["local"]["title"] in CALLED for t in turns) and CALLED in one_line(
        shown.err
    )


def stops(reply):
    return {s.text.removeprefix("Local: ") for s in reply.advice.stops}


@not_quick
def test_what_is_supposed_and_compared_is_under_it_too(local):
    session = Session(local)
    take(session, "8 m deep, six of us, 3 children, dry")
    assert STOP not in stops(take(session, "what should I do"))
    supposed = take(session, "suppose there is spray").answer
    assert any(STOP in line for line in supposed), supposed
    take(session, "keep that as wet")
    assert any("(centre" in line for line in take(session, "compare wet").answer)
    assert STOP in stops(take(session, "use wet"))


@not_quick
def test_a_fact_is_heard_as_it_was_said_and_the_stricter_one_advised_on(local):
    session = Session(local)
    reply = take(session, "leader authorised depth: 18 m")
    assert [f["value"] for f in reply.facts] == ["18 m"]
    held = {f.id: f.value for f in reply.advice.facts}
    assert held["leader.authorised depth"] == "12 m"


@not_quick
def test_why_not_is_asked_of_the_built_in_rules_as_well(local):
    session = Session(local)
    take(session, "8 m deep, six of us, 3 children, spray")
    answer = take(session, "what would change that").answer
    assert any(line.startswith("By the built-in rules") for line in answer), answer


@not_quick
def test_a_session_gone_on_with_says_what_it_was_held_under(local, tmp_path, monkeypatch, capsys):
    monkeypatch.setenv("PITCH_ADVISOR_DATA", str(tmp_path / "data"))
    session, store = Session(local), Store.new()
    take(session, "8 m deep, six of us, 3 children, spray")
    store.save(session)
    store.close()
    plain = Session(Advisor())
    load(store.path, plain)
    assert plain.missed_guidance == CALLED
    for arguments, missed in ((["--local", EXAMPLE], False), ([], True), ([], True)):
        monkeypatch.setattr("sys.stdin", io.StringIO("is it safe\n"))
        assert main(["chat", "--resume", *arguments]) in (0, 3)
        shown = one_line(capsys.readouterr().out)
        assert ("It was held with local guidance" in shown) == missed
        assert CALLED in shown and (STOP in shown) != missed


@not_quick
@pytest.mark.parametrize("door", ["chat", "drill", "export"])
def test_a_file_that_cannot_be_read_is_told_in_a_sentence(door, case, tmp_path, capsys):
    more = ["-o", str(tmp_path / "x.md")] if door == "export" else []
    assert main([door, case, "--local", str(tmp_path / "none.yaml"), *more]) == 2
    error = capsys.readouterr().err
    assert "none.yaml" in error and error.count("\n") == 1
    assert not (tmp_path / "x.md").exists()


def test_a_second_file_is_refused(tmp_path, capsys):
    files = [str(tmp_path / name) for name in ("a.yaml", "b.yaml")]
    with pytest.raises(SystemExit) as ended:
        main(["advise", "arrival-left", "--local", files[0], "--local", files[1]])
    assert ended.value.code == 2 and "one file is laid over" in capsys.readouterr().err
