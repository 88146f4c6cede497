"""What a thing holds, told by what hangs on it: 'lifeline on bolts 3 and 4'."""

from __future__ import annotations

from advisor.language.words import FILLERS

_ON = frozenset("on off from to".split())
_BEFORE = frozenset("was were had been".split())  # 'lifeline was on bolt 3 last year'
_AND = ("and", "&", "+")
_NUMBERS = frozenset("two three four both all".split())
_HANGING = FILLERS | frozenset(
    "is goes going runs comes hangs hung rigged clipped tied belayed anchored fixed set up come off"
    " straight both all two three four".split()
)


def read_hung(scene, clause, named, subjects) -> None:
    """Take of the things of a clause that they hold what the words before them say hangs there, or
    what hangs on the thing named just before: the bolt 4 of 'lifeline on bolt 3 and bolt 4'.
    """
    things = [m for m in named if scene.entity(m.kind).many and not m.predicate]
    told, scene.hung = scene.hung, ""
    if not things or clause.negators:
        return
    key, start, end = _hanging(scene, clause, things) or _for_it(scene, clause, things[-1])
    if not key and told and _only_named(scene, clause, things):
        key, start, end = told, things[0].start, things[-1].end
    if not key:
        return
    attribute, scene.hung = scene.vocabulary.attribute(key), key
    before = (
        scene.crowd if clause.opener in _AND and scene.naming and start == things[0].start else []
    )
    clause.used.update(range(start, end))
    for subject in dict.fromkeys([*before, *subjects]):
        if scene.kind_of(subject) == attribute.entity:
            scene.say(subject, key, "yes", scene.words(start, end), clause.doubt)


def _hanging(scene, clause, things) -> tuple[str, int, int] | None:
    """(key, start, end) of what hangs on things, by the words before the first of them."""
    texts, first, end = [t.text for t in scene.tokens], things[0], things[-1].end
    on = first.start if texts[first.start] in _ON else first.start - 1  # the 'on' of 'on the left'
    while on > clause.start and texts[on] in FILLERS - _ON | _NUMBERS:
        on -= 1
    if on <= clause.start or texts[on] not in _ON or _counted(scene, clause, end):
        return None
    for phrase, key in scene.base.hearing.get("hung", {}).items():
        words = phrase.split()
        for at in range(clause.start, on):
            behind = at + len(words)
            between = set(texts[behind:on])
            if texts[at:behind] == words and between <= _HANGING and not between & _BEFORE:
                return key, at, end
    return None


def _counted(scene, clause, at) -> bool:
    """Whether a number behind a noun may be which of them is meant."""
    return at < clause.end and scene.tokens[at].is_number


def _for_it(scene, clause, thing) -> tuple[str, int, int]:
    """(key, start, end) of what a thing is for, by the words behind it: '… for the lifeline'; ''
    where none stand there.
    """
    texts = [t.text for t in scene.tokens[: clause.end]]
    at = thing.end + (texts[thing.end : thing.end + 1] in (["is"], ["are"]))
    if texts[at : at + 1] == ["for"]:
        at += 1 + (texts[at + 1 : at + 2] in (["the"], ["my"], ["our"]))
        for phrase, key in scene.base.hearing.get("hung", {}).items():
            words = phrase.split()
            if texts[at : at + len(words)] == words:
                return key, thing.start, at + len(words)
    return "", 0, 0


def _only_named(scene, clause, things) -> bool:
    """Whether a clause that goes on with 'and' only names things."""
    rest = {
        scene.tokens[i].text
        for i in range(clause.start, clause.end)
        if not any(m.start <= i < m.end for m in things)
    }
    return clause.opener in _AND and rest <= FILLERS | _NUMBERS
