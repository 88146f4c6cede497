"""A session with its file and its face: turns are taken, saved, then shown. A turn that breaks off
leaves the facts as they were.
"""

from __future__ import annotations

import sys

from advisor.chat import faces
from advisor.chat.changes import changed
from advisor.chat.closed import load_case
from advisor.chat.screen import rows, say
from advisor.chat.turn import Reply, ask, take
from advisor.progress import Progress, Watch
from advisor.screen import welcome_colour

ONE_SCREEN = 42  # rows, with the two below an answer
STOPPED = "Stopped; nothing of that line was taken."


class Talk:
    """form: 'text' or 'json'; plain: no colour and nothing cut to the screen."""

    def __init__(self, session, store, form, plain):
        self.session, self.store, self.form = session, store, form
        self.colour = not plain and form == "text" and welcome_colour()
        self.rows = None if plain or form != "text" else rows
        self.fault, self.interactive = False, True  # in a pipe Ctrl-C ends the talk
        self.unseen = None  # what kept the first words from being shown
        session.watch = Progress if self.rows else Watch

    def one(self, line) -> bool:
        """One line, one turn. False when the user leaves."""
        reply = self.turn(line)
        self.show(reply)
        return not reply.leave

    def several(self, lines) -> bool:
        """Pasted lines: each a turn, one summary, one question at the end."""
        before, replies = self.session.advice, []
        for line in lines:
            replies.append(self.turn(line, asking=False))
            if replies[-1].leave or STOPPED in replies[-1].answer:
                break
        after, last = self.session.advice, replies[-1]
        told = any(r.facts for r in replies)
        heard, facts, unclear, kinds, answer = (
            tuple(item for r in replies for item in getattr(r, name))
            for name in ("heard", "facts", "unclear", "intents", "answer")
        )
        self.show(
            Reply(
                last.turn,
                heard,
                facts,
                unclear,
                changed(self.session.advisor.base, before, after) if told else (),
                kinds,
                (
                    f"{len(replies)} of {len(lines)} lines read, each a turn.",
                    *dict.fromkeys(answer),
                ),
                "" if last.leave else ask(self.session, after),
                after,
                last.leave,
            )
        )
        self.keep()
        return not last.leave

    def turn(self, line, asking=True) -> Reply:
        """Take a line and save; whatever breaks off, the facts stay as they were before it."""
        before = self.session.snapshot()
        try:
            reply = take(self.session, line, asking)
        except KeyboardInterrupt:
            if not self.interactive:
                raise
            reply = self._back(before, STOPPED)
        except Exception as error:  # an internal fault must not take the talk with it
            from advisor.bug import write_report

            self.fault = True
            reply = self._back(
                before,
                f"Internal fault: {type(error).__name__}; that line was not taken and no advice is"
                f" given on it. Details: {write_report(error, 'chat')}",
            )
        self.keep()
        return reply

    def _back(self, before, message) -> Reply:
        self.session.restore(before)
        self.session.turn += 1
        return Reply(self.session.turn, (), (), (), (), (), (message,), "", self.session.advice)

    def begin_with(self, path):
        """Take the facts of a case file; raises Faults."""
        self.session.turn += 1
        lines = load_case(self.session, path)
        self.keep()
        advice = self.session.advice
        self.show(
            Reply(
                self.session.turn,
                (),
                (),
                (),
                (),
                ("load",),
                tuple(lines),
                ask(self.session, advice),
                advice,
            )
        )

    def tell(self, lines):
        """Lines about the talk itself; beside the objects they go to the error stream."""
        if lines and self.form == "text":
            say(faces.shown(lines))
        elif lines:
            print(faces.shown(lines), end="", file=sys.stderr)

    def show(self, reply):
        """The reply on the screen or as an object."""
        if self.form == "json":
            say(faces.as_json(reply))
            return
        lines = faces.lines_of(reply)
        high = self.rows() if self.rows else None
        if self.rows and high is None and "advise" in reply.intents:
            high = ONE_SCREEN  # a pipe has no height, and yet the answer is one screen
        if high:
            lines, rest = faces.fitted(lines, high, asked=faces.rows_asked(reply))
            self.session.rest = rest or self.session.rest
        say(faces.shown(lines, None, self.colour))

    def keep(self):
        """Save; a full disk must not end the talk."""
        if self.store is None:
            return
        try:
            self.store.save(self.session)
        except OSError as error:
            print(
                f"This turn could not be saved ({error.strerror or error}); the talk goes on.",
                file=sys.stderr,
            )

    def code(self) -> int:
        """0, 3 when the last advice has a stop, 1 after an internal fault."""
        advice = self.session.advice
        return 1 if self.fault else 3 if advice and advice.stops else 0
