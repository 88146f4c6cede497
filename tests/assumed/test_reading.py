"""What a case assumes, as it is read: never over what is known, whoever knows it."""

from datetime import date

import pytest

from advisor.advise import Advisor
from advisor.cli import main
from advisor.records.desk import Desk
from advisor.records.store import Store

SOUND = "based on: cases/group/two-leaders-sound.yaml\n"


@pytest.fixture(scope="module")
def program():
    return Advisor()


@pytest.fixture
def faults(tmp_path, capsys):
    """faults(text of a case, options) -> what is said of it."""

    def run(text, *options):
        file = tmp_path / "case.yaml"
        file.write_text(text, "utf-8")
        assert main(["advise", str(file), *options]) == 2
        return capsys.readouterr().err

    return run


def test_what_is_given_cannot_be_assumed_too(faults):
    said = faults("given:\n  pitch: {depth: 8 m}\nassumed:\n  pitch: {depth: 9 m}\n")
    assert "case.yaml:4:11" in said and "'pitch.depth' is given and assumed; keep one" in said
    said = faults("given:\n  pitch: {depth: 8 m}\n", "--assume", "pitch.depth=9 m")
    assert said.startswith("--assume:1:1") and "pitch.depth is given as 8 m" in said


def test_what_a_case_below_gives_cannot_be_assumed(faults, tmp_path):
    (tmp_path / "loose.yaml").write_text(
        SOUND + "given: {anchor left ladder bolt: {moves: yes}}\n", "utf-8"
    )
    own = "based on: loose.yaml\nassumed:\n  anchor left ladder bolt: {moves: no}\n"
    said = faults(own)
    assert "case.yaml:3:29" in said and "loose.yaml:2:" in said
    assert "without: [anchor left ladder bolt.moves]" in said


@pytest.mark.parametrize(
    "text, place",
    [
        ("assumed:\n  pitch: {depht: 9 m}\n", "case.yaml:2:11"),
        ("assumed:\n  pitch: {depth: soon}\n", "case.yaml:2:18"),
        ("assumed:\n  pich: {depth: 9 m}\n", "case.yaml:2:3"),
        ("assumed: {}\n", "case.yaml:1:"),
    ],
)
def test_faults_of_what_is_assumed_have_their_place(faults, text, place):
    assert place in faults(text)


def read(program, tmp_path, text, cards=None):
    file = tmp_path / "read.yaml"
    file.write_text(text, "utf-8")
    return program.read(file, cards=cards)


def test_what_is_given_as_unknown_can_be_assumed(program, tmp_path):
    text = "given: {pitch: {depth: unknown}}\nassumed: {pitch: {depth: 9 m}}\n"
    with pytest.raises(Exception, match="given and assumed"):
        read(program, tmp_path, text)
    base = tmp_path / "base.yaml"
    base.write_text("given: {pitch: {depth: unknown}}\n", "utf-8")
    case = read(program, tmp_path, "based on: base.yaml\nassumed: {pitch: {depth: 9 m}}\n")
    assert program.advise(case).assumed == ("pitch.depth",)


def test_told_in_a_case_above_it_is_known(program, tmp_path):
    (tmp_path / "base.yaml").write_text("assumed: {pitch: {depth: 9 m, hang: free}}\n", "utf-8")
    case = read(program, tmp_path, "based on: base.yaml\ngiven: {pitch: {depth: 8 m}}\n")
    assert program.advise(case).assumed == ("pitch.hang",)


def test_of_two_bases_what_is_known_stands_whichever_comes_last(program, tmp_path):
    (tmp_path / "known.yaml").write_text("given: {pitch: {depth: 8 m}}\n", "utf-8")
    (tmp_path / "ahead.yaml").write_text("assumed: {pitch: {depth: 9 m}}\n", "utf-8")
    for order in ("known.yaml, ahead.yaml", "ahead.yaml, known.yaml"):
        case = read(program, tmp_path, f"based on: [{order}]\n")
        assert case.facts["pitch", "pitch.depth"].text == "8 m"
        assert not program.advise(case).assumed


def test_what_a_card_knows_stands_over_what_is_assumed(program, tmp_path):
    desk = Desk(program, Store(tmp_path / "records.sqlite", lambda: "now"), date(2026, 1, 5), "AB")
    desk.begin("L3", "kit", "ladder", {"length": "12 m"}, {})
    text = SOUND + "without: [ladder main]\nwith: {ladder: L3}\n"
    text += "assumed: {ladder L3: {length: 20 m, clean: yes}}\n"
    case = read(program, tmp_path, text, desk.cards.of)
    assert case.facts["ladder L3", "ladder.length"].text == "12 m"
    assert program.advise(case).assumed == ("ladder L3.clean",)
