"""The conversation at a terminal or in a pipe.

Ctrl-C drops the line and keeps the session; Ctrl-D leaves.
"""

from __future__ import annotations

import os
import sys
import time

from advisor.bounded import read_line
from advisor.chat.later import Later
from advisor.chat.screen import say
from advisor.chat.store import Store, load, sessions
from advisor.faults import Fault, Faults, Place
from advisor.records.options import desk
from advisor.screen import clean, wrapped
from advisor.streams import NotShown

WELCOME = (
    "Ladder Pitch Advisor: planning and rehearsal, never permission.",
    "Say what you know, or 'help'. Ctrl-D leaves.",
)


def converse(options) -> int:
    """The command `chat`: first words at once, then the prompt; the rules are read while the user
    reads and types.
    """
    unseen = _unseen(lambda: say(wrapped(WELCOME))) if options.format == "text" else None
    store = _new() if sys.stdin.isatty() and not options.resume else None
    talk = Later(lambda: _talk(options, store, unseen))
    if not fancy(options) or options.file or options.resume or options.local:
        talk.value()
    try:
        return run(talk, fancy(options), options.format == "text")
    except NotShown as error:  # the reader has gone; what the advice came to still counts
        error.code = talk.value().code()
        raise
    finally:
        kept = talk.value().store if talk.ready and not talk.failed else store
        if kept:
            kept.close()


def _unseen(show):
    """What kept something from being shown, or None."""
    try:
        show()
    except NotShown as error:
        return error


def _talk(options, store, unseen):
    """The rule base read, a session on it, and what it begins with."""
    from advisor.advise import Advisor
    from advisor.chat.cards import again
    from advisor.chat.session import Session
    from advisor.chat.talk import Talk
    from advisor.language.index import index_of

    session, lines = Session(Advisor(local_file=options.local)), []
    session.clock = lambda: time.strftime("%Y-%m-%d %H:%M")
    session.desk = desk(options, session.advisor)
    if session.guidance:
        lines.append(f"With local guidance: {session.guidance}.")
    if options.resume:
        store = _resumed(options, session, lines)
        lines += again(session)
    index_of(session.advisor.base)
    talk = Talk(session, store, options.format, options.plain)
    talk.interactive = sys.stdin.isatty()
    if options.file and options.file != "-":
        unseen = _unseen(lambda: talk.begin_with(options.file)) or unseen
    talk.unseen = _unseen(lambda: talk.tell(lines)) or unseen
    return talk


def fancy(options) -> bool:
    """Whether the line is edited with completion and a bottom line."""
    return (
        not options.plain
        and options.format == "text"
        and options.file != "-"
        and sys.stdin.isatty()
        and sys.stdout.isatty()
        and os.environ.get("TERM") != "dumb"
    )


def _resumed(options, session, lines):
    """The file of the session to go on with; adds to lines what is to be told."""
    from advisor.chat.faces import status

    path = next((p for p in sessions() if options.resume in ("last", p.stem)), None)
    if path is None:
        raise Faults(
            [
                Fault(
                    Place("--resume"),
                    f"no session '{options.resume}' is kept; 'pitch-advisor chat --sessions' lists"
                    " them.",
                )
            ]
        )
    try:
        store, unsaved = Store.old(path), ""
    except OSError as error:
        store, unsaved = (
            None,
            f"This talk cannot be saved ({error.strerror or error}); it goes on all the same.",
        )
    lost = load(path, session)
    lines.append(f"Going on with {clean(path.stem)}: {len(session.said)} facts, {status(session)}.")
    if session.other_rules:
        lines.append(
            "The rules have changed since this talk was held; what follows is by the new ones."
        )
    if session.missed_guidance:
        lines.append(
            f"It was held with local guidance, which is not laid over it now:"
            f" {session.missed_guidance}. To have it again, leave and add --local FILE."
        )
    if lost:  # the old file keeps what this one would lose
        lines.append(
            f"Left out, because the rules no longer know them: {'; '.join(lost)}."
            f" {clean(path.stem)} is kept as it is; this talk goes on in a copy of its own."
        )
        if store:
            store.close()
        return _new()
    if unsaved:
        lines.append(unsaved)
    elif store is None:
        lines.append("Another chat has that session open; this one goes on in a copy of its own.")
        return _new()
    return store


def _new():
    """A new session's file, or None where nothing can be written."""
    try:
        return Store.new()
    except OSError as error:
        print(
            f"This talk cannot be saved ({error.strerror or error}); it goes on all the same.",
            file=sys.stderr,
        )
        return None


def list_sessions() -> int:
    """Print the kept sessions, newest first."""
    for path in sessions():
        say(f"{clean(path.stem)}\n")
    return 0


def run(later, decorated: bool, prompting: bool) -> int:
    """Talk until the input ends; returns the exit code: 3 when the last advice has a stop."""
    if later.ready and later.value().unseen and sys.stdin.isatty():
        raise later.value().unseen
    for text in _terminal(later) if decorated else _lines(sys.stdin.isatty() and prompting):
        talk = later.value()
        parts = [part.rstrip("\r") for part in text.split("\n") if part.strip()]
        try:
            if (
                len(parts) > 1
                and not talk.several(parts)
                or len(parts) == 1
                and not talk.one(parts[0])
            ):
                break
        except (
            NotShown
        ) as error:  # what a pipe still brings is heard to its end; what it comes to counts
            talk.unseen = error
            if talk.interactive:
                raise
    if later.value().unseen:
        raise later.value().unseen
    return later.value().code()


def _lines(prompting):
    """Lines from a pipe, or from a terminal without decoration."""
    while True:
        try:
            if prompting:
                say("> ")
            line = read_line()
        except KeyboardInterrupt:
            if not prompting:
                raise
            say("\n")
            continue
        except OSError as error:
            raise Faults(
                [
                    Fault(
                        Place("standard input"),
                        f"cannot be read ({error.strerror or error}); give a file or a pipe.",
                    )
                ]
            ) from None
        if not line:
            return
        yield line


def _terminal(later):
    """Lines from prompt-toolkit, with completion, history and the bottom line."""
    from advisor.chat.terminal import prompt_session

    prompt = prompt_session(later)
    while True:
        try:
            yield prompt.prompt("> ")
        except KeyboardInterrupt:
            say("(line dropped; Ctrl-D leaves)\n")
        except EOFError:
            return
