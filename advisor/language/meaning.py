"""What a way of saying means here and now: its facts with their figures, the things they are of,
and what was denied or doubted with it.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

from advisor.language.arguments import argument_of
from advisor.language.clock import Clock, one_day
from advisor.language.forms import forms_of
from advisor.language.named_in import named_in, renamed, withdrawn
from advisor.language.parts import Intent, Said, Unclear
from advisor.language.quantities import sequence_at
from advisor.language.readings import canonical
from advisor.language.stating import another_incident, either
from advisor.language.times import in_order
from advisor.language.tokens import stem, tokenise
from advisor.language.unit_of import bare, units_meant
from advisor.language.words import NUMBER_WORDS, PAST
from advisor.model.names import FINDING_WHAT, INCIDENT_KIND

_FACT = re.compile(r"(?P<thing>[^.=]+)\.(?P<name>[^=]+?) *= *(?P<value>.+)$")
_FAULT = re.compile(r"fault *= *(?P<what>[^@]+?)(?: *@ *(?P<item>.+))?$")
_DETAIL = re.compile(r"fault (?P<name>part|count|size|place|how much) *= *(?P<value>.+)$")
_UNITLESS = re.compile(
    r"\{(?P<slot>bare|n)\} \w+$"
)  # a figure that the way of saying gives its unit
_ENDS = {"least": 0, "most": -1}
_SLOT = re.compile(r"\{([^}]+)\}")


def take(scene, clause) -> None:
    """Take what a clause means that is a way of saying."""
    found = clause.form
    words = scene.words(clause.start, clause.end)
    clause.used.update(range(clause.start, clause.end))
    only = str(found.form.entry.get("only", ""))
    if found.form.happens and _past(scene, clause) or not _spoken_of(scene, only):
        scene.unclear(words)
        return
    fault = ""
    for part in found.form.means:
        if part == "understood":
            continue
        if part == "noted":
            scene.unclear(words)
        elif part.startswith("ask "):
            _ask(scene, part[4:], found, words)
        elif part.startswith("renamed "):
            renamed(scene, part[8:], clause, words)
        elif part.startswith("withdrawn "):
            withdrawn(scene, part[10:], clause, words)
        elif part.startswith("fault ="):
            fault = _fault(scene, clause, part, words)
        elif part.startswith("fault "):
            _detail(scene, clause, part, fault, words)
        elif part.startswith("else "):
            scene.otherwise.append((part[5:], clause, words))
        else:
            _fact(scene, clause, part, words)
    if found.form.asks:
        asked(scene, clause.form.form.asks, clause.start, clause.end)


def _ask(scene, options, found, words) -> None:
    """Ask which of a few facts is meant."""
    scene.unclear(words, [_filled(scene, p.strip(), found) for p in options.split("|")])


def asked(scene, asks, start, end) -> None:
    """Take a question, about what its way of saying tells or what its words name."""
    kind, _, arguments = asks.partition(": ")
    named = tuple(a.strip() for a in arguments.split(",")) if arguments else ()
    named = named or argument_of(scene, kind, start, end)
    last = scene.parts[-1] if scene.parts else None
    if not (isinstance(last, Intent) and last[:2] == (kind, named)):
        scene.parts.append(Intent(kind, named, scene.words(start, end)))


def _spoken_of(scene, kind) -> bool:
    """Whether the line, or the talk before it, is of a thing that a way of saying is only for."""
    if kind in ("", "plan", "supposed", INCIDENT_KIND.entity):
        return True
    last = scene.context.last
    return (
        any(scene.kind_of(s.entity) == kind for s in scene.recent)
        or any(scene.kind_of(i) == kind for i in scene.subjects)
        or bool(last and scene.kind_of(last) == kind)
    )


def _fact(scene, clause, part, words):
    match = _FACT.match(part)
    assert match, part
    thing, name, value = (match[g].strip() for g in ("thing", "name", "value"))
    for entity in targets(scene, thing, clause, words):
        _fact_of(scene, entity, name, value, clause, words)


def _fact_of(scene, entity, name, value, clause, words):
    key = f"{scene.kind_of(entity)}.{name}"
    attribute = scene.vocabulary.attribute(key)
    raw = _value(scene, value, clause.form, attribute)
    if raw is None:
        scene.unclear(words, _half_days(entity, value, clause.form, attribute))
        return
    meant = _units(scene, value, clause.form, attribute)
    if meant:
        scene.unclear(words, [f"{entity} {name}: {text}" for text in meant])
        return
    known = scene.raw_of(entity, key)
    if known is not None and (value == "unknown" or known == raw and key.endswith(".type")):
        return
    if key == INCIDENT_KIND.key:
        happened(scene, entity, raw, words, len(clause.form.form.means) > 1)
        return
    scene.say(entity, key, raw, words, clause.doubt)
    if entity not in scene.subjects and scene.kind_of(entity) not in (
        "group",
        "leader",
        "plan",
        "incident",
        "site",
    ):
        scene.subjects = [entity]


def _half_days(entity, value, found, attribute) -> list[str]:
    """The readings of a time of day of which the line does not tell the half of the day."""
    slot = found.slots.get(value.strip("{}"))
    readings = slot.readings if isinstance(slot, Clock) else ()
    return [canonical(entity, attribute, r) for r in readings]


def _units(scene, value, found, attribute) -> list[str]:
    """The figure in each unit that it may be in, where its way of saying gives it one and others of
    the talk stand in another.
    """
    match = _UNITLESS.match(value)
    slot = found.slots.get(match["slot"]) if match else None
    if slot is None:
        return []
    return [f"{bare(slot)} {unit}" for unit in units_meant(scene, slot, attribute)]


def happened(scene, entity, raw, words, more=False) -> None:
    """Take what happened: beside another trouble of the same line as the second one; after one told
    before it is asked which is meant, where nothing more is told of it.
    """
    attribute = scene.vocabulary.attribute(INCIDENT_KIND.key)
    said = [s.raw for s in scene.recent if s.key == attribute.key and s.raw != "unknown"]
    if said and said[0] != raw:
        second = f"{attribute.entity}.{attribute.second}"
        if attribute.second and not any(s.key == second for s in scene.recent):
            scene.say(entity, second, raw, words)
    elif not said and scene.raw_of(entity, attribute.key) == raw:
        return
    elif not said and another_incident(scene, entity, attribute, [raw]):
        if not more:
            scene.unclear(words, either(scene, entity, attribute, [raw]))
    else:
        scene.say(entity, attribute.key, raw, words)


def otherwise(scene) -> None:
    """Take what a line hints at, where nothing in it says more plainly what happened."""
    hinted, scene.otherwise = scene.otherwise, []
    told = scene.context.facts.get(INCIDENT_KIND)
    if told or any(s.key == INCIDENT_KIND.key for s in scene.recent):
        return
    if not any(not part.startswith("ask ") for part, _, _ in hinted) and _signs(scene):
        return
    for part, clause, words in hinted[:1]:
        if part.startswith("ask "):
            _ask(scene, part[4:], clause.form, words)
            scene.parts.append(Intent("incident", (), words))
        else:
            _fact(scene, clause, part, words)


def _signs(scene) -> bool:
    """Take what happened by its signs, if there are any; what was not understood among their
    words is so no more.
    """
    seen = scene.signs
    if seen is None or _told_already(scene, seen):
        return False
    _no_more(scene, seen)
    whole = scene.words(seen.start, seen.end)
    scene.parts = [p for p in scene.parts if not (isinstance(p, Unclear) and p.words in whole)]
    words = scene.words(*seen.places[0][:2])
    if _plans(scene):
        attribute = scene.vocabulary.attribute(INCIDENT_KIND.key)
        what = next(
            (p.partition("=")[2].strip() for p in seen.sign.means if INCIDENT_KIND.key in p), ""
        )
        if what:
            scene.unclear(whole, either(scene, INCIDENT_KIND.entity, attribute, [what]))
        return True
    for start, end, _ in seen.places:
        scene.by_signs |= {t.start for t in scene.tokens[start:end]}
    for part in seen.sign.means:
        match = _FACT.match(part)
        assert match, part
        thing, name, value = (match[g].strip() for g in ("thing", "name", "value"))
        if scene.raw_of(thing, f"{thing}.{name}") is None:
            scene.say(thing, f"{thing}.{name}", value, words)
    return True


def _plans(scene) -> bool:
    """Whether a line tells so much of a plan or of kit that signs of trouble alone are asked about:
    'two ladders, joined, and they hang against the wall'.
    """
    told = {(s.entity, s.key) for s in scene.recent if s.raw != "unknown"}
    kinds = [scene.kind_of(entity) for entity, _ in told]
    return (
        FINDING_WHAT.partition(".")[0] in kinds
        or sum(kind != INCIDENT_KIND.entity for kind in kinds) >= 2
    )


def _no_more(scene, seen) -> None:
    """Take back what the very words of a sign were taken for: the block of 'a block just fell off'
    is no anchor.
    """
    places = [scene.words(start, end) for start, end, _ in seen.places]
    wrong = {
        (p.entity, p.key)
        for p in scene.parts
        if isinstance(p, Said)
        and scene.kind_of(p.entity) != INCIDENT_KIND.entity
        and any(place in p.words or p.words in place for place in places)
    }
    for entity, key in wrong:
        scene.forget(entity, key)


def _told_already(scene, seen) -> bool:
    """Whether all words of a sign tell facts of the plan: 'can't hear anyone from the bottom'."""
    told = [
        p.words
        for p in scene.parts
        if isinstance(p, Said) and p.raw != "unknown" and p.entity != INCIDENT_KIND.entity
    ]
    return all(
        any(scene.words(start, end) in words for words in told) for start, end, _ in seen.places
    )


def _past(scene, clause) -> bool:
    """Whether a line tells of another time, or of what is only practised: 'last year a lad fell
    off', 'we rehearse a stuck foot'.
    """
    if not scene.supposing and not scene.incident_live:
        forms = forms_of(scene.base)
        if forms.at_another_time(scene.tokens, clause.start, clause.end):
            return True
    start, end = max(clause.start - 6, 0), min(clause.end + 5, len(scene.tokens))
    return any(sequence_at(scene.tokens, at, PAST) for at in range(start, end))


def _value(scene, value, found, attribute) -> Any:
    """The raw value with its figures filled in; None where one is not known."""
    if "|" in value:
        return [v.strip() for v in value.split("|")]
    filled = _filled(scene, value, found, attribute)
    return None if "{" in filled else filled


def _filled(scene, text, found, attribute=None) -> str:
    def figure(match):
        return _figure(scene, match[1], found, attribute) or match[0]

    return _SLOT.sub(figure, text)


def _figure(scene, name, found, attribute) -> str:
    """A figure of the line, one known already, or what is left when one is taken from another."""
    for sign, turn in (("-", -1), ("+", 1)):
        one, minus, other = name.partition(f" {sign} ")
        if minus:
            first, second = (_count(scene, part.strip(), found) for part in (one, other))
            return "" if first is None or second is None else str(first + turn * second)
    name, _, other = name.partition(" as ")
    slot = next((found.slots[n] for n in name.split(" or ") if n in found.slots), None)
    if slot is not None and other in _ENDS:
        return _end(slot, attribute, _ENDS[other])
    if slot is not None and other:
        return _with_unit(slot, found.slots.get(other) if other != name else None, other)
    if slot is None:
        known = _count(scene, name, found)
        return "" if known is None else str(known)
    if isinstance(slot, Clock):
        return _time(scene, slot, found, attribute)
    return slot.raw(attribute) if attribute else str(slot.value)


def _time(scene, slot, found, attribute=None) -> str:
    """A time of day, where the talk leaves no doubt which half of the day is meant."""
    readings = one_day(found.slots.values()).get(slot, slot.readings)
    if len(readings) > 1 and attribute is not None and attribute.type == "time":
        readings = in_order(scene, attribute.key, slot)
    return readings[0] if len(readings) == 1 else ""


def _end(slot, attribute, which) -> str:
    """One end of a range: the youngest of '9 to 12', the heaviest of '50 to 95 kg'."""
    point = slot.points[which if slot.mode == "range" else 0]
    return slot._replace(points=(point,), mode="").raw(attribute)


def _with_unit(slot, other, unit) -> str:
    """A bare number in the unit of another figure, or in one that is given."""
    if slot.unit is None:
        unit = other.unit if other is not None else unit
        return f"{float(slot.value):g} {unit}"
    return f"{float(slot.value):g} {slot.unit}"


def _count(scene, name, found) -> int | None:
    """A whole number: a figure of the line, the minutes of a time of day, a known fact, or the
    number itself.
    """
    if name.isdecimal():
        return int(name)
    slot = found.slots.get(name)
    if isinstance(slot, Clock):
        hour, _, minute = _time(scene, slot, found).partition(":")
        return int(hour) * 60 + int(minute) if minute else None
    if slot is not None:
        whole = slot.value.denominator == 1 and not slot.mode
        return int(slot.value) if whole else None
    for key in name.split(" or "):
        entity, _, _ = key.rpartition(".")
        raw = str(scene.raw_of(entity, key) or "").rstrip("? ") if entity else ""
        raw = raw.removesuffix(" count")
        if raw.isdecimal():
            return int(Fraction(raw))
    return None


def targets(scene, thing, clause, words) -> list[str]:
    """The entities that a fact is of: of '@each anchor' all that the words before speak of, of
    '@first anchor' the one that the way of saying itself names first.
    """
    which, _, kind = thing.removeprefix("@").partition(" ")
    if thing.startswith("@first "):
        return named_in(scene, kind, clause, words)
    if thing.startswith("@each "):
        spoken = [i for i in scene.subjects if scene.kind_of(i) == kind]
        if len(spoken) > 1:
            return spoken
        thing = f"@{kind}"
    found = target(scene, thing, clause, words)
    return [] if found is None else [found]


def target(scene, thing, clause, words) -> str | None:
    """The entity that a fact is of: '@ladder' is the one spoken of, or the only one; None where
    it is not clear which.
    """
    if not thing.startswith("@"):
        return thing
    kind, _, rest = thing[1:].partition(" ")
    kind, name = (thing[1:], "") if thing[1:] in scene.vocabulary.entities else (kind, rest)
    if not scene.entity(kind).many:
        return kind
    if name:
        return _called(scene, kind, name)
    several = [i for i in scene.subjects if scene.kind_of(i) == kind]
    if len(several) > 1:
        scene.unclear(words, [scene.vocabulary.split(i)[1] or i for i in several])
        return None  # 'two slings, one has a knot in it'
    spoken = [i for i in (*reversed(scene.subjects), scene.context.last) if i]
    mine = [i for i in spoken if scene.kind_of(i) == kind]
    known = scene.ids(kind)
    if mine or len(known) == 1:
        return (mine or known)[0]
    if known:
        scene.unclear(words, [scene.vocabulary.split(i)[1] or i for i in known])
        return None
    return f"{kind} main"


def _called(scene, kind, name) -> str:
    """The one thing of a kind whose name or type has these words, or a new one so called."""
    wanted = {stem(t.text) for t in tokenise(name)}
    for identity in scene.ids(kind):
        types = str(scene.raw_of(identity, f"{kind}.type") or "")
        if wanted <= scene.name_words(identity) | {stem(w) for w in types.split()}:
            return identity
    return f"{kind} {name}"


def _fault(scene, clause, part, words) -> str:
    """Name what was found wrong, on the thing it is on."""
    match = _FAULT.match(part)
    assert match, part
    item = _item(scene, match["item"] or "", clause, words)
    what = match["what"].strip().rstrip("?")
    name, number = f"finding {what}"[:50], 2
    while name in scene.names.get("finding", ()) and scene.raw_of(name, "finding.item") not in (
        item,
        None,
    ):
        name, number = f"finding {what} {number}"[:50], number + 1
    scene.say(name, "finding.what", what, words, clause.doubt or match["what"].endswith("?"))
    if item:
        scene.say(name, "finding.item", item, words)
    return name


def _item(scene, wanted, clause, words) -> str | None:
    """The thing a fault is on: named by the pattern ('ladder', 'kit helmet'), else spoken of."""
    attribute = scene.vocabulary.attribute("finding.item")
    if not wanted:
        spoken = [*reversed(scene.subjects), scene.context.last]
        known = [i for kind in attribute.of for i in scene.names.get(kind, ())]
        mine = [i for i in spoken if i and scene.kind_of(i) in attribute.of]
        return (mine or (known if len(known) == 1 else []) or [None])[0]
    kind, _, type_ = wanted.partition(" ")
    if kind not in attribute.of:
        return wanted
    spoken = [i for i in (*reversed(scene.subjects), scene.context.last) if i]
    near = next((i for i in spoken if scene.kind_of(i) in attribute.of), None)
    if near and _could_have(scene, near, kind, type_):
        return near
    said = _own_word(scene, clause, kind) or type_
    label = _label(scene, clause, kind) if not type_ else ""
    named = f"@{kind} {said}" if type_ else f"@{kind}"
    item = f"{kind} {label}" if label else target(scene, named, clause, words)
    if item and item not in scene.names.get(kind, ()):
        _name(scene, item, kind, type_, words)
    return item


def _label(scene, clause, kind) -> str:
    """The thing's own number that stands inside: the 5 of 'one rung of ladder 5 has slipped'."""
    for at in range(clause.start, clause.end - 1):
        senses = scene.index.phrases.get((scene.tokens[at].stem,), ())
        after = scene.tokens[at + 1]
        if any(s.form == "entity" and s.entity == kind and s.rank == 0 for s in senses):
            number = str(NUMBER_WORDS.get(after.text, after.text))
            return number if number.isdecimal() else ""
    return ""


def _own_word(scene, clause, kind) -> str:
    """The speaker's own word for the thing: the 'lid' of 'lids cracked'."""
    for at in range(clause.start, clause.end):
        token = scene.tokens[at]
        senses = scene.index.phrases.get((token.stem,), ())
        if any(s.form == "entity" and s.entity == kind and s.value for s in senses):
            plural = token.text.endswith("s") and token.text[:-1] == token.stem
            return token.stem if plural else token.text
    return ""


def _could_have(scene, item, kind, type_) -> bool:
    """Whether the thing just spoken of may have the part that is found wrong: a ladder's wires are
    no rope's, a helmet's strap is no harness's.
    """
    if scene.kind_of(item) != kind:
        return kind == "kit" and type_ in ("cord", "rope") and scene.kind_of(item) == "tether"
    return not type_ or str(scene.raw_of(item, f"{kind}.type")) in (type_, "unknown", "None")


def _name(scene, item, kind, type_, words):
    types = scene.vocabulary.attribute(f"{kind}.type")
    values = [
        s.value
        for s in scene.index.phrases.get(tuple(t.stem for t in tokenise(type_)), ())
        if types and s.key == types.key and s.form == "value"
    ]
    if values:
        scene.say(item, types.key, values[0], words)
    elif scene.entity(kind).many:
        first = next(
            a for a in scene.entity(kind).attributes.values() if not a.derived and a.type != "text"
        )
        scene.say(item, first.key, "unknown", words)


def _detail(scene, clause, part, fault, words):
    match = _DETAIL.match(part)
    if not fault or not match:
        return
    attribute = scene.vocabulary.attribute(f"finding.{match['name']}")
    raw = _value(scene, match["value"], clause.form, attribute)
    if raw == "words":
        raw = words
    if raw is not None and scene.raw_of(fault, attribute.key) is None:
        scene.say(fault, attribute.key, raw, words, clause.doubt)
