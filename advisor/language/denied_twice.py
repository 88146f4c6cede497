"""Where one denial denies another: 'nobody is not hurt', 'it is never not wet'. People mean either
by it, so nothing is taken and both are offered.
"""

from __future__ import annotations

from advisor.language.parts import Said
from advisor.language.readings import canonical
from advisor.language.tokens import Token
from advisor.language.words import NEGATORS, SEPARATORS

_SUBJECTS = frozenset("nobody none nothing neither no never".split())  # that a verb may follow
_VERBS = frozenset("is are was were has have had do does did can could will would".split())
_OTHERS = frozenset("i we he she it they you there that which so because since".split())
_JOINTS = frozenset("and or but nor".split())
_REACH = 6  # words between a denied subject and the verb that is denied
_CLOSE = 3  # words between two denials of one verb
_ANSWER = frozenset(("no", "nah", "nope"))
_HAVING = frozenset("of them us the my our these those a any here below who that got".split())
_THINKING = frozenset("think say mean be been true untrue quite sure".split())


def denied_twice(tokens: list[Token]) -> list[tuple[int, int]]:
    """(first, last) token of each pair of denials of which one reaches the other."""
    at = [i for i, t in enumerate(tokens) if t.text in NEGATORS - {"missing", "absent"}]
    return [(one, two) for one, two in zip(at, at[1:]) if _reaches(tokens, one, two)]


def _reaches(tokens, one, two) -> bool:
    between = [t.text for t in tokens[one + 1 : two]]
    if any(_typed(t) for t in tokens[one:two]) or not _JOINTS.isdisjoint(between):
        return False
    if one == 0 and tokens[0].text in _ANSWER and (not between or between[0] in _OTHERS):
        return False  # 'no not yet'
    verb = between[-1:] and between[-1] in _VERBS and tokens[two].text == "not"
    subject = tokens[one].text in _SUBJECTS or between[:1] == ["one"]
    if subject and verb:
        free = set(between[:-1]) - ({"that"} if "who" in between else set())
        return len(between) <= _REACH and free.isdisjoint(_OTHERS)
    return len(between) <= _CLOSE and all(w in _VERBS | _HAVING | _THINKING for w in between)


def _typed(token) -> bool:
    return token.text in SEPARATORS and token.start < token.end


def either_way(scene, found, start, end, read) -> list[str]:
    """What the words from start to end say without their denials, and its opposite."""
    trial = scene.fork()
    before = len(trial.parts)
    trial.tokens = [t for i, t in enumerate(scene.tokens[start:end], start) if i not in found]
    read(trial)
    offers = []
    for said in (p for p in trial.parts[before:] if isinstance(p, Said) and p.raw != "unknown"):
        attribute = scene.vocabulary.attribute(said.key)
        if attribute.is_choice and isinstance(said.raw, str):
            values = attribute.values if len(attribute.values) == 2 else [said.raw.rstrip("?")]
            offers += [canonical(said.entity, attribute, v) for v in values]
    return offers[:2]
