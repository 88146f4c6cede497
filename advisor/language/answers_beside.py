"""What stands in a reply beside the answer: another fact, a remark, an incident."""

from __future__ import annotations

from collections.abc import Callable

from advisor.language.parts import Intent, Said, Unclear
from advisor.language.reply import LIGHT, Reply, Span, own_stems
from advisor.language.reply_words import any_of
from advisor.language.tokens import tokenise

INCIDENT = "incident."  # how the keys of what has happened begin


def incident_parts(scene, text: str, read: Callable) -> list:
    """What words beside a 'yes' or 'no' tell, read without the question, where they tell of an
    incident; else nothing.
    """
    parts = read(text, scene.context._replace(asked=None)).parts if text.strip() else ()
    happened = any(isinstance(p, Said) and p.key.startswith(INCIDENT) for p in parts)
    return list(parts) if happened else []


def rest_of(reply: Reply, own: frozenset[str]) -> list[str]:
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


def of_another_matter(scene, read: Callable) -> bool:
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


def read_beside(scene, text: str, read: Callable) -> None:
    """Read what was added to an answer as usual; a fact only where its thing is named, and all of
    it was understood.
    """
    context = scene.context._replace(asked=None, last=None, last_key=None)
    parts = read(text, context).parts
    said = [p for p in parts if isinstance(p, Said)]
    if any(p.key.startswith(INCIDENT) for p in said):
        scene.parts += parts  # what may be an incident is always taken
        return
    whole = said and not any(isinstance(p, Unclear) for p in parts)
    known = {(p.entity, p.key) for p in scene.parts if isinstance(p, Said)}
    if whole and all(_names_it(scene, p, text) and (p.entity, p.key) not in known for p in said):
        for part in parts:
            if isinstance(part, Said):
                scene.say(part.entity, part.key, part.raw, part.words)
        return
    if not any(isinstance(p, Intent) and p.kind == "skip" for p in scene.parts):
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
    said_of = {t.stem for t in tokenise(text) if t.is_word and t.text not in LIGHT}
    return bool(said_of & (names | value))


def _names_it(scene, said: Said, text: str) -> bool:
    """Whether words that were added name the thing that a fact is of, or it is the thing asked
    about.
    """
    if said.entity == scene.context.asked[0]:
        return True
    kind = scene.entity(scene.kind_of(said.entity))
    return bool(own_stems(text) & own_stems(kind.name, said.entity, *kind.phrases))
