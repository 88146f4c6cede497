"""Taking a phrase as the value of a fact: only where it is clear what it says, and of what; denied, doubted or vague words make nothing good."""
from __future__ import annotations

from advisor.language.readings import canonical, readings_of
from advisor.language.senses import choose
from advisor.language.words import COMMON, COMPOUND_OK, NEGATORS, NUMBER_WORDS, VAGUE_GOOD

_PLACING = frozenset("from on in at by to over under behind through".split())


def read_value(scene, clause, match, subjects, named):
    """Take one phrase as a fact, if it is clear what it says."""
    senses = choose(scene, clause, match, subjects[-1] if subjects else scene.subject, named)
    words = scene.words(match.start, match.end)
    span = set(range(match.start, match.end))
    if not senses:
        return
    kinds = {s.entity for s in senses if s.form == "value"}
    keys = {s.key for s in senses if s.form == "value" or s.entity not in kinds}
    if all(s.form == "matter" for s in senses):
        clause.used |= _matter(scene, clause, match, senses, subjects) or set()
        return
    if len(keys) > 1 or _compound(scene, clause, match) or _elsewhere(clause, match, keys):
        clause.used |= span
        scene.unclear(_around(scene, clause, match), readings_of(scene, senses, subjects))
        return
    attribute = scene.vocabulary.attribute(next(iter(keys)))
    if not _supported(scene, clause, match, attribute, subjects):
        if scene.tokens[match.start].text not in COMMON or match.stems > 1:
            clause.used |= span
            scene.unclear(_around(scene, clause, match), readings_of(scene, senses, subjects))
        return
    clause.used |= span
    targets = _targets(scene, attribute, subjects, clause)
    if not targets:
        scene.unclear(_around(scene, clause, match), readings_of(scene, senses, subjects))
    for target in targets:
        state(scene, clause, target, attribute, list(dict.fromkeys(s.value for s in senses if s.form == "value" and s.key == attribute.key)), words, match)


def _supported(scene, clause, match, attribute, subjects) -> bool:
    """Whether more than a common word or a place speaks for a value: what the clause is about, what it names, or what was asked."""
    first = scene.tokens[match.start].text
    if any(q.unit and q.end == match.start for q in clause.quantities) and any(s.form == "matter" for s in match.senses):
        return False     # the 'thick' of '25 cm thick'
    weak = (first in _PLACING and attribute.type == "choice") or (match.stems == 1 and first in COMMON)
    past = {"last", "once", "previously"} & {t.text for t in scene.tokens[clause.start:clause.end]}
    if attribute.key == "incident.what" and past and not scene.incident_live:
        return "last" in [t.text for t in scene.tokens[match.start:match.end]]
    about = [scene.kind_of(i) for i in subjects or [i for i in (scene.subject,) if i]]
    if (attribute.entity in about or (scene.context.asked and scene.context.asked[1] == attribute.key) or (attribute.entity == "incident" and scene.incident_live)
            or any(s.form == "matter" and s.key == attribute.key for m in clause.matches for s in m.senses) or any(k in attribute.name for k in about)):
        return True
    return not weak and not ((match.stems == 1 or attribute.key == "incident.what") and not scene.entity(attribute.entity).many and _doubtful_company(scene, clause, match, attribute, about))


def _doubtful_company(scene, clause, match, attribute, about) -> bool:
    """Whether a single word stands beside things, people or words that it may rather belong to."""
    texts = [scene.tokens[i].text for i in range(clause.start, clause.end)]
    if attribute.key == "incident.what":
        return not scene.incident_live and "been" in [t.text for t in scene.tokens[match.start:match.end]]
    others = {s.entity for m in clause.matches if m is not match for s in m.senses if s.form == "entity"}
    crowd = {"all", "everyone", "everybody", "they", "both"} & set(texts)
    if about or (crowd and attribute.entity not in ("incident", "group")) or (others and attribute.entity not in others) or ({"he", "she", "him", "her"} & set(texts) and attribute.entity not in ("incident", "group")):
        return True
    if all(s.text.split()[-1:] != [scene.tokens[match.end - 1].text] for s in match.senses):
        return True
    held = clause.doubters | {i for item in clause.matches + clause.quantities + clause.clocks for i in range(item.start, item.end)}
    return any(i not in held and t.is_word and t.text not in COMMON and not t.text.endswith("ly") for i, t in enumerate(scene.tokens[clause.start:clause.end], clause.start))


def _elsewhere(clause, match, keys) -> bool:
    """One word that says something of one attribute beside words that name quite another."""
    named = [{s.key for s in m.senses} for m in clause.matches if m is not match and m.senses and all(s.form == "matter" for s in m.senses) and not m.start in clause.used]
    return match.stems == 1 and bool(named) and not any(keys & n for n in named)


def _targets(scene, attribute, subjects, clause=None) -> list:
    """The entities an attribute is stated of."""
    entity = scene.entity(attribute.entity)
    if not entity.many:
        return [entity.name]
    mine = [i for i in subjects if scene.kind_of(i) == entity.name]
    if mine:
        return mine
    known = scene.ids(entity.name)
    if clause and any(scene.tokens[i].text in ("all", "both", "each") for i in range(clause.start, clause.end)):
        return known
    for identity in (scene.subject, scene.context.asked and scene.context.asked[0], scene.context.last):
        if identity and scene.kind_of(identity) == entity.name:
            return [identity]
    return known if len(known) == 1 else []


def _around(scene, clause, match) -> str:
    negator = [n for n in clause.negators if n < match.start]
    clause.used.update(negator)
    return scene.words(min(negator[-1:] + [match.start]), match.end + (_compound(scene, clause, match) and 1))


def _compound(scene, clause, match) -> bool:
    """'water bottle': a phrase that only begins another word's meaning says nothing."""
    at = match.end
    if at >= clause.end or scene.tokens[at].text in COMMON | COMPOUND_OK or not scene.tokens[at].is_word or scene.tokens[at].text in NEGATORS | frozenset(NUMBER_WORDS):
        return False
    known = any(m.start <= at < m.end for m in clause.matches) or any(q.start <= at < q.end for q in clause.quantities)
    return not known and not scene.tokens[at].text.endswith("ly") and scene.tokens[at].stem not in scene.index.words.values()


def _matter(scene, clause, match, senses, subjects):
    """A phrase that only names a matter: 'no knife' denies it, 'no helper' counts none."""
    if not negated_at(clause, match) or len({s.key for s in senses}) > 1:
        return None
    attribute = scene.vocabulary.attribute(senses[0].key)
    targets, words = _targets(scene, attribute, subjects), scene.words(clause.negators[0], match.end)
    if attribute.type == "yes/no" and attribute.ranks and attribute.values[-1] == "no":
        for target in targets:
            scene.say(target, attribute.key, "no", words, clause.doubt)
    elif attribute.unit == "count" and attribute.low == 0 and not clause.quantities:
        for target in targets:
            scene.say(target, attribute.key, "0", words, clause.doubt)
    else:
        return None
    return set(range(match.start, match.end)) | set(clause.negators)


def negated_at(clause, match) -> bool:
    """Whether a word of denial reaches the phrase: before it in the clause, or alone at the clause's end."""
    return (sum(n < match.start or n == clause.end - 1 for n in clause.negators) + match.denied) % 2 == 1


def contradicts(scene, target, attribute, value) -> bool:
    """Whether the same line said another value of the same fact, with no word that puts it right."""
    said = [s.raw for s in scene.recent if (s.entity, s.key) == (target, attribute.key) and s.raw != "unknown" and isinstance(s.raw, str)]
    return bool(said) and not scene.correcting and said[-1].rstrip("?") != value


def state(scene, clause, target, attribute, values, words, match=None):
    """Say a value of a target; denied, doubtful or vague words never make a good one."""
    doubtful, negated = clause.doubt, match is not None and negated_at(clause, match)
    if match and not negated and any(t.text in VAGUE_GOOD for t in scene.tokens[match.start:match.end]) and attribute.ranks and attribute.ranks[attribute.values.index(values[0])] == 0:
        doubtful = True
    if negated:
        clause.used.update(clause.negators)
        values, sure = _denial(attribute, values)
        if values is None:
            scene.unclear(scene.words(min(clause.negators + [match.start]), max(clause.negators + [match.end - 1]) + 1),
                          [canonical(target, attribute, v) for v in attribute.values if v not in sure])
            return
        doubtful = doubtful or sure is False
    if len(values) > 1 and not attribute.ranks:
        scene.say(target, attribute.key, list(values), words)
    else:
        if contradicts(scene, target, attribute, values[0]):
            scene.unclear(words, [canonical(target, attribute, v) for v in values])
            return
        mildest = min(values, key=attribute.values.index) if attribute.is_choice else values[0]
        scene.say(target, attribute.key, mildest, words, doubtful or len(values) > 1)


def _denial(attribute, values):
    """(values, sure) left when some are denied: (None, denied) where that cannot be said in one word."""
    if not attribute.is_choice or len(values) != 1:
        return None, values
    rest = [v for v in attribute.values if v != values[0]]
    if len(rest) == 1:
        return rest, True
    if attribute.ranks and attribute.as_bad_as(attribute.values.index(rest[0])) == sum(1 << attribute.values.index(v) for v in rest):
        return [rest[0]], False
    return None, values
