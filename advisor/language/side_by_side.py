"""Two things side by side, each with a figure: '11 m pitch rope is 30 m'."""

from __future__ import annotations

_IS = ("is", "are", "of", "only")


def of_the_other(scene, clause, quantity, target) -> bool:
    """Whether a figure would be taken for the wrong one of two things side by side: the first is of
    the noun right behind it, the second of the noun right before it.
    """
    if _of_an_earlier_noun(scene, clause, quantity, scene.kind_of(target)):
        return True
    pair = next((p for p in map(_pair(scene, clause), clause.quantities) if p), None)
    if pair is None or quantity.start not in pair:
        return False
    return scene.kind_of(target) not in pair[quantity.start]


def _of_an_earlier_noun(scene, clause, quantity, kind) -> bool:
    """The 2 m of 'pitch tether is 2 m' is no depth of the pitch."""
    at = quantity.start - 1
    while at > clause.start and scene.tokens[at].text in _IS:
        at -= 1
    if at <= clause.start or not quantity.unit:
        return False
    one, other = (_things(scene, i) for i in (at - 1, at))
    return bool(other) and kind in one - other


def _pair(scene, clause):
    """A function from a figure to {where each of two figures begins: the kinds of its noun}, if it
    is the first of two such, else to nothing.
    """
    starts = {q.start for q in clause.quantities if q.unit}

    def pair(first):
        at = first.end
        if not first.unit or at + 2 >= clause.end:
            return {}
        one, other = (_things(scene, i) for i in (at, at + 1))
        after = at + 2
        while after < clause.end and scene.tokens[after].text in _IS:
            after += 1
        apart = bool(one and other) and one.isdisjoint(other)
        return {first.start: one, after: other} if apart and after in starts else {}

    return pair


def _things(scene, at) -> set[str]:
    """The kinds of things that a word names."""
    senses = scene.index.phrases.get((scene.tokens[at].stem,), ())
    return {s.entity for s in senses if s.form == "entity"}
