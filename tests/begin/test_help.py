"""Help by topic, the version, completion and cases by a word."""

import re
from pathlib import Path

import pytest
from depth import not_quick

from advisor.begin.help import topics
from advisor.cli import main, parser

ROOT = Path(__file__).resolve().parents[2]
COMMANDS = next(a for a in parser()._actions if a.dest == "command").choices


def options_of(command):
    """The options of a command, and of what it can do."""
    for action in command._actions:
        yield from action.option_strings
        for within in action.choices.values() if isinstance(action.choices, dict) else ():
            yield from options_of(within)


def said(capsys, *arguments):
    code = main(list(arguments))
    shown = capsys.readouterr()
    return code, shown.out, shown.err


@pytest.mark.parametrize("name", topics())
def test_a_topic_fits_one_screen(name):
    lines = topics()[name].splitlines()
    assert len(lines) <= 40 and max(map(len, lines)) <= 80


@pytest.mark.parametrize("name", topics())
def test_every_command_and_option_of_a_topic_exists(name):
    """Also those written without the program's name, as in a list of examples."""
    text = topics()[name]
    used = re.findall(r"pitch-advisor ([a-z]+)", text) + re.findall(
        r"^    ([a-z]+) CASE", text, re.M
    )
    assert set(used) <= set(COMMANDS)
    options = {option for command in COMMANDS.values() for option in options_of(command)}
    assert set(re.findall(r"(--[a-z-]+)", text)) <= options
    assert set(re.findall(r"help ([a-z]+)[,.]", text)) <= set(topics())


def test_help_lists_the_topics_and_finds_one(capsys):
    code, shown, _ = said(capsys, "help")
    assert code == 0 and all(name in shown for name in topics())
    assert said(capsys, "help", "case")[1] == topics()["cases"]
    code, _, error = said(capsys, "help", "kitt")
    assert code == 2 and "Did you mean" in error and error.count("\n") == 1


def test_the_version_is_that_of_the_project(capsys):
    wanted = re.search(r'^version = "(.*)"', (ROOT / "pyproject.toml").read_text(), re.M)[1]
    with pytest.raises(SystemExit) as ended:
        main(["--version"])
    assert ended.value.code == 0 and capsys.readouterr().out == f"pitch-advisor {wanted}\n"


@pytest.mark.parametrize("shell", ["bash", "zsh", "tcsh"])
def test_completion_knows_every_command(capsys, shell):
    code, shown, _ = said(capsys, "completion", shell)
    assert code == 0 and all(name in shown for name in COMMANDS)


@not_quick
@pytest.mark.parametrize("word", ["arrival-left", "Arrival left", "cases/plan/arrival-left.yaml"])
def test_a_word_finds_a_worked_case(capsys, word):
    code, shown, _ = said(capsys, "advise", word)
    assert code == 0 and shown.startswith("Four bolts at Quarry Shaft")


@not_quick
@pytest.mark.parametrize("word, says", [("arrival", "several"), ("arival-left", "Did you mean")])
def test_a_word_that_finds_none_or_many_is_one_sentence(capsys, word, says):
    code, _, error = said(capsys, "advise", word)
    assert code == 2 and says in error and error.count("\n") == 1
