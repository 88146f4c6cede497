"""Nothing with a meaning is dropped: words of a line that no part says back are said to be left
over.
"""

from __future__ import annotations

from advisor.language.parts import Intent, Said
from advisor.language.tokens import stem, tokenise
from advisor.language.words import LIGHT, NUMBER_WORDS, SEPARATORS

NEAR = 2  # light words between two that were left over, told as one stretch


def account(scene, before: int) -> None:
    """Say of every word with a meaning that nothing told of since a part was heard that it was not
    used.
    """
    told = _told(scene, scene.parts[before:])
    lost = [
        at
        for at, token in enumerate(scene.tokens)
        if at not in told
        and token.start not in scene.by_signs
        and _weighs(scene, token)
        and not _said(scene, at, before)
    ]
    for start, end in _stretches(scene, lost):
        scene.unclear(scene.words(start, end + 1))


def _told(scene, parts) -> set[int]:
    """Tokens inside the words that the parts say back."""
    spans = []
    for part in parts:
        spans += _spans(scene.line, part.words)
        if isinstance(part, Intent):
            for fact in part.arguments:
                spans += _spans(scene.line, fact.words) if isinstance(fact, Said) else []
    return {
        at
        for at, token in enumerate(scene.tokens)
        if any(start <= token.start < end for start, end in spans)
    }


def _spans(line, words) -> list[tuple[int, int]]:
    found, at = [], line.find(words)
    while words and at >= 0:
        found.append((at, at + len(words)))
        at = line.find(words, at + 1)
    return found


def _weighs(scene, token) -> bool:
    """Whether a word carries something: a figure, a name, or any word that is not light."""
    if token.is_number:
        return True
    name = (
        scene.line[token.start].isupper()
        and token.start > 0
        and len(token.text) > 1
        and token.end - token.start == len(token.text)
        and not scene.line.isupper()
    )
    return token.is_word and (name or not {token.text, token.stem} & LIGHT)


def _said(scene, at, before) -> bool:
    """Whether a word stands in what a fact, a question or a reading says of itself."""
    token = scene.tokens[at]
    for part in scene.parts[before:]:
        if isinstance(part, Said):
            words = f"{part.entity} {part.key} {part.raw}"
            figure = str(NUMBER_WORDS.get(token.text, token.text))
            if {token.stem, figure} & _stems(words) or _names(scene, token, part.entity):
                return True
    return False


def _names(scene, token, entity) -> bool:
    """Whether a word is a name for the kind of thing, or for the value, that was heard."""
    kind = scene.kind_of(entity)
    return any(
        s.entity == kind and s.form in ("entity", "matter")
        for s in scene.index.phrases.get((token.stem,), ())
    )


def _stems(words) -> set[str]:
    return {stem(t.text) for t in tokenise(words.replace(".", " "))}


def _stretches(scene, lost):
    """(first, last) token of each stretch of what was left over."""
    start = last = None
    for at in lost:
        apart = start is not None and (
            at - last > NEAR + 1
            or any(scene.tokens[i].text in SEPARATORS for i in range(last + 1, at))
        )
        if apart:
            yield start, last
            start = None
        start = at if start is None else start
        last = at
    if start is not None:
        yield start, last
