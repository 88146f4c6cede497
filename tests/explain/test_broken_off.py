"""Long searches at a real terminal of 80 by 24: each shows how far it is on one line, and Ctrl-C
gives what was found so far, at once and without a pager.
"""

import sys

import pytest
from depth import not_quick
from real_terminal import Screen

if sys.platform == "win32":
    pytest.skip("needs a pseudo-terminal", allow_module_level=True)

pytestmark = not_quick  # searches of seconds


@pytest.fixture
def screen():
    """screen(arguments) -> the program at work on a screen of 80 by 24."""
    made = []

    def start(*arguments, **environment):
        made.append(Screen(*arguments, **environment))
        return made[-1]

    yield start
    for one in made:
        one.close()


def broken_off(child, while_told):
    """Ctrl-C as soon as it is told how far it is; then all that was shown, and the exit code."""
    child.until(lambda: f"{while_told} tried; Ctrl-C shows what was found" in child.text)
    assert len(child.text.strip().splitlines()) == 1, "how far it is keeps to its line"
    child.type("\x03")
    code = child.ended()
    shown = " ".join(" ".join((*child.scrolled, *child.lines)).split())
    return shown, code


def test_ctrl_c_in_a_long_search_gives_what_was_found(screen):
    """The case has a stop, and so the code is 3 (`pitch-advisor --help` and README name it)."""
    arguments = ("--what-would", "stops", "--changes", "3")
    child = screen("advise", "cases/kit/glazed-cord.yaml", *arguments)
    shown, code = broken_off(child, "sets of 3")
    assert code == 3
    assert "what of shine:" in shown and "sets of 3 tried" not in shown
    assert "all sets of up to 2 changes were tried (the search was stopped early)" in shown


def test_ctrl_c_while_numbers_are_moved_gives_those_done(screen):
    child = screen("advise", "cases/plan/arrival-left.yaml", "--how-sure", "stops")
    shown, code = broken_off(child, "numbers")
    assert code == 0 and "Now no stop stands." in shown
    assert "The search was stopped early: " in shown and " numbers were looked at." in shown


def test_the_chat_says_what_would_change_it_and_talks_on(screen, tmp_path):
    child = screen("chat", "arrival-left", PITCH_ADVISOR_DATA=str(tmp_path))
    child.until(lambda: child.lines[-1].startswith("depth 12 m"))
    child.type("what would change the tether\r")
    child.until(lambda: "were tried" in child.words and "Ctrl-C" not in child.text)
    assert "Now tether is: releasable hitch." in child.text and "Internal fault" not in child.text
    child.type("quit\r")
    assert child.ended() == 0


def test_ctrl_c_in_the_chat_gives_what_was_found_and_talks_on(screen, tmp_path):
    child = screen("chat", "arrival-left", PITCH_ADVISOR_DATA=str(tmp_path))
    child.until(lambda: child.lines[-1].startswith("depth 12 m"))
    child.type("what would change the ladder anchor\r")
    child.until(lambda: "tried; Ctrl-C shows what was found" in child.text)
    child.type("\x03").until(lambda: "stopped early" in child.text)
    assert "nothing of that line was taken" not in child.text
    child.until(lambda: child.lines[-1].startswith("depth 12 m"))
    child.type("quit\r")
    assert child.ended() == 0
