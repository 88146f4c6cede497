"""How old somebody is: an age of a person never lands on a piece of kit, and only one that is told
of a child is taken for the youngest's.
"""

from __future__ import annotations

from advisor.language.readings import canonical
from advisor.language.words import OTHERS

_ANYBODY = frozenset("they them".split())
_OLDEST = frozenset("oldest eldest older over".split())
_UNSURE = OTHERS - _ANYBODY - {"one"}


def age_of_person(scene, clause, quantity, subjects):
    """(attribute, entity, None) for 'one of the kids is 9 years old'; readings where it is not
    clear whose age it is; None where no person is spoken of.
    """
    if quantity.unit != "year" or any(scene.entity(scene.kind_of(i)).many for i in subjects):
        return None
    attribute = _attribute(scene)
    matter = {s.key for m in clause.matches for s in m.senses if s.form == "matter"}
    if attribute is None or attribute.key in matter and "group.children" not in matter:
        return None  # 'youngest is 9' says whose it is
    child, somebody = "group.children" in matter, _somebody(scene, clause)
    if not child and not somebody:
        return None
    texts = {scene.tokens[i].text for i in range(clause.start, clause.end)}
    reading = [] if texts & _OLDEST else [canonical("group", attribute, quantity.raw(attribute))]
    if not child or not reading or len(quantity.points) > 1 or _lower(scene, attribute, quantity):
        return reading or [canonical("group", attribute, "…")]
    return attribute, "group", None


def drop_part(clause, tokens):
    """The one of 'one of the kids is 9 years old' counts nobody."""
    if any(q.unit == "year" for q in clause.quantities):
        for part in [
            q
            for q in clause.quantities
            if q.unit is None and q.value == 1 and q.end < clause.end and tokens[q.end].text == "of"
        ]:
            clause.quantities.remove(part)
            clause.used.update(range(part.start, part.end))


def _attribute(scene):
    """The age that is told of the people."""
    return next(
        (
            scene.vocabulary.attribute(s.key)
            for s in scene.index.phrases.get(("age",), ())
            if s.entity == "group"
        ),
        None,
    )


def _somebody(scene, clause) -> bool:
    """Whether a person is spoken of: by a word for one, or by 'them' where no thing was named
    last.
    """
    texts = {scene.tokens[i].text for i in range(clause.start, clause.end)}
    last = scene.subject or scene.context.last
    people = any(s.entity in ("group", "leader") for m in clause.matches for s in m.senses)
    return (
        bool(texts & _UNSURE)
        or people
        or bool(texts & _ANYBODY)
        and not (last and scene.entity(scene.kind_of(last)).many)
    )


def _lower(scene, attribute, quantity) -> bool:
    """Whether a younger one is known of."""
    known = str(scene.raw_of("group", attribute.key) or "").rstrip("? ").split(" ")[-1]
    return known.isdecimal() and int(known) < quantity.value
