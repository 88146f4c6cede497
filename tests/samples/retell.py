"""Runs the samples shown in README.md and in tests/samples/*.txt again: `python
tests/samples/retell.py` writes what the program says now.

A sample is what stands between ```text and ``` (in a .txt, the whole file). `$ pitch-advisor …`
is a command; `> …` is a line typed in the
conversation that a sample is. `[…]` stands for lines left out: what comes before it begins the
output, what comes after it ends it.
"""

from __future__ import annotations

import io
import os
import re
import shlex
import sys
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path
from tempfile import TemporaryDirectory
from unittest.mock import patch

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT))
PLACES = (ROOT / "README.md", *sorted(Path(__file__).parent.glob("*.txt")))
CUT = "[…]"
COMMAND = "$ pitch-advisor "
TYPED = " <<< $'"  # what is typed at its questions
BLOCK = re.compile(r"^```text\n(.*?)^```$", re.S | re.M)


def samples(path) -> list:
    """The samples of a file, in order; ready-made outputs that no command leads to are not
    samples.
    """
    text = path.read_text("utf-8")
    found = [text] if path.suffix == ".txt" else BLOCK.findall(text)
    return [sample for sample in found if sample.startswith((COMMAND, "> "))]


def parts(sample) -> list:
    """[(command or typed line, output as shown)]"""
    mark = "$ " if sample.startswith(COMMAND) else "> "
    return [
        tuple(part.split("\n", 1))
        for part in re.split(rf"^(?={re.escape(mark)})", sample, flags=re.M)
        if part
    ]


def outputs(sample) -> list:
    """What the program says now to each part of a sample, 80 columns wide."""
    asked = [line for line, _ in parts(sample)]
    with TemporaryDirectory() as folder, patch.dict(os.environ, PITCH_ADVISOR_DATA=folder):
        return (
            [_command(line) for line in asked]
            if sample.startswith(COMMAND)
            else _talk([line[2:] for line in asked])
        )


def _command(line) -> str:
    from advisor.cli import main

    out, err = io.StringIO(), io.StringIO()
    line, _, typed = line.partition(TYPED)
    typed_in = io.StringIO(typed.rstrip("'").encode().decode("unicode_escape"))
    with redirect_stdout(out), redirect_stderr(err), patch("sys.stdin", typed_in):
        main(shlex.split(line)[2:])
    return err.getvalue() + out.getvalue()


def _talk(lines) -> list:
    from advisor.advise import Advisor
    from advisor.chat import faces
    from advisor.chat.session import Session
    from advisor.chat.turn import take

    session = Session(Advisor())
    return [faces.shown(faces.lines_of(take(session, line)), 80) for line in lines]


def fits(shown, output) -> bool:
    """Whether an output is what is shown, left-out lines aside."""
    before, cut, after = shown.partition(CUT + "\n")
    if not cut:
        return shown.rstrip("\n") == output.rstrip("\n")
    return (
        output.startswith(before)
        and output.rstrip("\n").endswith(after.rstrip("\n"))
        and len(before) + len(after) < len(output)
    )


def again(shown, output) -> str:
    """An output cut as the one shown."""
    before, cut, after = shown.partition(CUT + "\n")
    lines, tail = output.rstrip("\n").splitlines(), after.strip("\n").splitlines()
    if not cut or before.count("\n") + len(tail) >= len(lines):
        return output.rstrip("\n") + "\n" * (len(shown) - len(shown.rstrip("\n")))
    start = next(
        (n for n, line in enumerate(lines) if tail and line == tail[0]), len(lines) - len(tail)
    )
    return "\n".join(
        lines[: before.count("\n")]
        + [CUT]
        + ([""] if after.startswith("\n") else [])
        + (lines[start:] if tail else [])
    ) + "\n" * max(1, len(after) - len(after.rstrip("\n")))


def main():
    """Write every sample anew."""
    for path in PLACES:
        text = path.read_text("utf-8")
        for sample in samples(path):
            text = text.replace(
                sample,
                "".join(
                    f"{line}\n{again(shown, output)}"
                    for (line, shown), output in zip(parts(sample), outputs(sample))
                ),
            )
        path.write_text(text, "utf-8")


if __name__ == "__main__":
    os.environ.update(COLUMNS="80", NO_COLOR="1")
    os.chdir(ROOT)
    main()
