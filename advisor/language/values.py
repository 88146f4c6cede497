"""Taking a phrase as the value of a fact: only where it is clear what it says, and of what."""

from __future__ import annotations

from advisor.language.forms import forms_of
from advisor.language.index import is_filler
from advisor.language.measures import told_more
from advisor.language.readings import readings_of
from advisor.language.senses import choose, of_another
from advisor.language.stating import negated_at, state
from advisor.language.tokens import tokenise
from advisor.language.words import COMMON, COMPOUND_OK, NEGATORS, NUMBER_WORDS, OTHERS
from advisor.model.names import CAUGHT_PART, INCIDENT_KIND

_PEOPLE = frozenset(
    ("group.size", "group.children", "group.novices")
)  # 'kids' counts children and names whom is spoken of
_ENDINGS = frozenset("in on at by for".split())
_SPEAKER = frozenset("i me us we myself".split())
_REHEARSED = frozenset("each practised practising practise practice dummy exercise turns".split())
_PLACING = frozenset("from on in at by to over under behind through".split())


def read_value(scene, clause, match, subjects, named):
    """Take one phrase as a fact, if it is clear what it says."""
    meant = [
        i
        for i in subjects
        if scene.kind_of(i) in {s.entity for s in match.senses if s.form != "entity"}
    ] or subjects
    senses = choose(scene, clause, match, meant[-1] if meant else scene.subject, named)
    words = scene.words(match.start, match.end)
    span = set(range(match.start, match.end))
    if not senses or _what_it_is_of(scene, match, senses):
        return
    kinds = {s.entity for s in senses if s.form == "value"}
    keys = {s.key for s in senses if s.form == "value" or s.entity not in kinds}
    if all(s.form == "matter" for s in senses):
        clause.used |= _matter(scene, clause, match, senses, subjects) or set()
        return
    if len(keys) > 1 or _compound(scene, clause, match) or _elsewhere(clause, match, keys):
        clause.used |= span
        scene.unclear(
            _around(scene, clause, match),
            readings_of(scene, senses, subjects, negated_at(clause, match)),
        )
        return
    attribute = scene.vocabulary.attribute(next(iter(keys)))
    if attribute.is_number and told_more(scene, clause, match):
        return  # 'only me has done a ladder' counts no leader
    if not _supported(scene, clause, match, attribute, subjects):
        if scene.tokens[match.start].text not in COMMON | OTHERS or match.stems > 1:
            clause.used |= span
            scene.unclear(
                _around(scene, clause, match),
                readings_of(scene, senses, subjects, negated_at(clause, match)),
            )
        return
    clause.used |= span
    targets = _targets(scene, attribute, subjects, clause)
    if not targets:
        scene.unclear(
            _around(scene, clause, match),
            readings_of(scene, senses, subjects, negated_at(clause, match)),
        )
    for target in targets:
        state(
            scene,
            clause,
            target,
            attribute,
            list(
                dict.fromkeys(
                    s.value for s in senses if s.form == "value" and s.key == attribute.key
                )
            ),
            words,
            match,
        )


def _what_it_is_of(scene, match, senses) -> bool:
    """Whether a single word only says of what something is: the rock of 'a bridge of rock'."""
    before = scene.tokens[match.start - 1].text if match.start else ""
    return (
        match.stems == 1
        and before == "of"
        and all(
            s.form == "value" and scene.vocabulary.attribute(s.key).type == "yes/no" for s in senses
        )
    )


def _supported(scene, clause, match, attribute, subjects) -> bool:
    """Whether more than a common word or a place speaks for a value: what the clause is about,
    what it names, or what was asked.
    """
    first, asked = (
        scene.tokens[match.start].text,
        bool(scene.context.asked and scene.context.asked[1] == attribute.key),
    )
    if any(q.unit and q.end == match.start for q in clause.quantities) and any(
        s.form == "matter" for s in match.senses
    ):
        return False  # the 'thick' of '25 cm thick'
    if (
        attribute.entity == "incident"
        and attribute.key != "incident.what"
        and attribute.type == "choice"
        and match.stems == 1
        and not asked
        and _detail_of_another(clause, match, attribute)
    ):
        return False
    if (
        attribute.key == CAUGHT_PART
        and match.stems == 1
        and not asked
        and not any(
            {INCIDENT_KIND.key, CAUGHT_PART} <= {s.key for s in m.senses} for m in clause.matches
        )
    ):
        return False  # 'she can move her fingers'
    people = {"he", "she", "him", "her"} & {t.text for t in scene.tokens[clause.start : clause.end]}
    if people and match.stems == 1 and attribute.entity in scene.base.topics.get("kit", ()):
        return False  # 'he dropped two metres'
    if attribute.key in scene.contrasted:
        return True
    texts = {t.text for t in scene.tokens[clause.start : clause.end]}
    if (
        attribute.entity == "incident"
        and attribute.type == "choice"
        and first in _PLACING
        and texts & _SPEAKER
        and not texts & OTHERS - {"one"}
        and not asked
    ):
        return False  # 'I'm at the top' is not where the casualty is
    if (
        attribute.entity != "incident"
        and attribute.type == "choice"
        and match.stems == 1
        and any(
            s.key == "incident.what" for m in clause.matches if m is not match for s in m.senses
        )
    ):
        return False  # the client of 'client has passed out'
    weak = (first in _PLACING and attribute.type == "choice") or (
        match.stems == 1 and first in COMMON
    )
    if attribute.key == INCIDENT_KIND.key and _happens_to_nobody(scene, match, texts):
        return False
    past = {"last", "once", "previously"} & {
        t.text for t in scene.tokens[clause.start : clause.end]
    }
    if attribute.key == "incident.what" and past and not scene.incident_live:
        return "last" in [t.text for t in scene.tokens[match.start : match.end]]
    about = [scene.kind_of(i) for i in subjects or [i for i in (scene.subject,) if i]]
    if (
        attribute.entity in about
        or (scene.context.asked and scene.context.asked[1] == attribute.key)
        or (attribute.entity == "incident" and scene.incident_live)
        or any(
            s.form == "matter" and s.key == attribute.key for m in clause.matches for s in m.senses
        )
        or any(k in attribute.name for k in about)
    ):
        return True
    if (
        _foreign(scene, clause, match, attribute)
        or attribute.entity == "leader"
        and of_another(scene, clause)
    ):
        return False
    return not weak and not (
        (match.stems == 1 or attribute.key == "incident.what")
        and not scene.entity(attribute.entity).many
        and _doubtful_company(scene, clause, match, attribute, about)
    )


def _happens_to_nobody(scene, match, texts) -> bool:
    """Whether a word of an incident tells of a thing or of practice: 'ladder dangles in it', 'had
    them hang in the harness two minutes each'.
    """
    told = [s.text for s in match.senses if s.form == "value" and s.text]
    other_form = not scene.tokens[match.start].text.endswith("ing") and all(
        text.endswith("ing") for text in told
    )
    practised = not (scene.incident_live or scene.supposing) and (
        bool(texts & _REHEARSED)
        or forms_of(scene.base).at_another_time(scene.tokens, match.start, match.end)
    )
    return match.stems == 1 and other_form or practised


def _detail_of_another(clause, match, attribute) -> bool:
    """The leg of 'bleeding from the leg' is not what is caught."""
    return any(
        s.form == "value"
        and s.entity == "incident"
        and s.key not in (attribute.key, "incident.what")
        for m in clause.matches
        if m is not match
        for s in m.senses
    )


def _foreign(scene, clause, match, attribute) -> bool:
    """'high pressure over the Azores': words of which no one is known here, in a clause that names
    neither the thing nor the matter.
    """
    if (
        scene.entity(attribute.entity).many
        or match.stems > 2
        or attribute.key == "incident.what"
        and match.stems > 1
    ):
        return False
    held = (
        clause.doubters
        | clause.used
        | {
            i
            for item in clause.matches + clause.quantities + clause.clocks
            for i in range(item.start, item.end)
        }
    )
    for at in range(match.end, clause.end):
        token = scene.tokens[at]
        if (
            token.is_word
            and at not in held
            and token.text not in COMMON
            and token.text not in scene.index.words
            and token.stem not in scene.index.words.values()
            and not token.text.endswith("ly")
        ):
            return scene.line[token.start].isupper() or scene.tokens[at - 1].text in _PLACING | {
                "the"
            }
    return False


def _doubtful_company(scene, clause, match, attribute, about) -> bool:
    """Whether a single word stands beside things, people or words that it may rather belong to."""
    texts = [scene.tokens[i].text for i in range(clause.start, clause.end)]
    if attribute.key == "incident.what":
        return not scene.incident_live and "been" in [
            t.text for t in scene.tokens[match.start : match.end]
        ]
    others = {
        s.entity for m in clause.matches if m is not match for s in m.senses if s.form == "entity"
    }
    crowd = {"all", "everyone", "everybody", "they", "both", "them", "these", "those"} & set(texts)
    if "it" in texts and attribute.entity == "group":
        return True  # 'it is cold' tells of the place
    if (
        about
        or (crowd and attribute.entity not in ("incident", "group"))
        or (others and attribute.entity not in others)
        or (
            {"he", "she", "him", "her"} & set(texts)
            and attribute.entity not in ("incident", "group")
        )
    ):
        return True
    said = scene.tokens[match.end - 1].text
    if all(
        last not in (said, said + "s") and last + "s" != said
        for last in (s.text.split()[-1] for s in match.senses if s.text)
    ):
        return True
    if clause.open_measure or any(
        q.start not in clause.used and (q.unit or q.value != 1) for q in clause.quantities
    ):
        return True  # the step of 'a big step at 6 m'
    held = clause.doubters | {
        i
        for item in clause.matches + clause.quantities + clause.clocks
        for i in range(item.start, item.end)
    }
    return any(
        i not in held and t.is_word and t.text not in COMMON and not t.text.endswith("ly")
        for i, t in enumerate(scene.tokens[clause.start : clause.end], clause.start)
    )


def _elsewhere(clause, match, keys) -> bool:
    """One word that says something of one attribute beside words that name quite another."""
    named = [
        {s.key for s in m.senses}
        for m in clause.matches
        if m is not match
        and m.senses
        and all(s.form == "matter" for s in m.senses)
        and m.start not in clause.used
    ]
    people = {
        k
        for n in named
        for k in n
        if k.partition(".")[0] in {x.partition(".")[0] for x in keys} and k in _PEOPLE
    }
    return match.stems == 1 and bool(named) and not any(keys & n or n & people for n in named)


def _targets(scene, attribute, subjects, clause=None) -> list:
    """The entities an attribute is stated of."""
    entity = scene.entity(attribute.entity)
    if not entity.many:
        return [entity.name]
    mine = [i for i in subjects if scene.kind_of(i) == entity.name]
    if mine:
        return mine
    known = scene.ids(entity.name)
    if clause and any(
        scene.tokens[i].text in ("all", "both", "each") for i in range(clause.start, clause.end)
    ):
        return known
    if scene.naming and len(scene.crowd) > 1 and scene.kind_of(scene.crowd[0]) == entity.name:
        return []  # 'left bolt, right bolt, full check done': of which?
    spoken = [i for i in scene.subjects if scene.kind_of(i) == entity.name]
    if spoken:
        return spoken
    newest = next(
        (s.entity for s in reversed(scene.recent) if scene.kind_of(s.entity) == entity.name), None
    )  # 'two wires sprung, side wire' is of this finding, not of one before
    for identity in (newest, scene.context.asked and scene.context.asked[0], scene.context.last):
        if identity and scene.kind_of(identity) == entity.name:
            return [identity]
    return known if len(known) == 1 else []


def _around(scene, clause, match) -> str:
    negator = [n for n in clause.negators if n < match.start]
    clause.used.update(negator)
    return scene.words(
        min(negator[-1:] + [match.start]), match.end + (_compound(scene, clause, match) and 1)
    )


def _compound(scene, clause, match) -> bool:
    """'water bottle': a phrase that only begins another word's meaning says nothing."""
    at = match.end
    if (
        at < clause.end
        and scene.tokens[at - 1].text in _ENDINGS
        and match.stems > 1
        and scene.tokens[at].is_number
        and all(s.form == "value" for s in match.senses)
    ):
        return True  # the 'done in' of 'done in 2019'
    if (
        at >= clause.end
        or scene.tokens[at].text in COMMON | COMPOUND_OK
        or not scene.tokens[at].is_word
        or scene.tokens[at].text in NEGATORS | frozenset(NUMBER_WORDS)
    ):
        return False
    known = any(m.start <= at < m.end for m in clause.matches) or any(
        q.start <= at < q.end for q in clause.quantities
    )
    return (
        not known
        and not scene.tokens[at].text.endswith("ly")
        and scene.tokens[at].stem not in scene.index.words.values()
    )


def _matter(scene, clause, match, senses, subjects):
    """A phrase that only names a matter: 'no knife' denies it, 'no helper' counts none."""
    if (
        not negated_at(clause, match)
        or len({s.key for s in senses}) > 1
        or _strange_between(scene, clause, match, scene.vocabulary.attribute(senses[0].key))
    ):
        return None
    attribute = scene.vocabulary.attribute(senses[0].key)
    targets, words = (
        _targets(scene, attribute, subjects),
        scene.words(clause.negators[0], match.end),
    )
    said = [t.text for t in scene.tokens[match.start : match.end]]
    if (
        attribute.type == "yes/no"
        and attribute.ranks
        and attribute.values[-1] == "no"
        and not any(s.text == "".join((*said, "s")) for s in senses)
    ):  # 'no signal' is no word on the signals
        for target in targets:
            scene.say(target, attribute.key, "no", words, clause.doubt)
    elif attribute.unit == "count" and attribute.low == 0 and _more(scene, clause, match):
        return None  # 'nobody below her has a spare lamp'
    elif attribute.unit == "count" and attribute.low == 0 and not clause.quantities:
        for target in targets:
            scene.say(target, attribute.key, "0", words, clause.doubt)
    else:
        stems = tuple(
            scene.tokens[i].stem
            for i in range(match.start, match.end)
            if not is_filler(scene.tokens[i].stem)
        )
        values = {
            s.value
            for s in scene.index.phrases.get(("not", *stems), ())
            if s.form == "value" and s.key == attribute.key
        }
        if len(values) != 1 or not targets:  # 'neither bolt is checked' is 'not checked'
            return None
        value = values.pop()
        for target in targets:
            scene.say(target, attribute.key, value, words, clause.doubt)
    return set(range(match.start, match.end)) | set(clause.negators)


def _more(scene, clause, match) -> bool:
    """Whether a thing or a value is told of behind the one that nobody is."""
    return any(
        m.start >= match.end and any(s.form in ("entity", "value") for s in m.senses)
        for m in clause.matches
    )


def _strange_between(scene, clause, match, attribute) -> bool:
    """'no phone signal' is not 'no signal', but 'never agreed any signals' is."""
    own = {
        t.stem
        for phrase in (*attribute.phrases, *attribute.says.values())
        for t in tokenise(phrase)
    }
    before = [n for n in clause.negators if n < match.start]
    return bool(before) and any(
        scene.tokens[i].is_word
        and scene.tokens[i].text not in COMMON
        and i not in clause.used
        and scene.tokens[i].stem not in own
        and not any(m.start <= i < m.end for m in clause.matches)
        for i in range(before[-1] + 1, match.start)
    )
