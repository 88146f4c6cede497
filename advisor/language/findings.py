"""What was seen on a piece of kit: 'two wires sprung by the bottom eye' is one finding with its item, count and place."""
from __future__ import annotations

from advisor.language.senses import choose
from advisor.language.words import FILLERS

_BEFORE_A_PLACE = frozenset("by near at next below above under beside".split())
_PLACING = _BEFORE_A_PLACE | {"on", "in"}


def read_finding(scene, clause, subjects) -> bool:
    """Take a clause as a finding; False if it is none."""
    match, what = _what(scene, clause, subjects)
    if match is None:
        return False
    attribute = scene.vocabulary.attribute("finding.item")
    item = next((i for i in subjects if scene.kind_of(i) in attribute.of), None) or _item(scene, attribute)
    negated = match.denied or any(n < match.start for n in clause.negators)
    words = scene.words(match.start, match.end)
    clause.used.update(range(match.start, match.end))
    vague = item is None and match.stems == 1 and bool({"it", "he", "she", "they", "i", "my"} & {t.text for t in scene.tokens[clause.start:clause.end]})
    if negated or vague or len(what) > 1:
        clause.used.update(clause.negators)
        scene.unclear(scene.words(clause.start, clause.end), [f"finding what: {w}" for w in what if not negated] or ["nothing wrong found"])
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
            senses = choose(scene, clause, match, subjects[-1] if subjects else scene.subject, bool(subjects))
            keys = {s.key for s in senses}
            if keys == {found.key}:
                return match, list(dict.fromkeys(s.value for s in senses))
    return None, ()


def _item(scene, attribute):
    """The item a finding without one is on: the last spoken of, or the only one there is."""
    for identity in (scene.subject, scene.context.last):
        if identity and scene.kind_of(identity) in attribute.of:
            return identity
        if identity and scene.kind_of(identity) == "finding":
            return scene.raw_of(identity, attribute.key)
    known = [i for kind in attribute.of for i in scene.names.get(kind, ())]
    return known[0] if len(known) == 1 else None


def _introduce(scene, item, words):
    kind = scene.kind_of(item)
    if item not in scene.ids(kind):
        attribute = next(a for a in scene.entity(kind).attributes.values() if not a.derived and a.type != "text")
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
    for quantity in list(clause.quantities):
        key = {None: "finding.count", "mm": "finding.size", "in": "finding.size", "cm": "finding.size", "%": "finding.how much"}.get(quantity.unit)
        if key and not any(s.entity == name and s.key == key for s in scene.recent):
            scene.say(name, key, quantity.raw(scene.vocabulary.attribute(key)), scene.words(quantity.start, quantity.end), clause.doubt)
            clause.used.update(range(quantity.start, quantity.end))
            clause.quantities.remove(quantity)
    _place(scene, clause, name, what)


def _after_place(scene, match) -> bool:
    return any(scene.tokens[i].text in _BEFORE_A_PLACE for i in range(max(match.start - 4, 0), match.start))


def _place(scene, clause, name, what):
    rest = [i for i in range(clause.start, clause.end) if scene.tokens[i].text in _PLACING and i not in clause.used]
    if rest and any(i not in clause.used and scene.tokens[i].text not in FILLERS for i in range(rest[0] + 1, clause.end)):
        scene.say(name, "finding.place", scene.words(rest[0], clause.end), scene.words(rest[0], clause.end))
        clause.used.update(range(rest[0], clause.end))
