"""The doors: what is asked on the command line is answered, faults are one sentence, the exit code
still tells of stops.
"""

import pytest
from depth import not_quick

from advisor.cli import main
from advisor.load.folder import find_folder

CLEAR, STOPPED = (
    str(find_folder("cases") / "plan" / name)
    for name in ("arrival-left.yaml", "one-bolt-only.yaml")
)


def door(capsys, *arguments):
    code = main(list(arguments))
    shown = capsys.readouterr()
    return code, shown.out, shown.err


@not_quick
@pytest.mark.parametrize(
    "arguments, words",
    [
        (("--why", "tether", "--levels", "1"), "tether: releasable hitch (firm)"),
        (("--why-not", "tether=fixed cord"), "Not fixed cord: ruled out"),
        (("--what-would", "tether"), "Now tether is: releasable hitch."),
        (("--how-sure", "method"), "Standing: firm."),
        (("--find-out",), "Find out next, the gravest outcome first"),
    ],
)
def test_questions_are_answered(capsys, arguments, words):
    code, out, _ = door(capsys, "advise", CLEAR, *arguments)
    assert code == 0 and words in out


@not_quick
def test_the_exit_code_tells_of_stops_whatever_was_asked(capsys):
    assert door(capsys, "advise", STOPPED, "--why", "go", "--levels", "1")[0] == 3


@not_quick
def test_the_answer_is_the_same_every_time_and_a_pipe_sees_no_progress(capsys, monkeypatch):
    monkeypatch.setattr("advisor.progress.AT_ONCE", 0)
    monkeypatch.setattr("advisor.progress.OFTEN", 0)
    first, second = (
        door(capsys, "advise", CLEAR, "--what-would", "tether", "--changes", "2") for _ in range(2)
    )
    assert first[1] == second[1] and first[2] == second[2] == ""


@pytest.mark.parametrize(
    "arguments, words",
    [
        (("--why", "tethr"), "Did you mean 'tether'"),
        (("--why-not", "tether"), "write DECISION=OPTION"),
        (("--why-not", "tether=chord"), "is not an option of 'tether'"),
        (("--what-would", "nothing"), "is not a decision, stop or item of this advice"),
        (("--how-sure", "ladder length"), "--explain ladders-to-join"),
        (("--how-sure", "tether.hitch-standard"), "gives no stop"),
        (("--why", "tether", "--levels", "few"), "should be a whole number"),
    ],
)
def test_bad_questions_are_one_sentence(capsys, arguments, words):
    try:
        code, _, error = door(capsys, "advise", CLEAR, *arguments)
    except SystemExit as ended:
        code, error = ended.code, capsys.readouterr().err
    assert code == 2 and words in error and error.count("\n") == 1 and "Traceback" not in error


def test_compare_tells_changes_with_their_rules(capsys):
    code, out, _ = door(capsys, "compare", CLEAR, "--set", "pitch.depth=25 m")
    assert code == 3
    assert "new stop: Do not lead this pitch" in out and "now holds: pitch.beyond-remit" in out
