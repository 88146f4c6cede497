"""What a question is about: a decision and one of its options, an item, a file name, a figure."""

from __future__ import annotations

import re

from advisor.language.match import matches
from advisor.language.nouns import mentions, resolve
from advisor.language.pronouns import pronoun
from advisor.language.tokens import stem, tokenise


def argument_of(scene, kind: str, start: int, end: int) -> tuple:
    """The arguments of an intent: names as the advice knows them; () where nothing was named."""
    if kind == "export":
        name = re.search(r"[^\s'\"]+\.\w{2,4}", scene.words(start, end))
        return (name.group(),) if name else ()
    if kind == "explain number":
        number = re.search(r"\d+(?:\.\d+)?", scene.words(start, end))
        return (number.group(),) if number else _decision(scene, start, end)[:1]
    if kind in ("why", "why not", "what would change"):
        found = _decision(scene, start, end)
        return found if kind == "why not" else found[:1]
    return ()


def thing_asked(scene, clause):
    """(kind, arguments) of 'is the flake ok': how an anchor does in its decision, or the verdict
    on a piece of kit; None where no one thing is named.
    """
    thing = _thing(
        scene,
        clause.start,
        clause.end,
        [m for m in matches(scene.tokens, scene.index) if clause.start <= m.start < clause.end],
    )
    if thing is None:
        single = _single(scene, clause)
        return ("thing", (single,)) if single else None
    if not (set(scene.ids(scene.kind_of(thing))) & {thing}):
        return None
    found = _decision(scene, clause.start, clause.end)
    if len(found) == 2:
        return "why not", found
    return ("advise", ()) if scene.kind_of(thing) in scene.base.topics.get("kit", ()) else None


def _single(scene, clause):
    """The one thing of its kind that is kit or is decided on, and that the words name or point at:
    the tether of 'is the tether ok'.
    """
    asked = {*scene.base.topics.get("kit", ()), *scene.base.decisions}
    named = [m.kind for m in mentions(scene, clause)]
    pointed = pronoun(scene, clause) if not named else None
    named += pointed[0] if pointed and pointed[0] else []
    return (
        named[0]
        if len(named) == 1 and named[0] in asked and not scene.entity(scene.kind_of(named[0])).many
        else None
    )


def _decision(scene, start, end) -> tuple:
    """(decision,) or (decision, option) that the words name."""
    decisions = scene.base.decisions
    found = [m for m in matches(scene.tokens, scene.index) if start <= m.start < end]
    words = {t.stem for t in scene.tokens[start:end]}
    option = _option(scene, decisions, found, words)
    if option:
        return option
    thing = _thing(scene, start, end, found)
    each = [
        name
        for name, spec in decisions.items()
        if thing and spec.get("each") == scene.kind_of(thing)
    ]
    if each:
        return (
            max(each, key=lambda n: (len({stem(w) for w in n.split()} & words), -each.index(n))),
            scene.vocabulary.split(thing)[1] or thing,
        )
    if thing and thing not in scene.vocabulary.entities:
        return (thing,)
    named = [name for name in decisions if {t.stem for t in tokenise(name)} <= words]
    return (max(named, key=len),) if named else ()


def _option(scene, decisions, found, words):
    """A decision whose options are words, one of which was said."""
    for name, spec in decisions.items():
        for option in spec.get("options", ()):
            said = any(s.form == "value" and s.value == option for m in found for s in m.senses)
            if said or {t.stem for t in tokenise(option)} <= words:
                return name, option
    return None


def _thing(scene, start, end, found):
    """The one thing that the words name or point at."""
    from advisor.language.clauses import Clause

    clause = Clause(start, end, found, [], [])
    for mention in mentions(scene, clause):
        ids = resolve(scene, mention._replace(fresh=False, predicate=False))
        if ids and len(ids) == 1 and scene.entity(mention.kind).many:
            return ids[0]
    pointed = pronoun(scene, clause)
    if (
        pointed
        and pointed[0]
        and len(pointed[0]) == 1
        and scene.entity(scene.kind_of(pointed[0][0])).many
    ):
        return pointed[0][0]
    return None
