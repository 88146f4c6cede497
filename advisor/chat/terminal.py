"""Editing comforts from prompt-toolkit: completion from the vocabulary, history across sessions
with search, the bottom line.
"""

from __future__ import annotations

import contextlib
import os
import re
from functools import cached_property

from prompt_toolkit import PromptSession
from prompt_toolkit.completion import Completer, Completion
from prompt_toolkit.history import FileHistory, InMemoryHistory
from prompt_toolkit.output import ColorDepth

from advisor.user_data import folder

MOST = 40  # completions offered at once
LONGEST_PHRASE = 5  # words looked back at
ORDERS = (
    ("what should I do", "the whole advice"),
    ("what don't you know", "open questions, gravest first"),
    ("what can go wrong", "hazards"),
    ("what would change that", "the smallest changes"),
    ("what kit", "what is needed"),
    ("what have I told you", "the facts so far"),
    ("where does the ladder go", "the choice of anchor"),
    ("is it safe to go", "what forbids it"),
    ("how long", "times"),
    ("how much rope", "lengths"),
    ("why", "reasons and sources"),
    ("why do you ask", "what the question decides"),
    ("suppose", "try it without changing the plan"),
    ("compare", "a kept plan beside yours"),
    ("keep that as", "keep what was supposed"),
    ("undo", "take the last step back"),
    ("redo", "bring it back"),
    ("start again", "put all facts away"),
    ("skip", "leave the question"),
    ("just tell me", "no more questions"),
    ("load", "a case file"),
    ("export", "write a case file"),
    ("help", "one screen"),
    ("quit", "leave; all is saved"),
)


class Words(Completer):
    """Completes names in play, then orders, then the vocabulary's attributes and value phrases,
    each with a short description.
    """

    def __init__(self, later):
        self.later = later

    @property
    def session(self):
        return self.later.value().session

    @cached_property
    def known(self):
        return list(dict.fromkeys(_vocabulary(self.session.advisor.base)))

    def get_completions(self, document, complete_event):
        clause = re.split(r"[,;.\n]\s*", document.text_before_cursor)[-1].lstrip()
        words = clause.split(" ")
        for count in range(min(LONGEST_PHRASE, len(words)), 0, -1):
            typed = " ".join(words[-count:])
            found = self._fits(typed.lower()) if len(typed.strip()) >= 2 else []
            if found:
                yield from (
                    Completion(phrase, start_position=-len(typed), display_meta=about)
                    for phrase, about in found
                )
                return

    def _fits(self, typed):
        found = {}
        for phrase, about in (*self._names(), *ORDERS, *self.known):
            if phrase.lower().startswith(typed) and phrase not in found:
                found[phrase] = about
                if len(found) >= MOST:
                    break
        return list(found.items())

    def _names(self):
        split = self.session.advisor.base.vocabulary.split
        for entity in dict.fromkeys(entity for entity, _ in self.session.said):
            kind, name = split(entity)
            yield from ((entity, f"{kind.name} in this talk"), (name, f"{kind.name} in this talk"))
        yield from ((name, "plan kept") for name in self.session.branches)


def _vocabulary(base):
    """(phrase, description) of all that can be said, attributes first, then their values, then
    other words for both.
    """
    attributes = [
        (e.name, a)
        for e in base.vocabulary.entities.values()
        for a in e.attributes.values()
        if not a.derived
    ]
    choices = [(e, a) for e, a in attributes if a.type == "choice"]
    yield from ((a.name, f"{e}: {a.help}") for e, a in attributes)
    yield from ((value, f"{a.name} of {e}") for e, a in choices for value in a.values)
    yield from ((_bare(phrase), f"{e}: {a.help}") for e, a in attributes for phrase in a.phrases)
    yield from (
        (_bare(phrase), f"{a.name} of {e}: {value}")
        for e, a in choices
        for value in a.values
        for phrase in a.value_phrases.get(value, ())
    )


def _bare(phrase) -> str:
    """A phrase without the note to its reader in brackets."""
    return re.sub(r"\s*\(.*\)$", "", str(phrase))


class History(FileHistory):
    """Lines typed before, in all sessions; a full disk or half a character pair must not end the
    talk.
    """

    def load_history_strings(self):
        try:
            return list(super().load_history_strings())
        except OSError:
            return []

    def store_string(self, string):
        with contextlib.suppress(OSError):
            super().store_string(string.encode("utf-8", "replace").decode("utf-8"))


def _history():
    place = folder()
    try:
        place.mkdir(parents=True, exist_ok=True, mode=0o700)
        with open(place / "history", "a", encoding="utf-8"):
            pass
    except OSError:
        return InMemoryHistory()
    return History(str(place / "history"))


def prompt_session(later, **options) -> PromptSession:
    """A prompt for one conversation, which is made ready once the prompt stands; colours only
    where NO_COLOR does not forbid them.
    """
    depth = ColorDepth.DEPTH_1_BIT if os.environ.get("NO_COLOR") else None
    prompt: PromptSession[str] = PromptSession(
        history=_history(),
        completer=Words(later),
        complete_while_typing=False,
        enable_history_search=True,
        bottom_toolbar=lambda: _bottom_line(later),
        color_depth=depth,
        reserve_space_for_menu=4,
        **options,
    )
    prompt.app.after_render += lambda app: later.start(lambda: _made(app, later))
    return prompt


def _made(app, later):
    """Show the bottom line, or end the prompt so that the fault is told; called in
    another thread.
    """
    if later.failed:
        app.loop.call_soon_threadsafe(lambda: app.is_running and app.exit(exception=EOFError()))
    else:
        app.invalidate()


def _bottom_line(later) -> str:
    """Where the advice stands."""
    if not later.ready or later.failed:
        return "reading the rules …"
    from advisor.chat.faces import status

    return status(later.value().session)
