"""Which attribute a quantity measures: the one its neighbours name, the one just asked, or the
thing's main measure.
"""

from __future__ import annotations

from advisor.facts.units import UNITS
from advisor.facts.values import read_fact
from advisor.faults import Place
from advisor.language.ages import age_of_person, drop_part
from advisor.language.readings import canonical
from advisor.language.side_by_side import of_the_other
from advisor.language.stating import contradicts
from advisor.language.times import read_times
from advisor.language.unit_of import bare, units_meant
from advisor.language.words import COMMON, SEPARATORS
from advisor.model.names import GROUP_SIZE

_MAIN = (
    "depth",
    "length",
    "diameter",
    "size",
    "number",
    "mass",
)  # what a bare measure of a thing means, first that fits
_VERBS = frozenset(
    "is are was were has have had will would keeps keep wants want needs need looks look feels feel"
    " got gets can cannot does do says say who wearing with in".split()
)
_THEM = frozenset("them us you these those".split())
_WHERE = frozenset(
    "up down below above under underneath away left right off back in short to over behind".split()
)
_HOLDING = frozenset("takes hold holds fits fit room space max".split())
_BESIDES = frozenset("with plus including".split())
_TIMED = frozenset("by at until till til before after from since".split())
_LEFT_OVER = frozenset("yet remaining already".split())
_ELSEWHERE = frozenset("below under underneath down bottom top left missing".split())
_PART_OF_IT = frozenset("first last top bottom upper lower final".split())
_SMALL = {"mm": 1, "cm": 10, "in": 25}  # in millimetres
_LONG = ("m", "ft", "yd")
_THIN = 50  # millimetres below which nothing is told that is measured in metres
_FEW = 8  # as many things as are named at once
_AWAY = frozenset(
    "from off apart wide away below above back up over left per behind short shorter longer than"
    " too enough between".split()
)  # a measure to somewhere else


def read_measures(scene, clause, subjects):
    """Take every quantity and time of day of a clause that has its attribute."""
    drop_part(clause, scene.tokens)
    _count_words(scene, clause, subjects)
    read_times(scene, clause)
    for quantity in list(clause.quantities):
        found = (
            []
            if _one_of_several(scene.tokens, quantity)
            or _run_together(scene.tokens, quantity)
            or _of_a_part(scene.tokens, quantity)
            or _one_side(scene.tokens, quantity)
            else _attribute(scene, clause, quantity, subjects)
        )
        if found is None:
            continue
        if isinstance(found, tuple) and of_the_other(scene, clause, quantity, found[1]):
            found = []
        clause.used.update(range(quantity.start, quantity.end))
        if isinstance(found, list):
            clause.open_measure = True
            scene.unclear(_phrase(scene, clause, quantity), found)
            continue
        attribute, target, match = found
        if match:
            clause.used.update(range(match.start, match.end))
        if match and attribute.unit == "count" and _some_of_them(scene, clause, quantity, match):
            continue
        clause.used.update(n for n in clause.negators if n < quantity.start)
        raw = quantity.raw(attribute)
        if contradicts(scene, target, attribute, raw):
            scene.unclear(
                _phrase(scene, clause, quantity),
                [
                    canonical(target, attribute, v)
                    for v in (scene.retract(target, attribute.key), raw)
                ],
            )
            continue
        meant = units_meant(scene, quantity, attribute)
        if meant:
            scene.unclear(
                _phrase(scene, clause, quantity, match),
                [canonical(target, attribute, f"{bare(quantity)} {unit}") for unit in meant],
            )
            continue
        if any(n < quantity.start for n in clause.negators) or _unit_unknown(
            scene, clause, quantity, attribute
        ):
            scene.unclear(_phrase(scene, clause, quantity), [canonical(target, attribute, raw)])
            continue
        for each in [s for s in subjects if scene.kind_of(s) == attribute.entity] or [target]:
            if each != target and contradicts(scene, each, attribute, raw):
                scene.unclear(_phrase(scene, clause, quantity), [canonical(each, attribute, raw)])
                continue
            scene.say(
                each,
                attribute.key,
                raw,
                _phrase(scene, clause, quantity, match),
                clause.doubt and not _put_right(scene, clause, quantity, each, attribute),
            )


def _one_of_several(tokens, quantity) -> bool:
    """The 10 m of '2 x 10 m' is one piece of several."""
    return (
        quantity.start > 1
        and tokens[quantity.start - 1].text == "x"
        and tokens[quantity.start - 2].is_number
    )


def _one_side(tokens, quantity) -> bool:
    """The 2 m of '2 m by 1', and the 1: how wide and how long a place is."""
    sides = ("by", "x")
    behind = [t.text for t in tokens[quantity.end : quantity.end + 2]]
    before = [t.text for t in tokens[max(quantity.start - 2, 0) : quantity.start]]
    number = len(behind) == 2 and tokens[quantity.end + 1].is_number
    return (
        quantity.unit is not None
        and (number and behind[0] in sides)
        or before[-1:] == ["by"]
        and len(before) == 2
        and before[0] in UNITS
    )


def _run_together(tokens, quantity) -> bool:
    """The 10 m of '8,10 m': one figure of two, or the tail of one."""
    at = quantity.start
    return (
        at > 1
        and tokens[at].glued
        and tokens[at - 1].text == ","
        and tokens[at - 1].start < tokens[at - 1].end
        and tokens[at - 2].is_number
    )


def _of_a_part(tokens, quantity) -> bool:
    """'Bar the first 6 foot', 'the top 2 m': the length of a part, and never that of the whole."""
    return (
        quantity.unit is not None
        and quantity.start > 0
        and tokens[quantity.start - 1].text in _PART_OF_IT
    )


def _put_right(scene, clause, quantity, target, attribute) -> bool:
    """'depth should be 60 foot', once another depth was told, corrects it and casts no doubt."""
    texts = [t.text for t in scene.tokens[max(quantity.start - 2, 0) : quantity.start]]
    return (
        texts in (["should", "be"], ["should", "read"])
        and scene.raw_of(target, attribute.key) is not None
        and len(clause.doubters) <= 2
    )


def _unit_unknown(scene, clause, quantity, attribute) -> bool:
    """'12 furlongs': a bare number before a word that is not known here."""
    at = quantity.end
    if (
        quantity.unit
        or attribute.unit == "count"
        or at >= clause.end
        or not scene.tokens[at].is_word
        or scene.tokens[at].text in COMMON
    ):
        return False
    return not any(m.start <= at < m.end for m in clause.matches)


def _phrase(scene, clause, quantity, match=None) -> str:
    start, end = quantity.start, quantity.end
    if match and abs(match.start - end) <= 3 or match and abs(start - match.end) <= 3:
        start, end = min(start, match.start), max(end, match.end)
    return scene.words(start, end)


def _attribute(scene, clause, quantity, subjects):
    """(attribute, entity, cue) for a quantity; readings where several tie; None where none is
    meant.
    """
    cued = age_of_person(scene, clause, quantity, subjects) or _cued(
        scene, clause, quantity, subjects
    )
    far = isinstance(cued, tuple) and cued[2] is not None and _far(quantity, cued[2])
    if (not cued or far) and _to_a_place(scene.tokens, quantity):
        return []
    if _between_two(scene, clause, quantity):
        return []
    part = _part_of_them(scene, quantity)
    if cued and not (part and isinstance(cued, tuple) and cued[0].unit != "count"):
        return cued
    asked = scene.context.asked
    attribute = scene.vocabulary.attribute(asked[1]) if asked else None
    alone = None if subjects else _alone(scene, clause, quantity)
    if alone and (attribute is None or attribute.unit != alone[0].unit):
        return alone
    if (
        attribute
        and attribute.type == "number"
        and quantity.fits(attribute)
        and not subjects
        and _nothing_else(scene, clause, quantity)
    ):
        return attribute, asked[0], None
    behind = {t.text for t in scene.tokens[quantity.end : quantity.end + 1]}
    if part or quantity.unit is None and behind & _BESIDES:
        return None  # 'we are 6 with guide' does not count the guides
    for subject in (
        _owner(scene, clause, quantity, subjects)
        or subjects
        or ([scene.subject] if scene.subject and not _crowd(scene, clause, quantity) else [])
    ):
        before_it = any(
            m.start == quantity.end and any(s.form == "entity" for s in m.senses)
            for m in clause.matches
        )
        if _of_a_noun_of_its_own(scene, clause, quantity, subject):
            return []
        away = not before_it and _AWAY & {t.text for t in scene.tokens[clause.start : clause.end]}
        main = None if away else _main(scene, quantity, subject)
        if main:
            return main, subject, None
    if subjects and quantity.unit is None:
        return None
    return _tie(scene, clause, quantity, subjects)


def _between_two(scene, clause, quantity) -> bool:
    """'on the ledge 15 m ladder': a measure right between two things that may both be so, where
    none behind it has a measure of its own.
    """
    tokens, at, before = scene.tokens, quantity.end, quantity.start - 1
    while at < len(tokens) and tokens[at].start == tokens[at].end:
        at += 1  # a comma that nobody typed
    while before >= 0 and tokens[before].start == tokens[before].end:
        before -= 1
    if quantity.unit is None or before < 0 or at >= len(tokens):
        return False
    if at + 1 < len(tokens) and tokens[at + 1].is_number:
        return False  # 'pitch 12 m ladder 15 m'
    ours = _things(scene, tokens[before].stem)
    ours |= {s.entity for m in clause.matches if m.end == quantity.start for s in m.senses}
    theirs = _things(scene, tokens[at].stem)
    said = {s.entity for s in scene.index.phrases.get((tokens[at].stem,), ())}
    return bool(ours and theirs) and ours.isdisjoint(said)  # a cord is of the tether


def _things(scene, word) -> set[str]:
    """The kinds of things that a word names."""
    return {s.entity for s in scene.index.phrases.get((word,), ()) if s.form == "entity"}


def _far(quantity, match) -> bool:
    return max(match.start - quantity.end, quantity.start - match.end) > 3


def _to_a_place(tokens, quantity) -> bool:
    """'8 m down', '20 ft up the ladder', 'half way down 15 m': where somebody or something is, and
    not how long a thing is.
    """
    behind = [t.text for t in tokens[quantity.end : quantity.end + 3]]
    at = quantity.start - 1
    while at > 0 and tokens[at].start == tokens[at].end:
        at -= 1  # a comma that nobody typed
    before = tokens[at].text if at >= 0 else ""
    return quantity.unit in ("m", "ft", "cm", "in", "yd") and (
        behind[:1]
        and (behind[0] in _WHERE or behind[:2] in (["to", "the"], ["to", "go"]))
        or before in ("up", "down", "fell", "dropped", "above", "below", "on")
    )


def _part_of_them(scene, quantity) -> bool:
    """'one of them carries a knife': a number of those talked of, where no cue says that it is all
    of them.
    """
    behind = [t.text for t in scene.tokens[quantity.end : quantity.end + 2]]
    return quantity.unit is None and len(behind) == 2 and behind[0] == "of" and behind[1] in _THEM


def _some_of_them(scene, clause, quantity, match) -> bool:
    """'one kid is refusing', 'two of them are ill': a number of those who do something is not how
    many there are.
    """
    of_them = scene.tokens[match.start].text == "of"
    return (
        (of_them or quantity.value <= 2)
        and quantity.start < match.end
        and told_more(scene, clause, match)
    )


def told_more(scene, clause, match) -> bool:
    """Whether behind a noun something else is said of it: 'one kid is refusing'."""
    rest = [i for i in range(match.end, clause.end) if scene.tokens[i].is_word]
    verb = bool(rest) and scene.tokens[rest[0]].text in _VERBS
    return (
        verb
        and any(
            m.start > match.end and any(s.form != "matter" for s in m.senses)
            for m in clause.matches
        )
        or verb
        and any(scene.tokens[i].text not in COMMON for i in rest)
    )


def _alone(scene, clause, quantity):
    """'there are 14': a number that a cue makes clear only where the clause says nothing else, and
    no other thing is talked of.
    """
    last = scene.subject or scene.context.last
    if (
        not _nothing_else(scene, clause, quantity)
        or quantity.unit is None
        and quantity.value == 1
        or quantity.unit is None
        and quantity.value <= _FEW
        and last
        and scene.entity(scene.kind_of(last)).many
    ):
        return None  # 'there are 3', after a bolt was talked of
    if quantity.start and scene.tokens[quantity.start - 1].text in _TIMED:
        return None  # 'in by ten'
    texts = [t.text for t in scene.tokens[clause.start : clause.end]]
    if {"em", "them", "under", "below", "underneath"} & set(texts) and _ELSEWHERE & set(texts):
        return None
    for words, senses in scene.index.alone.items():
        if (
            any(tuple(texts[at : at + len(words)]) == words for at in range(len(texts)))
            and len({s.key for s in senses}) == 1
        ):
            attribute = scene.vocabulary.attribute(senses[0].key)
            target = _target(scene, attribute, [])
            measured = (
                quantity.fits_count
                if attribute.unit == "count"
                else quantity.unit is not None and quantity.fits(attribute)
            )
            return (
                (attribute, target, None)
                if target and measured and (attribute.entity != "incident" or scene.incident_live)
                else None
            )
    return None


def _of_a_noun_of_its_own(scene, clause, quantity, subject) -> bool:
    """'a 2 m strop', '20 m of tape': a measure before its own noun is no measure of what was named
    elsewhere.
    """
    tokens, at = scene.tokens, quantity.end
    of = at < len(tokens) and tokens[at].text == "of"
    at += of
    while at < len(tokens) and tokens[at].text == "," and tokens[at].start == tokens[at].end:
        at += 1  # a comma that nobody typed
    before = tokens[quantity.start - 1].text if quantity.start else ""
    if quantity.unit not in _LONG or at >= len(tokens) or not (of or before in _ARTICLES):
        return False
    if not tokens[at].is_word or tokens[at].text in COMMON | SEPARATORS:
        return False
    behind = [m for m in clause.matches if m.start == at]
    kind = scene.kind_of(subject)
    return not any(s.entity == kind for m in behind for s in m.senses)


_ARTICLES = frozenset("a an one another two three four five six".split())


def _owner(scene, clause, quantity, subjects) -> list:
    """The thing whose name follows at once: the pitch of 'a 12 m pitch'."""
    behind = next((m for m in clause.matches if m.start == quantity.end), None)
    if behind is None:
        return []
    while True:  # the pitch of 'a 20 m cave pitch': the last of nouns in a row
        after = next(
            (
                m
                for m in clause.matches
                if m.start == behind.end and any(s.form == "entity" for s in m.senses)
            ),
            None,
        )
        if after is None:
            break
        behind = after
    last = scene.index.phrases.get((scene.tokens[behind.end - 1].stem,), ())
    heads = {s.entity for s in last if s.form == "entity"}
    kinds = {s.entity for s in behind.senses if s.form == "entity"} | heads
    return [s for s in subjects if scene.kind_of(s) in kinds] or [
        k
        for k in kinds
        if not scene.entity(k).many and (not subjects or k in heads) and behind.stems > 1
    ]


def _nothing_else(scene, clause, quantity) -> bool:
    """Whether a clause is no more than one quantity and words without weight."""
    rest = [
        i
        for i in range(clause.start, clause.end)
        if not quantity.start <= i < quantity.end
        and i not in clause.used
        and i not in clause.doubters
    ]
    return len(clause.quantities) == 1 and all(
        scene.tokens[i].text in COMMON or not (scene.tokens[i].is_word or scene.tokens[i].is_number)
        for i in rest
    )


def _crowd(scene, clause, quantity) -> bool:
    """'nine of them': a bare number with no thing of its own."""
    return quantity.unit is None


def _main(scene, quantity, subject):
    """The main measure of a thing in the quantity's unit: a 14 m shaft is 14 m deep."""
    fits = [
        a
        for a in scene.entity(scene.kind_of(subject)).attributes.values()
        if a.type == "number"
        and not a.derived
        and a.name in _MAIN
        and quantity.fits(a)
        and (quantity.unit is not None or a.unit == "count")
        and not (quantity.unit == "mm" and a.unit == "m")
        and not _too_big(a, quantity)
    ]
    if len(fits) > 1 and quantity.unit:
        small = quantity.unit in ("mm", "cm")
        fits = [a for a in fits if (a.unit == "mm") == small] or fits
    return fits[0] if fits else None


def _cued(scene, clause, quantity, subjects):
    """The attribute whose phrase stands nearest to the quantity."""
    best = None
    for match in clause.matches:
        senses = [
            s for s in match.senses if s.form == "matter" and _measurable(scene, s.key, quantity)
        ]
        spoken = scene.kind_of(scene.subject) if scene.subject and not subjects else ""
        stranger = (
            len({s.entity for s in senses}) > 1 and spoken and not _things_fit(senses, spoken)
        )
        senses = _narrow(scene, senses, subjects)
        if (
            not senses
            or stranger
            or not _reaches(scene, clause, quantity, match)
            or quantity.end <= match.start
            and scene.tokens[match.end - 1].text in ("at", "is", "of")
            or _of_another_act(clause, match, senses)
            or _done(scene, match, senses)
            or _singular(scene, match, senses)
            and quantity.start >= match.end
        ):
            continue  # 'a ledge at …' measures what follows
        crowd = scene.tokens[match.start].text == "of"
        if senses[0].key == GROUP_SIZE.key and not _of_the_group(scene, clause, quantity, match):
            continue
        texts = {t.text for t in scene.tokens[clause.start : clause.end]}
        if senses[0].entity == GROUP_SIZE.entity and (
            "still" in texts and _ELSEWHERE & texts or quantity.unit is None and _LEFT_OVER & texts
        ):
            continue  # 'two novices are still at the bottom', 'two kids yet to come up'
        if crowd and (
            quantity.value == 1
            or any(
                m is not match and m.start > match.start and all(s.value != "1" for s in m.senses)
                for m in clause.matches
            )
        ):
            continue  # 'two of them are ill' counts the ill
        distance = (
            match.start - quantity.end
            if match.start >= quantity.end
            else quantity.start - match.end + 0.5
        )
        if not _bare_is_near(scene, clause, quantity, senses, distance):
            continue
        rank = (
            bool(subjects) and senses[0].entity not in {scene.kind_of(s) for s in subjects},
            quantity.unit is None and scene.vocabulary.attribute(senses[0].key).unit != "count",
            distance,
            -match.stems,
        )
        if best is None or rank < best[0]:
            best = (rank, match, senses)
    if best is None:
        return None
    _, match, senses = best
    keys = list(dict.fromkeys(s.key for s in senses))
    asked = scene.context.asked
    if _not_a_count(scene, quantity, match, keys):
        return [
            canonical(
                k.partition(".")[0],
                scene.vocabulary.attribute(k),
                quantity.raw(scene.vocabulary.attribute(k)),
            )
            for k in keys
        ]
    if (
        asked
        and scene.tokens[match.start].text == "of"
        and scene.vocabulary.attribute(asked[1]).unit == "count"
    ):
        return scene.vocabulary.attribute(asked[1]), asked[0], match
    if len(keys) > 1:
        return [
            canonical(
                _target(scene, scene.vocabulary.attribute(k), subjects) or k.partition(".")[0],
                scene.vocabulary.attribute(k),
                quantity.raw(scene.vocabulary.attribute(k)),
            )
            for k in keys
        ]
    attribute = scene.vocabulary.attribute(keys[0])
    return _at(scene, quantity, attribute, match, subjects)


def _at(scene, quantity, attribute, match, subjects):
    """(attribute, entity, cue); a reading to ask for where the cue stands by no such thing."""
    target = _target(scene, attribute, subjects)
    if target and _of_what(scene, match, attribute, subjects):
        return [canonical(target, attribute, quantity.raw(attribute))]
    return (attribute, target, match) if target else None


def _of_what(scene, match, attribute, subjects) -> bool:
    """Whether 'long' stands by no thing that it may be told of: 'the path is 20 m long'."""
    spoken = (*subjects, scene.subject, scene.context.last, *(scene.context.asked or ())[:1])
    return (
        match.stems == 1
        and scene.tokens[match.start].text == "long"
        and attribute.unit == "m"
        and attribute.entity not in {scene.kind_of(i) for i in spoken if i}
    )


def _things_fit(senses, kind) -> bool:
    """Whether a cue that several things share, such as 'long', is one of the thing spoken of."""
    return any(s.entity == kind for s in senses)


def _bare_is_near(scene, clause, quantity, senses, distance) -> bool:
    """Whether a number without a unit stands close enough to the cue of what is measured in one,
    and counts nothing else: the one of 'the way out with one pitch to climb' does.
    """
    if quantity.unit or scene.vocabulary.attribute(senses[0].key).unit in ("count", "ratio", "%"):
        return True
    after = quantity.end
    noun = (
        after < clause.end
        and scene.tokens[after].is_word
        and scene.tokens[after].text not in COMMON
    )
    before = scene.tokens[quantity.start - 1].text if quantity.start > clause.start else ""
    return distance <= 2.5 and not noun and before not in ("of", "with", "and")


def _of_the_group(scene, clause, quantity, match) -> bool:
    """Whether a number of people is how many are led, and not how many are below, share a light or
    fit on a ledge.
    """
    asked = scene.context.asked and scene.context.asked[1] == GROUP_SIZE.key
    texts = [t.text for t in scene.tokens[clause.start : clause.end]]
    before = scene.tokens[quantity.start - 1].text if quantity.start else ""
    if asked:
        return True
    crowd = scene.tokens[match.start].text == "of"
    named = any(
        s.form == "entity" and scene.entity(s.entity).many
        for t in scene.tokens[: quantity.start]
        for s in scene.index.phrases.get((t.stem,), ())
        if t.text.endswith("s")
    )
    if crowd and named:
        return False  # '7 mm cords, 5 of them'
    kit = scene.subject and scene.kind_of(scene.subject) in scene.base.topics.get("kit", ())
    return not (
        before == "between"
        or crowd
        and before in ("on", "for", "to", "from")  # 'trainers on two of them'
        or _HOLDING & set(texts)
        or (crowd and (scene.incident_live or kit or _ELSEWHERE & set(texts)))
    )


def _done(scene, match, senses) -> bool:
    """Whether a noun's word stands as a verb: the 'dropped' of 'dropped down 8 m' is no drop."""
    text = scene.tokens[match.start].text
    return text.endswith("ed") and not any(
        word.endswith("ed") for s in senses for word in (s.text or "").split()[:1]
    )


def _singular(scene, match, senses) -> bool:
    """Whether one person is named where a number tells several: '110' is not how many are led in
    'heaviest novice 110'.
    """
    text = scene.tokens[match.end - 1].text
    return (
        senses[0].entity == GROUP_SIZE.entity
        and match.stems == 1
        and scene.vocabulary.attribute(senses[0].key).unit == "count"
        and f"{text}s" in scene.vocabulary.attribute(senses[0].key).phrases
    )


def _of_another_act(clause, match, senses) -> bool:
    """The time of 'called rescue ten minutes ago' is the call's, not the beginning's."""
    told = [
        s
        for m in clause.matches
        if m is not match and m.stems > 1
        for s in m.senses
        if s.form == "value" and s.entity == "incident"
    ]
    return (
        match.stems == 1
        and senses[0].entity == "incident"
        and bool(told)
        and not any(s.key.endswith((".what", ".caught part", ".still trapped")) for s in told)
    )


def _not_a_count(scene, quantity, match, keys) -> bool:
    """'the kids are 10 to 13' tells ages, 'one other leader' leaves one out: neither is the count
    it looks like.
    """
    if any(scene.vocabulary.attribute(k).unit != "count" for k in keys):
        return False
    between = [t.text for t in scene.tokens[match.end : quantity.start]] + [
        t.text for t in scene.tokens[quantity.end : match.start]
    ]
    inside = [t.text for t in scene.tokens[match.start : match.end]]
    part = "of" in between and bool({"the", "our", "my", "these"} & set(between))
    return (
        part
        or bool(
            {"other", "more", "extra", "another", "are", "with", "plus", "including", "to"}
            & set(between)
        )
    ) and "is" not in inside


def _measurable(scene, key, quantity) -> bool:
    attribute = scene.vocabulary.attribute(key)
    return (
        attribute.type == "number"
        and quantity.fits(attribute)
        and not _too_big(attribute, quantity)
        and not (
            attribute.unit == "m"
            and quantity.unit in _SMALL
            and quantity.value * _SMALL[quantity.unit] < _least(key)
        )
    )


def _least(key: str) -> int:
    """Millimetres below which a figure is not that of a fact told in metres: no pitch is 80 mm
    deep, no ladder 300 mm long.
    """
    return 1000 if key.partition(".")[2] in _MAIN else _THIN


def _too_big(attribute, quantity) -> bool:
    """Whether what is told in metres or feet would be how thick something is."""
    return attribute.unit == "mm" and quantity.unit in _LONG and not _plausible(attribute, quantity)


def _reaches(scene, clause, quantity, match) -> bool:
    """Whether no other quantity stands between the phrase and this one, and the phrase is not
    spent.
    """
    if set(range(match.start, match.end)) <= clause.used and not _names_its_kind(scene, match):
        return False
    low, high = sorted((quantity.start, match.start))
    if quantity.unit is None and _noun_between(scene, clause, quantity.end, match.start):
        return False  # 'eight students, age 15': it is they who are eight
    return not any(low < q.start < high for q in clause.quantities if q is not quantity)


def _noun_between(scene, clause, start, end) -> bool:
    """Whether right behind a number stands a word that is nothing known here, before its cue."""
    return (
        start < end
        and scene.tokens[start].is_word
        and scene.tokens[start].text not in COMMON
        and not any(m.start <= start < m.end for m in clause.matches)
    )


def _names_its_kind(scene, match) -> bool:
    """A word such as 'leaders' is both the people and their number."""
    return any(s.form == "matter" for s in match.senses) and any(
        s.form == "entity" for s in match.senses
    )


def _narrow(scene, senses, subjects):
    """Senses of the thing spoken of; else of things that are there."""
    kinds = {scene.kind_of(s) for s in subjects} or (
        {scene.kind_of(scene.subject)} if scene.subject else set()
    )
    asked = scene.context.asked
    if not scene.incident_live:
        senses = [s for s in senses if s.entity != "incident"]
    for keep in (
        lambda s: asked and s.key == asked[1] and not subjects,
        lambda s: s.entity in kinds,
        lambda s: not scene.entity(s.entity).many or scene.names.get(s.entity),
    ):
        kept = [s for s in senses if keep(s)]
        if kept:
            senses = kept
            break
    return senses


def _target(scene, attribute, subjects):
    entity = scene.entity(attribute.entity)
    if not entity.many:
        return entity.name
    mine = [i for i in subjects if scene.kind_of(i) == entity.name]
    known = (
        mine
        or [
            i
            for i in (
                scene.subject,
                scene.context.asked and scene.context.asked[0],
                scene.context.last,
            )
            if i and scene.kind_of(i) == entity.name
        ]
        or scene.ids(entity.name)
    )
    return (
        known[0]
        if mine or len(known) == 1 or (known and known[0] in (scene.subject, scene.context.last))
        else None
    )


def _tie(scene, clause, quantity, subjects):
    """Readings of a measure that nothing explains; a bare number without any is left over as
    words.
    """
    if quantity.unit is None:
        return None
    behind = next((m for m in clause.matches if m.start == quantity.end), None)
    if behind and any(s.form == "entity" for s in behind.senses) and not subjects:
        return []  # 'a three metre sling': of that, and of nothing else
    kinds = [scene.kind_of(s) for s in subjects] or list(scene.vocabulary.entities)
    fits = [
        a
        for k in kinds
        for a in scene.entity(k).attributes.values()
        if a.type == "number"
        and not a.derived
        and a.change
        and quantity.fits(a)
        and UNITS[a.unit][0] is UNITS[quantity.unit][0]
        and (not scene.entity(k).many or scene.ids(k))
    ]
    fits.sort(key=lambda a: a.name not in _MAIN)
    if (
        len(fits) == 1
        and not subjects
        and _nothing_else(scene, clause, quantity)
        and len(
            [
                a
                for a in scene.vocabulary.by_key.values()
                if a.unit == fits[0].unit and not a.derived
            ]
        )
        == 1
    ):
        return (
            fits[0],
            _target(scene, fits[0], subjects),
            None,
        )  # only one thing is measured in degrees Celsius
    targets = [(a, _target(scene, a, subjects)) for a in fits if _plausible(a, quantity)]
    return [canonical(target, a, quantity.raw(a)) for a, target in targets if target][:3]


def _plausible(attribute, quantity) -> bool:
    """Whether a measure lies in the range of an attribute; a length in millimetres is none of what
    is told in metres.
    """
    if quantity.unit == "mm" and attribute.unit != "mm":
        return False
    _, message = read_fact(attribute, "", quantity.raw(attribute), {}, "chat", Place("chat"))
    return not message


def _count_words(scene, clause, subjects):
    """'a helper' and 'me and': phrases that are a count of one by themselves."""
    for match in clause.matches:
        ones = [
            s
            for s in match.senses
            if s.form == "value"
            and s.value.isdecimal()
            and scene.vocabulary.attribute(s.key).is_number
        ]
        if any(
            q.start == match.end
            or q.start == match.end + 1
            and scene.tokens[match.end].text == "of"
            for q in clause.quantities
        ):
            continue  # 'a party of ten' is not one party
        if {"its", "his", "her", "their"} & {t.text for t in scene.tokens[match.start : match.end]}:
            continue  # 'it won't shut on its own'
        article = match.start > clause.start and scene.tokens[match.start - 1].text in (
            "a",
            "an",
            "one",
            "another",
        )
        if (
            article
            and match.start - 2 >= clause.start
            and scene.tokens[match.start - 2].text in ("is", "are", "was")
        ):
            continue  # 'the belayer is a novice' counts nobody
        counts = (
            [
                s
                for s in match.senses
                if s.form == "matter" and scene.vocabulary.attribute(s.key).unit == "count"
            ]
            if article and not ones
            else []
        )
        senses = ones or (
            counts
            if all(s.form == "matter" and s.text and not s.text.endswith("s") for s in counts)
            else []
        )
        happening = [s for s in senses if s.entity == "incident"] if scene.incident_live else []
        senses = happening or [
            s for s in senses if s.entity != "incident"
        ]  # 'I'm on my own': the one leader of a plan, nobody to help in an incident
        if len({s.key for s in senses}) == 1 and not clause.negators:
            attribute = scene.vocabulary.attribute(senses[0].key)
            target = _target(scene, attribute, subjects)
            if (
                target
                and not any(q.end == match.start for q in clause.quantities)
                and not told_more(scene, clause, match)
            ):
                clause.used.update(range(match.start, match.end))
                scene.say(
                    target,
                    attribute.key,
                    senses[0].value if ones else "1",
                    scene.words(match.start, match.end),
                    clause.doubt,
                )
