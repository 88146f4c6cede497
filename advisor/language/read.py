"""Reading a clause: things named, values stated, quantities measured. What is not certain to be meant is not taken."""
from __future__ import annotations

from advisor.language.findings import read_finding
from advisor.language.measures import read_measures
from advisor.language.nouns import mentions, new_name, pronoun, resolve
from advisor.language.readings import readings_of
from advisor.language.values import read_value, state
from advisor.language.words import COMMON


def read_clause(scene, clause):
    """Take all facts of a clause and say what was not understood."""
    before = len(scene.parts)
    named = mentions(scene, clause)
    subjects = _subjects(scene, clause, named)
    if subjects is None:
        return
    if not read_finding(scene, clause, subjects):
        read_measures(scene, clause, subjects)
        for match in clause.matches:
            if not set(range(match.start, match.end)) <= clause.used:
                read_value(scene, clause, match, subjects, any(not m.predicate for m in named) or clause.pointed)
    _there(scene, named, subjects)
    if subjects and (clause.doubt or clause.negators or clause.pointed) and len(scene.parts) == before:
        scene.unclear(scene.words(clause.start, clause.end))
    if subjects:
        scene.subject = subjects[-1]
    _leftover(scene, clause, len(scene.parts) > before)


def _subjects(scene, clause, named):
    """Entities the clause is about; None where that could not be made out (and was said)."""
    subjects, predicates = [], [m for m in named if m.predicate]
    for mention in named:
        clause.used.update(range(mention.start, mention.end))
        if mention.predicate and (subjects or pronoun(scene, clause)):
            continue
        if _denied(scene, clause, mention):
            clause.used -= set(range(mention.start, mention.end))
            continue
        found = _entities(scene, clause, mention)
        if found is None:
            return None
        subjects += [i for i in found if i not in subjects]
    if not [m for m in named if not m.predicate] or not subjects:
        pointed = pronoun(scene, clause)
        if pointed:
            clause.used.update(range(*pointed[1]))
            clause.pointed = True
            if pointed[0] is None:
                return _which(scene, clause)
            subjects = list(pointed[0])
    for mention in predicates:
        if subjects and mention.value and scene.kind_of(subjects[-1]) == mention.kind:
            clause.used.update(range(mention.start, mention.end))
            state(scene, clause, subjects[-1], scene.vocabulary.attribute(mention.key), [mention.value], scene.words(mention.start, mention.end))
    return subjects


def _denied(scene, clause, mention) -> bool:
    before = [scene.tokens[i].text for i in range(max(clause.start, mention.start - 2), mention.start)]
    near = mention.start - 1 if len(before) < 2 or before[-1] not in ("a", "an", "the", "any", "other", "of") else mention.start - 2
    return not mention.every and near in clause.negators


def _which(scene, clause):
    scene.unclear(scene.words(clause.start, clause.end), [scene.vocabulary.split(i)[1] or i for kind in scene.names if scene.entity(kind).many for i in scene.ids(kind)])
    return None


def _entities(scene, clause, mention):
    """Ids of a mention; new things are named, with what their name says of them."""
    if mention.every and not mention.plural and mention.value and not resolve(scene, mention):
        clause.used -= set(range(mention.start, mention.end))
        return []
    if not scene.entity(mention.kind).many:
        return [mention.kind]
    number = next((q for q in clause.quantities if q.end == mention.start and q.unit is None and not q.mode), None)
    found = resolve(scene, mention)
    if found is None:
        ids = [i for i in scene.ids(mention.kind)]
        scene.unclear(scene.words(clause.start, clause.end), [scene.vocabulary.split(i)[1] or i for i in ids])
        return None
    if found and not (number and mention.plural and number.value > len(found)):
        if number and mention.plural:
            clause.quantities.remove(number)
        return found
    if found and not mention.plural:
        return found
    if not found and not mention.value and mention.kind in scene.base.topics.get("kit", ()) and not scene.entity(mention.kind).say_kind and mention.words == mention.head:
        return []     # 'with kit' names nothing
    if not mention.plural:
        return [_introduce(scene, clause, mention, new_name(scene, mention))]
    if not number or not 2 <= number.value <= 8 or number.value.denominator != 1:
        clause.used -= set(range(mention.start, mention.end))
        return []
    clause.quantities.remove(number)
    clause.used.update(range(number.start, number.end))
    return [_introduce(scene, clause, mention, f"{new_name(scene, mention)} {n}".replace(" main ", " ")) for n in range(1, int(number.value) + 1)]


def _introduce(scene, clause, mention, identity) -> str:
    """Name a new thing: the kind and side its name tells, or just that it is there."""
    words = scene.words(mention.start, mention.end)
    others = any(m.start >= mention.end or m.end <= mention.start for m in clause.matches)
    if mention.value:
        scene.say(identity, mention.key, mention.value, words, clause.doubt and not others)
    if mention.side:
        scene.say(identity, *mention.side, words)
    return identity


def _there(scene, named, subjects):
    """Things named for the first time of which nothing was said: that they are there."""
    for identity in subjects:
        kind = scene.kind_of(identity)
        mention = next((m for m in named if m.kind == kind), None)
        if mention and scene.entity(kind).many and identity not in scene.names.get(kind, ()) and (mention.fresh or mention.plural or identity != f"{kind} main"):
            attribute = next(a for a in scene.entity(kind).attributes.values() if not a.derived and a.type != "text")
            scene.say(identity, attribute.key, "unknown", scene.words(mention.start, mention.end))


def _leftover(scene, clause, understood):
    """Words that carried something and were not used."""
    tokens = scene.tokens
    held = clause.used | clause.doubters | {i for q in clause.quantities + clause.clocks if q.start in clause.used for i in range(q.start, q.end)}
    lost = [i for i in range(clause.start, clause.end) if i not in held and tokens[i].text not in COMMON and (tokens[i].is_word or tokens[i].is_number)]
    if understood and not clause.negators:
        lost = [i for i in lost if not _only_named(scene, clause, i)]
    if not lost:
        if set(clause.negators) - clause.used and not clause.doubt:
            scene.unclear(scene.words(clause.start, clause.end))
        return
    matched = any(m.start <= i < m.end for m in clause.matches for i in lost)
    if not understood or len(lost) > 1 or tokens[lost[0]].is_number or matched or set(clause.negators) - clause.used:
        start, end = (clause.start, clause.end) if not understood else (lost[0], lost[-1] + 1)
        scene.unclear(scene.words(start, end), readings_of(scene, [s for m in clause.matches if m.start in lost for s in m.senses if s.form != "entity"], []))


def _only_named(scene, clause, at) -> bool:
    """Whether an unused word only names a thing or a matter, so that nothing is lost with it."""
    match = next((m for m in clause.matches if m.start <= at < m.end), None)
    return match is not None and (all(s.form != "value" for s in match.senses) or any(s.form != "value" and s.key in {x.key for x in scene.recent} for s in match.senses))
