"""Reading a clause: things named, values stated, quantities measured. What is not certain to be
meant is not taken.
"""

from __future__ import annotations

from advisor.language.crowd import crowd_of, joined, listed, span_of
from advisor.language.findings import read_finding, read_place
from advisor.language.hung import read_hung
from advisor.language.joints import close_up, likewise
from advisor.language.measures import read_measures
from advisor.language.nouns import mentions, new_name, resolve
from advisor.language.parts import Said
from advisor.language.pronouns import pronoun
from advisor.language.readings import canonical, readings_of
from advisor.language.stating import negated_at, state
from advisor.language.values import read_value
from advisor.language.words import ALL_OF, COMMON, FILLERS, NUMBER_WORDS

_PLACES = frozenset("at in by near inside behind past beside outside under".split())
_ONTO = frozenset(
    "on of at in by to from with for over under round through into onto off behind beside near is"
    " are was like than as between along across via using".split()
)
_IDLE = frozenset(
    "and or with on in at by from for to as so then now also too there here one both all each well"
    " just please yes no me".split()
)


def read_clause(scene, clause):
    """Take all facts of a clause and say what was not understood."""
    before = len(scene.parts)
    if read_place(scene, clause):
        return
    close_up(scene, clause)
    named = mentions(scene, clause)
    subjects = _subjects(scene, clause, named)
    if subjects is None:
        return
    read_hung(scene, clause, named, subjects)
    if not read_finding(scene, clause, subjects):
        read_measures(scene, clause, subjects)
        for match in clause.matches:
            if not set(range(match.start, match.end)) <= clause.used:
                if _said_ahead(scene, clause, match, named):
                    _whose(scene, clause, match, subjects)
                    continue
                read_value(
                    scene,
                    clause,
                    match,
                    subjects,
                    any(not m.predicate for m in named) or clause.pointed,
                )
    listed(
        scene,
        subjects,
        bool(subjects)
        and not _told_of(scene, clause, named, before)
        and all(scene.entity(scene.kind_of(i)).many for i in subjects),
    )
    if subjects and len(scene.parts) == before:
        likewise(scene, clause, subjects)
    _there(scene, named, subjects)
    if (
        subjects
        and len(scene.parts) == before
        and (clause.doubt or clause.negators or clause.pointed or _said_something(scene, clause))
    ):
        scene.unclear(scene.words(clause.start, clause.end))
    if subjects:
        scene.subjects = list(subjects)
    _leftover(scene, clause, len(scene.parts) > before)


def _subjects(scene, clause, named):
    """Entities the clause is about; None where that could not be made out (and was said)."""
    crowd = crowd_of(scene, clause)
    told = next((m for m in named if crowd and _told_of_all(scene, crowd[1], m)), None)
    named[:] = [m._replace(predicate=True) if m is told else m for m in named]
    subjects, predicates = [], [m for m in named if m.predicate]
    parted = _apart(scene, named) + _said_before(scene, clause, named)
    scene.strain += 3 * len(parted)
    scene.parted += parted
    for mention in named:
        clause.used.update(range(mention.start, mention.end))
        if mention.predicate and (subjects or crowd or len(named) > 1 or pronoun(scene, clause)):
            continue
        if _denied(scene, clause, mention):
            clause.used -= set(range(mention.start, mention.end))
            continue
        if _kind_of_which(scene, mention, named):
            mine = [i for i in subjects if scene.kind_of(i) == mention.kind]
            attribute = scene.vocabulary.attribute(mention.key)
            scene.unclear(
                scene.words(mention.start, mention.end),
                [canonical(i, attribute, mention.value) for i in mine],
            )
            continue
        found = _entities(scene, clause, mention)
        if found is None:
            return None
        if _says_what(scene, clause, mention):
            clause.used -= set(range(mention.start, mention.end))
        subjects += [i for i in joined(scene, clause, mention, found) if i not in subjects]
    if not [m for m in named if not m.predicate] or not subjects:
        pointed = (crowd[0], span_of(scene, crowd[1])) if crowd else pronoun(scene, clause)
        if pointed:
            clause.used.update(range(*pointed[1]))
            clause.pointed = True
            if pointed[0] is None:
                return _which(scene, clause)
            subjects = list(pointed[0])
    _predicated(scene, clause, subjects, predicates)
    return subjects


_JOINING = frozenset("and or & + , the a an my our its other".split())


def _apart(scene, named) -> list[int]:
    """Where things are named behind something that was said of another: each begins a clause of its
    own.
    """
    things = [m for m in named if not m.predicate]
    return [
        _begin(scene, other.start)
        for one, other in zip(things, things[1:])
        if (
            any(scene.tokens[i].text not in _JOINING for i in range(one.end, other.start))
            or (
                one.kind == other.kind
                and one.side
                and other.side
                and not _coupled(scene, one, other)
            )
        )
        and not _held_on(scene, other)
    ]


def _coupled(scene, one, other) -> bool:
    return any(
        scene.tokens[i].text in ("and", "or", "&", "+", ",") for i in range(one.end, other.start)
    )


def _held_on(scene, mention) -> bool:
    """Whether a word before a noun ties it to what stands before: the 'on' of 'on the bolt'."""
    at = mention.start - 1
    while at > 0 and scene.tokens[at].text in ("a", "an", "the", "my", "our", "this", "that"):
        at -= 1
    return at >= 0 and scene.tokens[at].text in _ONTO


def _said_before(scene, clause, named) -> list[int]:
    """Where a thing is named behind a phrase that rather tells of what the clause before was about:
    'left one fully checked, no bad sign flake is on mud'.
    """
    things = [m for m in named if not m.predicate]
    if not things or not scene.subjects or _held_on(scene, things[0]):
        return []
    first = things[0]
    before = [
        m
        for m in clause.matches
        if m.end <= first.start and m.stems > 1 and any(s.form == "value" for s in m.senses)
    ]
    behind = [m for m in clause.matches if m.start >= first.end] + [
        q for q in clause.quantities if q.start >= first.end
    ]
    return [_begin(scene, first.start)] if before and behind else []


def _told_of_all(scene, at, mention) -> bool:
    """Whether a noun is what all of them are: 'both old spits', 'all of them threads'."""
    between = {t.text for t in scene.tokens[at + 1 : mention.start]}
    return (
        0 < mention.start - at <= 2
        and bool(mention.value)
        and not mention.plural
        and between <= {"a", "an", "the", "of", "them", "are"}
    )


def _kind_of_which(scene, mention, named) -> bool:
    """Whether a kind without a noun, behind a thing of the same sort in one clause, would name a
    new one: 'two bolts resin' is asked about.
    """
    before = [m for m in named if m.kind == mention.kind and m.end <= mention.start]
    return (
        bool(before)
        and not before[-1].value
        and _bare_kind(scene, mention)
        and not _coupled(scene, before[-1], mention)
        and not resolve(scene, mention)
    )


def _bare_kind(scene, mention) -> bool:
    """Whether a mention is only the word for a kind, such as 'resin', with no noun to it."""
    noun = any(
        s.form == "entity" and not s.value
        for t in scene.tokens[mention.start : mention.end]
        for s in scene.index.phrases.get((t.stem,), ())
    )
    return bool(mention.value) and not (noun or mention.plural or mention.side)


def _said_ahead(scene, clause, match, named) -> bool:
    """Whether a value stands before the thing named, and rather tells of what was spoken of before:
    'left bolt backed up there is also a flake', 'right one has surface rust left bolt'.
    """
    first = next((m for m in named if not m.predicate), None)
    if (
        first is None
        or first.every
        or match.end > first.start
        or not scene.entity(first.kind).many
        or _held_on(scene, first)
        or not any(s.form == "value" and s.entity == first.kind for s in match.senses)
    ):
        return False
    between = {scene.tokens[i].text for i in range(match.end, first.start)}
    before = scene.tokens[match.start - 1].text if match.start > clause.start else ""
    return first.fresh and match.end < first.start or bool(between & _ANEW) or before in _HAVING


def _whose(scene, clause, match, subjects):
    """Ask of which thing a value is told."""
    clause.used.update(range(match.start, match.end))
    senses = [s for s in match.senses if s.form == "value"]
    before = [i for i in (*scene.subjects, scene.context.last) if i]
    offers = [
        r
        for each in dict.fromkeys([*before, *subjects])
        for r in readings_of(scene, senses, [each])
    ]
    scene.unclear(scene.words(match.start, match.end), offers)


_ANEW = frozenset("there another somebody someone also it you when".split())
_HAVING = frozenset("is are was were has have had got gets looks".split())


def _begin(scene, at) -> int:
    """Where a noun with its article begins, as a place in the line."""
    while at and scene.tokens[at - 1].text in ("a", "an", "the", "my", "our", "another", "both"):
        at -= 1
    return scene.tokens[at].start


def _predicated(scene, clause, subjects, predicates):
    """'it is a resin bolt': what a noun after 'is' says of what the clause is about."""
    for mention in predicates:
        for subject in [i for i in subjects if mention.value and scene.kind_of(i) == mention.kind]:
            clause.used.update(range(mention.start, mention.end))
            state(
                scene,
                clause,
                subject,
                scene.vocabulary.attribute(mention.key),
                [mention.value],
                scene.words(mention.start, mention.end),
            )


def _said_something(scene, clause) -> bool:
    """Whether words that are more than articles and the like were left over: the 'ok' of 'harness
    is ok'.
    """
    return any(
        i not in clause.used
        and scene.tokens[i].is_word
        and scene.tokens[i].text not in FILLERS | _IDLE
        for i in range(clause.start, clause.end)
    )


def _told_of(scene, clause, named, before) -> bool:
    """Whether a clause said more than that things are there, and what their names tell."""
    inside = [i for m in named for i in range(m.start, m.end)]
    if any(m.predicate for m in named):
        return True
    return (
        len(scene.parts) > before
        and any(
            not set(range(m.start, m.end)) <= set(inside)
            for m in clause.matches
            if m.start in clause.used
        )
        or bool([q for q in clause.quantities if q.start in clause.used])
        or any(not isinstance(p, Said) for p in scene.parts[before:])
    )


def _says_what(scene, clause, mention) -> bool:
    """'it is a cave', 'down a mine': a noun that both names the one thing there is and tells what
    it is.
    """
    before = scene.tokens[mention.start - 1].text if mention.start > clause.start else ""
    return (
        not scene.entity(mention.kind).many
        and (
            before in ("a", "an", "this", "old")
            or mention.end - mention.start == clause.end - clause.start
        )
        and any(
            s.form == "value" and s.entity == mention.kind
            for m in clause.matches
            if m.start >= mention.start and m.end <= mention.end
            for s in m.senses
        )
    )


def _denied(scene, clause, mention) -> bool:
    before = [
        scene.tokens[i].text for i in range(max(clause.start, mention.start - 2), mention.start)
    ]
    near = (
        mention.start - 1
        if len(before) < 2 or before[-1] not in ("a", "an", "the", "any", "other", "of")
        else mention.start - 2
    )
    return not mention.every and near in clause.negators


def _which(scene, clause):
    scene.unclear(
        scene.words(clause.start, clause.end),
        [
            scene.vocabulary.split(i)[1] or i
            for kind in scene.names
            if scene.entity(kind).many
            for i in scene.ids(kind)
        ],
    )
    return


def _entities(scene, clause, mention):
    """Ids of a mention; new things are named, with what their name says of them."""
    if mention.every and not mention.plural and mention.value and not resolve(scene, mention):
        clause.used -= set(range(mention.start, mention.end))
        return []
    if not scene.entity(mention.kind).many:
        return [mention.kind]
    if _some_of_them(scene, mention):
        return _which(scene, clause)
    number = _number_before(scene, clause, mention)
    found = resolve(scene, mention)
    if found is None:
        ids = list(scene.ids(mention.kind))
        scene.unclear(
            scene.words(clause.start, clause.end), [scene.vocabulary.split(i)[1] or i for i in ids]
        )
        return None
    if found and not (number and mention.plural and number.value > len(found)):
        if number and mention.plural:
            clause.quantities.remove(number)
        return found
    return (
        found
        if found and not mention.plural
        else _new_ones(scene, clause, mention, number, bool(found))
    )


def _number_before(scene, clause, mention):
    """The number of things, before their noun or before their size: 'two 10 mm bolts'."""
    start = mention.start
    size = next((q for q in clause.quantities if q.end == start and q.unit == "mm"), None)
    if size and mention.kind not in scene.base.topics.get("kit", ()):
        clause.quantities.remove(size)
        start = size.start
    return next(
        (q for q in clause.quantities if q.end == start and q.unit is None and not q.mode), None
    )


def _some_of_them(scene, mention) -> bool:
    """'one of the bolts': some of several, but which?"""
    before = [t.text for t in scene.tokens[max(mention.start - 3, 0) : mention.start]]
    return (
        mention.plural
        and len(before) == 3
        and before[1] == "of"
        and before[2] in ("the", "my", "our", "these", "those")
        and before[0] not in ALL_OF | {"none"}
    )


def _new_ones(scene, clause, mention, number, found):
    """Ids of things named for the first time: one, or as many as the number before them says."""
    if (
        not found
        and not mention.value
        and mention.kind in scene.base.topics.get("kit", ())
        and not scene.entity(mention.kind).say_kind
        and mention.words == mention.head
    ):
        return []  # 'with kit' names nothing
    if not mention.plural and mention.value and not found and _only_a_place(scene, clause, mention):
        clause.used -= set(range(mention.start, mention.end))
        return []
    told = _kind_told(scene, clause, mention)
    if told is not None:
        return told
    if not mention.plural or not number and not found and _one_is(scene, clause, mention):
        return [_introduce(scene, clause, mention, new_name(scene, mention))]
    if not number or not 2 <= number.value <= 8 or number.value.denominator != 1:
        clause.used -= set(range(mention.start, mention.end))
        return []
    clause.quantities.remove(number)
    clause.used.update(range(number.start, number.end))
    return [
        _introduce(scene, clause, mention, f"{new_name(scene, mention)} {n}".replace(" main ", " "))
        for n in range(1, int(number.value) + 1)
    ]


def _kind_told(scene, clause, mention):
    """'two bolts, resin': a kind with no noun of its own, behind things whose kind is open, names
    no new one; ids, or None for a new thing.
    """
    noun = any(
        s.form == "entity" and not s.value
        for t in scene.tokens[mention.start : mention.end]
        for s in scene.index.phrases.get((t.stem,), ())
    )
    if (
        not mention.value
        or noun
        or mention.plural
        or mention.fresh
        or mention.side
        or mention.words != mention.head
    ):
        return None
    spoken = [i for i in scene.subjects if scene.kind_of(i) == mention.kind]
    if (
        not spoken
        and scene.context.last
        and scene.kind_of(scene.context.last) == mention.kind
        and not scene.recent
    ):
        spoken = scene.ids(mention.kind)
    open_ = [i for i in spoken if scene.raw_of(i, mention.key) in (None, "unknown")]
    if not open_ or clause.negators or len(open_) == 1 and _one_more(scene, mention):
        return None
    near = scene.tokens[max(clause.start - 2, 0) : mention.end + 1]
    if len(open_) > 1 and {"one", "other"} & {t.text for t in near}:
        scene.unclear(
            scene.words(clause.start, clause.end),
            [canonical(i, scene.vocabulary.attribute(mention.key), mention.value) for i in open_],
        )
        clause.used.update(range(clause.start, clause.end))
        return []
    for identity in open_:
        scene.forget_unknown(identity, mention.key)
        scene.say(
            identity,
            mention.key,
            mention.value,
            scene.words(mention.start, mention.end),
            clause.doubt,
        )
    return open_


def _one_more(scene, mention) -> bool:
    """'and one natural bridge': a thing more, beside the one spoken of."""
    before = scene.tokens[mention.start - 1].text if mention.start else ""
    return before in ("one", "another")


def _one_is(scene, clause, mention) -> bool:
    """'self drillers rusted', 'lids cracked': an 's without its apostrophe, and no verb."""
    if any(m.end == mention.start for m in clause.matches):
        return False  # the cords of 'tether cords'
    return any(
        m.start == mention.end and any(s.form == "value" for s in m.senses) for m in clause.matches
    )


def _only_a_place(scene, clause, mention) -> bool:
    """'at the van', 'by the tree': where something is done, when no such thing was named."""
    before = [t.text for t in scene.tokens[max(mention.start - 2, clause.start) : mention.start]]
    behind = scene.tokens[mention.end].text if mention.end < clause.end else ""
    noun = any(
        s.form == "entity" and not s.value
        for s in scene.index.phrases.get((scene.tokens[mention.end - 1].stem,), ())
    )
    if (
        not (noun or mention.fresh or mention.side or scene.ids(mention.kind))
        and behind in ("at", "everywhere", "about", "around")
        and not scene.context.asked
    ):
        return True  # the timber of 'timber at the top'
    return len(before) == 2 and before[0] in _PLACES and before[1] in ("the", "my", "our")


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
        if (
            mention
            and scene.entity(kind).many
            and identity not in scene.names.get(kind, ())
            and not (mention.fresh and _of_any(scene))
            and (mention.fresh or mention.plural or identity != f"{kind} main")
        ):
            attribute = next(
                a
                for a in scene.entity(kind).attributes.values()
                if not a.derived and a.type != "text"
            )
            scene.say(identity, attribute.key, "unknown", scene.words(mention.start, mention.end))


def _of_any(scene) -> bool:
    """Whether a line speaks of a thing of any kind, as 'never climbed a wire ladder' does."""
    texts = {t.text for t in scene.tokens}
    return bool(texts & {"never", "ever", "none", "nobody", "before", "climbed", "onto", "why"})


def _leftover(scene, clause, understood):
    """Words that carried something and were not used."""
    tokens = scene.tokens
    held = (
        clause.used
        | clause.doubters
        | {
            i
            for q in clause.quantities + clause.clocks
            if q.start in clause.used
            for i in range(q.start, q.end)
        }
    )
    lost = [
        i
        for i in range(clause.start, clause.end)
        if i not in held
        and tokens[i].text not in COMMON
        and (tokens[i].is_word or tokens[i].is_number)
    ]
    if understood and not clause.negators:
        lost = [i for i in lost if not _only_named(scene, clause, i)]
    if not lost:
        if set(clause.negators) - clause.used and not clause.doubt:
            scene.unclear(scene.words(clause.start, clause.end))
        return
    matched = any(m.start <= i < m.end for m in clause.matches for i in lost)
    if (
        not understood
        or len(lost) > 1
        or tokens[lost[0]].is_number
        or tokens[lost[0]].text in NUMBER_WORDS
        or matched
        or set(clause.negators) - clause.used
    ):
        start, end = (clause.start, clause.end) if not understood else (lost[0], lost[-1] + 1)
        left = [m for m in clause.matches if m.start in lost]
        scene.unclear(
            scene.words(start, end),
            [
                r
                for m in left
                for r in readings_of(
                    scene, [s for s in m.senses if s.form != "entity"], [], negated_at(clause, m)
                )
            ],
        )


def _only_named(scene, clause, at) -> bool:
    """Whether an unused word only names a thing or a matter, so that nothing is lost with it."""
    match = next((m for m in clause.matches if m.start <= at < m.end), None)
    return match is not None and (
        all(s.form != "value" for s in match.senses)
        or any(s.form != "value" and s.key in {x.key for x in scene.recent} for s in match.senses)
    )
