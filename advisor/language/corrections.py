"""Putting right what was said: 'sorry, 16 not 18', 'make that twelve', 'no, the right one'."""

from __future__ import annotations

from advisor.facts.units import UNITS
from advisor.language.nouns import mentions, resolve
from advisor.language.pronouns import pronoun
from advisor.language.quantities import sequence_at
from advisor.language.readings import canonical
from advisor.language.words import COMMON, CORRECTORS

_BETWEEN = frozenset("the a an on in with using going have having got doing it is".split())
_WRONG = (
    "is not right",
    "is wrong",
    "was wrong",
    "not right",
    "is not correct",
    "was not right",
    "is incorrect",
    "is off",
    "is not it",
    "was a typo",
    "was a mistake",
)


def correcting(scene, clause) -> bool:
    """Whether a clause begins by putting something right; the words that say so are used up."""
    at, found = clause.start, False
    while at < clause.end:
        length = sequence_at(scene.tokens, at, CORRECTORS)
        if (
            not length
            and scene.tokens[at].text in ("no", "nah", "nope", "naw", "nae")
            and any(q.start == at + 1 and q.end == clause.end for q in clause.quantities)
        ):
            length = 1  # 'no 16'
        if not length or any(m.stems > 1 and m.start < at + length < m.end for m in clause.matches):
            break
        clause.used.update(range(at, at + length))
        clause.negators = [n for n in clause.negators if not at <= n < at + length]
        clause.doubters -= set(range(at, at + length))
        at, found = at + length, True
    return found


def contrasts(scene, clauses):
    """'16 not 18', 'spray, not drips': the denied one is dropped from reading; returns the denied
    quantity, if any.
    """
    denied = None
    told = [(c, q) for c in clauses for q in c.quantities]
    quantities = [(c, q) for c, q in told if c.opener != "so"]  # 'so just under 14': once more
    for clause, quantity in quantities if len(quantities) == 2 else []:
        wrong = sequence_at(scene.tokens, quantity.end, _WRONG)
        if wrong and clause.start == quantity.start and quantity.end + wrong == clause.end:
            clause.quantities.remove(quantity)
            clause.used.update(range(clause.start, clause.end))
            clause.negators, denied = [], quantity
            break
        article = quantity.start > 1 and scene.tokens[quantity.start - 1].text == "the"
        before = quantity.start - 1 - article  # 'the 50, not the 40'
        if before in clause.negators or _not_before(scene, before + 1):
            denied = quantity
            clause.quantities.remove(quantity)
            _spend(clause, before - (before - 1 in clause.negators), quantity.end)
            break
    if denied is not None:
        for clause in {id(c): c for c, q in told if (c, q) not in quantities}.values():
            _once_more(scene, clause)
    found = [(c, m) for c in clauses for m in c.matches]
    for clause, match in found:
        at = _negator(scene, clause, match)
        if at is not None and any(
            other is not match
            and not any(n < other.start for n in c.negators)
            and _rivals(other, match)
            for c, other in found
        ):
            clause.matches.remove(match)
            scene.contrasted |= {s.key for s in match.senses if s.form == "value"}
            _spend(clause, at, match.end)
    return denied


def _once_more(scene, clause):
    """'so about 40 foot': what was just put right said again in other words, which is told back."""
    scene.unclear(scene.words(clause.start, clause.end))
    clause.quantities, clause.matches, clause.negators = [], [], []
    clause.used.update(range(clause.start, clause.end))


def _negator(scene, clause, match) -> int | None:
    """The 'not' that stands right before a phrase, or with words of no weight between: 'not using
    a fixed cord'.
    """
    at = match.start - 1
    while at >= clause.start and scene.tokens[at].text in _BETWEEN:
        at -= 1
    return at if at in clause.negators else None


def _not_before(scene, at) -> bool:
    return (
        at > 0
        and scene.tokens[at - 1].text == "not"
        or at > 1
        and scene.tokens[at - 2].text in ("instead", "rather")
        and scene.tokens[at - 1].text in ("of", "than")
        or _less_like(scene, at)
    )


def _less_like(scene, at) -> bool:
    """The 30 of 'more like 50 apart than 30'."""
    texts = [t.text for t in scene.tokens[max(at - 6, 0) : at]]
    nearer = {"nearer", "closer"} & set(texts) or ("more", "like") in list(zip(texts, texts[1:]))
    return texts[-1:] == ["than"] and bool(nearer)


def _spend(clause, start, end):
    clause.used.update(range(start, end))
    clause.negators = [n for n in clause.negators if not start <= n < end]


def _rivals(one, other) -> bool:
    """Two different values of one attribute, other than two things named."""
    return any(
        a.form == b.form == "value" and a.key == b.key and a.value != b.value
        for a in one.senses
        for b in other.senses
    )


def corrected_key(scene, quantity, denied, strong=False):
    """(entity, key) of the number that a bare correction puts right, or None."""
    if denied is not None:
        keys = list(
            dict.fromkeys([(s.entity, s.key) for s in scene.recent] + list(scene.context.facts))
        )
        fits = [k for k in keys if _has_value(scene, k, denied)]
        if len(fits) == 1:
            return fits[0]
    last = (
        (scene.recent[-1].entity, scene.recent[-1].key)
        if scene.recent
        else (scene.context.last, scene.context.last_key)
    )
    attribute = scene.vocabulary.attribute(last[1]) if last[1] else None
    if (
        strong and attribute is None and quantity.unit
    ):  # 'nah, 20 metres', where only one length was told
        known = [
            k
            for k in scene.context.facts
            if scene.vocabulary.attribute(k[1]).type == "number"
            and quantity.fits(scene.vocabulary.attribute(k[1]))
        ]
        return known[0] if len(known) == 1 else None
    return (
        last
        if attribute
        and attribute.type == "number"
        and (quantity.fits(attribute) or quantity.unit is None)
        else None
    )


def _has_value(scene, identity, quantity) -> bool:
    attribute, raw = scene.vocabulary.attribute(identity[1]), scene.raw_of(*identity)
    if attribute.type != "number" or raw is None or not quantity.fits(attribute):
        return False
    from advisor.facts.quantity import NotAQuantity, read_quantity

    try:
        known = read_quantity(str(raw).rstrip("?"), attribute.unit, (attribute.low, attribute.high))
        meant = read_quantity(quantity.raw(attribute), attribute.unit, (-(10**12), 10**12))
    except NotAQuantity:
        return False
    return known.low <= meant.low <= known.high


def read_correction(scene, clause, denied, strong: bool) -> bool:
    """Take a clause that only puts right the last fact: a bare quantity, or another thing. False
    if it says more.
    """
    bare = list(clause.quantities)
    free = [
        i
        for i in range(clause.start, clause.end)
        if i not in clause.used
        and not any(q.start <= i < q.end for q in bare)
        and scene.tokens[i].text not in COMMON
        and scene.tokens[i].is_word
    ]
    named = {k for i in free for k in _kinds(scene, i)}
    if len(bare) == 1 and denied is not None and free and all(_kinds(scene, i) for i in free):
        return _of_named(scene, clause, bare[0], denied, named)
    if len(bare) == 1 and not free and not _same(bare[0], denied):
        return _number(scene, clause, bare[0], denied, strong)
    return not bare and _thing(scene, clause)


def _kinds(scene, at) -> set:
    """The kinds of thing that a word names."""
    senses = scene.index.phrases.get((scene.tokens[at].stem,), ())
    return {s.entity for s in senses if s.form == "entity"}


def _of_named(scene, clause, quantity, denied, kinds) -> bool:
    """'the rope is 40, not 30': the one figure of the thing named that is 30 is put right."""
    keys = dict.fromkeys([(s.entity, s.key) for s in scene.recent] + list(scene.context.facts))
    fits = [k for k in keys if scene.kind_of(k[0]) in kinds and _has_value(scene, k, denied)]
    if len(fits) != 1 or _same(quantity, denied):
        return False
    attribute = scene.vocabulary.attribute(fits[0][1])
    if quantity.unit and not quantity.fits(attribute):
        return False
    clause.used.update(range(clause.start, clause.end))
    raw = quantity.raw(attribute)
    if quantity.unit is None and attribute.unit not in ("count", "ratio"):
        raw = f"{raw} {_unit_said(scene, fits[0]) or attribute.unit}"
    scene.say(*fits[0], raw, scene.words(clause.start, clause.end), clause.doubt)
    return True


def _same(quantity, denied) -> bool:
    """'not 2 m back, 2 m up': the figure stands, what it is of does not."""
    return denied is not None and quantity[2:] == denied[2:]


def _number(scene, clause, quantity, denied, strong) -> bool:
    found = corrected_key(scene, quantity, denied, strong)
    asked = scene.context.asked
    if not found:
        return False
    if denied is not None and not _has_value(scene, found, denied):
        attribute = scene.vocabulary.attribute(found[1])
        clause.used.update(range(clause.start, clause.end))
        scene.unclear(
            scene.words(clause.start, clause.end),
            [canonical(found[0], attribute, quantity.raw(attribute))],
        )
        return True  # 'that is 4 m, not 3': of nothing that was told as 3 m
    attribute = scene.vocabulary.attribute(found[1])
    other = scene.vocabulary.attribute(asked[1]) if asked else None
    clause.used.update(range(clause.start, clause.end))
    if (
        not strong
        and denied is None
        and other
        and asked != found
        and other.type == "number"
        and quantity.fits(other)
    ):
        scene.unclear(
            scene.words(clause.start, clause.end),
            [
                canonical(found[0], attribute, quantity.raw(attribute)),
                canonical(asked[0], other, quantity.raw(other)),
            ],
        )
        return True
    raw = quantity.raw(attribute)
    if quantity.unit is None and attribute.unit not in ("count", "ratio"):
        raw = f"{raw} {_unit_said(scene, found) or attribute.unit}"
    scene.say(*found, raw, scene.words(clause.start, clause.end), clause.doubt)
    return True


def _unit_said(scene, identity):
    """The unit the corrected fact was said in: '25 foot', then 'sorry, 26'."""
    raw = str(scene.raw_of(*identity) or "")
    last = raw.rstrip("? ").split(" ")[-1]
    return last if last in UNITS and len([w for w in raw.split() if w in UNITS]) == 1 else None


def _thing(scene, clause) -> bool:
    """'no, the right one': the last fact was about another thing."""
    last, key = (
        (scene.recent[-1].entity, scene.recent[-1].key)
        if scene.recent
        else (scene.context.last, scene.context.last_key)
    )
    raw = scene.raw_of(last, key) if last and key else None
    if raw is None or not scene.entity(scene.kind_of(last)).many:
        return False
    named = mentions(scene, clause)
    found = (
        [i for m in named for i in resolve(scene, m) or []]
        if named
        else (pronoun(scene, clause) or ([], None))[0]
    )
    spent = {i for m in named for i in range(m.start, m.end)}
    rest = [
        m
        for m in clause.matches
        if m.start not in spent
        and not any(s.key.endswith(".side") or s.key.endswith(" side") for s in m.senses)
    ]
    if (
        not found
        or len(found) != 1
        or rest
        or found[0] == last
        or scene.kind_of(found[0]) != scene.kind_of(last)
    ):
        return False
    words = scene.words(clause.start, clause.end)
    clause.used.update(range(clause.start, clause.end))
    scene.say(last, key, "unknown", words)
    scene.say(found[0], key, raw, words)
    scene.subject = found[0]
    return True
