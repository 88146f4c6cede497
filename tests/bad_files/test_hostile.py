"""A few of the hostile inputs that `tests/proof.py doors` draws by the hundred thousand."""

from pathlib import Path
from random import Random

import hostile
import proof
import pytest
from depth import examples, not_quick


@not_quick
@pytest.mark.parametrize("chunk", range(4))
def test_every_door_refuses_in_a_sentence_or_takes(chunk):
    size = examples(75, 20)
    taken, seen, failed = proof.chunk("doors", chunk * size, (chunk + 1) * size)
    assert not failed and taken == size
    assert {name.split()[0] for name in seen} == {*hostile.DOORS}


def test_a_failure_is_told_with_its_number(monkeypatch):
    def broken(_):
        raise ValueError("broken")

    monkeypatch.setattr(hostile, "DOORS", {"case": (1, broken)})
    _, seen, failed = proof.chunk("doors", 7, 9)
    assert not seen and failed == [f"doors {n}: ValueError: 'broken'" for n in (7, 8)]


@not_quick
def test_the_engines_agree_in_a_proof():
    taken, seen, failed = proof.chunk("engines", 1, examples(6, 20))
    assert taken and not failed and seen["fact sets through both engines"] == taken


@not_quick
def test_what_a_line_asks_to_be_written_stays_in_no_folder_of_ours(monkeypatch, tmp_path):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(hostile, "_lines", lambda: ("14 m shaft", "export plan.yaml"))
    monkeypatch.setattr(hostile, "mutated", lambda text, _: text)
    shown = []
    monkeypatch.setattr(hostile, "_shown", shown.append)
    for number in range(8):
        hostile._a_line(Random(number))
    assert any("Written" in text for text in shown), shown
    assert not list(tmp_path.iterdir())
    assert Path.cwd() == tmp_path
