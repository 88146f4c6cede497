"""The command as a child process: outputs that are closed, full or not read to their end, inputs
that are closed or no text. The exit code still tells of a stop.
"""

import io
import os
import subprocess
import sys
from pathlib import Path

import pytest
from depth import not_quick

from advisor import bounded
from advisor.faults import Faults
from advisor.load.tree import read_document

ROOT = Path(__file__).resolve().parents[2]

pytestmark = not_quick  # each is a process of its own

STOPPED = ["cases/plan/arrival-left.yaml", "--set", "pitch.water=stream"]
unix = pytest.mark.skipif(
    sys.platform == "win32" or not os.path.exists("/dev/full"),
    reason="needs /dev/full and file descriptors",
)


def command(arguments, shell="", given=b"", tmp=None, **more):
    line = f'exec "$0" -m advisor "$@" {shell}'
    environment = {**os.environ, "PITCH_ADVISOR_DATA": str(tmp or "/nowhere/at all"), **more}
    done = subprocess.run(
        ["bash", "-c", line, sys.executable, *arguments],
        input=given,
        capture_output=True,
        cwd=ROOT,
        timeout=300,
        env=environment,
    )
    assert (
        b"Traceback" not in done.stderr
        and b"internal fault" not in done.stderr
        and b"Exception" not in done.stderr
    ), done.stderr
    return done


def unread(arguments, given=b""):
    """The exit code when nobody reads what is shown."""
    reader, writer = os.pipe()
    os.close(reader)
    process = subprocess.Popen(
        [sys.executable, "-m", "advisor", *arguments],
        stdin=subprocess.PIPE,
        stdout=writer,
        stderr=subprocess.PIPE,
        cwd=ROOT,
    )
    os.close(writer)
    error = process.communicate(given, timeout=300)[1]
    assert not error, error
    return process.returncode


@unix
@pytest.mark.parametrize(
    "arguments, given, code",
    [
        (["advise", *STOPPED], b"", 3),
        (["compare", *STOPPED], b"", 3),
        (["sketch", *STOPPED], b"", 3),
        (["chat"], b"pitch water: stream\n", 3),
        (["advise", STOPPED[0]], b"", 0),
        (["cases"], b"", 0),
    ],
)
def test_a_stop_is_told_to_a_closed_pipe(arguments, given, code):
    assert unread(arguments, given) == code


@unix
@pytest.mark.parametrize(
    "arguments, code",
    [
        (["advise", *STOPPED], 3),
        (["advise", STOPPED[0]], 2),
        (["rules", "tether"], 2),
        (["chat", STOPPED[0]], 2),
    ],
)
@pytest.mark.parametrize("shell", ["> /dev/full", ">&-"])
def test_an_output_that_takes_nothing_is_told_in_one_line(tmp_path, arguments, code, shell):
    done = command(arguments, shell, tmp=tmp_path)
    assert (
        done.returncode == code
        and done.stderr.startswith(b"standard output: cannot be written (")
        and done.stderr.count(b"\n") == 1
    )


@unix
@pytest.mark.parametrize(
    "arguments, code, says",
    [(["advise", "-"], 2, b"standard input:1:1: "), (["drill", STOPPED[0]], 0, b"")],
)
def test_a_closed_input_is_an_empty_one(arguments, code, says):
    done = command(arguments, "<&-")
    assert done.returncode == code and says in done.stderr


@unix
def test_a_byte_that_is_no_text_ends_no_rehearsal():
    done = command(
        ["drill", STOPPED[0]], "", b"\xff\n" * 3 + "²\n".encode() * 9, PYTHONIOENCODING="utf-8"
    )
    assert done.returncode == 0 and b"Ended here." in done.stdout


@unix
@pytest.mark.parametrize(
    "word, says", [("²", b"no case is called"), ("-", b"standard input is for the answers")]
)
def test_a_word_that_names_no_case(word, says):
    done = command(["drill", word])
    assert done.returncode == 2 and says in done.stderr and done.stderr.count(b"\n") == 1


@unix
def test_without_a_home_all_is_advised_and_nothing_kept(tmp_path):
    done = command(["advise", *STOPPED], HOME="~", XDG_CACHE_HOME="")
    assert done.returncode == 3 and not done.stderr and not (ROOT / "~").exists()


def test_standard_input_is_read_once_for_both_sides():
    case = (ROOT / STOPPED[0]).read_bytes()
    done = command(["compare", "-", *STOPPED[1:]], "", case)
    assert done.returncode == 3 and b"new stop" in done.stdout
    done = command(["compare", "-", "-"], "", case)
    assert done.returncode == 2 and b"can be read once" in done.stderr


@unix
def test_an_error_that_cannot_be_told_is_no_fault():
    for shell in ("2> /dev/full", "2>&-"):
        assert command(["advise", "no/such.yaml"], shell).returncode == 2
        assert command(["no such word"], shell).returncode == 2
        assert command(["advise", *STOPPED], shell).returncode == 3


@unix
def test_a_pipe_that_never_ends_is_read_to_a_bound():
    process = subprocess.Popen(
        ["bash", "-c", 'yes "a: b" | "$0" -m advisor advise -', sys.executable],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        cwd=ROOT,
    )
    error = process.communicate(timeout=120)[1]
    assert process.returncode == 2 and b"standard input:1:1: the file is larger than" in error


@unix
def test_a_named_pipe_is_read_and_not_waited_for_for_ever(tmp_path, monkeypatch):
    pipe = tmp_path / "case.yaml"
    os.mkfifo(pipe)
    monkeypatch.setattr(bounded, "PATIENCE", 0.01)
    with pytest.raises(TimeoutError, match="nobody wrote to this pipe"):
        bounded.read_file(pipe, 10)
    with pytest.raises(Faults, match="nobody wrote to this pipe within 0.01 s"):
        read_document(pipe)
    case = (ROOT / STOPPED[0]).read_bytes()
    done = command(["advise", "/dev/stdin", *STOPPED[1:]], "", case)
    assert done.returncode == 3 and b"Quarry Shaft" in done.stdout
    assert bounded.read_file(__file__, 10) == Path(__file__).read_bytes()[:11]


INTERRUPTS = """
import importlib.abc, os, signal, sys
signal.signal(signal.SIGINT, signal.default_int_handler)  # what starts in the background ignores it
class At(importlib.abc.MetaPathFinder):
    def find_spec(self, name, path=None, target=None):
        if name == {at!r}:
            os.kill(os.getpid(), signal.SIGINT)
sys.meta_path.insert(0, At())
"""


@unix
@pytest.mark.parametrize(
    "at",
    [
        "advisor.cli",
        "argparse",
        "advisor.faults",
        "advisor.advise",
        "yaml",
        "advisor.engine.rete",
        "durable_rules_engine",
        "advisor.mechanics",
        "advisor.papers.one_screen.screen",
    ],
)
def test_ctrl_c_has_an_exit_code_of_its_own_at_every_import(tmp_path, at):
    (tmp_path / "sitecustomize.py").write_text(INTERRUPTS.format(at=at))
    done = command(["advise", STOPPED[0]], PYTHONPATH=str(tmp_path))
    assert done.returncode == 130 and done.stderr == b"pitch-advisor: stopped.\n", done.stderr
    assert not done.stdout


def test_characters_that_turn_the_writing_reach_no_reader_raw():
    case = (
        b'case: "Shaft \\u202e\\u2066 of \\u200b names"\nabout: [plan]\n'
        b"given:\n  pitch: {depth: 10 m}\n"
        b'checked: {"a look \\u202e": [pitch.depth]}\n'
    )
    for form in ("text", "json", "markdown"):
        shown = command(["advise", "-", "--format", form], given=case).stdout.decode()
        assert "Shaft" in shown and all(c.isprintable() for c in shown.replace("\n", "")), form
    turn = command(["chat", "--format", "json"], given="pitch 10 m \u202edeep\u0085\n".encode())
    assert all(c.isprintable() for c in turn.stdout.decode().replace("\n", ""))


@unix
def test_what_is_no_pipe_is_waited_for(monkeypatch):
    """A terminal named as a file has nothing to read until somebody types."""
    waited, opened = [], os.fdopen
    monkeypatch.setattr(
        bounded.os,
        "fdopen",
        lambda handle, *rest, **more: (
            waited.append(os.get_blocking(handle)) or opened(handle, *rest, **more)
        ),
    )
    assert bounded.read_file(__file__, 10) and waited == [True]


def test_a_line_without_end_is_read_to_a_bound_and_is_one_line(monkeypatch):
    monkeypatch.setattr(sys, "stdin", io.StringIO("a" * 350 + "\nnext\n" + "b" * 99 + "\nlast"))
    told = [bounded.read_line(100) for _ in range(5)]
    assert told == ["a" * 100, "next\n", "b" * 99 + "\n", "last", ""]


@unix
@pytest.mark.parametrize(
    ("words", "first"),
    [
        (["chat"], "14 m shaft\n"),
        (["drill", "cases/incident/faint-with-a-leg-trapped.yaml"], "quit\n"),
    ],
)
def test_talk_through_a_pipe_is_read_to_a_bound(words, first):
    process = subprocess.Popen(
        ["bash", "-c", 'ulimit -v 1500000; "$0" -m advisor "$@"', sys.executable, *words],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        cwd=ROOT,
    )
    for _ in range(400):
        process.stdin.write(b"a" * 1_000_000)
    out, error = process.communicate(f"\n{first}".encode(), timeout=120)
    assert process.returncode == 0 and not error, error
    assert b"fault" not in out and out.count(b"\n") < 200
