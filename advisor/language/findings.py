"""What was seen on a piece of kit: 'two wires sprung by the bottom eye' is one finding with its
item, count and place.
"""

from __future__ import annotations

from advisor.language.senses import choose
from advisor.language.tokens import stem
from advisor.language.words import FILLERS

_ALL = frozenset("all both each every they them".split())
_BEFORE_A_PLACE = frozenset("by near at next below above under beside".split())
_PLACING = _BEFORE_A_PLACE | {"on", "in"}


def read_finding(scene, clause, subjects) -> bool:
    """Take a clause as a finding; False if it is none."""
    match, what = _what(scene, clause, subjects)
    if match is None:
        return False
    attribute = scene.vocabulary.attribute("finding.item")
    mine = [i for i in subjects if scene.kind_of(i) in attribute.of]
    item = mine[0] if mine else _item(scene, attribute, match)
    texts = {t.text for t in scene.tokens[clause.start : clause.end]}
    several = len(scene.subjects) > 1 and not any(
        scene.kind_of(i) in attribute.of for i in subjects
    )
    if (
        (several or len(mine) > 1)
        and not texts & _ALL
        or (clause.pointed and len(scene.subjects) > 1 and texts & {"one", "another"})
    ):
        item = None  # 'six helmets, and one has a crack'
    if item is None and match.stems == 1 and subjects:
        return False  # 'both bolts pulled hard' tells of no fault
    negated = match.denied or any(n < match.start for n in clause.negators)
    words = scene.words(match.start, match.end)
    clause.used.update(range(match.start, match.end))
    vague = (
        item is None
        and match.stems == 1
        and bool(
            {"it", "he", "she", "they", "i", "my"}
            & {t.text for t in scene.tokens[clause.start : clause.end]}
        )
    )
    if len(what) > 1 and item and not (negated or vague):
        scene.unclear(words, [f"finding {w} what: {w}" for w in what])
        return False  # the rest of the clause may tell more of the thing
    if negated or vague or len(what) > 1:
        clause.used.update(clause.negators)
        scene.unclear(
            scene.words(clause.start, clause.end),
            [f"finding {w} what: {w}" for w in what if not negated] or ["nothing wrong found"],
        )
        return True
    name = _name(scene, what[0], item)
    scene.say(name, "finding.what", what[0], words, clause.doubt or what[0] == "nothing wrong")
    if item:
        _introduce(scene, item, words)
        scene.say(name, "finding.item", item, words)
    _details(scene, clause, name, match)
    return True


def _what(scene, clause, subjects):
    """The match that says what was found, and its values; (None, ()) if nothing was."""
    found = scene.vocabulary.attribute("finding.what")
    if found is None:
        return None, ()
    for match in clause.matches:
        if any(s.key == found.key for s in match.senses):
            senses = choose(
                scene, clause, match, subjects[-1] if subjects else scene.subject, bool(subjects)
            )
            keys = {s.key for s in senses}
            if keys == {found.key} and not _other_form(scene, match, senses):
                return match, list(dict.fromkeys(s.value for s in senses))
    return None, ()


def _other_form(scene, match, senses) -> bool:
    """Whether a single word in -ing was typed in another form: nothing is missing where stones
    'missed everyone'.
    """
    text = scene.tokens[match.start].text
    return (
        match.stems == 1
        and text.endswith("ed")
        and all((s.text or "").endswith("ing") for s in senses)
    )


def _item(scene, attribute, match):
    """The item a finding without one is on: the last spoken of, or the only one there is; what the
    words themselves name as a part of another thing is on that.
    """
    own = _named_by(scene, match) & set(attribute.of)
    last = scene.subject or scene.context.last
    if own and last and scene.kind_of(last) not in own | {"finding"}:
        return _one_of(scene, own)
    if own and last and scene.kind_of(last) == "finding":
        item = scene.raw_of(last, attribute.key)
        if item and scene.kind_of(item) not in own:
            return _one_of(scene, own)
    for identity in (scene.subject, scene.context.last):
        if identity and scene.kind_of(identity) in attribute.of:
            return identity
        if identity and scene.kind_of(identity) == "finding":
            return scene.raw_of(identity, attribute.key)
    known = [i for kind in attribute.of for i in scene.names.get(kind, ())]
    return (
        known[0]
        if len(known) == 1
        and (scene.subject is None or scene.kind_of(known[0]) in _named_by(scene, match))
        else None
    )


def _one_of(scene, kinds):
    """The one thing there is of some kinds, or a new one."""
    known = [i for kind in sorted(kinds) for i in scene.names.get(kind, ())]
    if len(known) == 1:
        return known[0]
    return None if known or len(kinds) > 1 else f"{next(iter(kinds))} main"


def _named_by(scene, match) -> set:
    """Kinds of things that the words of a fault name: the wires of 'wires sprung' are a
    ladder's.
    """
    return {
        s.entity
        for i in range(match.start, match.end)
        for s in scene.index.phrases.get((scene.tokens[i].stem,), ())
        if s.form == "entity"
    }


def _introduce(scene, item, words):
    kind = scene.kind_of(item)
    if item not in scene.ids(kind):
        attribute = next(
            a for a in scene.entity(kind).attributes.values() if not a.derived and a.type != "text"
        )
        scene.say(item, attribute.key, "unknown", words)


def _name(scene, what, item) -> str:
    """The finding already made of the same thing on the same item, or a new name."""
    base, number = f"finding {what}"[:50], 2
    name = base
    while name in scene.names.get("finding", ()):
        if scene.raw_of(name, "finding.item") in (item, None):
            return name
        name, number = f"{base} {number}", number + 1
    return name


def _details(scene, clause, name, what):
    """Part, count, size, share and place of a finding."""
    for match in clause.matches:
        parts = list(dict.fromkeys(s.value for s in match.senses if s.key == "finding.part"))
        if len(parts) == 1 and match is not what and not _after_place(scene, match):
            scene.say(name, "finding.part", parts[0], scene.words(match.start, match.end))
            clause.used.update(range(match.start, match.end))
    _own_part(scene, name, what)
    for quantity in list(clause.quantities):
        key = {
            None: "finding.count",
            "mm": "finding.size",
            "in": "finding.size",
            "cm": "finding.size",
            "%": "finding.how much",
        }.get(quantity.unit)
        if quantity.unit is None and (_numbered(clause, quantity) or _of_a_place(scene, quantity)):
            clause.used.update(range(quantity.start, quantity.end))
            clause.quantities.remove(quantity)
            continue
        if key and not any(s.entity == name and s.key == key for s in scene.recent):
            scene.say(
                name,
                key,
                quantity.raw(scene.vocabulary.attribute(key)),
                scene.words(quantity.start, quantity.end),
                clause.doubt,
            )
            clause.used.update(range(quantity.start, quantity.end))
            clause.quantities.remove(quantity)
    _place(scene, clause, name, what)


def read_place(scene, clause) -> bool:
    """'two wires sprung, by the bottom eye': a clause that only says where the fault just told of
    is.
    """
    last = scene.recent[-1] if scene.recent else None
    if (
        not last
        or scene.kind_of(last.entity) != "finding"
        or scene.raw_of(last.entity, "finding.place")
        or scene.tokens[clause.start].text not in _PLACING
        or clause.doubt
        or clause.negators
    ):
        return False
    if clause.quantities or any(
        s.form == "value" and s.key != "finding.part" and not s.key.endswith(("side", "where"))
        for m in clause.matches
        for s in m.senses
    ):
        return False
    words = scene.words(clause.start, clause.end)
    scene.say(last.entity, "finding.place", words, words)
    clause.used.update(range(clause.start, clause.end))
    return True


def _numbered(clause, quantity) -> bool:
    """The five of 'rung five is bent' tells which, not how many."""
    return any(
        m.end == quantity.start
        and any(s.key == "finding.part" or s.form == "entity" for s in m.senses)
        for m in clause.matches
    )


def _of_a_place(scene, quantity) -> bool:
    """The one of 'at one end' says where, not how many."""
    return {t.text for t in scene.tokens[quantity.end : quantity.end + 1]} <= _SPOTS


_SPOTS = frozenset("end side spot place edge corner".split())


def _after_place(scene, match) -> bool:
    return any(
        scene.tokens[i].text in _BEFORE_A_PLACE for i in range(max(match.start - 4, 0), match.start)
    )


def _own_part(scene, name, what):
    """The part that the words of a fault name themselves: the wires of 'wires sprung' are the
    ladder's side wires.
    """
    item = scene.raw_of(name, "finding.item")
    kind = scene.kind_of(item) if item else None
    if scene.raw_of(name, "finding.part") or not kind:
        return
    for word in [scene.tokens[at].stem for at in range(what.start, what.end)] + [
        stem(w) for w in str(scene.raw_of(name, "finding.what")).split()
    ]:
        senses = scene.index.phrases.get((word,), ())
        parts = {s.value for s in senses if s.form == "value" and s.key == "finding.part"}
        mine = any(s.form == "entity" and s.entity == kind for s in senses)
        if len(parts) == 1 and (mine or stem(next(iter(parts))) == word):
            scene.say(name, "finding.part", parts.pop(), scene.words(what.start, what.end))
            return


def _stops(scene, clause, start, end) -> int:
    """Where a place ends: before a phrase that tells of something else."""
    return next(
        (
            m.start
            for m in clause.matches
            if start + 1 < m.start < end
            and any(s.form == "value" for s in m.senses)
            and not any(
                s.key == "finding.part" or s.key.endswith((" side", ".side", ".where"))
                for s in m.senses
            )
        ),
        end,
    )


def _place(scene, clause, name, what):
    rest = [
        i
        for i in range(clause.start, clause.end)
        if scene.tokens[i].text in _PLACING and i not in clause.used
    ]
    end = what.start if rest and rest[0] < what.start else clause.end
    end = _stops(scene, clause, rest[0], end) if rest else end
    if (
        scene.raw_of(name, "finding.place") is None
        and rest
        and any(
            i not in clause.used and scene.tokens[i].text not in FILLERS
            for i in range(rest[0] + 1, end)
        )
    ):
        clause.used.update(range(rest[0], end))
        if _of_another(scene, clause, name, what, rest[0], end):
            scene.unclear(scene.words(rest[0], end))
            return
        scene.say(
            name,
            "finding.place",
            scene.words(rest[0], end),
            scene.words(rest[0], end),
        )


def _of_another(scene, clause, name, what, start, end) -> bool:
    """Whether a place rather tells of what was said before it, or of what somebody does there."""
    if start < what.start:
        before = {s.entity for s in scene.recent if scene.kind_of(s.entity) == "finding"}
        placed = {s.entity for s in scene.recent if s.key == "finding.place"}
        return start > clause.start or bool(before - placed - {name})
    doing = {t.text for t in scene.tokens[what.end : end]}
    return not doing.isdisjoint(_DOING)


_DOING = frozenset("there somebody someone people they we i he she come comes came had".split())
