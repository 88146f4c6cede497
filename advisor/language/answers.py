"""A reply to the question just asked: what it says of the fact asked for, that nothing is known,
that it is put off, or why it is asked; and what else stands in the line.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from advisor.facts.units import UNITS
from advisor.facts.vocabulary import PHRASE_MARK, Attribute, Vocabulary
from advisor.language.answers_beside import (
    INCIDENT,
    incident_parts,
    of_another_matter,
    read_beside,
    rest_of,
)
from advisor.language.answers_choice import choice, cues_of
from advisor.language.answers_number import number, time_of_day
from advisor.language.answers_yes_no import Answer, Open, opening, yes_no
from advisor.language.parts import Intent, Said, Unclear
from advisor.language.reply import BREAKS, Reply, Span, own_stems, reply_of
from advisor.language.reply_words import any_of, found_at
from advisor.language.tokens import tokenise

LONGEST = 45  # words; longer is talk
WHY, MEANING, SAME, SKIP = "why asked", "what is meant", "same", "skip"
WHICH_OF = "which of"
_ASIDE = {"why": WHY, "meaning": MEANING, "same": SAME}
_HALF = re.compile(r"\bhalf hour\b", re.I)
_AND_HALF = re.compile(r"(?<!an )(?<!\d )(?<!one )\bhour and a half", re.I)
_ASKS = frozenset("what why where when who how which is are do does can could should".split())


def read_answer(scene, tokens, read: Callable) -> bool:
    """Take a line as the reply to the question asked; False if it is none. `read` takes apart what
    else stands in it.
    """
    asked = scene.context.asked
    if not asked or len(tokens) > LONGEST:
        return False
    attribute, read = scene.vocabulary.attribute(asked[1]), _once(read)
    reply = _reply(scene.line, tokens, attribute)
    aside = _aside(reply)
    if aside:
        scene.parts.append(Intent(aside, (), scene.line.strip()))
        return True
    if _question(reply) or _of_another(scene, reply, attribute):
        return False
    happened = incident_parts(scene, _behind_sign(reply), read) if len(tokens) > 2 else []
    found = _said(scene, reply, attribute) or _not_known(reply)
    if happened:
        return _in_an_incident(scene, reply, found, happened)
    if found is None or (found in _NOTHING_SAID and _tells(scene, read)):
        return False
    if isinstance(found, Open) and (asks_itself(scene.line) or _all_told(scene, read)):
        return False
    if attribute.is_number and _figure_of_another(reply, attribute):
        return False
    if isinstance(found, Open) and not found.left and of_another_matter(scene, read):
        return True
    if isinstance(found, Open):
        scene.unclear(scene.line)
        scene.parts.append(Intent(WHICH_OF, found.left, scene.line.strip()))
        return True
    if found.raw == SKIP:
        scene.parts.append(Intent(SKIP, (), scene.line.strip()))
    else:
        scene.say(asked[0], asked[1], found.raw, scene.line.strip())
    for text in rest_of(reply, own_stems(attribute.asks, attribute.name)):
        read_beside(scene, text, read)
    return True


def _once(read: Callable) -> Callable:
    """The reader, that takes no words apart twice in the same talk."""
    kept: dict = {}

    def reads(text, context):
        key = text.strip(), context.asked, context.last, context.last_key
        if key not in kept:
            kept[key] = read(text, context)
        return kept[key]

    return reads


def _behind_sign(reply: Reply) -> str:
    """What stands behind a 'yes' or 'no': 'no she is unconscious' does not deny that."""
    said = opening(reply)
    start = said.end if said.signs else 0
    return reply.text(Span(start, len(reply.words))) if start < len(reply.words) else ""


def _in_an_incident(scene, reply: Reply, found: Answer | Open | None, happened: list) -> bool:
    """Take what has happened, and with it the answer to a question of the incident."""
    entity, key = scene.context.asked
    told = {(p.entity, p.key) for p in happened if isinstance(p, Said)}
    if isinstance(found, Answer) and found not in _NOTHING_SAID and key.startswith(INCIDENT):
        protest = found.raw == "0" and scene.tokens[0].text in ("no", "nope", "nah")
        if (entity, key) not in told and not protest and not _counts_another(found, happened):
            scene.say(entity, key, found.raw, scene.line.strip())
    used = {reply.words[i] for i in reply.used}
    for part in happened:
        if isinstance(part, Said):
            scene.say(part.entity, part.key, part.raw, part.words)
        elif not (isinstance(part, Unclear) and used.issuperset(_words(part))):
            scene.parts.append(part)
    return True


def _counts_another(found: Answer, happened: list) -> bool:
    """Whether the figure of a reply tells something else: the 3 of 'yes and 3 still down'."""
    figure = str(found.raw)
    return figure.isdecimal() and any(
        isinstance(p, Said) and p.raw == figure and figure in p.words for p in happened
    )


def _words(part: Unclear) -> tuple[str, ...]:
    return tuple(token.text for token in tokenise(part.words))


_NOTHING_SAID = (Answer("unknown"), Answer(SKIP))


def _tells(scene, read: Callable) -> bool:
    """Whether a line that seems to say that nothing is known tells something all the same:
    'she can hold on, not hurt'.
    """
    parts = read(scene.line, scene.context._replace(asked=None)).parts
    return any(isinstance(p, Said) and p.raw != "unknown" for p in parts)


def _reply(line: str, tokens, attribute: Attribute) -> Reply:
    """A line as a reply; where a figure is asked for, 'half hour' is read as 'half an hour'."""
    if attribute.type != "number":
        return reply_of(line, tokens)
    spelt = _HALF.sub("half an hour", _AND_HALF.sub("an hour and a half", line))
    return reply_of(spelt, tokens if spelt == line else tokenise(spelt))


def asides(line: str) -> str:
    """Whether a line is no answer but asks back, or puts off what was asked; '' for none."""
    reply = reply_of(line, tokenise(line))
    if not reply.words:
        return ""
    aside = _aside(reply)
    if aside or reply.clauses[1:]:
        return aside
    at, put_off = 0, False
    while at < len(reply.words):
        found = found_at(reply.words, at, "unknown", "later", "polite")
        if found is None:
            return ""
        put_off = put_off or found.kind != "polite"
        at += found.length
    return SKIP if put_off else ""


def _aside(reply: Reply) -> str:
    """Whether the whole line asks back: why, or what is meant; or says 'same as before'."""
    at, kinds = 0, list[str]()
    while at < len(reply.words):
        found = found_at(reply.words, at, "meaning", "why", "same", "unknown", "polite")
        if found is None and reply.words[at] not in BREAKS | {"-"}:
            return _asks_why(reply)
        kinds += [found.kind] if found and found.kind != "polite" else []
        at += found.length if found else 1
    told = [k for k in kinds if k in _ASIDE and (k != "why" or len(reply.words) > 2)]
    return _ASIDE[told[0]] if told else ""


def _asks_why(reply: Reply) -> str:
    """'Why, it is a draughty cave?', 'why do you ask, he is fine'."""
    words = reply.words
    found = found_at(words, 0, "why", "meaning")
    whole = found is not None and (len(words) == found.length or words[found.length] in BREAKS)
    if not (found and whole):
        return ""
    return _ASIDE[found.kind] if found.length > 2 or words[-1] == "?" else ""


def _all_told(scene, read: Callable) -> bool:
    """Whether a line is plain without the question: '8 kids, 2 leaders'."""
    parts = read(scene.line, scene.context._replace(asked=None)).parts
    return len(parts) > 1 and all(isinstance(p, Said) and p.raw != "unknown" for p in parts)


def _figure_of_another(reply: Reply, attribute: Attribute) -> bool:
    """Whether a figure stands behind a yes or no that is no answer to a count, and an 'and': the 3
    of 'yes and 3 still down'.
    """
    said = opening(reply)
    if not said.signs or said.end >= len(reply.words) or reply.words[said.end] not in _JOINS:
        return False
    own = own_stems(attribute.asks, attribute.name)
    return not any(token.stem in own for token in reply.tokens)


_JOINS = frozenset("and but also plus".split())


def asks_itself(line: str) -> bool:
    """Whether a line asks something of its own: 'is one bolt enough', not 'is about 10'."""
    words = [t.text for t in tokenise(line) if t.is_word]
    return len(words) > 2 and (words[0] in _ASKS or line.rstrip().endswith("?"))


def _question(reply: Reply) -> bool:
    """Whether it asks something itself."""
    return reply.words[-1] == "?" and reply.words[0] in _ASKS


def _of_another(scene, reply: Reply, attribute: Attribute) -> bool:
    """Whether it names another thing of the same kind: 'the right one is loose'."""
    identity = scene.context.asked[0]
    names = set[str]()
    for other in scene.names.get(attribute.entity, ()):
        names |= scene.name_words(other)
    names -= scene.name_words(identity) | own_stems(attribute.entity, *attribute.values)
    return any(token.stem in names for token in reply.tokens)


def own_of(scene, attribute: Attribute) -> frozenset[str]:
    """The stems a reply may take up from the question."""
    entity = scene.context.asked[0]
    names = (p for p in attribute.phrases if attribute.type != "number" or " " not in p)
    return own_stems(attribute.asks, attribute.name, entity, *names)


def _said(scene, reply: Reply, attribute: Attribute) -> Answer | Open | None:
    """What the reply says of the fact asked for."""
    own = own_of(scene, attribute)
    cued = _by_cue(reply, attribute)
    if cued is not None:
        return cued
    if attribute.type == "yes/no":
        return yes_no(reply, attribute, own_stems(attribute.asks, attribute.name))
    if attribute.type == "choice":
        return choice(reply, attribute, names=_things(scene.vocabulary))
    if attribute.type == "time":
        return time_of_day(reply, attribute, *_around(scene, attribute))
    if attribute.type == "number":
        return number(reply, attribute, own, _foreign(scene.vocabulary, attribute))
    return None


def _by_cue(reply: Reply, attribute: Attribute) -> Answer | Open | None:
    """A value that a reply gives in words of its own: 'one piece' says that there is no join."""
    if attribute.type == "choice" or not attribute.answers:
        return None
    if attribute.type == "yes/no" and opening(reply).signs:
        return None
    words = Attribute(attribute.entity, attribute.name, "choice", values=tuple(attribute.answers))
    cues = cues_of((), (), tuple(attribute.answers.items()))
    return choice(reply, words, cues)


def _around(scene, attribute: Attribute) -> tuple[str, str]:
    """The times known that stand before and after the one asked for, '' for none."""
    vocabulary, facts = scene.vocabulary, scene.context.facts

    def known(key):
        return next((f.text for (_, k), f in facts.items() if k == key and ":" in f.text), "")

    earlier = known(attribute.runs_on_from) if attribute.runs_on_from else ""
    after = [a.key for a in vocabulary.by_key.values() if a.runs_on_from == attribute.key]
    return earlier, min(filter(None, map(known, after)), default="")


def _things(vocabulary: Vocabulary) -> frozenset[str]:
    """Stems that name a thing."""
    names = [p for e in vocabulary.entities.values() for p in (e.name, *e.phrases) if " " not in p]
    return own_stems(*names)


def _foreign(vocabulary: Vocabulary, attribute: Attribute) -> frozenset[str]:
    """Stems that name another thing of which such a figure is told, or another such figure."""
    like = UNITS[attribute.unit][0].name
    found = set[str]()
    for entity in vocabulary.entities.values():
        alike = [
            a
            for a in entity.attributes.values()
            if a.type == "number" and not a.derived and UNITS[a.unit][0].name == like
        ]
        names = [
            word
            for a in alike
            if a.key != attribute.key
            for word in (a.name, *(p for p in a.phrases if not PHRASE_MARK.search(p)))
        ]
        if alike and entity.name != attribute.entity:
            names += [entity.name, *entity.phrases]
        found |= {s for name in names if " " not in name for s in own_stems(name)}
    return frozenset(found)


def _not_known(reply: Reply) -> Answer | None:
    """'No idea', 'have to check': not known, or put off."""
    first = reply.clauses[0] if reply.clauses else Span(0, 0)
    found = any_of(reply.words[first.start : first.end], "unknown", "later", "undone")
    if found is None and reply.words[0] != "?":
        found = any_of(reply.words, "later")
        return Answer(SKIP) if found else None
    later = any_of(reply.words, "later")
    reply.take(first.start, first.end - first.start)
    return Answer(SKIP if later else "unknown")
