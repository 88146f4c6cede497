"""Saying a fact: denied, doubted, vague, hedged or partial words make nothing good; two values of
one fact in a line make neither.
"""

from __future__ import annotations

from advisor.language.quantities import sequence_at
from advisor.language.readings import canonical
from advisor.language.tokens import stem
from advisor.language.words import HEDGES, NEGATORS, PARTLY, UNDONE, VAGUE_GOOD
from advisor.model.names import GROUP_SIZE

GROUP = GROUP_SIZE.entity
NEAR = 2  # words between two denials that undo each other


def negated_at(clause, match) -> bool:
    """Whether a word of denial reaches the phrase: before it in the clause, or alone at the
    clause's end.
    """
    before = [n for n in clause.negators if n < match.start]
    if len(before) > 1 and before[-1] - before[-2] > NEAR:
        before = before[-1:]  # 'he is not out cold, just will not talk': each has its own
    last = [n for n in clause.negators if n == clause.end - 1 and n not in before]
    return (len(before) + len(last) + match.denied) % 2 == 1


def contradicts(scene, target, attribute, value) -> bool:
    """Whether the same line said another value of the same fact, with no word that puts
    it right.
    """
    said = [
        s.raw
        for s in scene.recent
        if (s.entity, s.key) == (target, attribute.key)
        and s.raw != "unknown"
        and isinstance(s.raw, str)
    ]
    return bool(said) and not scene.correcting and said[-1].rstrip("?") != value


def state(scene, clause, target, attribute, values, words, match=None):
    """Say a value of a target; denied, doubtful or vague words never make a good one."""
    negated = match is not None and negated_at(clause, match)
    if attribute.key == "incident.what" and another_incident(scene, target, attribute, values):
        scene.unclear(words, either(scene, target, attribute, values))
        return
    if _set_aside(scene, clause, target, attribute, values, match):
        return
    if not negated and (
        _undone(scene, clause, match) or _only_of_some(scene, clause, attribute, values[0])
    ):
        scene.unclear(
            scene.words(clause.start, clause.end), [canonical(target, attribute, v) for v in values]
        )
        clause.used.update(range(clause.start, clause.end))
        return
    doubtful = (
        clause.doubt
        or _hedged(scene, clause, match, negated)
        or not negated
        and _vague(scene, attribute, values[0], match)
    )
    if negated:
        clause.used.update(clause.negators)
        values, sure = _denial(attribute, values)
        if values is None:
            scene.unclear(
                scene.words(
                    min(clause.negators + [match.start]), max(clause.negators + [match.end - 1]) + 1
                ),
                [canonical(target, attribute, v) for v in attribute.values if v not in sure],
            )
            return
        doubtful = doubtful or sure is False
    if len(values) > 1 and not attribute.ranks:
        scene.say(target, attribute.key, list(values), words)
    elif contradicts(scene, target, attribute, values[0]):
        second = f"{attribute.entity}.{attribute.second}"
        if attribute.second and not any(s.key == second for s in scene.recent):
            scene.say(target, second, values[0], words)
            return
        if attribute.name.startswith("worst ") and attribute.ranks:
            _worse(scene, target, attribute, values[0], words, doubtful)
            return
        before = [] if attribute.second else [scene.retract(target, attribute.key)]
        scene.unclear(words, [canonical(target, attribute, v) for v in (*before, *values)])
    else:
        scene.say(
            target,
            attribute.key,
            min(values, key=attribute.values.index) if attribute.is_choice else values[0],
            words,
            doubtful or len(values) > 1,
        )


def _hedged(scene, clause, match, negated) -> bool:
    """'not bleeding much': a denial that leaves some of it."""
    inside = [t.text for t in scene.tokens[match.start : match.end]] if match else []
    texts = {scene.tokens[i].text for i in range(clause.start, clause.end)}
    return (negated or any(text in NEGATORS for text in inside)) and bool(
        texts & HEDGES - set(inside)
    )


def _undone(scene, clause, match) -> bool:
    """'the loose rock was cleared': what was so is so no more."""
    inside = {t.text for t in scene.tokens[match.start : match.end]} if match else set()
    return (
        match is not None
        and bool({scene.tokens[i].text for i in range(clause.start, clause.end)} & UNDONE)
        and not inside & UNDONE
    )


def _vague(scene, attribute, value, match) -> bool:
    """'solid', 'fine': good words that tell of no check."""
    inside = {t.text for t in scene.tokens[match.start : match.end]} if match else set()
    if attribute.type == "yes/no" and set(attribute.name.split()) <= inside:
        return False  # 'she can hold on' says just what is asked
    return (
        bool(attribute.ranks)
        and attribute.ranks[attribute.values.index(value)] == 0
        and bool(inside & VAGUE_GOOD)
    )


def _worse(scene, target, attribute, value, words, doubtful):
    """Of two bad signs at once the worse stands."""
    known = str(scene.raw_of(target, attribute.key)).rstrip("?")
    ranks = {v: attribute.ranks[attribute.values.index(v)] for v in (known, value)}
    if ranks[value] > ranks[known]:
        scene.forget(target, attribute.key)
        scene.say(target, attribute.key, value, words, doubtful)
    else:
        scene.unclear(words)


def _another_one(scene, clause, target, attribute, match) -> bool:
    """Whether a kind belongs to one more thing, and not to the one spoken of: 'and one natural
    bridge', behind a bolt.
    """
    before = [t.text for t in scene.tokens[max(match.start - 2, clause.start) : match.start]]
    return (
        attribute.name in ("kind", "type")
        and scene.entity(attribute.entity).many
        and before[-1:] != []
        and before[-1] in ("one", "another")
        and not {"is", "are"} & set(before)
        and target in scene.names.get(attribute.entity, ())
        and not clause.pointed
    )


def _set_aside(scene, clause, target, attribute, values, match) -> bool:
    """Whether a value is not to be taken here, of which what has to be said was said."""
    if _known_side(scene, target, attribute, values):
        return True
    negated = match is not None and negated_at(clause, match)
    if match is not None and _another_one(scene, clause, target, attribute, match):
        start, end = match.start, match.end
    elif (
        _turns_round(scene, target, attribute, values)
        or (negated and _out_of_reach(scene, clause, match))
        or (not negated or attribute.type == "yes/no")
        and _of_one(scene, clause, attribute, values[0], negated)
    ):
        start, end = clause.start, clause.end
    else:
        return False
    clause.used.update(range(start, end))
    scene.unclear(scene.words(start, end))
    return True


def _known_side(scene, target, attribute, values) -> bool:
    """Whether a side only tells which thing is meant: it is known to be its own."""
    fact = scene.context.facts.get((target, attribute.key))
    return attribute.name.endswith("side") and bool(fact) and [fact.raw] == values


def _turns_round(scene, target, attribute, values) -> bool:
    """Whether a thing would be given another side than the one it is known or called by: the
    words of two clauses run together, and nobody knows whose are which.
    """
    if not attribute.name.endswith("side") or scene.correcting or len(values) != 1:
        return False
    known = str(scene.raw_of(target, attribute.key) or "").rstrip("?")
    called = [v for v in attribute.values if stem(v) in scene.name_words(target)]
    return values[0] not in (called or [known]) and bool(called or known not in ("", "unknown"))


def _out_of_reach(scene, clause, match) -> bool:
    """Whether words stand between a denial and a phrase behind which it says nothing of it: 'will
    not turn even after it was cleaned', "nobody below I've locked it", 'not badly breathing is
    fine'.
    """
    before = [n for n in clause.negators if n < match.start]
    if not before:
        return False
    at = before[-1]
    between = [scene.tokens[i].text for i in range(at + 1, match.start)]
    behind = scene.tokens[match.end].text if match.end < clause.end else ""
    anew = scene.tokens[at].text in _NOBODY and any(
        one in _SPEAKERS and two in _VERBS for one, two in zip(between, between[1:])
    )
    spent = between[:1] and between[0] in _SPENT and behind in _VERBS
    return anew or bool(spent) or not _ENDS.isdisjoint(between)


_ENDS = frozenset("after until because since when while although though whereas unless".split())
_NOBODY = frozenset("nobody none nothing no".split())
_SPEAKERS = frozenset("i we he she".split())
_SPENT = frozenset("badly much bad lots".split())
_VERBS = frozenset("is are was were has have had will would can could do does did".split())


def _of_one(scene, clause, attribute, value, negated) -> bool:
    """Whether a good value of all that are led is said of one person: 'he isn't scared of heights'
    says nothing of the others.
    """
    if attribute.entity != GROUP or not attribute.ranks or not attribute.is_choice:
        return False
    rank = attribute.ranks[attribute.values.index(value)]
    good = rank > 0 if negated else rank == 0
    texts = {scene.tokens[i].text for i in range(clause.start, clause.end)}
    return good and bool(texts & _ONE) and not texts & _ALL


_ONE = frozenset("he she him her his".split())
_ALL = frozenset("all everyone everybody each they them both we group".split())


def _only_of_some(scene, clause, attribute, value) -> bool:
    """Whether a value that is not a bad one is said of some only."""
    bad = (
        bool(attribute.ranks) and attribute.ranks[attribute.values.index(value)] > 0
        if attribute.is_choice
        else True
    )
    return not bad and attribute.entity != "incident" and partly(scene, clause)


def partly(scene, clause) -> bool:
    """'half of them have practised': what is said of some."""
    start = clause.start
    while start and scene.tokens[start - 1].text not in ";.!?,":
        start -= 1
    if any(
        scene.tokens[i].text == "except"
        for i in range(clause.end, min(clause.end + 2, len(scene.tokens)))
    ):
        return True
    held = {
        i
        for item in [m for m in clause.matches if m.stems > 1] + clause.quantities
        for i in range(item.start, item.end)
    }
    return any(
        at not in held and sequence_at(scene.tokens, at, PARTLY) for at in range(start, clause.end)
    )


def another_incident(scene, target, attribute, values) -> bool:
    """Whether something else had happened before: which of the two is meant is asked."""
    known = scene.context.facts.get((target, attribute.key))
    return (
        bool(known)
        and not scene.correcting
        and str(scene.raw_of(target, attribute.key)).rstrip("?") not in values
    )


def either(scene, target, attribute, values) -> list:
    """What another incident may mean: that it was this one, or that this one happened as well."""
    second = scene.vocabulary.attribute(f"{attribute.entity}.{attribute.second}")
    meant = [attribute] + ([second] if second else [])
    return [canonical(target, a, v) for a in meant for v in values]


def _denial(attribute, values):
    """(values, sure) left when some are denied: (None, denied) where that cannot be said in one
    word.
    """
    if not attribute.is_choice or len(values) != 1:
        return None, values
    rest = [v for v in attribute.values if v != values[0]]
    if len(rest) == 1:
        return rest, True
    if attribute.ranks and attribute.as_bad_as(attribute.values.index(rest[0])) == sum(
        1 << attribute.values.index(v) for v in rest
    ):
        return [rest[0]], False
    return None, values
