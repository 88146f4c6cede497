"""A line cut into clauses, never inside a phrase of the vocabulary or a quantity."""

from __future__ import annotations

from dataclasses import dataclass, field

from advisor.language.clock import clock_at
from advisor.language.match import matches
from advisor.language.quantities import quantities, sequence_at
from advisor.language.senses import tells_incident
from advisor.language.words import (
    ALL_OF,
    DOUBTERS,
    NEGATORS,
    NUMBER_WORDS,
    QUESTION_STARTS,
    SEPARATORS,
    STATEMENT_STARTS,
    WAYS,
)


@dataclass
class Clause:
    """start, end: token indexes; matches, quantities, clocks inside it; opener: the separator
    before, closer: the one after;
    doubt: a word of doubt stands in it; negators: token indexes; doubters: tokens that doubt used
    up;
    used: tokens that were understood; question: it asks; pointed: a pronoun stands for what it is
    about;
    open_measure: it holds a measure of which it is not clear what it measures."""

    start: int
    end: int
    matches: list
    quantities: list
    clocks: list
    opener: str = ""
    closer: str = ""
    doubt: bool = False
    negators: list = field(default_factory=list)
    doubters: set = field(default_factory=set)
    used: set = field(default_factory=set)
    question: bool = False
    pointed: bool = False
    open_measure: bool = False


def clauses(scene) -> list[Clause]:
    """Every clause of a scene's line, with what stands in it."""
    tokens = scene.tokens
    numbers = quantities(tokens)
    found = matches(tokens, scene.index)
    numbers = [q for q in numbers if not _beaten(q, found)]
    taken = {i for q in numbers for i in range(q.start, q.end)}
    found = [
        m
        for m in matches(tokens, scene.index, frozenset(taken), _alive(scene, found))
        if not _only_a_word(scene, m)
    ]
    taken |= {i for m in found for i in range(m.start, m.end)}
    clocks: list = []
    for at in range(len(tokens)):
        clock = clock_at(tokens, at) if not clocks or at >= clocks[-1].end else None
        if clock and not any(m.start <= at < m.end and m.stems > 1 for m in found):
            clocks.append(clock)
    numbers = [q for q in numbers if not any(c.start < q.end and q.start < c.end for c in clocks)]
    result, opener, start = [], "", 0
    for at in range(len(tokens) + 1):
        if (
            at == len(tokens)
            or (tokens[at].text in SEPARATORS and at not in taken)
            or _dash(tokens, at, taken)
        ):
            if at > start:
                clause = Clause(
                    start,
                    at,
                    _inside(found, start, at),
                    _inside(numbers, start, at),
                    _inside(clocks, start, at),
                    opener,
                    tokens[at].text if at < len(tokens) else "",
                )
                _flags(tokens, clause)
                result.append(clause)
            opener, start = (tokens[at].text if at < len(tokens) else ""), at + 1
    for one, other in reversed(list(zip(result, result[1:]))):
        if (
            other.doubt
            and not other.matches
            and not other.quantities
            and other.opener not in ".!?"
            and not other.question
        ):
            one.doubt = True  # 'it is dry, I think'
    return result


def _alive(scene, found):
    """Which senses can hold in this line: words of an incident once there is one, words about
    things once such a thing is named.
    """
    happening = scene.incident_live or any(tells_incident(m) for m in found)
    items = scene.vocabulary.attribute("finding.item")
    nouns = {m.start: {s.entity for s in m.senses if s.form == "entity"} for m in found}
    spoken = {kind for kinds in nouns.values() for kind in kinds} | {
        k for k, ids in scene.names.items() if ids
    }

    def alive(sense, start, length):
        if sense.form != "value" or length == 1:
            return True
        if sense.entity == "incident":
            return happening or sense.key == "incident.what"
        if sense.entity == "finding" and items:
            first = scene.index.phrases.get((scene.tokens[start].stem,), ())
            kinds = {s.entity for s in first if s.form == "entity"}
            return (
                not kinds
                or bool(kinds & set(items.of))
                or any(scene.names.get(k) for k in items.of)
            )
        return (
            not scene.entity(sense.entity).many
            or sense.entity in spoken
            or bool(_nouns(scene, start, length) & {sense.entity})
        )

    return alive


def _nouns(scene, start, length) -> set:
    """Kinds named by the words of a phrase itself."""
    return {
        s.entity
        for at in range(start, min(start + length, len(scene.tokens)))
        for s in scene.index.phrases.get((scene.tokens[at].stem,), ())
        if s.form == "entity"
    }


def _dash(tokens, at, taken):
    return (
        tokens[at].text == "-"
        and at not in taken
        and not (tokens[at].glued and at + 1 < len(tokens) and tokens[at + 1].glued)
    )


def _inside(items, start, end):
    return [i for i in items if start <= i.start and i.end <= end]


def _beaten(quantity, found) -> bool:
    """A phrase of several words that holds the number, such as 'one leg of the anchor', is no
    quantity.
    """
    small = quantity.value == 1 and len(quantity.points) == 1 and not quantity.mode
    return any(
        m.stems > 1
        and m.start < quantity.end
        and quantity.start < m.end
        and (m.start <= quantity.start or small)
        for m in found
    )


def _only_a_word(scene, match) -> bool:
    """'both', 'neither' or 'one each' is a value only where just that was asked, and what somebody
    walks to is nothing that was named.
    """
    texts = {scene.tokens[i].text for i in range(match.start, match.end)}
    before = tuple(t.text for t in scene.tokens[max(0, match.start - 3) : match.start])
    if before and before[0] in WAYS and before[1:] in (("to", "the"), ("from", "the")):
        return True  # '20 min walk to the van': where somebody goes
    small = ALL_OF | NEGATORS
    alone = texts <= small | NUMBER_WORDS.keys() or (
        match.stems == 1 and scene.tokens[match.start].text in small
    )
    return alone and not (
        scene.context.asked and any(s.key == scene.context.asked[1] for s in match.senses)
    )


def _flags(tokens, clause):
    held = {i for m in clause.matches for i in range(m.start, m.end)}
    at = clause.start
    while at < clause.end:
        length = 0 if at in held else sequence_at(tokens, at, DOUBTERS)
        if length:
            clause.doubt = True
            clause.doubters.update(range(at, at + length))
        at += length or 1
    clause.negators = [
        i
        for i in range(clause.start, clause.end)
        if tokens[i].text in NEGATORS
        and i not in held
        and i not in clause.doubters
        and not any(q.start <= i < q.end for q in clause.quantities)
    ]
    first = tokens[clause.start].text
    second = tokens[clause.start + 1].text if clause.start + 1 < clause.end else ""
    asks = first in QUESTION_STARTS and not (
        first in ("must", "have", "has", "had", "may", "might") and clause.closer != "?"
    )
    clause.question = asks and (
        clause.closer == "?"
        or first in ("what", "why", "where", "when", "who", "how", "which", "whose")
        or second in STATEMENT_STARTS
        or second in ("the", "my", "our", "a")
    )
    if clause.closer == "?" and tokens[clause.end - 1].text in (
        "ok",
        "okay",
        "alright",
        "allowed",
        "enough",
    ):
        clause.question = True  # 'body belay ok?'
    if clause.closer == "?" and not clause.question:
        clause.doubt = True
