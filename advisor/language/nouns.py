"""Who a clause is about: things named outright, such as 'the left hanger' and 'ladder B'."""

from __future__ import annotations

from typing import NamedTuple

from advisor.language.joints import possessive
from advisor.language.tokens import stem
from advisor.language.words import ADJECTIVES, ALL_OF, NEW_ONE, NOT_NAMES, NUMBER_WORDS

_ARTICLES = frozenset("a an the this that these those our my your their his her".split())
_BE = frozenset("is are was were be being".split())
_DOES = frozenset(  # what a thing with a number does: 'bolt 3 holds'
    "has look looks with got holds carries takes moves spins turns wobbles and for".split()
)


class Mention(NamedTuple):
    """start, end: tokens of the whole noun phrase; kind of entity; value: 'expansion bolt' where
    the noun says it; key of that value;
    words: the name's words; side: (key, value) said with it; many: plural; fresh: 'a', 'another';
    head: the noun's own words.
    """

    start: int
    end: int
    kind: str
    key: str
    value: str
    words: tuple
    side: tuple
    plural: bool
    fresh: bool
    every: bool
    head: tuple
    predicate: bool = False


def mentions(scene, clause) -> list[Mention]:
    """Things named in a clause, left to right; each match belongs to one at most."""
    found: list[Mention] = []
    last = clause.start
    for match in clause.matches:
        kind = _kind(scene, clause, match)
        if kind and match.start >= last and not _acted(scene, clause, match):
            noun, part = _noun_of(scene, match)
            mention = _mention(scene, clause, noun, part, kind)
            if (
                mention is None
                or _modifies(scene, clause, match, mention)
                or _part_of(scene, clause, mention, found)
            ):
                continue
            if (
                found
                and found[-1].kind == kind
                and found[-1].end == mention.start
                and not mention.fresh
                and not (found[-1].plural and mention.value and not mention.plural)
                and not _two_things(found[-1], mention)
            ):
                mention = mention._replace(
                    start=found[-1].start,
                    words=found[-1].words + mention.words,
                    side=mention.side or found[-1].side,
                    fresh=found[-1].fresh,
                )
                found.pop()
            found.append(mention)
            last = mention.end
    return _owners(scene, found)


def _two_things(one: Mention, other: Mention) -> bool:
    """Whether two nouns side by side name two things: 'left bolt right bolt', 'harness rope'."""
    sided = bool(one.side and other.side) and one.side != other.side
    return sided or one.head == other.head or bool(one.value and other.value != one.value)


def _acted(scene, clause, match) -> bool:
    """The 'post' of 'you could post a letter in it': a noun that stands as a verb."""
    before = scene.tokens[match.start - 1].text if match.start > clause.start else ""
    return match.end - match.start == 1 and before in (
        "could",
        "can",
        "would",
        "will",
        "must",
        "should",
        "cannot",
    )


def _part_of(scene, clause, mention, found) -> bool:
    """Whether a noun is a part of the thing just named: the hanger of "the bolt's hanger"."""
    part = (
        bool(found)
        and found[-1].kind == mention.kind
        and bool(mention.value)
        and not mention.side
        and possessive(scene.tokens, mention.start - 1)
    )
    if part:
        clause.used.update(range(mention.start, mention.end))
    return part


def _modifies(scene, clause, match, mention) -> bool:
    """The tree of 'the tree ladder': a thing's kind that only tells of the noun right behind it."""
    behind = next(
        (m for m in clause.matches if m.start == mention.end and m.end > mention.end), None
    )
    return (
        bool(mention.value)
        and behind is not None
        and match.end == mention.end
        and any(s.form == "entity" and s.entity != mention.kind for s in behind.senses)
        and not any(s.form == "entity" and s.entity == mention.kind for s in behind.senses)
    )


def _owners(scene, found) -> list:
    """Without the hanger of 'hanger spins on the left bolt': a thing named after 'on' or 'of' is
    the one meant.
    """
    return [
        m
        for at, m in enumerate(found)
        if not any(
            n.kind == m.kind
            and not m.side
            and not m.fresh
            and _on(scene, n)
            and scene.tokens[m.end - 1].text not in ("and", "or")
            and _between(scene, m, n)
            for n in found[at + 1 :]
        )
    ]


def _on(scene, mention) -> bool:
    return any(
        scene.tokens[i].text in ("on", "of", "at")
        for i in range(max(mention.start - 2, 0), mention.start + 1)
    )


def _between(scene, one, other) -> bool:
    """Whether something is said between two things named."""
    words = [
        scene.tokens[i]
        for i in range(one.end, other.start)
        if scene.tokens[i].text not in ("on", "of", "at", "the", "a", "that", "my", "our")
    ]
    return bool(words) and all(t.is_word for t in words)


def _noun_of(scene, match):
    """The match to name by, and whether it is only a part of the thing ('the fourth rung')."""
    part = any(s.form == "value" and s.key == "finding.part" for s in match.senses) and not any(
        s.form == "entity" and s.value for s in match.senses
    )
    if any(s.form == "entity" for s in match.senses):
        return match, part
    first = match._replace(
        end=match.start + 1,
        stems=1,
        senses=tuple(scene.index.phrases[scene.tokens[match.start].stem,]),
    )
    return first, part


def _first_noun(scene, match):
    """Kinds that the first word of a longer phrase names, such as the hanger of 'hanger spins'."""
    senses = (
        scene.index.phrases.get((scene.tokens[match.start].stem,), ()) if match.stems > 1 else ()
    )
    return [
        s.entity
        for s in senses
        if s.form == "entity" and any(m.entity == s.entity for m in match.senses)
    ]


def _kind(scene, clause, match):
    """The kind a noun names: the one the rest of the clause fits best."""
    if match.joined:
        return None
    kinds = list(
        dict.fromkeys(
            [s.entity for s in match.senses if s.form == "entity"] or _first_noun(scene, match)
        )
    )
    if not kinds or (
        any(
            s.form == "value" and s.entity == "finding" and s.key == "finding.part"
            for s in match.senses
        )
        and not _finding(clause)
    ):
        return None
    if (
        any(s.form == "value" and s.entity == "incident" for s in match.senses)
        and scene.incident_live
    ):
        return None
    best = max(kinds, key=lambda k: _fit(scene, clause, match, k)) if len(kinds) > 1 else kinds[0]
    elsewhere = any(s.form == "value" and s.entity != best for s in match.senses)
    if (
        elsewhere
        and best in scene.base.topics.get("kit", ())
        and not _fit(scene, clause, match, best)[0]
    ):
        return None
    return best


def _finding(clause) -> bool:
    return any(s.key == "finding.what" for m in clause.matches for s in m.senses)


def _fit(scene, clause, match, kind):
    others = [m for m in clause.matches if m is not match]
    fits = sum(any(s.entity == kind and s.form != "entity" for s in m.senses) for m in others)
    lists = (
        [a for a in scene.vocabulary.entities["finding"].attributes.values() if a.type == "named"]
        if "finding" in scene.vocabulary.entities
        else []
    )
    damaged = any(s.key == "finding.what" for m in others for s in m.senses) and any(
        kind in a.of for a in lists
    )
    measured = any(
        q.unit
        and any(
            a.is_number and not a.derived and q.fits(a)
            for a in scene.entity(kind).attributes.values()
        )
        for q in clause.quantities
    )
    named = scene.entity(kind).many and bool(scene.names.get(kind))
    exact = any(s.entity == kind and s.rank == 0 for s in match.senses if s.form == "entity")
    return (fits + damaged + named, measured, exact, not scene.entity(kind).many)


def side_match(scene, clause, at, kind):
    """A match such as 'left' or 'on the right' at a token, as (match, key, value)."""
    for match in clause.matches:
        if match.start <= at < match.end:
            for sense in match.senses:
                if (
                    sense.form == "value"
                    and sense.entity == kind
                    and sense.key.endswith(" side") | sense.key.endswith(".side")
                ):
                    return match, sense.key, sense.value
    return None


def _before(scene, clause, match, kind):
    """(start, words, side) of what stands before a noun and belongs to it: 'the big left'."""
    tokens, start, words, side = scene.tokens, match.start, [], ()
    while start > clause.start:
        text = tokens[start - 1].text
        found = side_match(scene, clause, start - 1, kind)
        if found and found[0].start >= clause.start:
            start, side = found[0].start, found[1:]
            words.insert(0, found[2])
        elif text in ADJECTIVES and not any(
            m.start <= start - 1 < m.end
            and (m.stems > 1 or any(s.form == "value" for s in m.senses))
            for m in clause.matches
        ):
            start -= 1
            words.insert(0, text) if text not in NOT_NAMES else None
        elif text == "-" or (text == "hand" and start - 2 >= clause.start):
            start -= 1
        else:
            break
    return start, words, side


def _mention(scene, clause, match, part, kind) -> Mention | None:
    if part:
        several = len(scene.ids(kind)) > 1
        return (
            None
            if several
            else Mention(match.start, match.end, kind, "", "", (), (), False, False, True, (kind,))
        )
    tokens = scene.tokens
    start, words, side = _before(scene, clause, match, kind)
    head = tuple(t.text for t in tokens[match.start : match.end] if t.text not in _ARTICLES)
    end, label = _label(tokens, clause, match.end)
    if label == ["main"] and not scene.entity(kind).say_kind:
        end, label = match.end, []
    before = tokens[start - 1].text if start > clause.start else ""
    second = tokens[start - 2].text if start - 2 >= clause.start else ""
    valued = next(
        (s for s in match.senses if s.form == "entity" and s.entity == kind and s.value), None
    )
    behind = (
        side_match(scene, clause, _skip(tokens, end), kind)
        if _skip(tokens, end) < clause.end
        else None
    )
    if behind and not side and tokens[_skip(tokens, end) - 1].text not in _BE:
        side, end = behind[1:], behind[0].end
        words.insert(0, behind[2])
    plural = head[-1].endswith("s") and stem(head[-1]) != head[-1] and not head[-1].endswith("ss")
    every = before in ALL_OF or second in ALL_OF or plural
    fresh = (
        before in ("a", "an")
        or before in NEW_ONE
        or (bool(words) and words[0] == "second" and before == "a")
    )
    owned = start > clause.start and possessive(tokens, start - 1)
    predicate = not owned and (
        fresh and second in _BE or (before in _BE and not label and start > clause.start)
    )
    return Mention(
        start,
        end,
        kind,
        valued.key if valued else "",
        valued.value if valued else "",
        tuple(
            words
            + [_single(h) if plural else h for h in head[:-1]]
            + [_single(head[-1]) if plural else head[-1]]
            + label
        ),
        side,
        plural,
        fresh,
        every,
        head,
        predicate,
    )


def _single(word: str) -> str:
    return word[:-1] if word.endswith("s") and not word.endswith("ss") and len(word) > 3 else word


def _skip(tokens, at) -> int:
    while at < len(tokens) and tokens[at].text in ("is", "are", "the", "that", "which", "over"):
        at += 1
    return at


def _label(tokens, clause, at):
    """'bolt 2', 'ladder B', 'ladder number 3': the user's own mark."""
    if at + 1 < clause.end and tokens[at].text in ("number", "no", "nr", "#"):
        number = _figure(tokens[at + 1].text)
        if number:
            clause.quantities[:] = [q for q in clause.quantities if q.start != at + 1]
            return at + 2, [number]
    if at < clause.end and tokens[at].text == "main":
        return at + 1, ["main"]
    if _letter_label(tokens, clause, at):
        return at + 1, [tokens[at].text.upper()]
    if (
        at < clause.end
        and tokens[at].text == "a"
        and (at + 1 == clause.end or tokens[at + 1].text in _BE)
        and not (at + 1 < len(tokens) and tokens[at + 1].start == tokens[at + 1].end)
    ):
        return at + 1, ["A"]
    number = _figure(tokens[at].text) if at < clause.end else ""
    if (
        number
        and any(
            q.start == at and q.end == at + 1 and not q.unit and not q.mode
            for q in clause.quantities
        )
        and _is_label(tokens, clause, at, number)
    ):
        clause.quantities[:] = [q for q in clause.quantities if q.start != at]
        return at + 1, [number]
    return at, []


def _figure(text) -> str:
    """A number of one or two figures, also in words, as figures; '' for anything else."""
    if text in NUMBER_WORDS:
        return str(NUMBER_WORDS[text])
    return text if text.isdecimal() and len(text) <= 2 else ""


def _is_label(tokens, clause, at, number) -> bool:
    """Whether a number behind a noun is the thing's own: 'ladder 4', 'helmet 9 cracked', but not
    'ladder 10 rungs', 'krab one bent'.
    """
    noun, after = tokens[at - 1], tokens[at + 1] if at + 1 < clause.end else None
    if noun.text.endswith("s") and noun.text[:-1] == noun.stem:
        return False
    if after is None or after.text in _BE or after.text in _DOES:
        return True
    plural = after.text.endswith("s") and after.text[:-1] == after.stem
    return tokens[at].is_number and not plural and after.text not in ("of", "x", "or", "to", "-")


def _letter_label(tokens, clause, at) -> bool:
    """Whether a single letter is the user's own mark: 'rope B', but not the 'C' of 'C-links'."""
    if at >= clause.end or len(tokens[at].text) != 1 or not tokens[at].text.isalpha():
        return False
    after = tokens[at + 1].text if at + 1 < clause.end else ""
    return tokens[at].text not in "aisnwmxo" and after not in ("-", "'")


def resolve(scene, mention) -> list | None:
    """Entity ids a mention stands for: one or more that exist, a new one ([]: nothing exists that
    fits), or None for 'which of them?'.
    """
    if not scene.entity(mention.kind).many:
        return [mention.kind]
    ids = [i for i in scene.ids(mention.kind) if _could_be(scene, i, mention)]
    if mention.fresh:
        return []
    wanted = {stem(w.lower()) for w in mention.words}
    exact = [
        i
        for i in ids
        if scene.name_words(i) == wanted or i == f"{mention.kind} {' '.join(mention.words)}"
    ]
    if mention.every and ids:
        return ids
    if len(exact) == 1:
        return exact
    return None if len(ids) > 1 else ids


def _could_be(scene, identity, mention) -> bool:
    """Whether an existing thing fits the words: every word is in its name or in what is known of
    it.
    """
    name = scene.name_words(identity)
    if mention.side:
        known = scene.raw_of(identity, mention.side[0])
        if known != mention.side[1] and stem(mention.side[1]) not in name:
            return False
    sides = {stem(w) for w in mention.side[1].split()} if mention.side else set()
    heads = {stem(h) for h in mention.head}
    if (
        not {stem(w.lower()) for w in mention.words}
        - sides
        - heads
        - {stem(_single(h)) for h in mention.head}
        <= name
    ):
        return False
    entity = scene.entity(mention.kind)
    if (
        heads <= name
        or heads == {stem(entity.name)}
        or {stem(_single(h)) for h in mention.head} <= name
    ):
        return True
    kind_key = mention.key or f"{mention.kind}.kind"
    known = scene.raw_of(identity, kind_key)
    known = known.rstrip("?") if isinstance(known, str) else ""
    if mention.value:
        return known == mention.value
    return bool(heads & {stem(w) for w in known.split()}) or entity.say_kind


def new_name(scene, mention) -> str:
    """An id for a thing named for the first time."""
    words = [w for w in mention.words if w not in _ARTICLES]
    entity = scene.entity(mention.kind)
    if entity.say_kind and words and stem(words[-1]) in {stem(h) for h in mention.head}:
        words = words[:-1]
    elif entity.say_kind:
        words = [
            w
            for w in words
            if w not in mention.head and stem(w) not in {stem(h) for h in mention.head}
        ]
    words = [] if words == [mention.kind] else words
    base = f"{mention.kind} {' '.join(words) or 'main'}".replace(" - ", "-")[:60].strip()
    name, number = base, 2
    while name in scene.names.get(mention.kind, ()):
        name, number = f"{base} {number}", number + 1
    return name
