"""What two readings of a line tell differently of the same words, and tell about as well, is asked
about and not taken.
"""

from __future__ import annotations

from advisor.language.parts import Said, Unclear
from advisor.language.readings import canonical

CLOSE = 1.0  # by which a rival may tell less and still put in doubt what the best one tells


def contest(best, rivals, before: int) -> None:
    """Ask in the best reading about each fact that a close rival tells otherwise.

    rivals: scenes of the other readings that come close; before: parts of earlier segments.
    """
    told = _facts(best, before)
    for said in told:
        other = next(
            filter(None, (_otherwise(said, told, _facts(r, before)) for r in rivals)), None
        )
        if other is None:
            continue
        at = best.parts.index(said)
        offers = tuple(_offer(best, s) for s in (said, other))
        best.parts[at] = Unclear(said.words, tuple(dict.fromkeys(offers)))
        best.recent = [s for s in best.recent if s != said]


def _facts(scene, before) -> list[Said]:
    return [p for p in scene.parts[before:] if isinstance(p, Said) and p.raw != "unknown"]


def _otherwise(said: Said, told, rival) -> Said | None:
    """What a rival makes of the words of a fact, or of more, that it does not tell."""
    ours = {p[:2]: p.raw for p in told}
    if not said.words or any(p[:3] == said[:3] for p in rival):
        return None
    return next((p for p in rival if said.words in p.words and ours.get(p[:2]) != p.raw), None)


def _offer(scene, said: Said) -> str:
    raw = said.raw.rstrip("?") if isinstance(said.raw, str) else said.raw
    return canonical(said.entity, scene.vocabulary.attribute(said.key), raw)
