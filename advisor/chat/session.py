"""What a conversation knows: facts as they were said, in order, with undo; and the advice they
lead to. No input, no output.
"""

from __future__ import annotations

from copy import copy
from typing import NamedTuple

from msgspec.structs import replace

from advisor.advise import Run
from advisor.chat.questions import next_question, split_fact
from advisor.facts.values import ASSUMED, UNKNOWN_WORDS, Assumed, as_assumed, read_fact
from advisor.facts.vocabulary import AT_HOME, AT_THE_HEAD
from advisor.faults import Place
from advisor.load.case import Case, name_fault, nameable, past_midnight, topics_of
from advisor.model.advice import BLOCKING, Advice
from advisor.progress import Watch

KNOWN_ALREADY = "you told that already; to look ahead say 'suppose …'."
MOST_STEPS = 100  # how far undo goes back


class Session:
    """Facts said so far and the advice on them.

    Every change makes a new step that can be undone.
    """

    def __init__(self, advisor, title: str = ""):
        self.advisor, self.title = advisor, title
        # Each: {(entity, key): raw as said}; what is only assumed is Assumed.
        self.steps: list[dict] = [{}]
        self.undone: list[dict] = []
        self.asked: set = set()
        self.skipped: set = set()
        self.twice: set = set()  # what was put off or not answered, and came back
        self.quiet = False
        self.question = None  # (entity, key) last asked and not answered yet
        self.last_entity = self.last_key = None
        self.branches: dict[str, dict] = {}  # name -> {(entity, key): raw}
        self.supposed = ()  # (entity, key, raw) of the last hypothetical
        self.subject = None  # (kind, detail) of what the last answer was about
        self.rest = ()  # lines that did not fit on the screen, for 'more'
        self.about = None  # About of the case file that was loaded
        self.other_rules = False  # whether a session gone on with was held by other rules
        self.missed_guidance = ""  # local guidance of a session gone on with that is not given now
        self.at = AT_HOME  # the moment at which advice is asked
        # Of the lines of checks last read out, the facts of each; and facts of checks that were
        # not so, to be asked one by one.
        self.read_out: tuple[tuple, ...] = ()
        self.read_texts: tuple[str, ...] = ()  # those lines in words
        self.proposal: object = None  # how a reply to them is read, where that is to be confirmed
        self.unheard: str | None = None  # a line just typed of which not all was heard; see noting
        self.choosing = False  # whether it was read out to name those of which something is so
        self.to_ask: tuple = ()
        # What was read out and answered: {(entity, key): (raw, how, when and by whom)}.
        self.checked: dict[tuple[str, str], tuple[object, str]] = {}
        self.checker = ""  # initials of whoever answers what is read out
        self.desk = None  # where cards are looked at; told at the door
        self.on_file = None  # what is told of the cards that were taken
        self.usual_read = ""  # the card of usual practice that was read out last
        self.clock = lambda: ""  # the date and time in words; told at the door
        self.turn = 0
        self.watch = Watch  # makes what looks on at a long search
        self._kept: tuple | None = None

    @property
    def said(self) -> dict:
        return self.steps[-1]

    @property
    def guidance(self) -> str:
        """The local guidance laid over the rules, '' for none."""
        return self.advisor.local.called if self.advisor.local else ""

    def case(self, extra=()) -> Case:
        """The case of all that was said, with extra (entity, key, raw) on top."""
        return self.built(self.with_extra(extra))

    def built(self, said) -> Case:
        """The case of {(entity, key): raw}, asked about at the moment of the conversation."""
        case = build(self.advisor.base, self.title, said, self.about)
        for reference, words in self.checked_together(said).items():
            if reference in case.facts:
                case.facts[reference] = case.facts[reference]._replace(said_by=words)
        return replace(case, at=self.at, on_file=self.on_file)

    def is_assumed(self, reference) -> bool:
        """Whether an (entity, key) is not known and only assumed."""
        return isinstance(self.said.get(reference), Assumed)

    def is_known(self, reference) -> bool:
        """Whether an (entity, key) was told, and not only assumed."""
        raw = self.said.get(reference, "unknown")
        unknown = isinstance(raw, str) and raw.strip().lower() in UNKNOWN_WORDS
        return not (unknown or self.is_assumed(reference))

    def checked_together(self, said) -> dict[tuple[str, str], str]:
        """{(entity, key): how, when and by whom} of what was answered as read out and still stands
        as it was answered.
        """
        return {
            reference: words
            for reference, (raw, words) in self.checked.items()
            if reference in said and said[reference] == raw
        }

    def note_checked(self, facts):
        """Take down that these (entity, key, raw) were answered as read out just now."""
        where = "list read out at the head" if self.at == AT_THE_HEAD else "list read out at home"
        by = f"by {self.checker}" if self.checker else ""
        words = ", ".join(filter(None, (where, self.clock(), by)))
        for entity, key, raw in facts:
            if self.said.get((entity, key)) == raw:
                self.checked[entity, key] = raw, words

    def advised_case(self, extra=()) -> Case:
        """The case that is advised on: what was said, and what local guidance lays down."""
        return self.advisor.under_local(self.case(extra))

    def with_extra(self, extra) -> dict:
        """What was said, with extra (entity, key, raw) on top."""
        return {**self.said, **{(e, k): raw for e, k, raw in extra}}

    def run(self) -> Run | None:
        """The run of the facts as they stand, kept until they change; None while nothing is
        named.
        """
        if self._kept is None or self._kept[0] is not self.said or self._kept[1] != self.at:
            case = self.advised_case()
            if not case.names:
                return None
            self._kept = self.said, self.at, self.advisor.answer(case)
        return self._kept[2]

    @property
    def advice(self) -> Advice | None:
        """The advice on the facts as they stand; None while nothing is named."""
        run = self.run()
        return run.advice if run else None

    def say(self, facts, assumed=False) -> list:
        """Take (entity, key, raw) facts as one step, or assume them; returns messages about those
        that could not be taken. What is known is not assumed over.
        """
        new, messages = dict(self.said), []
        together = self.with_extra(facts)
        for entity, key, raw in facts:
            told = as_assumed(raw) if assumed else raw
            known = isinstance(told, Assumed) and self.is_known((entity, key))
            message = KNOWN_ALREADY if known else self.refusal(entity, key, raw, together)
            if message:
                messages.append(f"Not taken: {message}")
                continue
            new[entity, key] = told
            self.checked.pop((entity, key), None)  # said in so many words now, not from a list
            self.last_entity, self.last_key = entity, key
            if self.question == (entity, key):
                self.question = None
        self.step(new)
        return messages

    def forget_kept(self):
        """Work the advice out anew: who said what is another now."""
        self._kept = None

    def step(self, said: dict):
        """Make these the facts, as a step that can be undone."""
        if said != self.said:
            self.steps = (self.steps + [said])[-MOST_STEPS:]
            self.undone.clear()

    def refusal(self, entity, key, raw, together=()) -> str:
        """'' when a fact can be taken beside the others, else one sentence."""
        if name_fault(entity):
            return name_fault(entity)
        names = names_of(self.advisor.base, together or {**self.said, (entity, key): raw})
        return read_fact(
            self.advisor.base.vocabulary.attribute(key),
            entity,
            raw,
            nameable(self.advisor.base, names),
            "chat",
            Place("chat"),
        )[1]

    def undo(self) -> bool:
        """Take the last step back; False when there is none."""
        if len(self.steps) < 2:
            return False
        self.undone.append(self.steps.pop())
        return True

    def redo(self) -> bool:
        """Bring the step last taken back; False when there is none."""
        if not self.undone:
            return False
        self.steps.append(self.undone.pop())
        return True

    def restart(self):
        """Forget all facts; undo brings them back."""
        self.step({})
        self.asked, self.skipped, self.twice = set(), set(), set()
        self.question, self.supposed, self.read_out, self.to_ask = None, (), (), ()
        self.on_file, self.usual_read = None, ""

    def next_question(self, advice):
        """((entity, key), item) of the open question that matters most and was not put yet, or
        None. What could forbid it and was not answered comes back once, when no other such
        question is left.
        """
        if not advice or self.quiet:
            return None
        found = self._next(advice)
        if found is None or found[1].gravity not in BLOCKING:
            back = {split_fact(self.advisor.base, q.fact) for q in advice.blocking}
            back = {ref for ref in back - self.twice if self.was_put(ref) and self._untold(ref)}
            self.twice |= back
            self.asked, self.skipped = self.asked - back, self.skipped - back
            found = self._next(advice) if back else found
        return found

    def _next(self, advice):
        return next_question(self.advisor.base, advice, self.asked | self.skipped, self.to_ask)

    def _untold(self, reference) -> bool:
        """Whether nothing was told or assumed of a fact but that it is not known."""
        return reference not in self.said or str(self.said[reference]) in UNKNOWN_WORDS

    def was_put(self, reference) -> bool:
        """Whether a fact was asked for, or put off."""
        return reference in self.asked or reference in self.skipped

    def snapshot(self) -> dict:
        """All that a turn may change, to go back to when the turn is broken off."""
        return {
            name: copy(value) if isinstance(value, (list, set, dict)) else value
            for name, value in vars(self).items()
        }

    def restore(self, snapshot: dict):
        """Go back to a snapshot."""
        vars(self).update(snapshot)


def names_of(base, said) -> dict:
    """Entity kind -> ids named by the facts."""
    names: dict[str, set] = {}
    for entity, _ in said:
        kind, _ = base.vocabulary.split(entity)
        names.setdefault(kind.name, set()).add(entity)
    return names


class About(NamedTuple):
    """What a loaded case says it is about, and the facts it came with: {(entity, key): raw}."""

    topics: tuple
    facts: dict

    def holds(self, base, said) -> bool:
        """As long as something of the case is left, and nothing was said of what the case leaves
        out.
        """
        within = {kind for topic in self.topics for kind in base.topics[topic]}
        without = {kind for kinds in base.topics.values() for kind in kinds} - within
        new = [
            entity
            for reference, raw in said.items()
            for entity in reference[:1]
            if self.facts.get(reference) != raw
        ]
        return any(self.facts.get(r) == raw for r, raw in said.items()) and not any(
            base.vocabulary.split(e)[0].name in without for e in new
        )


def build(base, title, said, about=None) -> Case:
    """The Case of {(entity, key): raw}; raw values were checked when they were said."""
    told = frozenset(entity for (entity, _), raw in said.items() if not isinstance(raw, Assumed))
    case = Case(title, names=names_of(base, said), named=told)
    known = nameable(base, case.names)
    for (entity, key), raw in said.items():
        said_by = ASSUMED if isinstance(raw, Assumed) else "chat"
        fact, message = read_fact(
            base.vocabulary.attribute(key), entity, raw, known, said_by, Place("chat")
        )
        if fact and not message:
            case.facts[entity, key] = fact
    past_midnight(case, base)
    case.about = about.topics if about and about.holds(base, said) else ()
    case.topics = topics_of(base, case, case.about)
    return case
