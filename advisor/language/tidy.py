"""What was not understood, put so that it can be answered: no stretch twice, nothing absurd
offered, and one question at most.
"""

from __future__ import annotations

from advisor.language.parts import Said, Unclear
from advisor.language.tokens import tokenise
from advisor.language.words import LIGHT, VAGUE_GOOD
from advisor.model.names import FINDING_PART

_MENDS = frozenset(("not", "sorry", "actually", "correction", "no", "rather", "mean"))


def tidied(scene, parts: list) -> list:
    """The parts of a line with what was not understood told once, and asked about once."""
    parts = [_doubted(scene, parts, part) for part in parts]
    unclear = [p for p in parts if isinstance(p, Unclear)]
    alone = len(unclear) == len(parts)
    kept: list = []
    for part in parts:
        if not isinstance(part, Unclear):
            kept.append(part)
            continue
        larger = [o for o in unclear if o is not part and part.words in o.words]
        if any(len(o.words) > len(part.words) for o in larger) or part in kept:
            continue
        if not alone and _empty(part):
            continue
        inside = [o for o in unclear if o.words in part.words]
        readings = [r for o in inside for r in o.readings if _sensible(scene, parts, o, r)]
        kept.append(part._replace(readings=tuple(dict.fromkeys(readings))[:3]))
    return _asked_once(kept)


def _doubted(scene, parts: list, part):
    """A part as it is, or as not understood where it would change what it does not speak of: the
    part of a finding by a word for good kit ('sheath good'), or a figure of a thing spoken of
    before, where the line names another that was not understood ('a sit harness, twelve years
    old').
    """
    if not isinstance(part, Said):
        return part
    words = {t.text for t in tokenise(scene.line)}
    named = part.entity in scene.line or scene.kind_of(part.entity) in words
    if named or words & _MENDS:
        return part
    fact = scene.context.facts.get((part.entity, part.key))
    known = fact.raw if fact is not None else None
    beside = any(isinstance(p, Said) and p is not part and p.entity == part.entity for p in parts)
    quiet = part.key == FINDING_PART and known and known != part.raw and not beside
    figure = scene.vocabulary.attribute(part.key).is_number
    other = (
        figure
        and scene.entity(scene.kind_of(part.entity)).many
        and any(
            reading.partition(":")[0].endswith(("type", "kind"))
            for p in parts
            if isinstance(p, Unclear)
            for reading in p.readings
        )
    )
    return Unclear(part.words, ()) if quiet or other else part


def _empty(part: Unclear) -> bool:
    """Whether words say nothing of themselves and nothing is offered for them: 'right' at the
    beginning.
    """
    texts = {t.text for t in tokenise(part.words) if t.is_word or t.is_number}
    return bool(texts) and texts <= LIGHT and len(texts) == 1 and not part.readings


def _sensible(scene, parts, part: Unclear, reading: str) -> bool:
    """Whether an offer may be meant: no good value for a vague word, nothing of a thing that nobody
    spoke of, no incident where none is.
    """
    texts = {t.text for t in tokenise(part.words) if t.is_word}
    found = scene.vocabulary.split(reading.partition(":")[0])
    if found is None:
        return True
    entity, rest = found
    if texts and texts <= VAGUE_GOOD | LIGHT:
        return False
    if entity.name == "incident":
        return scene.incident_live
    named = bool(scene.names.get(entity.name)) or any(
        isinstance(p, Said) and scene.kind_of(p.entity) == entity.name for p in parts
    )
    noun = rest.endswith(("kind", "type", "what"))
    return named or not rest.startswith("main ") or noun


def _asked_once(parts: list) -> list:
    """Only the first stretch that can be asked about is; the others are only said."""
    asked, result = False, []
    for part in parts:
        if isinstance(part, Unclear) and part.readings:
            result.append(part._replace(readings=()) if asked else part)
            asked = True
        else:
            result.append(part)
    return result
