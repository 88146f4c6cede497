"""What was read out, answered in words of one's own: 'all fine bar the third', 'stance is a bit
poky, rest yes', 'the two middle ones'. What cannot be read in one way only is asked.
"""

from __future__ import annotations

from collections.abc import Callable

from advisor.chat.checks import HOW, IN_WORDS, alone, other_way, settled, taken
from advisor.chat.which import HOW as HOW_WHICH
from advisor.language.answers import SKIP, asides, asks_itself
from advisor.language.answers_beside import INCIDENT, speaks_of
from advisor.language.group_reply import GroupReply, Line, read_group
from advisor.language.parts import Intent, Said, Unclear
from advisor.language.quantities import quantities
from advisor.language.questions import SUBJECTS, WH
from advisor.language.reply import own_stems
from advisor.language.reply_words import any_of, words_of
from advisor.language.tokens import tokenise
from advisor.language.which_reply import WhichReply, read_which

KEPT_OPEN = "kept open"
ASKS_BACK = "asks back"
_PUT_OFF = 8  # words; a longer line tells more than that it is put off
_TALK = 25  # words; a longer line is talk, whatever was read out
_WITH_A_FILE = frozenset(("export", "load", "save", "rehearse"))
_YES = frozenset(("yes", "y", "yep", "yeah", "aye", "ok", "right", "correct"))


def order(session, line: str, read: Callable[[], tuple]):
    """(kind, lines) of a reply to what was read out; None when the line is talk. `read` takes the
    line apart as talk.
    """
    proposal, session.proposal = session.proposal, None
    if not session.read_out or not line:
        return None
    if isinstance(proposal, GroupReply) and line.lower().strip(" .!") in _YES:
        return IN_WORDS, _take(session, proposal)
    aside = asides(line)
    if aside:
        return _aside(session, aside)
    if any(isinstance(p, Said) and p.key.startswith(INCIDENT) for p in read()):
        return None  # something has happened: that comes first
    if line.partition(" ")[0].lower() in _WITH_A_FILE:
        return None  # the words of a file's name answer nothing
    if _asks(line):
        return None  # what is asked answers nothing
    if line.endswith("?"):
        parts = read()
        asks = not parts or any(isinstance(p, Intent) for p in parts)
        return None if asks else (KEPT_OPEN, [_how(session)])
    return _which(session, line, read) if session.choosing else _group(session, line, read)


def _asks(line: str) -> bool:
    """Whether a line without a mark asks: 'how long up', 'can I go', not 'can reach it'."""
    first, _, rest = line.lower().partition(" ")
    asker = first in WH or rest.partition(" ")[0] in SUBJECTS
    return asker and asks_itself(line) and not line.endswith("?")


def _aside(session, aside: str):
    """'Why do you ask', 'have to check': all that was read out is put off, or told about."""
    if aside == SKIP:
        session.skipped.update(ref for refs in session.read_out for ref in refs)
        return "later", ["Put off; it comes back."]
    if aside == "same":
        return None
    advice = session.advice
    facts = {
        f"{entity}.{key.partition('.')[2]}" for refs in session.read_out for entity, key in refs
    }
    items = [q for q in advice.open_questions if q.fact in facts] if advice else []
    could = list(dict.fromkeys(words for item in items for words in item.could[:1]))
    lines = [f"It could bring: {'; '.join(could[:3])}."] if could else []
    return ASKS_BACK, [*lines, _how(session)]


def _how(session) -> str:
    return f"{HOW_WHICH if session.choosing else HOW} 'skip' puts it off."


def _talk(session, line: str, read: Callable[[], tuple]) -> bool:
    """Whether a line says something that is all understood as talk; a figure only where the line
    names what it is of.
    """
    parts, base = read(), session.advisor.base
    said = [p for p in parts if isinstance(p, Said)]
    bare = any(
        base.vocabulary.attribute(p.key).is_number and not speaks_of(base, p, line) for p in said
    )
    whole = len(said) == len(parts) and not bare
    return bool(parts) and (whole or any(isinstance(p, Intent) for p in parts))


def _group(session, line: str, read: Callable[[], tuple]):
    vocabulary = session.advisor.base.vocabulary
    lines = [
        Line(text, own_stems(*(w for _, key in refs for w in vocabulary.attribute(key).about)))
        for text, refs in zip(session.read_texts, session.read_out, strict=True)
    ]
    found = read_group(line, lines)
    if found is None:
        return _not_read(session, line, read)
    if not found.plain and (
        _talk(session, line, read) or any(q.unit for q in quantities(tokenise(line)))
    ):
        if _talk(session, line, read):
            return None
        found = found._replace(so=())
    if not found.sure and (found.so or found.not_so):
        return KEPT_OPEN, _asked(session, found, line)
    return IN_WORDS, _take(session, found)


def _not_read(session, line: str, read: Callable[[], tuple]):
    """A line that speaks of none of what was read out: put off, talk, or kept open."""
    words = words_of(tokenise(line))
    talk = _talk(session, line, read)
    if not talk and len(words) <= _PUT_OFF and any_of(words, "later", "unknown"):
        return _aside(session, SKIP)
    if talk or len(words) > _TALK or not any(isinstance(p, Unclear) for p in read()):
        return None
    if any(_named_figure(session, p, line) for p in read()):
        return None  # 'heaviest is me, 95 kilos with all my gear on' tells of something else
    return KEPT_OPEN, [f'I take nothing from "{line[:80]}".', _how(session)]


def _named_figure(session, part, line: str) -> bool:
    """Whether a part is a figure of what the line names."""
    base = session.advisor.base
    number = isinstance(part, Said) and base.vocabulary.attribute(part.key).is_number
    return number and speaks_of(base, part, line)


def _asked(session, found: GroupReply, line: str) -> list[str]:
    """Say how it is read, to be confirmed; or ask for numbers."""
    if not found.so or not (found.left or found.not_so):
        return [f'I cannot tell which lines "{line[:80]}" speaks of.', _how(session)]
    session.proposal = found
    less = _numbers(tuple(sorted(found.left + found.not_so)))
    return [
        f"As I read it: yes to {_numbers(found.so)}, not to {less}.",
        "'yes' takes it so; or say it by number, such as 'all but 3'.",
    ]


def _numbers(some: tuple[int, ...]) -> str:
    *most, last = map(str, some)
    return f"{', '.join(most)} and {last}" if most else last


def _take(session, found: GroupReply) -> list[str]:
    """Take what a reply says: what is so, what is not, and what is asked by itself."""
    left, facts = list(found.left), []
    for number in found.not_so:
        refs = session.read_out[number - 1]
        bad = other_way(session, refs[0]) if len(refs) == 1 else ""
        if bad:
            facts.append((*refs[0], bad))
        else:
            left.append(number)
    unsaid = set(range(1, len(session.read_out) + 1)) - {*found.so, *found.not_so, *found.left}
    session.asked.difference_update(ref for n in unsaid for ref in session.read_out[n - 1])
    told = settled(session, found.so) if found.so else []
    told = [line for line in told + taken(session, facts) if not line.startswith("Taken down")]
    alone(session, [ref for number in sorted(left) for ref in session.read_out[number - 1]])
    if found.so or facts:
        yes = f"Yes to {_numbers(found.so)}" if found.so else ""
        no = f"no to {_numbers(tuple(n for n in found.not_so if n not in left))}" if facts else ""
        told.insert(0, f"{', '.join(filter(None, (yes, no)))}.".capitalize())
    return [*told, *([f"Asked one by one: {_numbers(tuple(sorted(left)))}."] if left else [])]


def _which(session, line: str, read: Callable[[], tuple]):
    names = list(session.read_texts)
    asks = session.advisor.base.vocabulary.attribute(session.read_out[0][0][1]).asks
    found = read_which(line, names, asks)
    if found is None:
        return None if _talk(session, line, read) else (KEPT_OPEN, [_how(session)])
    told = [t for t in taken(session, _chosen(session, found)) if not t.startswith("Taken down")]
    return "which", [_which_told(names, found), *told]


def _which_told(names: list[str], found: WhichReply) -> str:
    """What was taken of each thing, by its name."""
    so, perhaps = ([names[n - 1] for n in sorted(some)] for some in (found.so, found.perhaps))
    rest = [] if perhaps else [name for name in names if name not in so]
    parts = (("yes", so), ("perhaps", perhaps), ("no", rest))
    told = [f"{word}: {', '.join(some)}" for word, some in parts if some]
    words = "; ".join(told)
    return f"{words[:1].upper()}{words[1:]}."


def _chosen(session, found: WhichReply) -> list[tuple[str, str, str]]:
    """The facts that a choice says; where some of it is doubtful, nothing is said of the others."""
    facts = []
    for number, refs in enumerate(session.read_out, 1):
        if number in found.so:
            facts.append((*refs[0], "yes"))
        elif number in found.perhaps:
            facts.append((*refs[0], "yes?"))
        elif not found.perhaps:
            facts.append((*refs[0], "no"))
    return facts
