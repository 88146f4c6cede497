"""A line cut into clauses, never inside a phrase of the vocabulary or a quantity."""

from __future__ import annotations

from typing import Any

from msgspec import Struct, field

from advisor.language.clock import clock_at
from advisor.language.forms import forms_of
from advisor.language.match import matches
from advisor.language.quantities import quantities, sequence_at
from advisor.language.questions import MODAL
from advisor.language.senses import tells_incident
from advisor.language.words import (
    ALL_OF,
    DOUBTERS,
    NEGATORS,
    NUMBER_WORDS,
    PARTLY,
    QUESTION_STARTS,
    SEPARATORS,
    STATEMENT_STARTS,
    WAYS,
)

_PERSONS = frozenset("i we you he she they".split())
_ASKING_VERBS = MODAL | {"am", "are", "is"}


class Clause(Struct):
    """start, end: token indexes; matches, quantities, clocks inside it; opener: the separator
    before, closer: the one after;
    doubt: a word of doubt stands in it; negators: token indexes; doubters: tokens that doubt used
    up;
    used: tokens that were understood; question: it asks; pointed: a pronoun stands for what it is
    about;
    open_measure: it holds a measure of which it is not clear what it measures;
    form: the way of saying that it is, of rules/hearing; closer_of_all: the separator behind the
    last of clauses that ways of saying cut from one another."""

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
    form: Any = None
    closer_of_all: str = ""


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
    forms = _said_so(scene, found)
    items = [_outside(found, forms), _outside(numbers, forms), _outside(clocks, forms)]
    result = _cut(tokens, items, forms, taken)
    for one, other in reversed(list(zip(result, result[1:]))):
        if (
            other.doubt
            and not other.matches
            and not other.quantities
            and other.opener not in ".!?"
            and not other.question
        ):
            one.doubt = True  # 'it is dry, I think'
    _with_forms(tokens, result, forms)
    return result


def _outside(items, forms) -> list:
    """What lies in no way of saying."""
    return [i for i in items if not any(f.start < i.end and i.start < f.end for f in forms)]


def _cut(tokens, items, forms, taken) -> list[Clause]:
    """The line cut at its separators, and before and behind each way of saying."""
    result: list[Clause] = []
    opener, start = "", 0
    edges = {f.start for f in forms} | {f.end for f in forms}
    held = taken | {i for f in forms for i in range(f.start, f.end)}
    for at in range(len(tokens) + 1):
        text = tokens[at].text if at < len(tokens) else ""
        if not text or (text in SEPARATORS and at not in held) or _dash(tokens, at, held):
            result += [_part(tokens, start, at, items, opener, text)] if at > start else []
            opener, start = text, at + 1
        elif at in edges and at > start:
            result.append(_part(tokens, start, at, items, opener, ""))
            opener, start = "", at
    return result


def _part(tokens, start, end, items, opener, closer) -> Clause:
    found, numbers, clocks = (_inside(each, start, end) for each in items)
    clause = Clause(start, end, found, numbers, clocks, opener, closer)
    _flags(tokens, clause)
    return clause


def _said_so(scene, found) -> list:
    """The ways of saying that stand in the line, where no longer phrase of the vocabulary does."""
    tokens, forms = scene.tokens, forms_of(scene.base)
    said = [
        f
        for f in forms.every(tokens)
        if not any(
            m.start < f.end
            and f.start < m.end
            and m.stems >= f.weight + (f.form.entry.get("only") == "incident")
            for m in found
        )
        and not _denied(tokens, f)
        and not forms.beside(tokens, f)
        and (f.form.asks or not _in_question(tokens, f))
        and not _of_some(tokens, f)
        and not _numbered(scene, f)
    ]
    happening = (
        scene.incident_live
        or scene.signs is not None
        or any(tells_incident(m) for m in found)
        or any(f.form.happens and f.form.entry.get("only") != "incident" for f in said)
    )
    without = {"plan" if happening else "incident"} | (set() if scene.supposing else {"supposed"})
    said = [f for f in said if f.form.entry.get("only") not in without]
    said = forms.found(tokens, said)
    return [_with_person(tokens, f, forms, found, said) if f.form.happens else f for f in said]


def _numbered(scene, form) -> bool:
    """Whether the figure that a way of saying begins with is a thing's own number: 'ladder three
    has a bust strand'.
    """
    tokens, at = scene.tokens, form.start
    if not at or form.form.items[0].kind != "figure":
        return False
    noun = scene.index.phrases.get((tokens[at - 1].stem,), ())
    after = tokens[at + 1].text if at + 1 < len(tokens) else ""
    return after in ("is", "has", "got") and any(
        s.form == "entity" and scene.entity(s.entity).many for s in noun
    )


def _of_some(tokens, form) -> bool:
    """Whether what is said is said of some: 'half of them have a spare light each'."""
    start = form.start
    while start and tokens[start - 1].text not in SEPARATORS:
        start -= 1
    end = next(
        (i for i in range(form.end, len(tokens)) if tokens[i].text in SEPARATORS), len(tokens)
    )
    outside = [*range(start, form.start), *range(form.end, min(end + 1, len(tokens)))]
    return not form.form.happens and any(sequence_at(tokens, i, PARTLY) for i in outside)


def _in_question(tokens, form) -> bool:
    """Whether a way of saying stands in what is asked: 'can he hang there for long?'."""
    start = form.start
    while start and tokens[start - 1].text not in SEPARATORS:
        start -= 1
    if start == form.start or tokens[start].text not in QUESTION_STARTS:
        return False
    end = next((t.text for t in tokens[form.end :] if t.text in SEPARATORS), "")
    # 'can I belay off the tree': what is said begins with whoever asks.
    asker = form.start == start + 1 and tokens[form.start].text in _PERSONS
    turned = asker and tokens[start].text in _ASKING_VERBS
    return end == "?" or turned and not form.form.happens


def _with_person(tokens, form, forms, found, said):
    """A way of telling of an incident with the words before it that only say who."""
    start = form.start
    held = {i for m in found if m.stems > 1 for i in range(m.start, m.end)}
    held |= {i for other in said for i in range(other.start, other.end)}
    while start and start - 1 not in held and tokens[start - 1].text in forms.people:
        start -= 1
    return form._replace(start=start)


def _denied(tokens, form) -> bool:
    """Whether a word of denial stands close before a way of saying, which then says nothing."""
    before = tokens[max(form.start - 2, 0) : form.start]
    at = next((i for i, t in enumerate(before) if t.text in SEPARATORS), None)
    near = before[at + 1 :] if at is not None else before
    return any(t.text in NEGATORS and t.text != "nothing" for t in near)


def _with_forms(tokens, clauses, forms):
    """Give the clauses that are a way of saying theirs, with the doubt of what stands round it."""
    for clause, following in reversed(list(zip(clauses, clauses[1:]))):
        if not following.opener and not clause.closer:
            clause.closer_of_all = following.closer_of_all or following.closer
            clause.doubt = clause.doubt or clause.closer_of_all == "?"
    for clause in clauses:
        clause.form = next((f for f in forms if f.start == clause.start), None)
        if clause.form:
            own = {w for item in clause.form.form.items for way in item.ways for w in way}
            doubts = {tokens[i].stem for i in clause.doubters} - own
            clause.doubt = bool(doubts) or clause.closer_of_all == "?" or clause.closer == "?"
            near = [
                c
                for c in clauses
                if c is not clause and (c.end == clause.start or c.start == clause.end)
            ]
            clause.doubt = clause.doubt or any(
                c.doubt and not c.matches and not c.quantities for c in near
            )


def _rings(scene) -> bool:
    """Whether a way of saying, or signs, tell in this line of what has happened."""
    forms, tokens = forms_of(scene.base), scene.tokens
    return scene.signs is not None or any(
        any(part.startswith("incident.what =") for part in f.form.means)
        and f.form.entry.get("only") != "incident"
        and not _denied(tokens, f)
        and not forms.beside(tokens, f)
        and not forms.at_another_time(tokens, f.start, f.end)
        for f in forms.every(tokens)
    )


def _alive(scene, found):
    """Which senses can hold in this line: words of an incident once there is one, words about
    things once such a thing is named.
    """
    happening = scene.incident_live or any(tells_incident(m) for m in found) or _rings(scene)
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
