"""A reply to the question just asked: what it says of the fact asked for, that nothing is known,
that it is put off, or why it is asked; and what else stands in the line.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from advisor.facts.units import UNITS
from advisor.facts.vocabulary import PHRASE_MARK, Attribute, Vocabulary
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
    attribute = scene.vocabulary.attribute(asked[1])
    reply = _reply(scene.line, tokens, attribute)
    aside = _aside(reply)
    if aside:
        scene.parts.append(Intent(aside, (), scene.line.strip()))
        return True
    if _question(reply) or _of_another(scene, reply, attribute):
        return False
    found = _said(scene, reply, attribute) or _not_known(reply)
    if found is None:
        return False
    if isinstance(found, Open) and not found.left and _of_another_matter(scene, read):
        return True
    if isinstance(found, Open):
        scene.unclear(scene.line)
        scene.parts.append(Intent(WHICH_OF, found.left, scene.line.strip()))
        return True
    if found.raw == SKIP:
        scene.parts.append(Intent(SKIP, (), scene.line.strip()))
    else:
        scene.say(asked[0], asked[1], found.raw, scene.line.strip())
    for text in _rest(reply, own_stems(attribute.asks, attribute.name)):
        _beside(scene, text, read)
    return True


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


def _rest(reply: Reply, own: frozenset[str]) -> list[str]:
    """What else was said: clauses that were not understood, and figures beside the answer."""
    found = []
    for clause in reply.clauses:
        inside = {i for i in reply.used if clause.start <= i < clause.end}
        heavy = [i for i in reply.heavy(clause, own) if not _name(reply, i)]
        figures = [i for i in heavy if reply.tokens[i].is_number]
        idle = any_of(reply.words[clause.start : clause.end], "doubt", "later", "unknown")
        if heavy and not (idle and not figures) and (not inside or figures):
            start = max(inside, default=clause.start - 1) + 1 if inside else clause.start
            start = start if start <= min(heavy) else clause.start
            found.append(reply.text(Span(start, clause.end)))
    return found


def _of_another_matter(scene, read: Callable) -> bool:
    """Take a line that answers, whole, another question than the one asked."""
    parts = read(scene.line, scene.context._replace(asked=None)).parts
    whole = bool(parts) and all(isinstance(p, Said) for p in parts)
    if not whole or any((p.entity, p.key) == scene.context.asked for p in parts):
        return False
    for part in parts:
        scene.say(part.entity, part.key, part.raw, part.words)
    return True


def _name(reply: Reply, at: int) -> bool:
    """Whether a word is written as somebody's name."""
    typed = reply.line[reply.tokens[at].start :]
    return typed[:1].isupper() and not typed[:2].isupper()


def _beside(scene, text: str, read: Callable) -> None:
    """Read what was added to an answer as usual; a fact only where its thing is named, and all of
    it was understood.
    """
    context = scene.context._replace(asked=None, last=None, last_key=None)
    parts = read(text, context).parts
    said = [p for p in parts if isinstance(p, Said)]
    whole = said and not any(isinstance(p, Unclear) for p in parts)
    known = {(p.entity, p.key) for p in scene.parts if isinstance(p, Said)}
    if whole and all(_names_it(scene, p, text) and (p.entity, p.key) not in known for p in said):
        for part in parts:
            if isinstance(part, Said):
                scene.say(part.entity, part.key, part.raw, part.words)
        return
    if not any(isinstance(p, Intent) and p.kind == SKIP for p in scene.parts):
        scene.unclear(text)


def speaks_of(base, said: Said, text: str) -> bool:
    """Whether a line names what a fact is of, or what of it is told: a figure said beside the
    question is bound to nothing else.
    """
    attribute = base.vocabulary.attribute(said.key)
    kind = base.vocabulary.entities[attribute.entity]
    names = own_stems(kind.name, said.entity, *kind.phrases, attribute.name)
    told = not attribute.is_number and len(text.split()) > 1  # a word alone may be the answer
    value = own_stems(str(said.raw)) if told else frozenset()
    light = own_stems("is the of a no not none yes in on and or it")
    return bool(own_stems(text) & (names | value) - light)


def _names_it(scene, said: Said, text: str) -> bool:
    """Whether words that were added name the thing that a fact is of, or it is the thing asked
    about.
    """
    if said.entity == scene.context.asked[0]:
        return True
    kind = scene.entity(scene.kind_of(said.entity))
    return bool(own_stems(text) & own_stems(kind.name, said.entity, *kind.phrases))
