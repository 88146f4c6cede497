"""What is read out by number and answered together: at home what can be said yes to in one breath,
at the head the checks, group by group. Only what was just read out can be answered.
"""

from __future__ import annotations

import re

from advisor.chat import together, which
from advisor.chat.branches import said_back
from advisor.facts.values import sound_words
from advisor.facts.vocabulary import AT_HOME, AT_THE_HEAD
from advisor.model.advice import BLOCKING, Check
from advisor.papers.checks import check_lines, groups
from advisor.papers.outline import headline

NUMBERS = r"(?P<numbers>\d{1,2}(?:(?: ?, ?| and | )\d{1,2})*)"
FORMS = tuple(
    (kind, re.compile(pattern, re.IGNORECASE))
    for kind, pattern in (
        (
            "at the head",
            r"(?:we are |we re |we're |i am |i'm )?(?:now )?at the head(?: now)?[.!]?$",
        ),
        (
            "at home",
            r"(?:we are |we re |we're |i am |i'm )?(?:back )?at home(?: again| now)?[.!]?$",
        ),
        ("checks", r"(?:(?:the|all|show|read|what are) )*checks(?: left| please)?[.?!]?$"),
        ("all but", r"(?:yes,? )?all (?:but|except) " + NUMBERS + r"[.!]?$"),
        ("all", r"(?:(?:yes,? )?all(?: (?:good|well|so|yes|ok|okay|fine|checked))?|yes)[.!]?$"),
        ("not so", NUMBERS + r",? (?:no|not so)[.!]?$"),
        ("checked by", r"(?:checked|checks|read out) by (?P<by>\S.{0,40}?)[.!]?$"),
        ("later", r"(?:skip|next|pass|later)(?: (?:it|that|this|them|these))?[.!]?$"),
    )
)
# 'AB', 'a.b.': no names
INITIALS = re.compile(r"[^\W\d_]{1,2}$|[A-Z]{3}$|(?:[^\W\d_]\.){1,2}[^\W\d_]\.?$")
IN_WORDS = "in words"  # answered in words of one's own: see in_words.py
HOW = "All so? 'all', 'all but 3', or '3 no'."


def order(session, line: str):
    """(kind, lines) of what was said about what was read out, or None when the line is talk."""
    chosen = which.answered(session, line)
    if chosen is not None:
        return "which", taken(session, chosen)
    for kind, form in FORMS:
        match = form.match(line)
        if match and (kind in ANY_TIME or session.read_out and not session.choosing):
            said = re.findall(r"\d+", match.groupdict().get("numbers") or "")
            numbers = [int(number) for number in said]
            if kind == "checked by":
                return kind, _checker(session, match["by"])
            made = _ORDERS.get(kind) or _ANSWERS[kind]
            return kind, made(session, numbers)
    return None


def read_out(session, advice, found) -> tuple[list, str]:
    """(lines that are read out next, how to answer); nothing where a question is asked alone.
    `found`: the question that matters most.
    """
    session.read_out, session.choosing = (), False
    if found and (session.at != AT_THE_HEAD or found[1].gravity in BLOCKING):
        return _together(session, advice, found)
    left = _left(session, advice) if advice and not advice.stops else []
    if session.at != AT_THE_HEAD:
        return [], ""
    if not left:
        return _together(session, advice, found) if found else ([], "")
    waiting = groups(left)
    lines = next((g for g in waiting if not _put_off(session, g)), waiting[0])
    number = f"{len(left)} check{'s' if len(left) > 1 else ''}"
    title = f"{lines[0].group[:1].upper()}{lines[0].group[1:]}, {number} left in all:"
    return _numbered(session, title, lines)


def _together(session, advice, found) -> tuple[list, str]:
    """What is asked together with the question that matters most, or nothing."""
    facts = which.alike(session, advice, found)
    if facts:
        session.read_out, session.choosing = tuple((ref,) for ref in facts), True
        session.asked.update(facts)
        question, *things = which.lines(session, facts)
        session.read_texts = tuple(text.partition(". ")[2] for text in things)
        return [question, *things], which.HOW
    lines = together.claims(session, advice, found)
    if not lines:
        return [], ""
    told = _numbered(session, f"Of {lines[0].group}:", lines)
    session.asked.update(ref for refs in session.read_out for ref in refs)
    return told


def _numbered(session, title, lines) -> tuple[list, str]:
    session.read_out = tuple(tuple(_ref(session, c) for c in line.checks) for line in lines)
    texts = session.read_texts = tuple(f"{line.text[:1].upper()}{line.text[1:]}" for line in lines)
    return [title, *(f"{n}. {text}" for n, text in enumerate(texts, 1))], HOW


def _put_off(session, lines) -> bool:
    return {_ref(session, c) for line in lines for c in line.checks} <= session.skipped


def _left(session, advice) -> list[Check]:
    """The checks that were not left to a question of their own."""
    return [c for c in advice.checks if _ref(session, c) not in session.to_ask]


def _ref(session, check) -> tuple[str, str]:
    entity, _, name = check.fact.rpartition(".")
    return entity, f"{session.advisor.base.vocabulary.split(entity)[0].name}.{name}"


def _head(session, numbers) -> list:
    session.at, session.quiet = AT_THE_HEAD, False
    advice = session.advice
    left = advice.checks if advice else ()
    whose = "" if session.checker else " 'checked by' and initials put them to the answers."
    return [
        f"At the head now: nothing may wait any more.{whose}",
        *([] if left or advice is None else [headline(advice)]),
    ]


def _home(session, numbers) -> list:
    session.at = AT_HOME
    return ["At home: what is only seen at the head is kept as checks."]


def _checker(session, by: str) -> list:
    """Put initials to what is answered from now on; a name is not kept."""
    if not INITIALS.match(by):
        return ["Initials are enough, one to three letters: 'checked by AB'. No name is kept."]
    session.checker = by.replace(".", "").upper()
    return [f"Answers to what is read out are noted as checked by {session.checker}."]


def _checks(session, numbers) -> list:
    advice = session.advice
    if not advice or not advice.checks:
        return ["No check is open on these facts."]
    if session.at == AT_THE_HEAD:
        session.quiet, session.to_ask = False, ()
        return []  # they are read out anyway
    return [
        f"{len(advice.checks)} to be seen true at the head:",
        *(f"  - {line.group}: {line.text}" for line in check_lines(advice.checks)),
        "'at the head' goes through them.",
    ]


def _all(session, numbers) -> list:
    return settled(session, range(1, len(session.read_out) + 1))


def _all_but(session, numbers) -> list:
    wrong = not_there(session, numbers)
    if wrong:
        return wrong
    left = [ref for number in numbers for ref in session.read_out[number - 1]]
    alone(session, left)
    rest = [n for n in range(1, len(session.read_out) + 1) if n not in numbers]
    return settled(session, rest)


def _not_so(session, numbers) -> list:
    """A line that is not so: its fact is said the other way where there is only one other way;
    else it is asked for.
    """
    wrong = not_there(session, numbers)
    if wrong:
        return wrong
    facts, left = [], []
    for number in numbers:
        refs = session.read_out[number - 1]
        bad = other_way(session, refs[0]) if len(refs) == 1 else ""
        if bad:
            facts.append((*refs[0], bad))
        else:
            left += refs
    alone(session, left)
    said = [f"Taken down: {'; '.join(said_back(session, facts))}."] if facts else []
    taken(session, facts)
    return [*said, *(["Which, and how bad? I ask one by one."] if left else [])]


def not_there(session, numbers) -> list:
    last = len(session.read_out)
    wrong = [n for n in numbers if not 1 <= n <= last]
    return [f"There is no line {wrong[0]}; they run from 1 to {last}."] if wrong else []


def other_way(session, ref) -> str:
    values = _attribute(session, ref).values
    other = [v for v in values if v not in sound_words(_attribute(session, ref))]
    return other[0] if len(other) == 1 else ""


def _attribute(session, ref):
    return session.advisor.base.vocabulary.attribute(ref[1])


def settled(session, numbers) -> list:
    """Take what was read out under these numbers as seen so."""
    wanted = {ref for number in numbers for ref in session.read_out[number - 1]}
    well = {ref: sound_words(_attribute(session, ref)) for ref in sorted(wanted)}
    told = taken(session, [(*ref, _raw(words)) for ref, words in well.items() if words])
    # Where more than one answer is well it may still turn on which; that is asked for by itself.
    advice = session.advice
    open_still = {
        _ref(session, item) for item in (*advice.checks, *advice.blocking) if "." in item.fact
    }
    alone(session, sorted(open_still & wanted))
    return told


def alone(session, references):
    """Leave these to questions of their own."""
    session.to_ask = (*session.to_ask, *references)
    session.asked.difference_update(references)


def _later(session, numbers) -> list:
    """Put off what was read out; it comes back when the rest is answered."""
    session.skipped.update(ref for refs in session.read_out for ref in refs)
    return ["Put off; it comes back."]


def _raw(words):
    """The answers that are well, as a person would write them."""
    return words[0] if len(words) == 1 else list(words)


def taken(session, facts) -> list:
    messages = session.say(facts) if facts else []
    session.note_checked(facts)
    taken = len(facts) - len(messages)
    return [*([f"Taken down: {taken} answered."] if taken else []), *messages]


_ORDERS = {"at the head": _head, "at home": _home, "checks": _checks}
ANY_TIME = (*_ORDERS, "checked by")
# Of what was read out:
_ANSWERS = {"all but": _all_but, "all": _all, "not so": _not_so, "later": _later}
KINDS = (*ANY_TIME, *_ANSWERS, "which", IN_WORDS)
