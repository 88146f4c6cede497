"""What was not understood, put so that it can be answered: no stretch twice, nothing absurd
offered, and one question at most.
"""

from __future__ import annotations

from advisor.language.parts import Said, Unclear
from advisor.language.tokens import tokenise
from advisor.language.words import LIGHT, VAGUE_GOOD


def tidied(scene, parts: list) -> list:
    """The parts of a line with what was not understood told once, and asked about once."""
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
