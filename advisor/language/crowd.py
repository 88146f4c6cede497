"""Several things at once: 'left bolt and right bolt, both resin, full check done', 'neither
moves', 'all of them'.
"""

from __future__ import annotations

_TWO = frozenset("both neither either".split())
_EVERY = _TWO | frozenset("all each they them these those".split())
_LEAD = frozenset("and so they them are have is of the with well but none not any".split())
_PLURAL = frozenset("are were have do look seem hold carry take both".split())


def crowd_word(scene, clause) -> int | None:
    """The token that says 'all of what was named', where the clause opens with it or says it 'of
    them'.
    """
    at = clause.start
    while at < clause.end and scene.tokens[at].text in _LEAD - {"they", "them"}:
        at += 1
    for here in range(at, clause.end):
        text = scene.tokens[here].text
        if text in _EVERY and (
            here == at
            or scene.tokens[here - 1].text
            in ("are", "they", "of", "have", "is", "do", "moves", "move")
        ):
            return here
    return None


def crowd_of(scene, clause) -> tuple:
    """(ids, token) of the things meant; ids is None where it is not clear which; () where the
    clause does not speak of several.
    """
    at = crowd_word(scene, clause)
    if at is None:
        return ()
    word = scene.tokens[at].text
    if (
        word in ("they", "them", "these", "those")
        and at + 1 < clause.end
        and scene.tokens[at + 1].text in _EVERY
        and len(_known(scene)) > 1
    ):
        word = scene.tokens[at + 1].text
    known = _known(scene)
    if word in ("they", "them", "these", "those", "all", "each") and len(known) < 2:
        return ()
    if not known:
        return ()
    fits = len(known) == 2 if word in _TWO else len(known) > 1
    return (known if fits else None), at


def span_of(scene, at) -> tuple:
    """(start, end) of 'both', 'of them' or 'neither of them' round its word."""
    behind = [t.text for t in scene.tokens[at + 1 : at + 3]]
    return at - (at > 0 and scene.tokens[at - 1].text == "of"), at + 1 + 2 * (
        behind[:1] == ["of"] and behind[1:] in (["them"], ["these"], ["those"])
    )


def _known(scene) -> list:
    """What 'both' may stand for: what was just listed, what the last clause was about, else all of
    that kind.
    """
    for several in (scene.crowd, scene.subjects):
        if len(several) > 1:
            return several
    last = scene.subject or scene.context.last
    kind = scene.kind_of(last) if last else None
    if kind and scene.entity(kind).many:
        return scene.ids(kind)
    kinds = [k for k in scene.names if scene.entity(k).many and len(scene.ids(k)) > 1]
    return scene.ids(kinds[0]) if len(kinds) == 1 and not kind else []


def joined(scene, clause, mention, subjects) -> list:
    """The subject of 'left bolt and right bolt are …': all that were listed, where the verb says
    so.
    """
    after = scene.tokens[mention.end].text if mention.end < clause.end else ""
    if (
        len(subjects) == 1
        and not mention.plural
        and after in _PLURAL
        and scene.crowd
        and scene.kind_of(scene.crowd[0]) == mention.kind
    ):
        return [*(i for i in scene.crowd if i not in subjects), *subjects]
    return subjects


def listed(scene, subjects, only_named: bool):
    """Remember things of one kind that clauses after one another only name."""
    if not only_named:
        scene.naming = False
        return
    kept = (
        scene.crowd
        if scene.naming
        and scene.crowd
        and {scene.kind_of(i) for i in scene.crowd} == {scene.kind_of(i) for i in subjects}
        else []
    )
    scene.crowd, scene.naming = [*kept, *(i for i in subjects if i not in kept)], True
