"""A rehearsal at a real terminal of 80 by 24: no line of it leaves the screen before Enter."""

import sys

import pytest
from depth import not_quick
from real_terminal import Screen

if sys.platform == "win32":
    pytest.skip("needs a pseudo-terminal", allow_module_level=True)

pytestmark = not_quick  # real terminals take seconds

PLAN, END = "cases/plan/arrival-left.yaml", "That is the end"
PROMPTS = (
    "(Enter)",
    "(Enter for the rest)",
    "Your first choice?",
    "And your reason?",
    "What do you do, in what order?",
    "(Enter if not)",
)


def at_prompt(screen, typed):
    """Whether the last line waits for an answer to a question that is not the one answered."""
    rows = [line for line in screen.lines if line]
    return len(screen.bytes) > typed and bool(rows) and rows[-1].endswith(PROMPTS)


@pytest.mark.parametrize("colour", [{}, {"NO_COLOR": "1"}])
@pytest.mark.parametrize(
    "case", ["cases/plan/arrival-left.yaml", "cases/incident/bad-air-below.yaml"]
)
def test_every_step_is_one_screen_and_the_sheet_is_kept(case, colour, tmp_path):
    sheet = tmp_path / "sheet.md"
    screen = Screen("drill", case, "--sheet", str(sheet), **colour)
    typed = answered = 0
    try:
        while END not in screen.text:
            screen.until(lambda typed=typed: at_prompt(screen, typed) or END in screen.text)
            assert len(screen.scrolled) <= answered, "lines left the screen before they were read"
            rows = [n for n, line in enumerate(screen.lines) if line]
            answered = len(screen.scrolled) + rows[-1] + 1
            typed = len(screen.bytes) + 2  # the echo of Enter
            screen.type("\r")
        assert screen.ended() == 0
    finally:
        screen.close()
    assert sheet.read_text("utf-8").startswith("# Rehearsal: ")


def test_back_goes_a_step_back(tmp_path):
    screen = Screen("drill", PLAN)
    try:
        screen.until(lambda: at_prompt(screen, 0)).type("\r")
        screen.until(lambda: "The facts, 1 of" in screen.text and at_prompt(screen, 0))
        screen.type("back\r")
        screen.until(lambda: screen.bytes.count(b"This is a rehearsal.") == 2)
        screen.type("quit\r")
        assert screen.ended() == 0
    finally:
        screen.close()
