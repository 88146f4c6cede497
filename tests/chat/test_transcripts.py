"""Whole talks: after each typed line ('> ') the decisive lines ('# ') are shown and the others ('!
') are not; '= ' is the exit code.
"""

from pathlib import Path

import pytest

from advisor.chat.faces import lines_of
from advisor.chat.talk import Talk
from advisor.chat.turn import take

TALKS = sorted((Path(__file__).parent / "transcripts").glob("*.txt"))


def turns(path):
    """([(typed, must be shown, must not be)], exit code) of a transcript."""
    found, code = [], None
    for line in path.read_text("utf-8").splitlines():
        mark, words = line[:2], line[2:]
        if mark == "> ":
            found.append((words, [], []))
        elif mark in ("# ", "! "):
            found[-1][1 if mark == "# " else 2].append(words)
        elif mark == "= ":
            code = int(words)
        else:
            assert mark == "; ", f"{path.name}: '{line}' is no line of a transcript"
    return found, code


def test_there_is_a_talk_of_each_kind():
    assert {p.stem for p in TALKS} >= {"planning", "drill", "inspection"} and len(
        turns(TALKS[-1])[0]
    ) >= 8


@pytest.mark.parametrize("path", TALKS, ids=lambda p: p.stem)
def test_talk(session, path):
    script, code = turns(path)
    for typed, must, must_not in script:
        text = "\n".join(lines_of(take(session, typed)))
        assert not [m for m in must if m not in text], f"missing after '{typed}':\n{text}"
        assert not [m for m in must_not if m in text], f"too much after '{typed}':\n{text}"
    assert Talk(session, None, "text", True).code() == code
