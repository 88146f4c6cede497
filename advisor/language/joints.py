"""Words of one meaning that stand apart: 'the nut on the right bolt is loose', 'the hangers hold
but the flake does not', "the bolt's hanger".
"""

from __future__ import annotations

from advisor.language.index import is_filler
from advisor.language.match import Match

_BY = frozenset("on of at in by round around near behind under beside from to".split())
_BE = frozenset("is are was were look looks seem seems has have feel feels".split())
_AUXILIARY = frozenset("does do did is are was has have will can".split())


def possessive(tokens, at: int) -> bool:
    """Whether the 'is' at a token is the 's of "the bolt's hanger is loose": it touches its noun
    and another verb follows.
    """
    if at <= 0 or tokens[at].text != "is" or tokens[at].start != tokens[at - 1].start:
        return False
    following = [t.text for t in tokens[at + 1 : at + 5]]
    verb = next(
        (
            i
            for i, text in enumerate(following)
            if text in _BE or text in ("will", "does", "do", "not")
        ),
        0,
    )
    return verb > 0 and not any(text in ",;.!?" for text in following[:verb])


def close_up(scene, clause):
    """Where a clause names a thing between two words of one phrase, put the phrase together: 'nut
    … is loose' of the right bolt.
    """
    own_part(scene, clause)
    for mention in [m for m in clause.matches if any(s.form == "entity" for s in m.senses)]:
        start = _gap(scene, clause, mention)
        phrase = _phrase(scene, clause, mention, start) if start is not None else None
        if phrase:
            match, end = phrase
            clause.matches[:] = sorted(
                [
                    m
                    for m in clause.matches
                    if start <= m.start < mention.end or m.end <= match.start or m.start >= end
                ]
                + [match]
            )
            clause.used.update(range(mention.end, end))
            return


def own_part(scene, clause):
    """ "the bolt's hanger is loose": the part with what is said of it, in either order ('loose
    hanger').
    """
    at = next((i for i in range(clause.start + 1, clause.end) if possessive(scene.tokens, i)), None)
    if at is None or at + 1 >= clause.end:
        return  # a way of saying may stand right behind it
    verb = next(
        i for i in range(at + 1, clause.end) if scene.tokens[i].text in _BE or i == clause.end - 1
    )
    part, said = (
        [i for i in range(low, high) if not is_filler(scene.tokens[i].stem)]
        for low, high in ((at + 1, verb), (verb, clause.end))
    )
    for order in (part + said, said + part):
        senses = tuple(
            s
            for s in scene.index.phrases.get(tuple(scene.tokens[i].stem for i in order), ())
            if s.form == "value"
        )
        if senses and part and said:
            clause.matches[:] = sorted(
                [m for m in clause.matches if m.end <= part[0]]
                + [Match(part[0], said[-1] + 1, len(order), senses)]
            )
            return


def _gap(scene, clause, mention):
    """Where 'on the right bolt' begins, or None."""
    start = mention.start
    while (
        start > clause.start
        and scene.tokens[start - 1].text not in _BY
        and mention.start - start < 4
    ):
        start -= 1
    return start - 1 if start > clause.start and scene.tokens[start - 1].text in _BY else None


def _phrase(scene, clause, mention, start):
    """(match, index behind it): the phrase made of the last words before the gap and the first
    after it.
    """
    kinds = {s.entity for s in mention.senses if s.form == "entity"} | {"finding"}
    before = [i for i in range(clause.start, start) if not is_filler(scene.tokens[i].stem)]
    after = [i for i in range(mention.end, clause.end) if not is_filler(scene.tokens[i].stem)]
    for back, ahead in ((2, 2), (2, 1), (1, 2), (1, 1)):
        if len(before) < back or len(after) < ahead:
            continue
        stems = tuple(scene.tokens[i].stem for i in before[-back:] + after[:ahead])
        senses = tuple(
            s for s in scene.index.phrases.get(stems, ()) if s.form == "value" and s.entity in kinds
        )
        if senses:
            return (
                Match(before[-back], start, len(stems), senses, joined=True),
                after[ahead - 1] + 1,
            )
    return None


def likewise(scene, clause, subjects):
    """'… but the flake does': what was just said of one thing, said or denied of another of its
    kind.
    """
    words = [t.text for t in scene.tokens[clause.start : clause.end] if t.is_word]
    last = scene.recent[-1] if scene.recent else None
    if (
        not last
        or not words
        or words[-1] not in _AUXILIARY | {"not", "too"}
        or not any(w in _AUXILIARY for w in words[-2:])
    ):
        return
    attribute = scene.vocabulary.attribute(last.key)
    unspent = set(range(clause.start, clause.end)) - clause.used
    if (
        attribute.type != "yes/no"
        or clause.doubt
        or any(scene.kind_of(i) != attribute.entity for i in subjects)
        or any(scene.tokens[i].text not in _AUXILIARY | {"not", "the", "too"} for i in unspent)
    ):
        return
    value = "no" if clause.negators else "yes"
    clause.used.update(range(clause.start, clause.end))
    clause.negators, clause.pointed = [], False
    for subject in subjects:
        scene.say(subject, last.key, value, scene.words(clause.start, clause.end))
