"""The doors `export` and `sketch`: what is written, what is refused, and that nothing is left half
done.
"""

import datetime
import json
import os

import pytest
from depth import not_quick

from advisor.cli import main
from advisor.papers import write as writing

CASE = "cases/kit/rust-film.yaml"
STOP = "cases/kit/harness-and-connectors.yaml"


@pytest.mark.parametrize("form", [".md", ".html", ".docx", ".json", ".HTML"])
def test_each_ending_gives_its_form(there, form, capsys):
    out = there / f"papers{form}"
    assert main(["export", CASE, "-o", str(out)]) in (0, 3)
    assert out.stat().st_size > 1000 and str(out) in capsys.readouterr().out


@not_quick
def test_a_stop_is_told_by_the_exit_code(there):
    assert main(["export", STOP, "-o", str(there / "x.md")]) == 3
    assert main(["sketch", STOP]) == 3


def test_a_file_that_is_there_is_kept(there, capsys):
    out = there / "x.md"
    out.write_text("mine")
    assert main(["export", CASE, "-o", str(out)]) == 2
    assert out.read_text() == "mine" and "--force" in capsys.readouterr().err
    assert main(["export", CASE, "-o", str(out), "--force"]) in (0, 3)
    assert out.read_text().startswith("# Kit record")


def test_a_file_that_comes_in_between_is_kept(there):
    out = there / "x.md"
    out.write_text("mine")
    draft = there / "draft"
    draft.write_text("new")
    with pytest.raises(FileExistsError):
        writing._move(str(draft), str(out), False)
    assert out.read_text() == "mine"


@pytest.mark.parametrize("force", [True, False])
def test_a_failed_write_leaves_nothing(there, monkeypatch, force):
    out = there / "x.md"
    if force:
        out.write_text("mine")

    def broken(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(writing.os, "fsync", broken)
    with pytest.raises(Exception, match="No space left"):
        writing.write(str(out), b"new", force)
    assert os.listdir(there) == (["x.md"] if force else []) and (
        not force or out.read_text() == "mine"
    )


@pytest.mark.parametrize(
    "arguments, word",
    [
        (["export", CASE, "-o", "x.pdf"], "must end in"),
        (["export", CASE, "-o", ""], "must end in"),
        (["export", CASE, "-o", "no-such-folder/x.md"], "cannot write"),
        (["export", "no-such-case.yaml", "-o", "x.md"], "cannot read"),
        (["export", CASE, "-o", "x.md", "--scale", "one"], "scale"),
        (["export", CASE, "-o", "x.md", "--scale", "a,a"], "scale"),
        (["export", CASE, "-o", "x.md", "--scale", "a," + "b" * 30], "scale"),
        (["export", CASE, "-o", "x.md", "--date", "x" * 41], "date"),
        (["export", CASE, "-o", "x.md", "--date", "a\nb"], "date"),
        (["export", CASE, "-o", "x.md", "--set", "nonsense"], "ENTITY.ATTRIBUTE=VALUE"),
        (["sketch", "no-such-case.yaml"], "cannot read"),
    ],
)
def test_bad_use_is_told_in_a_sentence(arguments, word, capsys, there, monkeypatch):
    from advisor.load.folder import find_folder

    arguments = [str(find_folder("cases").parent / a) if a == CASE else a for a in arguments]
    monkeypatch.chdir(there)
    assert main(arguments) == 2
    told = capsys.readouterr().err
    assert word in told and "Traceback" not in told and len(told.splitlines()) == 1
    assert not os.listdir(there)


def test_missing_output_is_bad_usage(capsys):
    with pytest.raises(SystemExit) as stopped:
        main(["export", CASE])
    assert stopped.value.code == 2 and "-o" in capsys.readouterr().err


def test_a_folder_is_not_written_over(there, capsys):
    (there / "x.md").mkdir()
    assert main(["export", CASE, "-o", str(there / "x.md"), "--force"]) == 2
    assert "folder" in capsys.readouterr().err


def test_date_scale_and_settings_reach_the_paper(there):
    out = there / "x.json"
    main(
        [
            "export",
            "cases/numbers/two-broken-wires.yaml",
            "-o",
            str(out),
            "--date",
            "1 June 2031",
            "--scale",
            "plain",
            "--set",
            "pitch.depth=11 m",
        ]
    )
    data = json.loads(out.read_text("utf-8"))
    assert data["paper"]["date"] == "1 June 2031" and data["paper"]["rating scale"] == [
        "low",
        "medium",
        "high",
    ]
    assert [f["said_by"] for f in data["advice"]["facts"] if f["id"] == "pitch.depth"] == [
        "command line"
    ]


def test_without_a_date_the_day_of_the_run_is_printed(there):
    out = there / "x.json"
    before = datetime.date.today().isoformat()
    main(["export", CASE, "-o", str(out)])
    assert (
        before
        <= json.loads(out.read_text("utf-8"))["paper"]["date"]
        <= datetime.date.today().isoformat()
    )
