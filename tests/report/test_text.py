"""The text a person reads: it keeps its width, moves no cursor, and means the same without colour,
on a screen and in a pipe.
"""

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from depth import all_cases, examples, not_quick, some_cases
from hypothesis import given, settings
from hypothesis import strategies as st
from worked import advised, program

from advisor.cli import main
from advisor.load.case import build_case
from advisor.load.tree import Document
from advisor.papers.faces import markdown, text
from advisor.papers.one_screen.screen import shown
from advisor.papers.outline import whole_paper

ROOT = Path(__file__).resolve().parents[2]
FILES = all_cases()
STOPPED = "cases/plan/one-bolt-only.yaml"
WIDTHS = (20, 27, 40, 47, 60, 61, 72, 79, 80, 99, 100, 101, 132, 200)
LONGEST = 100  # lines longer than this are hard to read, whatever the terminal


def on_screen(advice, width, colour):
    return shown(program().base, advice, width, colour)


@not_quick
@some_cases
@pytest.mark.parametrize("face", [on_screen, text.advised], ids=["screen", "all"])
def test_no_line_is_wider_than_the_terminal(path, face):
    for width in WIDTHS:
        lines = face(advised(path), width, colour=False).split("\n")
        assert max(map(len, lines)) <= min(width, LONGEST)
        assert not [line for line in lines if line != line.rstrip()]


@pytest.mark.parametrize("width", [1, 10, 19])
def test_a_very_narrow_terminal_gets_twenty_columns(width):
    assert text.advised(advised(FILES[0]), width=width, colour=False) == text.advised(
        advised(FILES[0]), width=20, colour=False
    )


def test_the_words_are_the_same_at_every_width():
    def words(width):
        return re.sub(
            r"(?<=\w)- ",
            "-",
            " ".join(text.advised(advised(FILES[0]), width, False).split()),
        )

    assert len({words(width) for width in WIDTHS if width >= 60}) == 1  # an id may be longer


NASTY = st.text(
    st.one_of(
        st.characters(), st.sampled_from("\x1b\x9b\x07\x08\r\n\t\u202e\u2028\ufeff[]*_`<>|\\#")
    ),
    min_size=1,
    max_size=60,
)


def hostile(title, name):
    """Advice for a case whose title and names are hostile; None where they are refused."""
    from advisor.faults import Faults

    given_ = {
        f"ladder {name}": {"rung fixing": "unknown"},
        "pitch": {"depth": "14 m"},
        "finding one": {"what": "broken wire", "item": f"ladder {name}"},
        "anchor " + name: {"moves": "yes", "in lifeline": "yes", "kind": "formation"},
    }
    try:
        return program().advise(
            build_case(Document("case", {"case": title, "given": given_}), program().base)
        )
    except Faults:
        return None


@not_quick
@settings(max_examples=examples(50, 9), deadline=None, derandomize=True)
@given(NASTY, NASTY, st.sampled_from(WIDTHS))
def test_hostile_names_move_no_cursor(title, name, width):
    advice = hostile(title, name) or hostile(title, "plain")
    plain = text.advised(advice, width, colour=False)
    assert all(c.isprintable() or c == "\n" for c in plain)
    assert max(map(len, plain.split("\n"))) <= min(width, LONGEST)
    coloured = (
        text.advised(advice, width, colour=True).replace(text.BOLD, "").replace(text.PLAIN, "")
    )
    assert coloured == plain
    assert all(c.isprintable() or c == "\n" for c in markdown.render(whole_paper(advice)))


@pytest.mark.parametrize(
    "name", ["left\x1b[2J", "left\x9b2J", "left\nright", "left\u202eright", "left\x7f", "x" * 80]
)
def test_names_with_control_characters_are_refused(name):
    assert hostile("Good", name) is None


def test_markdown_shows_hostile_words_as_written():
    shown = markdown.render(whole_paper(hostile("# <b>*bold*</b> [x](y)", "a_b|c")))
    assert (
        shown.startswith("# \\# \\<b\\>\\*bold\\*\\</b\\> \\[x\\](y)\n")
        and "a\\_b\\|c" in shown
        and "a_b|c" not in shown
    )


def run(*arguments, **environment):
    """The command in a process of its own, its output in a pipe."""
    kept = {
        k: v
        for k, v in os.environ.items()
        if k not in ("NO_COLOR", "TERM", "COLUMNS", "FORCE_COLOR")
    }
    return subprocess.run(
        [sys.executable, "-m", "advisor", "advise", *arguments],
        capture_output=True,
        text=True,
        encoding="utf-8",
        cwd=ROOT,
        env={**kept, **environment},
    )


def on_a_terminal(**environment):
    """What the command writes when its output is a terminal."""
    import pty

    master, slave = pty.openpty()
    kept = {
        k: v
        for k, v in os.environ.items()
        if k not in ("NO_COLOR", "TERM", "COLUMNS", "FORCE_COLOR")
    }
    process = subprocess.Popen(
        [sys.executable, "-m", "advisor", "advise", STOPPED],
        stdout=slave,
        stderr=subprocess.STDOUT,
        cwd=ROOT,
        env={**kept, "TERM": "xterm", **environment},
    )
    os.close(slave)
    found = b""
    while True:
        try:
            part = os.read(master, 65536)
        except OSError:  # Linux says so when the other end is closed
            break
        if not part:
            break
        found += part
    os.close(master)
    assert process.wait() == 3
    return found.decode("utf-8").replace("\r\n", "\n")


@not_quick
def test_a_pipe_gets_no_escape_codes_and_the_exit_code_tells_of_the_stop():
    piped = run(STOPPED, TERM="xterm-256color")
    assert piped.returncode == 3 and piped.stderr == ""
    assert "\x1b" not in piped.stdout and piped.stdout.splitlines()[1].startswith("STOP.")


@not_quick
def test_a_terminal_gets_emphasis_and_the_same_words():
    shown = on_a_terminal(COLUMNS="80")
    assert text.BOLD in shown
    assert shown.replace(text.BOLD, "").replace(text.PLAIN, "") == run(STOPPED, COLUMNS="80").stdout


@not_quick
@pytest.mark.parametrize(
    "environment", [{"NO_COLOR": "1"}, {"TERM": "dumb"}], ids=["NO_COLOR", "dumb terminal"]
)
def test_a_terminal_that_wants_none_gets_no_escape_codes(environment):
    assert "\x1b" not in on_a_terminal(**environment)


@not_quick
def test_the_output_is_utf8_whatever_the_locale():
    assert run(STOPPED, PYTHONIOENCODING="ascii", LC_ALL="C").stdout == run(STOPPED).stdout


@not_quick
@pytest.mark.parametrize(
    "asked, told",
    [
        ([], "clear at home"),
        (["--at", "home"], "clear at home"),
        (["--at", "head"], "nothing found that forbids it"),
    ],
)
def test_advice_is_given_for_the_moment_asked(capsys, asked, told):
    """The four bolts at Quarry Shaft have all that can be said at home, and nothing is open."""
    assert main(["advise", "cases/plan/arrival-left.yaml", "--format", "json", *asked]) == 0
    assert json.loads(capsys.readouterr().out)["decisions"]["go"]["choice"] == told
