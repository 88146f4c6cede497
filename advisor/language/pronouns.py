"""Words that stand for a thing named before: 'it', 'the other one', 'the left one', 'left is
loose'.
"""

from __future__ import annotations

from advisor.language.nouns import side_match
from advisor.language.tokens import stem
from advisor.language.words import ORDINALS, PRONOUNS, SIDE_PRONOUNS

_VERBS = ("is", "was", "look", "looks", "seems", "has", "might", "could", "does", "spins", "moves")


def pronoun(scene, clause):
    """([entity], words range) for 'it', 'the other one', 'the left one', 'left is …'; (None,
    range) where it is not clear which; None where there is none.
    """
    tokens = scene.tokens
    last = scene.subject or scene.context.last
    for at in range(clause.start, clause.end):
        if any(m.start <= at < m.end and m.stems > 1 for m in clause.matches):
            continue
        text = tokens[at].text
        if text in SIDE_PRONOUNS:
            found = _one(scene, clause, at, last)
            if found:
                return found
        elif (
            text in PRONOUNS - SIDE_PRONOUNS
            and last
            and not (
                text in ("it", "that", "this")
                and at + 1 < clause.end
                and tokens[at + 1].text == "one"
            )
        ):
            return [last], (at, at + 1)
    return _bare_name(scene, clause) or _bare_side(scene, clause)


def _one(scene, clause, at, last):
    """'left one', 'the second one', 'the other one', 'the other'."""
    tokens, kind = scene.tokens, None
    if last and scene.entity(scene.kind_of(last)).many:
        kind = scene.kind_of(last)
    kinds = [kind] if kind else [k for k in scene.names if scene.entity(k).many and scene.names[k]]
    before = tokens[at - 1].text if at > clause.start else ""
    if tokens[at].text == "other" and (before == "each" or not kind):
        return None
    if tokens[at].text == "other" or before == "other":
        if (
            tokens[at].text == "other"
            and at + 1 < clause.end
            and tokens[at + 1].text not in ("one", "is", "was", "looks", "has", "seems")
        ):
            return None
        rest = [i for i in scene.ids(kind) if i != last] if kind else []
        return (rest if len(rest) == 1 else None), (at, at + 1 + (tokens[at].text == "other"))
    for kind in kinds:
        side = side_match(scene, clause, at - 1, kind) if at > clause.start else None
        fits = [
            i
            for i in scene.ids(kind)
            if side
            and (scene.raw_of(i, side[1]) == side[2] or stem(side[2]) in scene.name_words(i))
        ] or [
            i
            for i in scene.ids(kind)
            if stem(ORDINALS.get(before, before)) in scene.name_words(i) and before
        ]
        if fits:
            return (fits if len(fits) == 1 else None), (side[0].start if side else at - 1, at + 1)
        if side and scene.ids(kind):
            return None, (side[0].start, at + 1)  # 'the right one', where only a left one is known
    return None


def _bare_name(scene, clause):
    """'main has three broken wires': the name alone of the one thing so called, in the place of a
    subject.
    """
    at = clause.start + (scene.tokens[clause.start].text == "the")
    if (
        at + 1 >= clause.end
        or scene.tokens[at + 1].text not in _VERBS
        or any(m.start <= at < m.end for m in clause.matches)
    ):
        return None
    called = [
        i
        for kind in scene.names
        if scene.entity(kind).many
        for i in scene.ids(kind)
        if scene.name_words(i) == {scene.tokens[at].stem}
    ]
    return (called if len(called) == 1 else None, (at, at + 1)) if called else None


def _bare_side(scene, clause):
    """'left is loose': a side in the place of a subject."""
    at = clause.start + (scene.tokens[clause.start].text == "the")
    for kind in [k for k in scene.names if scene.entity(k).many]:
        side = side_match(scene, clause, at, kind) if at < clause.end else None
        if side and side[0].end < clause.end and scene.tokens[side[0].end].text in _VERBS:
            fits = [
                i
                for i in scene.ids(kind)
                if scene.raw_of(i, side[1]) == side[2] or stem(side[2]) in scene.name_words(i)
            ]
            if fits:
                return (fits if len(fits) == 1 else None), (at, side[0].end)
    return None
