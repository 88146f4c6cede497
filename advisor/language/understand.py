"""One line of talk taken apart: facts, questions, what was not understood, what is not this
program's job.
"""

from __future__ import annotations

import re

from advisor.language import meaning
from advisor.language.account import account
from advisor.language.answers import read_answer
from advisor.language.arguments import argument_of, thing_asked
from advisor.language.corrections import contrasts, correcting, read_correction
from advisor.language.denied_twice import denied_twice, either_way
from advisor.language.forms import forms_of
from advisor.language.intents import TO_THE_END, intent_in, intents_in, outside_in
from advisor.language.parts import Context, Heard, Intent, Outside, Said, Unclear
from advisor.language.quantities import sequence_at
from advisor.language.questions import asked_to
from advisor.language.read import read_clause
from advisor.language.rivals import best_of, opened, strain
from advisor.language.scene import Scene
from advisor.language.tidy import tidied
from advisor.language.typed import read_typed
from advisor.language.words import (
    ASIDES,
    CLAUSE_BREAKS,
    CORRECTORS,
    HEDGES,
    HYPOTHETICALS,
    LATER_HYPOTHETICALS,
    LIGHT,
    NO,
    POLITE,
    YES,
)

_MOVING = frozenset(("undo", "redo", "start again", "skip", "quit"))
_ORDERED = LIGHT | {"last", "step", "fact", "line", "answer", "question"}
_WAITING = POLITE | frozenset("look check see ask have".split())
_HEADS = frozenset(
    "we i it there the they someone somebody anyone one he she a my all both".split()
)
_CROWDS = ("all", "everyone", "everybody", "all of them", "most", "none")
MOST_ASKED = 5  # words with a meaning that 'is it safe to …' may hold
LONGEST = 2000  # characters of one line that are read

__all__ = ["Context", "Heard", "Intent", "Outside", "Said", "Unclear", "understand"]


def understand(text: str, context: Context) -> Heard:
    """What a line says. Never raises; nothing is guessed into a fact."""
    kept, rest = text[:LONGEST], text[LONGEST:]
    scene = Scene("", context)
    if not read_typed(scene, kept):
        for segment in re.split(r"[;\n\r]+", kept):
            before = len(scene.parts)
            if segment.strip() and not read_typed(scene, segment):
                _read(scene, segment)
                if len(scene.parts) == before and not POLITE.issuperset(
                    t.text for t in scene.tokens if t.is_word
                ):
                    scene.unclear(segment)
                account(scene, before)
    if rest.strip():
        scene.unclear(
            rest[:80] + (f" … ({len(rest)} characters)" if len(rest) > 80 else ""),
            ["say it in shorter lines"],
        )
    return Heard(tuple(tidied(scene, scene.parts)))


def _read(scene, segment):
    """Read one natural segment into the scene."""
    scene.take(segment)
    if (
        not scene.tokens
        or not any(t.is_word or t.is_number for t in scene.tokens)
        and segment.strip() != "?"
    ):
        if segment.strip():
            scene.unclear(segment)
        return
    if _whole(scene):
        return
    scene.tokens = opened(scene)
    if read_answer(scene, scene.tokens, understand):
        return
    best_of(scene, _clauses)
    meaning.otherwise(scene)


def _clauses(scene):
    """Read all clauses of a scene's tokens."""
    clauses = scene.clauses()
    scene.strain += strain(scene.tokens, clauses)
    denied = contrasts(scene, clauses)
    twice = denied_twice(scene.tokens)
    at = 0
    while at < len(clauses):
        after = _denied_twice(scene, clauses, at, twice)
        if after is not None:
            at = after
            continue
        last = asked_to(scene, clauses, at)
        at = (
            _clause(scene, clauses, at, denied)
            if last is None
            else _question(scene, clauses, at, last, denied)
        )


def _denied_twice(scene, clauses, at, twice) -> int | None:
    """Ask which is meant where one denial reaches another in the clause at an index; returns the
    next index, or None where none does.
    """
    start = clauses[at].start
    pair = next(((a, b) for a, b in twice if start <= a < clauses[at].end), None)
    if pair is None:
        return None
    last = next((i for i, c in enumerate(clauses) if c.start <= pair[1] < c.end), at)
    end = clauses[last].end
    scene.unclear(scene.words(start, end), either_way(scene, pair, start, end, _clauses))
    return last + 1


def _question(scene, clauses, at, last, denied) -> int:
    """Read what is asked: its facts are only supposed, whatever it asks; returns the next index."""
    start, before = clauses[at].start, len(scene.parts)
    scene.asking, facts = [], []
    while at <= last:
        at = _clause(scene, clauses, at, denied)
    facts, scene.asking = scene.asking, None
    end = clauses[max(last, at - 1)].end
    words = scene.words(start, end)
    _no_orders(scene, before)
    facts = facts or _figures_in(scene, clauses, start, end)
    asked = [p for p in scene.parts[before:] if isinstance(p, (Intent, Outside))]
    if not asked:
        scene.parts[before:] = []
        scene.unclear(words)
    if asked and _more_asked(scene, asked, words, facts):
        scene.unclear(words)
    supposed = [p for p in asked if isinstance(p, Intent) and p.kind == "what if"]
    if facts and not any(p.arguments for p in supposed):
        for part in supposed:  # 'if I want to lower someone', behind a question with figures
            scene.parts.remove(part)
        scene.parts.append(Intent("what if", tuple(facts), words))
    return at


def _no_orders(scene, before):
    """'how long to get 9 down and back' gives no order to take something back."""
    asked = [p for p in scene.parts[before:] if isinstance(p, Intent)]
    for part in asked[1:]:
        if part.kind in _MOVING:
            scene.parts.remove(part)


def _figures_in(scene, clauses, start, end) -> list:
    """The figures that a question tells: the 18 m of 'how much rope for an 18 m pitch'; how long a
    thing is that is asked for is none of them.
    """
    trial = scene.fork()
    trial.asking = []
    for clause in clauses:
        if start <= clause.start and clause.end <= end and clause.quantities and not clause.form:
            clause.used.clear()
            read_clause(trial, clause)
    facts = [
        f
        for f in trial.asking
        if scene.vocabulary.attribute(f.key).is_number
        and not f.key.endswith(".length")
        and sum(f[:2] == other[:2] for other in trial.asking) == 1
    ]
    figures = [c for c in clauses if start <= c.start and c.end <= end and c.quantities]
    if figures and not facts:
        scene.unclear(scene.words(start, end))
    return facts


def _more_asked(scene, asked, words, facts) -> bool:
    """Whether a general question holds so much of its own that its answer is none to it."""
    if not all(isinstance(p, Intent) and p.kind in ("safe", "advise", "thing") for p in asked):
        return False
    told = {t for f in facts for t in f.words.split()}
    rest = [w for w in words.lower().split() if w not in LIGHT and w not in told]
    return len(rest) > MOST_ASKED


def _whole(scene) -> bool:
    """A segment that is a short order and nothing else, such as 'undo'."""
    text = " ".join(
        t.text
        for t in scene.tokens
        if t.is_word or t.is_number or (t.text == "?" and len(scene.tokens) == 1)
    )
    found = intent_in(text)
    if found and found[0] == "export":
        scene.parts.append(
            Intent("export", argument_of(scene, "export", 0, len(scene.tokens)), scene.line.strip())
        )
        return True
    if outside_in(text):
        return False
    if (
        not found
        or found[1].end() < len(text)
        or found[0]
        in (
            "incident",
            "thing",
            "why",
            "why not",
            "what would change",
            "where",
            "export",
            "explain number",
        )
        or len(text) > 60
    ):
        return False
    if scene.context.asked and found[0] == "quit" and text in ("done", "finished"):
        return False
    if found[0] in (
        "safe",
        "advise",
        "told",
        "unknowns",
        "how long",
        "how much rope",
        "what kit",
        "what can go wrong",
        "sources",
    ) and (any(c in scene.line for c in ",.") or any(t.is_number for t in scene.tokens)):
        return False
    if found[0] == "how long" and any(
        f.form.asks not in ("", "how long") for f in forms_of(scene.base).every(scene.tokens)
    ):
        return False  # 'how long can she hang there' asks something else
    scene.parts.append(Intent(found[0], (), scene.line.strip()))
    return True


def _clause(scene, clauses, at, denied) -> int:
    """Read the clause at an index, or all to the sentence's end where it opens a question; returns
    the next index.
    """
    clause = clauses[at]
    if clause.form:
        return _form(scene, clauses, at)
    end = next(
        (
            i
            for i in range(at, len(clauses))
            if clauses[i].closer in CLAUSE_BREAKS or i == len(clauses) - 1
        ),
        at,
    )
    text = _text(scene, clause.start, clauses[end].end)
    if _hypothetical(scene, clause, clauses[end]):
        return end + 1
    if sequence_at(scene.tokens, _opening(scene, clause), ASIDES):
        scene.unclear(scene.words(clause.start, clauses[end].end))
        return end + 1
    texts = [t.text for t in scene.tokens[clause.start : clause.end]]
    if "either" in texts and "or" in texts[texts.index("either") :]:
        scene.unclear(scene.words(clause.start, clause.end))
        return at + 1
    last = _run(clauses, at)
    outside = outside_in(_text(scene, clause.start, clauses[last].end))
    if outside and _outsider(scene, clause):
        scene.parts.append(Outside(scene.words(clause.start, clauses[last].end), outside))
        return last + 1
    for found in () if at + 1 < len(clauses) and _taken_back(scene, clause) else intents_in(text):
        after = _intent(scene, clauses, at, end, *found)
        if after is not None:
            return after
    return _statement(scene, clauses, at, end, denied)


def _form(scene, clauses, at) -> int:
    """Take a way of saying; a question that goes to the end of the sentence with all of it."""
    asks = clauses[at].form.form.asks
    kind = asks.partition(":")[0]
    if kind not in TO_THE_END or kind == "incident":
        meaning.take(scene, clauses[at])
        return at + 1
    last = _run(clauses, at)
    meaning.asked(scene, asks, clauses[at].start, clauses[last].end)
    return last + 1


def _run(clauses, at) -> int:
    """The last of the clauses from one on that no separator parts."""
    while at + 1 < len(clauses) and not clauses[at + 1].opener:
        at += 1
    return at


def _statement(scene, clauses, at, end, denied) -> int:
    """Read the clause at an index as an answer, as something put right, or for its facts; returns
    the next index.
    """
    clause = clauses[at]
    if _wait(scene, clause) or _lone_word(scene, clauses, at) or at and _played_down(scene, clause):
        return at + 1
    strong = correcting(scene, clause)
    opened = at > 0 and _spent(clauses[at - 1])
    if (strong or denied is not None or opened) and read_correction(
        scene, clause, denied, strong or opened
    ):
        return at + 1
    if all(i in clause.used for i in range(clause.start, clause.end)):
        return at + 1
    if clause.question:
        scene.unclear(scene.words(clause.start, clauses[end].end))
        return end + 1
    _fact(scene, clauses, at, strong or opened)
    return at + 1


def _spent(clause) -> bool:
    """Whether a clause was only an opening, such as 'no' or 'I mean'."""
    return (
        not clause.form
        and not clause.matches
        and not clause.quantities
        and set(range(clause.start, clause.end)) <= clause.used
    )


def _fact(scene, clauses, at, correcting):
    """Read a clause for its facts; one that puts something right is read as the answer to the fact
    last spoken of.
    """
    clause, scene.correcting = clauses[at], correcting
    if correcting and scene.context.last_key:
        kept, scene.context = (
            scene.context,
            scene.context._replace(asked=(scene.context.last, scene.context.last_key)),
        )
        read_clause(scene, clause)
        scene.context = kept
    elif (
        clause.opener in ("but", "except")
        and at
        and _text(scene, clauses[at - 1].start, clauses[at - 1].end) in _CROWDS
    ):
        scene.unclear(scene.words(clauses[at - 1].start, clause.end))
    else:
        read_clause(scene, clause)


def _text(scene, start, end) -> str:
    return " ".join(
        t.text for t in scene.tokens[start:end] if t.is_word or t.is_number or ":" in t.text
    )


def _taken_back(scene, clause) -> bool:
    """'scrap that, it's spray': an opening that puts right what follows, no order of its own."""
    return clause.closer == "," and _text(scene, clause.start, clause.end) in CORRECTORS


def _outsider(scene, clause) -> bool:
    """A clause outside the job must be a question or a wish, not a statement with facts of the
    trade.
    """
    return (
        clause.question
        or clause.closer == "?"
        or not clause.quantities
        and not clause.clocks
        and len(clause.matches) <= 1
        and not _states(scene, clause)
    )


def _states(scene, clause) -> bool:
    """'inhaler in her pocket': a statement that can only mean a yes-or-no fact of the
    vocabulary.
    """
    senses = [s for m in clause.matches for s in m.senses]
    return bool(senses) and all(
        s.form == "value" and scene.vocabulary.attribute(s.key).type == "yes/no" for s in senses
    )


def _lone_word(scene, clauses, at) -> bool:
    """'yes' or 'no' before the rest: the answer to a yes-or-no question, else only an opening."""
    clause = clauses[at]
    words = [t.text for t in scene.tokens[clause.start : clause.end] if t.is_word]
    if len(words) != 1 or words[0] not in YES | NO or clause.matches or clause.quantities:
        return False
    if at and clauses[at - 1].closer == "?" and _answered(scene, words[0] in YES):
        return True
    asked = scene.context.asked
    if (
        asked
        and scene.vocabulary.attribute(asked[1]).type == "yes/no"
        and at == 0
        and not (words[0] in NO and len(clauses) > 1 and _only_thing(scene, clauses[1]))
    ):
        scene.say(*asked, "yes" if words[0] in YES else "no", words[0])
    elif len(clauses) == 1:
        scene.unclear(scene.words(clause.start, clause.end))
    clause.used.update(range(clause.start, clause.end))
    return True


def _answered(scene, yes: bool) -> bool:
    """'ledge? no': the speaker's own answer takes the doubt away."""
    last = scene.recent[-1] if scene.recent else None
    if last is None or scene.vocabulary.attribute(last.key).type != "yes/no" or not last.doubtful:
        return False
    value = last.raw.rstrip("?")
    flipped = {"yes": "no", "no": "yes"}[value]
    said = last._replace(raw=value if yes else flipped, doubtful=False)
    scene.recent[-1] = said
    scene.parts[scene.parts.index(last)] = said
    return True


def _wait(scene, clause) -> bool:
    """'hold on a sec' asks to wait; it does not tell that somebody holds on."""
    words = [t.text for t in scene.tokens[clause.start : clause.end]]
    return words[:2] in (["hold", "on"], ["hang", "on"]) and _WAITING.issuperset(words[2:])


def _played_down(scene, clause) -> bool:
    """'bleeding from the hand, not badly': less than what was just told, and still not
    none of it.
    """
    words = [t.text for t in scene.tokens[clause.start : clause.end] if t.is_word]
    last = scene.recent[-1] if scene.recent else None
    if (
        len(words) < 2
        or words[0] != "not"
        or not HEDGES.issuperset(w for w in words[1:] if w != "a")
        or last is None
        or last.raw != "yes"
        or not any(w.endswith("ly") for w in last.key.split())
    ):
        return False
    said = last._replace(raw="no?", doubtful=True)
    scene.recent[-1] = said
    scene.parts[scene.parts.index(last)] = said
    return True


def _only_thing(scene, clause) -> bool:
    return (
        "one" in [t.text for t in scene.tokens[clause.start : clause.end]]
        and clause.end - clause.start <= 4
    )


def _opening(scene, clause) -> int:
    """Where a clause begins, after words such as 'ok, so'."""
    at = clause.start
    while at < clause.end and scene.tokens[at].text in (
        "ok",
        "okay",
        "so",
        "and",
        "but",
        "right",
        "well",
        "now",
        "then",
        "yes",
        "what",
        "just",
    ):
        if sequence_at(scene.tokens, at, HYPOTHETICALS) or sequence_at(scene.tokens, at, ASIDES):
            break
        at += 1
    return at


def _hypothetical(scene, clause, last) -> bool:
    """'suppose the helper stays below': all to the end of the sentence is only supposed."""
    at = _opening(scene, clause)
    length, later = sequence_at(scene.tokens, at, HYPOTHETICALS), False
    if sequence_at(scene.tokens, at, ASIDES) > length:
        return False  # 'if only'
    named = scene.tokens[at + 1] if at + 1 < clause.end else None
    if scene.tokens[at : at + 1] and scene.tokens[at].text == "say" and named:
        length = length or int(scene.line[named.start].isupper() and named.text != "i")
    while not length and clause.question and at < clause.end:
        at += 1
        length, later = sequence_at(scene.tokens, at, LATER_HYPOTHETICALS), True
    if not length:
        return False
    words = scene.words(clause.start, last.end)
    opening = scene.tokens[at + length - 1].text
    start = at + length - (opening in _HEADS)
    if later:
        start = at + 1  # 'it were 25 metres'
    supposed, unclear = _aside(scene, start, last.end)
    scene.parts.append(Intent("what if", tuple(supposed), words))
    scene.parts += unclear
    if not supposed and not unclear:
        scene.unclear(words)
    return True


def _aside(scene, start, end):
    """(facts, unclear parts) of words that are not to be taken as said."""
    aside = Scene("", scene.context)
    aside.supposing = True
    aside.names = {kind: set(ids) for kind, ids in scene.names.items()}
    aside.recent, aside.subjects, aside.crowd = (
        list(scene.recent),
        list(scene.subjects),
        list(scene.crowd),
    )
    line = scene.words(start, end)
    if not read_typed(aside, line):
        aside.take(line)
        clauses = aside.clauses()
        denied = contrasts(aside, clauses)
        for clause in clauses:
            if clause.form:
                meaning.take(aside, clause)
                continue
            if denied is not None and read_correction(aside, clause, denied, False):
                continue
            if not clause.question and not intent_in(_text(aside, clause.start, clause.end)):
                read_clause(aside, clause)
    meaning.otherwise(aside)
    return [p for p in aside.parts if isinstance(p, Said)], [
        p for p in aside.parts if isinstance(p, Unclear)
    ]


def _intent(scene, clauses, at, end, kind, match) -> int | None:
    """Take a question, with what it is about; None where its words fit but it is about nothing of
    the kind.
    """
    if kind in _MOVING and not _ORDERED.issuperset(_rest(scene, clauses[at], match)):
        return None  # 'scrap that callout, five not four' is no order to take back
    last = end if kind in TO_THE_END else _run(clauses, at)
    words = scene.words(clauses[at].start, clauses[last].end)
    if kind == "thing":
        found = thing_asked(scene, clauses[at])
        if found:
            asked, arguments = found
            scene.parts.append(Intent(asked, arguments, words))
        return last + 1 if found else None
    if kind == "incident":
        rest = next((r for r in match.groupdict().values() if r), "")
        facts, unclear = (
            _aside(
                scene,
                clauses[at].start + _skipped(scene, clauses[at].start, clauses[end].end, rest),
                clauses[end].end,
            )
            if rest.strip()
            else ([], [])
        )
        happened = any(f.key.startswith("incident.") for f in facts)
        found = None if happened or not rest.strip() else thing_asked(scene, clauses[at])
        if found:  # 'what do I do with the ladder': nothing has happened
            kind, arguments = found
            scene.parts.append(Intent(kind, arguments, words))
            return end + 1
        if match.group().startswith("how") and not happened:
            return None
        supposed = ("incident", "incident.what") in scene.context.facts and re.search(
            r"\b(?:if|once|when)\b", match.group()[: match.group().find(rest)] if rest else ""
        )
        if facts and (not happened or supposed):  # one thing has happened; this is only thought of
            scene.parts.append(Intent("what if", tuple(facts), words))
        else:
            scene.parts.append(Intent("incident", (), words))
            for fact in facts:
                scene.say(fact.entity, fact.key, fact.raw, fact.words, fact.doubtful)
        scene.parts += unclear
        return end + 1
    arguments = argument_of(scene, kind, clauses[at].start, clauses[last].end)
    if not (
        scene.parts
        and isinstance(scene.parts[-1], Intent)
        and scene.parts[-1][:2] == (kind, arguments)
    ):
        scene.parts.append(Intent(kind, arguments, words))
    return last + 1


def _rest(scene, clause, match) -> list[str]:
    """The words of a clause behind those of an order."""
    words = [t.text for t in scene.tokens[clause.start : clause.end] if t.is_word or t.is_number]
    return words[len(match.group().split()) :]


def _skipped(scene, start, end, rest) -> int:
    """How many tokens stand before the rest of a question."""
    return max(end - start - len(rest.split()), 0) if rest else 0
