"""Rival readings of a segment: where nobody typed a comma, each place at which one may be meant is
tried, and the reading that leaves least unsaid is kept.
"""

from __future__ import annotations

from typing import NamedTuple

from advisor.language.clock import clock_at
from advisor.language.forms import forms_of
from advisor.language.joints import possessive
from advisor.language.match import matches
from advisor.language.parts import Intent, Outside, Said, Unclear
from advisor.language.quantities import quantities, sequence_at
from advisor.language.tokens import Token, tokenise
from advisor.language.words import (
    ADJECTIVES,
    ALL_OF,
    ASIDES,
    COMMON,
    CORRECTORS,
    DOUBTERS,
    FILLERS,
    HEDGES,
    HYPOTHETICALS,
    NEGATORS,
    NO,
    PARTLY,
    SEPARATORS,
    YES,
)

MOST = 3  # commas put in
PLACES = 9  # at which one is tried
MARGIN = 0.4  # by which a reading with one more comma must be the better
SLACK = 1.0  # by which a reading that holds one thing a clause may say less
LONGEST = 60  # tokens of a segment of which rivals are tried
_OPENERS = (
    ADJECTIVES
    | ALL_OF
    | NEGATORS
    | frozenset("a an the my our his her their its this some about just only left right".split())
)
_STOPS = frozenset("; . ! ? ,".split())
_SEVERAL = frozenset("and & both all each every either neither them they +".split())
_LEADING = frozenset(  # words that hold on to what stands before them
    "of at in on by from with for per than to as into onto over under near behind"
    " between below above"
    " beside along across through off apart except that which who whose when where"
    " while since if is"
    " are was were has have had be been being do does did can could will would"
    " should may might must"
    " or nor and but so because then until till after before during without within"
    " too enough".split()
)
_CLOSING = frozenset(
    "old deep long high wide thick tall away back up down off out apart now today done properly"
    " fully badly too all".split()
)
_DOUBTING = frozenset(
    "hopefully probably maybe perhaps apparently pretty fairly reckon think guess should supposedly"
    " possibly presumably allegedly".split()
)
_FINITE = frozenset(
    "is are was were has have does do did can could will would should looks".split()
)
_ASKING = frozenset("what why how should can could would shall is are do does did will".split())
_ASKED = frozenset(
    "it that this the we i you they he she there is are do does should would".split()
)
_ASKED_FIRST = frozenset("what which why how who where when whose".split())
_SPENT = frozenset("badly much bad lots".split())
_WAYS = frozenset("left right up down below above back off in under away".split())
_SUBJECTS = frozenset("i we you he she it they there nobody everyone everybody someone let".split())


class Weight(NamedTuple):
    """What the parts of a reading count for."""

    fact: float = 1.0
    doubt: float = -0.5
    named: float = 0.15
    asked: float = 1.2
    lost: float = -0.8  # a word with meaning that was not understood
    part: float = -0.5  # each stretch of them
    strain: float = -0.5  # each verb or denial too many in a clause, each thing too many
    turned: float = -0.8  # what was known is said otherwise
    spread: float = -1.6  # one phrase said of several things with no word that says so


WEIGHT = Weight()


def places(scene) -> list[int]:
    """Tokens before which a comma may be meant, left to right: behind a phrase or a figure, and
    before what may begin a clause.
    """
    tokens = scene.tokens
    numbers = quantities(tokens)
    found = matches(tokens, scene.index, frozenset(_inside(numbers)))
    chunks = [*found, *numbers, *clocks(tokens)]
    forms = forms_of(scene.base).found(tokens)
    inside = {i for item in (*chunks, *forms) for i in range(item.start + 1, item.end)}
    starts = {item.start for item in chunks}
    counts = {q.end for q in numbers if q.unit is None}
    result = []
    for at in range(1, len(tokens)):
        if (
            at not in inside
            and _behind(tokens, at, chunks)
            and _free(tokens, at)
            and not _leads_in(tokens, at, chunks)
        ):
            opens = (
                at in starts
                or tokens[at].text in _OPENERS | _SUBJECTS | _DOUBTING
                or _asks(tokens, at)
                or _refuses(tokens, at)
            )
            opens = opens and not _own_number(scene, at, counts, numbers)
            opens = opens and (_asks(tokens, at) or _tells(tokens, at, numbers))
            if opens and (at not in counts or _after_count(tokens, at, numbers)):
                result.append(at)
    return result[:PLACES]


def clocks(tokens) -> list:
    """The times of day, left to right."""
    found: list = []
    for at in range(len(tokens)):
        clock = clock_at(tokens, at) if not found or at >= found[-1].end else None
        found += [clock] if clock else []
    return found


def _inside(numbers):
    return [i for q in numbers for i in range(q.start, q.end)]


def _leads_in(tokens, at, chunks) -> bool:
    """Whether what stands before a token only says how sure or how real the rest is: 'not sure',
    'last year', 'suppose'.
    """
    start = next((i + 1 for i in range(at - 1, -1, -1) if tokens[i].text in _STOPS), 0)
    if tokens[start].text in _ASKED_FIRST and tokens[at].text != "what":
        return True  # the rest of a question
    if _asks_outright(tokens, start) and not _subject_and_verb(tokens, at):
        return True  # 'is 7 mm cord strong enough'
    said = [
        (i, sequence_at(tokens, i, leads))
        for i in range(start, at)
        for leads in (DOUBTERS, ASIDES, HYPOTHETICALS)
    ]
    if any(sequence_at(tokens, i, PARTLY) for i in range(start, _stop(tokens, at))):
        return True  # said of some: that holds for all of it
    last = max((i + length for i, length in said if length), default=0)
    return last > 0 and not any(last <= item.start < at for item in chunks)


def _asks_outright(tokens, at) -> bool:
    """Whether a question begins that is no 'what' or 'why': 'is it', 'can two of us', 'may a'."""
    after = tokens[at + 1] if at + 1 < len(tokens) else None
    return (
        after is not None
        and tokens[at].text in _ASKING - {"what", "why", "how"} | {"may"}
        and (after.text in _ASKED | _SOMEBODY or after.is_number)
    )


def _subject_and_verb(tokens, at) -> bool:
    """Whether somebody speaks anew: 'is it ok it is 14 m'."""
    after = tokens[at + 1].text if at + 1 < len(tokens) else ""
    return tokens[at].text in _SUBJECTS and after in _FINITE


_SOMEBODY = frozenset("a an my our one two three a any anyone".split())


def _stop(tokens, at) -> int:
    return next((i for i in range(at, len(tokens)) if tokens[i].text in _STOPS), len(tokens))


def _own_number(scene, at, counts, numbers) -> bool:
    """Whether a number is the own mark of the thing right before it, 'krab 12', or a direction goes
    with a measure, '2 ft left'.
    """
    tokens = scene.tokens
    if tokens[at].text in _WAYS and any(q.end == at and q.unit for q in numbers):
        return True
    before = scene.index.phrases.get((tokens[at - 1].stem,), ())
    after = tokens[at + 1] if at + 1 < len(tokens) else None
    plural = after is not None and after.text.endswith("s") and after.text[:-1] == after.stem
    return (
        any(q.start == at and q.end in counts for q in numbers)
        and (tokens[at].is_number or (after is not None and after.text in _FINITE))
        and any(s.form == "entity" and scene.entity(s.entity).many for s in before)
        and not plural
    )


def _behind(tokens, at, chunks) -> bool:
    """Whether what stands before a token may end a clause."""
    ends = {item.end for item in chunks}
    light = tokens[at - 1].text in _CLOSING and at - 1 in ends
    return (
        at in ends
        or light
        or at == 1
        and _answers(tokens)
        or _plays_down(tokens, at)
        or at > 1
        and tokens[at - 1].text in _SPENT
        and tokens[at - 2].text in NEGATORS
        or _denies(tokens, at, {item.start for item in chunks})
        or _predicates(tokens, at, chunks)
    )


def _predicates(tokens, at, chunks) -> bool:
    """Whether a thing or matter with a verb right behind it begins here: "lifeline's a 9 mm"."""
    while at + 1 < len(tokens) and tokens[at].text in _OPENERS:
        at += 1
    ends = [item.end for item in chunks if item.start == at]
    return any(
        tokens[end].text in _FINITE and not possessive(tokens, end)
        for end in ends
        if end < len(tokens)
    )


def _refuses(tokens, at) -> bool:
    """'can not vouch for …', 'do not trust …'."""
    after = tokens[at + 1].text if at + 1 < len(tokens) else ""
    return tokens[at].text in ("can", "could", "will", "would", "do") and after == "not"


def _plays_down(tokens, at) -> bool:
    """Whether what was told is made less: 'bleeding from the hand not badly'."""
    rest = [t.text for t in tokens[at + 1 : _stop(tokens, at)]]
    return tokens[at].text == "not" and bool(rest) and HEDGES.issuperset(rest)


def _denies(tokens, at, starts) -> bool:
    """Whether a denial of something known begins here: 'tapped and pulled no movement'."""
    return (
        tokens[at].text in ("no", "none", "nothing", "nobody", "never")
        and at + 1 in starts
        and tokens[at - 1].text not in ADJECTIVES | NEGATORS
    )


def _answers(tokens) -> bool:
    """Whether the first word answers, and the rest says more: 'no it is 14 m'."""
    first, second = tokens[0].text, tokens[1].text
    return first in YES or (first in NO and second in _SUBJECTS | _LEADING | {"this", "that"})


def _free(tokens, at) -> bool:
    """Whether no separator stands here already, and neither word holds on to the other."""
    before, here = tokens[at - 1], tokens[at]
    return (
        before.text not in SEPARATORS
        and here.text not in SEPARATORS
        and (
            before.text not in (_OPENERS | _LEADING) - ADJECTIVES
            or (before.text in ("right", "left") and here.text in _SUBJECTS)
        )
        and (
            here.text not in _LEADING
            or _asks(tokens, at)
            or _refuses(tokens, at)
            or (at == 1 and _answers(tokens))
        )
        and before.start != here.start
        and not (before.text in ADJECTIVES and tokens[at - 2].text in _OPENERS | _LEADING)
        and (here.is_word or here.is_number)
    )


def _tells(tokens, at, numbers) -> bool:
    """Whether what stands from here on is no part of a question, and not the time of an act: 'ten
    minutes ago'.
    """
    end = next((i for i in range(at, len(tokens)) if tokens[i].text in _STOPS), None)
    ago = any(
        q.start == at and tokens[q.end : q.end + 1] and tokens[q.end].text == "ago" for q in numbers
    )
    return (end is None or tokens[end].text != "?") and not ago


def _asks(tokens, at) -> bool:
    """Whether a question may begin here: 'is it', 'what should', 'how long'."""
    after = tokens[at + 1].text if at + 1 < len(tokens) else ""
    return tokens[at].text in _ASKING and (
        after in _ASKED or tokens[at].text in ("what", "why", "how")
    )


def _after_count(tokens, at, numbers) -> bool:
    """Behind a bare number a comma is only meant where a word for all, a denial or a pronoun
    follows, or where each number has its cue before it: 'size 10 novices 4'.
    """
    text = tokens[at].text
    return text in ALL_OF | NEGATORS | _SUBJECTS | {"all", "only"} or (
        at > 1
        and tokens[at - 2].is_word
        and any(q.start > at for q in numbers)
        and tokens[at].is_word
    )


def with_comma(tokens: list[Token], at: int) -> list[Token]:
    """The tokens with a comma before one of them."""
    place = tokens[at].start
    return [*tokens[:at], Token(",", ",", place, place, False), *tokens[at:]]


def score(scene, before: int) -> float:
    """How much a reading says, and how little it leaves unsaid; before: parts of earlier
    segments.
    """
    parts = scene.parts[before:]
    facts = [p for p in parts if isinstance(p, Said)]
    once = {(p.key, p.words): p for p in facts}.values()  # one phrase counts once
    total = sum(_of_fact(p) for p in once) + _spread(scene, facts) + WEIGHT.strain * scene.strain
    for part in parts:
        if isinstance(part, Intent):
            total += WEIGHT.asked + sum(_of_fact(a) for a in part.arguments if isinstance(a, Said))
        elif isinstance(part, Outside):
            total += WEIGHT.asked
        elif isinstance(part, Unclear):
            total += WEIGHT.part + WEIGHT.lost * len(_content(part.words))
    return total


def _of_fact(said: Said) -> float:
    if said.raw == "unknown":
        return WEIGHT.named
    return WEIGHT.fact + (WEIGHT.doubt if said.doubtful else 0)


def _content(words: str) -> list[str]:
    return [
        t.text
        for t in tokenise(words)
        if (t.is_word and t.text not in COMMON | FILLERS) or t.is_number
    ]


def _spread(scene, facts) -> float:
    """What counts against one phrase taken of several things, and against another value of what is
    known already.
    """
    said: dict = {}
    for fact in facts:
        said.setdefault((fact.key, fact.words), set()).add(fact.entity)
    many = sum(len(things) > 1 and not _of_several(scene, key[1]) for key, things in said.items())
    other = sum(_turns(scene, fact) for fact in facts)
    return WEIGHT.spread * many + WEIGHT.turned * other


def _of_several(scene, words) -> bool:
    """Whether the clause in which words stand speaks of several things."""
    at = scene.line.find(words)
    clause: list = []
    for token in scene.tokens:
        if token.text in _STOPS:
            if token.start > at:
                break
            clause = []
        clause.append(token)
    return any(
        t.text in _SEVERAL or (t.text.endswith("s") and t.text[:-1] == t.stem) for t in clause
    )


def _turns(scene, fact) -> bool:
    """Whether a fact is said that was known to be another, with no word that puts it right."""
    known = scene.context.facts.get((fact.entity, fact.key))
    if known is None or scene.vocabulary.attribute(fact.key).is_number or fact.raw == "unknown":
        return False
    was = known.raw if known.raw is not None else known.text
    return was not in (fact.raw, "unknown")


def strain(tokens, clauses) -> float:
    """How much more clauses hold than one clause does: a second verb, a second denial."""
    total = 0.0
    for clause in clauses:
        verbs = [
            i
            for i in range(clause.start, clause.end)
            if tokens[i].text in _FINITE
            and not possessive(tokens, i)
            and not (i > clause.start and tokens[i - 1].text in _FINITE)
            and not any(m.start <= i < m.end and m.stems > 2 for m in clause.matches)
        ]
        total += max(len(verbs) - 1, 0) + max(len(clause.negators) - 1, 0)
        total += sum(
            n + 2 < clause.end and tokens[n + 1].text in _SPENT for n in clause.negators
        )  # 'not badly' has denied what stood before it
    return total


def opened(scene) -> list[Token]:
    """The tokens with a comma behind an answer or a word that puts right, where more is said: 'no
    it is 14 m', "scrap that it's spray".
    """
    tokens = scene.tokens
    length = sequence_at(tokens, 0, CORRECTORS)
    if not length and scene.context.asked and len(tokens) > 2 and _answers(tokens):
        length = 1
    if not 0 < length < len(tokens) - 1 or tokens[length].text in SEPARATORS:
        return tokens
    begins = tokens[length].text in _SUBJECTS or length == 1
    return with_comma(tokens, length) if begins else tokens


def best_of(scene, read):
    """Read a scene's tokens the best way; `read` reads the clauses of a scene."""
    before = len(scene.parts)
    best = scene.fork()
    read(best)
    found = score(best, before)
    if len(scene.tokens) <= LONGEST:
        best, found = _climbed(scene, best, found, before, read)
        best = _parted(scene, best, found, before, read)
    scene.adopt(best)


def _parted(scene, best, found, before, read):
    """The reading with each thing that a clause holds beside another in a clause of its own, where
    that says about as much.
    """
    tokens = list(best.tokens)
    if not best.parted:
        return best
    for place in sorted(set(best.parted), reverse=True):
        at = next((i for i, t in enumerate(tokens) if t.start == place and t.text != ","), 0)
        if at and tokens[at - 1].text not in SEPARATORS:
            tokens = with_comma(tokens, at)
    trial = scene.fork()
    trial.tokens = tokens
    read(trial)
    return trial if score(trial, before) > found - SLACK and not trial.parted else best


def _cleaner(scene, trial, best, before) -> bool:
    """Whether a trial leaves no more stretches of words not understood, and takes no fact from one
    word of a thing that nothing else speaks of.
    """
    new, old = trial.parts[before:], best.parts[before:]
    lost = [sum(isinstance(p, Unclear) for p in parts) for parts in (new, old)]
    spoken = {scene.kind_of(p.entity) for p in old if isinstance(p, Said)}
    spoken |= {scene.kind_of(i) for i in trial.subjects}
    asked = [p for p in new if isinstance(p, Intent) and p not in old and " " not in p.words]
    return (
        lost[0] <= lost[1]
        and not asked
        and not any(
            isinstance(p, Said)
            and len(_content(p.words)) < 2
            and not any(c.isdecimal() for c in p.words)
            and scene.kind_of(p.entity) not in spoken
            for p in new
        )
    )


def _climbed(scene, best, found, before, read):
    """(the best reading, its score): one comma more as long as that makes it the better."""
    tokens = scene.tokens
    for _ in range(MOST):
        trials = []
        scene.tokens = tokens
        for at in places(scene):
            trial = scene.fork()
            trial.tokens = with_comma(tokens, at)
            read(trial)
            trials.append((score(trial, before), -at, trial))
        trials = [t for t in trials if _cleaner(scene, t[2], best, before)]
        top = max(trials, key=lambda t: t[:2], default=None)
        if top is None or top[0] < found + MARGIN:
            break
        found, _, best = top
        tokens = with_comma(tokens, -top[1])
    return best, found
