"""A program for all chat tests, a data folder of its own for each, and the command as a child
process.
"""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from advisor.advise import Advisor
from advisor.chat.session import Session
from advisor.chat.turn import take

ROOT = Path(__file__).resolve().parent.parent.parent


@pytest.fixture(scope="session")
def advisor():
    return Advisor()


@pytest.fixture(autouse=True)
def data_folder(tmp_path, monkeypatch):
    monkeypatch.setenv("PITCH_ADVISOR_DATA", str(tmp_path / "data"))
    return tmp_path / "data"


@pytest.fixture
def session(advisor):
    return Session(advisor)


@pytest.fixture
def say(session):
    """say(line) -> the reply of the session's next turn."""
    return lambda line: take(session, line)


@pytest.fixture
def piped():
    """piped(lines, *arguments) -> the finished process of a conversation through a pipe."""

    def run(text, *arguments):
        data = text if isinstance(text, bytes) else text.encode("utf-8")
        return subprocess.run(
            [sys.executable, "-m", "advisor", "chat", *arguments],
            input=data,
            capture_output=True,
            cwd=ROOT,
            timeout=300,
            env={**os.environ, "COLUMNS": "100"},
        )

    return run
