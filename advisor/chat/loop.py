"""The conversation at a terminal or in a pipe. Ctrl-C drops the line and keeps the session; Ctrl-D leaves."""
from __future__ import annotations

import os
import sys

from advisor.chat.later import Later
from advisor.chat.screen import say
from advisor.chat.store import Store, load, sessions
from advisor.faults import Fault, Faults, Place
from advisor.report.text import wrapped

WELCOME = ("Ladder Pitch Advisor: planning and rehearsal, never permission.", "Say what you know, or 'help'. Ctrl-D leaves.")


def converse(options) -> int:
    """The command `chat`: first words at once, then the prompt; the rules are read while the user reads and types."""
    if options.format == "text":
        say(wrapped(WELCOME))
    if sys.stdin is None:   # started with its input closed
        sys.stdin = open(os.devnull, encoding="utf-8")
    if hasattr(sys.stdin, "reconfigure"):   # a byte that is no text is shown as such, and ends nothing
        sys.stdin.reconfigure(encoding="utf-8", errors="replace")
    store = _new() if sys.stdin.isatty() and not options.resume else None
    talk = Later(lambda: _talk(options, store))
    if not fancy(options) or options.file or options.resume:
        talk.value()
    try:
        return run(talk, fancy(options), options.format == "text")
    finally:
        kept = talk.value().store if talk.ready and not talk.failed else store
        if kept:
            kept.close()


def _talk(options, store):
    """The rule base read, a session on it, and what it begins with."""
    from advisor.advise import Advisor
    from advisor.chat.session import Session
    from advisor.chat.talk import Talk
    from advisor.language.index import index_of

    session, lines = Session(Advisor()), []
    if options.resume:
        store = _resumed(options, session, lines)
    index_of(session.advisor.base)
    talk = Talk(session, store, options.format, options.plain)
    talk.interactive = sys.stdin.isatty()
    if options.file and options.file != "-":
        talk.begin_with(options.file)
    talk.tell(lines)
    return talk


def fancy(options) -> bool:
    """Whether the line is edited with completion and a bottom line."""
    return (not options.plain and options.format == "text" and options.file != "-" and sys.stdin.isatty() and sys.stdout.isatty()
            and os.environ.get("TERM") != "dumb")


def _resumed(options, session, lines):
    """The file of the session to go on with; adds to lines what is to be told."""
    from advisor.chat.faces import status

    path = next((p for p in sessions() if options.resume in ("last", p.stem)), None)
    if path is None:
        raise Faults([Fault(Place("--resume"), f"no session '{options.resume}' is kept; 'pitch-advisor chat --sessions' lists them.")])
    store = Store.old(path)
    lost = load(path, session)
    lines.append(f"Going on with {path.stem}: {len(session.said)} facts, {status(session)}.")
    if lost:
        lines.append(f"Left out, because the rules no longer know them: {'; '.join(lost)}.")
    if store is None:
        lines.append("Another chat has that session open; this one goes on in a copy of its own.")
        return _new()
    return store


def _new():
    """A new session's file, or None where nothing can be written."""
    try:
        return Store.new()
    except OSError as error:
        print(f"This talk cannot be saved ({error.strerror or error}); it goes on all the same.", file=sys.stderr)
        return None


def list_sessions() -> int:
    """Print the kept sessions, newest first."""
    for path in sessions():
        say(f"{path.stem}\n")
    return 0


def run(later, decorated: bool, prompting: bool) -> int:
    """Talk until the input ends; returns the exit code: 3 when the last advice has a stop."""
    for text in _terminal(later) if decorated else _lines(sys.stdin.isatty() and prompting):
        talk = later.value()
        parts = [part.rstrip("\r") for part in text.split("\n") if part.strip()]
        if len(parts) > 1 and not talk.several(parts) or len(parts) == 1 and not talk.one(parts[0]):
            break
    return later.value().code()


def _lines(prompting):
    """Lines from a pipe, or from a terminal without decoration."""
    while True:
        try:
            if prompting:
                say("> ")
            line = sys.stdin.readline()
        except KeyboardInterrupt:
            if not prompting:
                raise
            say("\n")
            continue
        except OSError as error:
            raise Faults([Fault(Place("standard input"), f"cannot be read ({error.strerror or error}); give a file or a pipe.")]) from None
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
