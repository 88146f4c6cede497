"""The things that a way of saying itself names: 'a backup from the spike to the ladder', 'scrap the
spike, it is a thread', 'there is no spike'.
"""

from __future__ import annotations

from advisor.language.tokens import stem, tokenise


def nouns_in(scene, kind, clause) -> list[tuple[str, str]]:
    """(word, value) of each noun of a kind in a clause; the value is the kind of thing it says."""
    found = []
    at = clause.start
    while at < clause.end:
        for length in (3, 2, 1):
            words = scene.tokens[at : min(at + length, clause.end)]
            senses = scene.index.phrases.get(tuple(t.stem for t in words), ())
            mine = [s for s in senses if s.form == "entity" and s.entity == kind]
            if len(words) == length and mine:
                value = next((s.value for s in mine if s.value), "")
                found.append((" ".join(t.text for t in words), value))
                at += length - 1
                break
        at += 1
    return found


def known_by(scene, kind, word) -> list[str]:
    """Things of a kind that are called so, or are of the kind that the word says."""
    wanted = {stem(t.text) for t in tokenise(word)}
    return [i for i in scene.ids(kind) if wanted & scene.name_words(i)]


def _on_side(scene, kind, clause, known) -> list[str]:
    """Without the things of another side than the one said: the left bolt is not the bolt of 'no
    bolt on the right'.
    """
    attribute = scene.vocabulary.attribute(f"{kind}.side")
    texts = {t.text for t in scene.tokens[max(clause.start - 1, 0) : clause.end]}
    said = texts & set(attribute.values if attribute else ())
    if not said:
        return known
    return [i for i in known if str(scene.raw_of(i, attribute.key)) in said]


def named_in(scene, kind, clause, words) -> list[str]:
    """The one thing that the first noun of a clause names: one known already, or a new one; it is
    told back where several are called so.
    """
    nouns = nouns_in(scene, kind, clause)
    if not nouns:
        return []
    word, value = nouns[0]
    known = _on_side(scene, kind, clause, known_by(scene, kind, word))
    if len(known) > 1:
        scene.unclear(words, [scene.vocabulary.split(i)[1] or i for i in known])
        return []
    if known:
        return known
    attribute = scene.vocabulary.attribute(f"{kind}.kind")
    name = f"{kind} {word}"
    if attribute is not None:
        scene.say(name, attribute.key, value or "unknown", words)
    return [name]


def renamed(scene, kind, clause, words) -> None:
    """Take that a thing named first is of the kind that is named last, under the name it has; one
    that was not told of before is named by the last word.
    """
    nouns = nouns_in(scene, kind, clause)
    if len(nouns) < 2:
        scene.unclear(words)
        return
    word, value = nouns[-1]
    known = _on_side(scene, kind, clause, known_by(scene, kind, nouns[0][0]))
    if len(known) > 1:
        scene.unclear(words, [scene.vocabulary.split(i)[1] or i for i in known])
        return
    thing = known[0] if known else f"{kind} {word}"
    scene.say(thing, f"{kind}.kind", value or "unknown", words, clause.doubt)
    scene.subjects = [thing]


def withdrawn(scene, kind, clause, words) -> None:
    """Take back of what kind a thing is that is said not to be there; its own facts are of no use
    without, and it is asked for anew.
    """
    nouns = nouns_in(scene, kind, clause)
    known = known_by(scene, kind, nouns[0][0]) if nouns else []
    known = _on_side(scene, kind, clause, known)
    scene.unclear(words, [scene.vocabulary.split(i)[1] or i for i in known] if known[1:] else ())
    if len(known) == 1:
        scene.say(known[0], f"{kind}.kind", "unknown", words)
