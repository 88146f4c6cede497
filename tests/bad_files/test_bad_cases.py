"""Law 8 for case files: bad input is told in one line a fault, with its place; no traceback,
nothing written, exit code 2.
"""

import errno
import os
import sys

import pytest
from corpus import BYTES, FACTS, GOOD, SETTINGS, SHAPES, YAML
from depth import not_quick
from in_process import files_below, places, run

from advisor import bounded


def same(found, wanted):
    """The faults found are those wanted: the same places in the same order, with the words wanted
    in each.
    """
    assert [f[:2] for f in found] == [w[:2] for w in wanted], found
    assert all(words in message for (_, _, message), (_, _, words) in zip(found, wanted)), found


@not_quick
@pytest.mark.parametrize(
    "text, wanted", [pytest.param(t, w, id=n) for n, t, w in YAML + BYTES + SHAPES + FACTS]
)
def test_every_fault_of_a_broken_case_is_told_at_its_place(folder, text, wanted):
    path = folder / "case.yaml"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    before = files_below(folder)
    code, out, error = run(["advise", "case.yaml"])
    assert (code, out) == (2, "")
    same(places(error, "case.yaml"), wanted)
    assert files_below(folder) == before


@pytest.mark.parametrize("text, words", [pytest.param(t, w, id=n) for n, t, w in SETTINGS])
def test_a_bad_setting_is_told(folder, text, words):
    (folder / "case.yaml").write_text(GOOD)
    before = files_below(folder)
    code, out, error = run(["advise", "case.yaml", "--set", "pitch.depth=15 m", "--set", text])
    assert (code, out) == (2, "")
    same(places(error, "--set"), [(1, 2, words)])
    assert files_below(folder) == before


def test_faults_of_file_and_settings_are_told_together(folder):
    (folder / "case.yaml").write_text("given:\n  pitch: {dept: 14 m}\n")
    code, _, error = run(["advise", "case.yaml", "--set", "pitch.water=wet"])
    assert code == 2 and error.startswith("--set:1:1: ") and "\ncase.yaml:2:11: " in error


@pytest.mark.parametrize(
    "name, words",
    [
        ("missing.yaml", "cannot read this file"),
        (".", "cannot read this file"),
        ("", "cannot read this file"),
        ("case.yaml/x", "cannot read this file"),
        ("zero\x00byte", "cannot read this file"),
        ("n" * 5000, "cannot read this file"),
        ("two\nlines", "cannot read this file"),
    ],
)
def test_a_file_that_cannot_be_read(folder, name, words):
    (folder / "case.yaml").write_text(GOOD)
    code, out, error = run(["advise", name])
    assert (code, out) == (2, "")
    (found,) = places(error, "")
    assert found[:2] == (1, 1) and words in found[2]


@pytest.mark.skipif(sys.platform == "win32", reason="file modes mean something else there")
def test_a_closed_file(folder, monkeypatch):
    path = folder / "case.yaml"
    path.write_text(GOOD)
    path.chmod(0)
    if os.geteuid() == 0:  # the superuser may read every file: what the system says to others

        def closed(name, *more):
            raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), name)

        monkeypatch.setattr(bounded.os, "open", closed)
    code, _, error = run(["advise", "case.yaml"])
    assert code == 2 and "cannot read this file" in places(error, "case.yaml")[0][2]


def test_standard_input_is_named(folder):
    code, out, error = run(["advise", "-"], b"given: {pitch: {depth: 010}}\n")
    assert (code, out) == (2, "")
    same(places(error, "standard input"), [(1, 24, "'010'")])


@pytest.mark.parametrize(
    "arguments",
    [
        ["advize"],
        ["advise"],
        ["advise", "a", "b"],
        ["advise", "a", "--format", "pdf"],
        ["advise", "a", "--set"],
        ["--nothing"],
        ["advise", "a", "--why", ""],
        ["advise", "a", "--what-would", " "],
        ["advise", "a", "--how-sure="],
        ["advise", "a", "--why-not", ""],
        ["advise", "a", "--explain", ""],
        ["advise", "a", "--levels", "²"],
        ["drill", "a", "--incidents", "\x1b[31m"],
    ],
)
def test_bad_usage_is_one_line(folder, arguments):
    code, out, error = run(arguments)
    assert (
        (code, out) == (2, "")
        and error.count("\n") == 1
        and error.startswith("pitch-advisor")
        and "--help" in error
        and error[:-1].isprintable()
    )


@not_quick
def test_several_questions_are_each_answered(folder):
    (folder / "case.yaml").write_text(GOOD)
    asked = [
        ["--why", "pitch.depth"],
        ["--how-sure", "stops"],
        ["--what-would", "stops"],
        ["--find-out"],
    ]
    alone = [run(["advise", "case.yaml", *question])[1] for question in asked]
    code, out, _ = run(["advise", "case.yaml", *(word for question in asked for word in question)])
    order = [alone[0], alone[1], alone[3], alone[2]]
    assert code in (0, 3) and all(alone) and out == "\n".join(order)


@pytest.mark.parametrize(
    "name, says",
    [
        ("n" * 300 + ".md", "cannot write the sheet"),
        ("link.md", "is there already"),
        ("a\x00b.md", "cannot write the sheet"),
    ],
)
def test_a_sheet_that_cannot_be_kept_is_told_first(folder, name, says):
    (folder / "case.yaml").write_text(GOOD)
    (folder / "link.md").symlink_to("nowhere.md")
    code, out, error = run(["drill", "case.yaml", "--sheet", name])
    assert (
        (code, out) == (2, "")
        and says in places(error, "")[0][2]
        and (folder / "link.md").is_symlink()
    )


def test_what_is_harmless_is_read(folder):
    """Byte order mark, Windows line ends, quoted words, doubtful and unknown values are
    no faults.
    """
    text = (
        "\ufeffcase: 'Good'\r\ngiven:\r\n  pitch: {depth: \"about 14 m?\", water: unknown}\r\n "
        " anchor left: {side: [left, middle], moves: yes?}\r\n"
    )
    (folder / "case.yaml").write_bytes(text.encode())
    code, out, error = run(["advise", "case.yaml"])
    assert code in (0, 3) and out.startswith("Good") and error == ""
