"""What an answer in a person's own words did not name of the advice. Words are compared, not
meanings, so it is told as not heard, never as wrong.
"""

from __future__ import annotations

from advisor.language.tokens import stem, tokenise
from advisor.language.words import COMMON

ENOUGH = 2  # words in common by which a thing is heard
MOST = 6  # things told at once
HEADING = "Not heard in your words (you may have meant it), and why it matters:"


def missed(answer: str, items) -> list:
    """'text (because)' of the items that an answer did not name, those of local guidance last; none
    where nothing was said.
    """
    said = _words(answer)
    if not said:
        return []
    silent = [i for i in items if not _heard(said, _words(i.text))]
    silent.sort(key=lambda item: getattr(item, "local", False))
    told = [f"{i.text.rstrip('.')} ({i.because.rstrip('.')})" for i in silent[:MOST]]
    return told + ([f"… and {len(silent) - MOST} more"] if len(silent) > MOST else [])


def _heard(said, words) -> bool:
    return len(said & words) >= min(ENOUGH, len(words))


def _words(text) -> set:
    return {stem(t.text.lower()) for t in tokenise(text)} - {stem(w) for w in COMMON}
