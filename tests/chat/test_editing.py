"""The edited line: completion with descriptions, history across sessions with search, paste,
Ctrl-C and Ctrl-D.
"""

import pytest
from depth import not_quick
from prompt_toolkit.application import create_app_session
from prompt_toolkit.document import Document
from prompt_toolkit.input import create_pipe_input
from prompt_toolkit.output import DummyOutput

from advisor.chat.faces import status
from advisor.chat.later import Later
from advisor.chat.loop import run
from advisor.chat.talk import Talk
from advisor.chat.terminal import Words, prompt_session


def at_once(session):
    """The conversation as the prompt wants it: made when asked for."""
    return Later(lambda: Talk(session, None, "text", True))


@pytest.fixture
def typed(session):
    """typed(keys) -> the lines that come of them, until the end of input."""

    def lines(keys):
        with create_pipe_input() as pipe, create_app_session(input=pipe, output=DummyOutput()):
            pipe.send_bytes(keys if isinstance(keys, bytes) else keys.encode("utf-8"))
            prompt, found = prompt_session(at_once(session)), []
            while True:
                try:
                    found.append(prompt.prompt("> "))
                except KeyboardInterrupt:
                    found.append("^C")
                except EOFError:
                    return found

    return lines


def offered(session, text):
    return {
        c.text: c.display_meta_text
        for c in Words(at_once(session)).get_completions(Document(text), None)
    }


def test_attributes_values_and_orders_are_completed_with_descriptions(session):
    assert offered(session, "pitch is fr")["free"].startswith("hang of pitch")
    assert offered(session, "14 m, resin")["resin bolt"] == "kind of anchor"
    assert offered(session, "what sh") == {"what should I do": "the whole advice"}
    assert all(offered(session, "le").values())


def test_names_in_play_come_first_also_without_their_kind(say, session):
    assert "left hanger" not in offered(session, "left ha")
    say("anchor left hanger side: left")
    assert next(iter(offered(session, "can't vouch for the left ha").items())) == (
        "left hanger",
        "anchor in this talk",
    )
    assert next(iter(offered(session, "anchor le"))) == "anchor left hanger"


@not_quick
def test_notes_in_phrases_are_not_offered(session):
    assert not [
        w
        for a in "abcdefghijklmnopqrstuvwxyz"
        for b in "aeiouy"
        for w in offered(session, a + b)
        if "(" in w
    ]


def test_ctrl_c_drops_the_line_and_ctrl_d_leaves(typed):
    assert typed("half a li\x03pitch\r\x04") == ["^C", "pitch"]


def test_history_is_kept_across_sessions_and_searched(typed):
    assert typed("14 m shaft\rsecond line\r\x04") == ["14 m shaft", "second line"]
    assert typed("\x1b[A\x1b[A\r\x04") == ["14 m shaft"], "up twice"
    assert typed("\x12sec\r\r\x04")[0] == "second line", "Ctrl-R and some letters"


def test_half_a_character_pair_does_not_end_the_talk(typed):
    assert len(typed(b"\xed\xa0\xbd ab\r\x04")) == 1


def test_a_paste_of_several_lines_is_one_text(typed):
    assert typed("\x1b[200~14 m shaft\r\nhangs free\r\n\x1b[201~\r\x04") == [
        "14 m shaft\nhangs free\n"
    ]


def test_pasted_lines_are_turns_with_one_summary_and_no_question_between(session, capsys):
    with create_pipe_input() as pipe, create_app_session(input=pipe, output=DummyOutput()):
        pipe.send_text("\x1b[200~14 m shaft\nqwe rty\nyes\nhangs free\x1b[201~\r\x04")
        assert run(Later(lambda: Talk(session, None, "text", False)), True, True) == 0
    text = capsys.readouterr().out
    assert session.turn == 4 and session.said == {
        ("pitch", "pitch.depth"): "14 m",
        ("pitch", "pitch.hang"): "free",
    }
    assert (
        text.count("Heard:") == 1
        and "4 of 4 lines read" in text
        and text.count("\n? ") == 1
        and '"qwe rty"' in text
        and '"yes"' in text
    )


def test_the_bottom_line_tells_depth_group_standing_and_open_questions(say, session):
    assert status(session) == "depth ? | group ?"
    say("14 m shaft")
    say("group size: 9")
    parts = status(session).split(" | ")
    assert parts[:3] == ["depth 14 m", "group 9", "NOT YET"] and parts[3].startswith("home: ")
    say("pitch water: stream")
    assert "1 STOP" in status(session)
