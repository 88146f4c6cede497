"""The command as a child process: outputs that are closed, full or not read to their end, inputs
that are closed or no text. The exit code still tells of a stop.
"""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from depth import not_quick

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
