"""A real pseudo-terminal at 60 to 200 columns: the screen settles, keys do what they should, a
killed chat is gone on with.
"""

import json
import signal
import sys

import pytest
from depth import not_quick
from real_terminal import Screen

if sys.platform == "win32":
    pytest.skip("needs a pseudo-terminal", allow_module_level=True)

pytestmark = not_quick  # real terminals take seconds


class Terminal(Screen):
    """A chat on a screen of its own."""

    def __init__(self, columns, *arguments, **options):
        super().__init__("chat", *arguments, columns=columns, **options)

    def ready(self):
        """An empty prompt right above the free lines and the bottom line: the screen has
        settled.
        """
        return self.until(
            lambda: (
                self.lines[-1].startswith("depth ")
                and next((x for x in reversed(self.lines[:-1]) if x), "") == ">"
            )
        )

    def turn(self, line, expected):
        """A line typed, and the settled screen after the answer."""
        self.type(line + "\r")
        return self.until(lambda: expected in self.text).ready()


@pytest.fixture
def terminal():
    """terminal(columns, …) -> a Terminal at its first prompt."""
    made = []

    def start(columns=80, *arguments, **environment):
        made.append(Terminal(columns, *arguments, **environment))
        return made[-1].ready()

    yield start
    for one in made:
        one.close()


@pytest.mark.parametrize("columns", [60, 80, 120, 200])
def test_a_talk_on_every_width(terminal, columns):
    screen = terminal(columns).turn("14 m shaft, dripping", "Heard: pitch depth: 14 m")
    assert screen.lines[-1].startswith("depth 14 m | group ? | NOT YET") and any(
        line.startswith("? ") for line in screen.lines
    )
    screen.turn("pitch water: stream", "STOP:")
    assert "1 STOP" in screen.lines[-1]
    assert all(len(line) <= columns for line in screen.lines)
    words = " ".join(line.strip() for line in screen.lines)
    assert "ladder or lifeline is in the main stream." in words, "no word is broken at the edge"


def test_typing_does_not_redraw_the_screen(terminal):
    screen = terminal().turn("14 m shaft", "Heard:")
    screen.bytes = b""
    screen.type("pitch hang: free").until(lambda: "> pitch hang: free" in screen.text)
    assert (
        b"\x1b[2J" not in screen.bytes
        and b"\x1b[?1049" not in screen.bytes
        and len(screen.bytes) < 40 * len("pitch hang: free")
    )


def test_help_is_one_screen_at_60_columns(terminal):
    screen = terminal(60).turn("help", "KEYS")
    assert "TELL" in screen.text and "leaves." in screen.text


def test_an_incident_is_one_screen_with_more(terminal):
    screen = terminal(80).turn("foot jammed between the rungs", "say 'more'")
    assert (
        "In a real emergency act and call first" in screen.text
        and "1. Call stop" in screen.text
        and screen.lines[-1].startswith("depth")
    )
    for _ in range(4):  # a screenful at a time, to the last step
        if "tell organiser" in screen.text:
            break
        screen.bytes = b""
        screen.type("more\r").until(
            lambda: b"more step" in screen.bytes or b"organiser" in screen.bytes
        ).ready()
    assert "tell organiser" in screen.text


def test_ctrl_c_keeps_the_session_and_ctrl_d_leaves(terminal):
    screen = terminal().turn("14 m shaft", "Heard:")
    screen.type("half a li\x03").until(lambda: "line dropped" in screen.text).ready()
    screen.turn("what have I told you", "pitch depth: 14 m").type("\x04")
    assert screen.ended() == 0


def test_the_exit_code_tells_a_stop(terminal):
    screen = terminal().turn("pitch water: stream", "STOP:").type("quit\r")
    assert screen.ended() == 3


def test_tab_completes_with_descriptions(terminal):
    screen = terminal()
    screen.type("what sh\t").until(lambda: "> what should I do" in screen.text)
    screen.type("\x15pitch wat\t").until(
        lambda: "pitch: " in screen.text or "of pitch" in screen.text
    )


def test_history_of_an_earlier_chat_is_there(terminal):
    first = terminal().turn("14 m shaft", "Heard:").type("\x04")
    first.ended()
    second = terminal()
    second.type("\x1b[A").until(lambda: "> 14 m shaft" in second.text)


def test_a_paste_is_many_turns_with_one_summary(terminal):
    screen = terminal()
    screen.type("\x1b[200~14 m shaft\nhangs free\nqwe rty\x1b[201~").until(
        lambda: "qwe rty" in screen.text
    )
    screen.type("\r").until(lambda: "3 of 3 lines read" in screen.text).ready()
    assert (
        "Heard: pitch depth: 14 m; pitch hang: free" in screen.text
        and screen.text.count("Heard:") == 1
    )


def test_no_color_is_kept_to(terminal):
    screen = terminal(80, NO_COLOR="1").turn("pitch water: stream", "STOP:")
    assert b"\x1b[31m" not in screen.bytes and b"\x1b[1;31m" not in screen.bytes
    coloured = terminal(80).turn("pitch water: stream", "STOP:")
    assert b"\x1b[1;31m" in coloured.bytes


def test_plain_is_lines_only(data_folder):
    screen = Terminal(80, "--plain")
    screen.type("pitch water: stream\r").until(lambda: "\n? " in screen.text)
    assert b"\x1b" not in screen.bytes
    screen.type("\x04")
    assert screen.ended() == 3


def test_a_killed_chat_is_gone_on_with(terminal, data_folder):
    screen = terminal().turn("14 m shaft", "Heard:").turn("pitch hang: free", "pitch hang: free")
    screen.child.kill(signal.SIGKILL)
    screen.ended()
    again = terminal(80, "--resume")
    assert (
        "Going on with" in again.text
        and "2 facts" in again.text
        and again.lines[-1].startswith("depth 14 m")
    )
    again.turn("undo", "Taken back.")
    assert len(list((data_folder / "sessions").glob("*.json"))) == 1


def test_two_chats_on_one_session_do_not_overwrite_each_other(terminal, data_folder):
    first = terminal().turn("14 m shaft", "Heard:")
    second = terminal(80, "--resume")
    assert "copy of its own" in " ".join(second.text.split())
    second.turn("sorry, 16 not 14", "pitch depth: 16 m")
    first.turn("pitch hang: free", "Heard: pitch hang")
    depths = {
        json.loads(p.read_text("utf-8"))["steps"][-1][0][2]
        for p in (data_folder / "sessions").glob("*.json")
    }
    assert depths == {"14 m", "16 m"}


def test_where_nothing_can_be_kept_the_talk_goes_on(terminal, tmp_path):
    blocked = tmp_path / "file"
    blocked.write_text("", "utf-8")
    screen = terminal(80, PITCH_ADVISOR_DATA=str(blocked / "x"))
    assert "cannot be saved" in screen.text
    screen.turn("14 m shaft", "Heard:")


def test_the_head_is_gone_through_in_groups_at_a_terminal(terminal):
    """A group at a time, answered by number, with the initials of whoever answers."""
    screen = terminal(80).turn("load cases/plan/arrival-left.yaml", "Loaded")
    screen.turn("pitch loose rock: not known", "(was no)").turn("at the head", "2 checks left")
    assert "1. See no loose rock" in screen.text and "'all but 3'" in screen.text
    screen.turn("checked by AB", "noted as checked by AB").turn("all", "Taken down: 2 answered.")
    assert "nothing found that forbids it" in screen.lines[-1]
    assert len(screen.lines) == 24 and all(len(line) <= 80 for line in screen.lines)


def test_what_is_put_off_at_a_terminal_makes_room_for_the_next_question(terminal):
    screen = terminal(80).turn("12 m pitch, ladder 15 m", "? Which anchor does the ladder hang on?")
    screen.turn("skip", "Skipped.")
    assert "? Who leads" in screen.text and "to answer" in screen.lines[-1]
