"""The advice as typed records: what every face, answer and picture reads. Its JSON form is
schema/advice.json.

A list of the advice is a tuple of one kind of record; a new list is a field of `Advice` and a
record of its own.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import chain
from typing import ClassVar

from msgspec import field

from advisor.model.record import Record

SCHEMA = "ladder-pitch-advisor/advice/1"
SEVERITY = ("danger", "caution", "note")
STRENGTH = ("must", "should", "may")

BLOCKING = ("stop", "first")  # gravities of open questions that keep a plan from being clear

# What the decision 'go' comes to, from the strictest. Clear at home is no leave to go down: it says
# that nothing is open which can be known there.
STOPPED, NOT_YET, CLEAR_AT_HOME, CLEAR = (
    "do not go on",
    "not yet",
    "clear at home",
    "nothing found that forbids it",
)

# From the least cautious; all else that 'go' comes to leaves the pitch alone.
CAUTIOUS = (CLEAR, CLEAR_AT_HOME, NOT_YET, STOPPED)

LOCAL_MARK = "Local: "  # how what local guidance adds begins

# Where a decision stands that only what is seen on the spot could still turn.
IF_CHECKED = "firm, if the checks hold"


class Item(Record, frozen=True, kw_only=True):
    """One thing said, by which rule, why, from which sources, and the derivation behind it; `local`
    where only local guidance brings it.
    """

    left_out_when_empty: ClassVar = ("local",)
    id: str
    rule: str
    text: str
    because: str
    sources: tuple[str, ...]
    status: str
    derivation: str
    local: bool = False

    @property
    def behind(self) -> tuple[str, ...]:
        """Ids of all derivations it rests on."""
        return (self.derivation,)


class Stop(Item, frozen=True, kw_only=True):
    """What forbids going on; `derivations` where several rules together leave no option."""

    left_out_when_empty: ClassVar = ("derivations",)
    derivations: tuple[str, ...] = ()

    @property
    def behind(self) -> tuple[str, ...]:
        """Ids of all derivations it rests on."""
        return self.derivations or (self.derivation,)


class First(Item, frozen=True, kw_only=True):
    """What is to be put right before anyone goes to the edge."""


class Contradiction(Item, frozen=True, kw_only=True):
    """Stated facts that cannot all be true; each counts as doubtful until one is put right."""

    facts: tuple[str, ...]


class Requirement(Item, frozen=True, kw_only=True):
    """What must or should be."""

    strength: str


class Warned(Item, frozen=True, kw_only=True):
    """A danger, a caution or a note."""

    severity: str


class Referral(Item, frozen=True, kw_only=True):
    """A question that belongs to local guidance or a qualified person."""

    to: str


class Step(Item, frozen=True, kw_only=True):
    """A step, call or do-not of a response; `when` is empty for what is certain, else the words
    after 'If'.
    """

    when: str

    @property
    def words(self) -> str:
        """The step in words, after the condition that is still open."""
        return f"If {self.when}: {self.text[:1].lower()}{self.text[1:]}" if self.when else self.text


class Control(Record, frozen=True, kw_only=True):
    """What is to be done against a hazard (`title`) and how that stands: by the facts named, or for
    want of answers to what it asks. `rule` is the first of its rules.
    """

    rule: str
    title: str
    standing: str
    rules: tuple[str, ...]
    facts: tuple[str, ...]
    ask: tuple[str, ...]


class Hazard(Item, frozen=True, kw_only=True):
    """A hazard that exists (sure) or may exist."""

    who: str
    sure: bool
    controls: tuple[Control, ...]


class Reason(Record, frozen=True, kw_only=True):
    """Why an option was chosen; `option` names the one that was ruled out when none is left. The
    reasons of 'go' are stops or questions, without rule and status.
    """

    left_out_when_empty: ClassVar = (
        "rule",
        "status",
        "option",
    )
    id: str
    text: str
    because: str
    sources: tuple[str, ...]
    derivation: str
    rule: str = ""
    status: str = ""
    option: str = ""


class Alternative(Record, frozen=True, kw_only=True):
    """An option not chosen, at which concern or by what it lost, and the derivations of that."""

    option: str
    lost_because: str
    derivations: tuple[str, ...]


class Decision(Record, frozen=True, kw_only=True):
    """What a decision came to: a choice, or several that are equal, or nothing; `open` are the
    facts that could change it; `of_itself` is what speaks for the choice of itself where no rule
    does.
    """

    left_out_when_empty: ClassVar = ("of_itself",)
    standing: str
    choice: str | None = None
    equal: tuple[str, ...] = ()
    reasons: tuple[Reason, ...] = ()
    alternatives: tuple[Alternative, ...] = ()
    open: tuple[str, ...] = ()
    of_itself: str = ""

    def words(self, none: str = "nothing", equal: str = "") -> str:
        """What it came to: the choice, or the equal ones and the mark `equal`, or `none`."""
        return self.choice or (" or ".join(self.equal) + equal if self.equal else none)

    @property
    def chosen(self) -> tuple[str, ...]:
        """The choice, or all that are equal; empty when it came to nothing."""
        return (self.choice,) if self.choice else self.equal

    @property
    def behind(self) -> tuple[str, ...]:
        """Ids of all derivations it rests on."""
        return (
            *(r.derivation for r in self.reasons),
            *(i for a in self.alternatives for i in a.derivations),
        )


class Ground(Item, frozen=True, kw_only=True):
    """Why a verdict is given; `found`: the finding that it speaks of, in words."""

    left_out_when_empty: ClassVar = ("found",)
    found: str = ""

    @property
    def said(self) -> str:
        """What was found, or what the rule is called."""
        return self.found or self.text


class KitVerdict(Record, frozen=True, kw_only=True):
    """What becomes of a piece of kit, or of a part of it; `beside`: what else was found, or is
    known of its past, that would bring a milder verdict by itself.
    """

    left_out_when_empty: ClassVar = ("beside",)
    id: str
    item: str
    verdict: str
    standing: str
    open: tuple[str, ...]
    reasons: tuple[Ground, ...]
    beside: tuple[Ground, ...] = ()

    @property
    def grounds(self) -> tuple[Ground, ...]:
        """All that speaks against it, the gravest first."""
        return (*self.reasons, *self.beside)

    @property
    def entity(self) -> str:
        """The piece itself, where the verdict is on a part of it."""
        return self.id.partition(",")[0]

    @property
    def behind(self) -> tuple[str, ...]:
        """Ids of all derivations it rests on."""
        return tuple(r.derivation for r in self.reasons)


class Question(Record, frozen=True, kw_only=True):
    """A fact worth finding out: an attribute of an entity, or a kind of which none is named;
    `local` where only local guidance asks for it, or makes it so grave.
    """

    left_out_when_empty: ClassVar = ("local",)
    id: str
    fact: str
    text: str
    gravity: str
    could: tuple[str, ...]
    because: str
    sources: tuple[str, ...]
    derivation: str
    rules: tuple[str, ...]
    local: bool = False

    @property
    def behind(self) -> tuple[str, ...]:
        """Ids of all derivations it rests on."""
        return (self.derivation,)


class Check(Item, frozen=True, kw_only=True):
    """What must be seen true on the spot: of which fact, when and where one looks, the values that
    answer it `well`, and what follows (`threatens`, of which gravity) if it is not so.
    """

    kept_inside: ClassVar = (
        "see",
        "named",
    )
    fact: str
    moment: str
    group: str
    gravity: str
    threatens: str
    well: tuple[str, ...]
    see: str  # the text with {it} for what is looked at
    named: str


class Response(Record, frozen=True, kw_only=True):
    """What to do where something has happened."""

    incident: str
    steps: tuple[Step, ...]
    do_not: tuple[Step, ...]
    call_now: tuple[Step, ...]
    say: tuple[Step, ...]

    @property
    def lines(self) -> tuple[Step, ...]:
        """Calls with what is said, then what not to do, then steps."""
        return (*self.call_now, *self.say, *self.do_not, *self.steps)

    @property
    def calls(self) -> tuple[Step, ...]:
        """The calls, certain ones first; behind all that are built in, those of local guidance."""
        return tuple(sorted(self.call_now, key=lambda call: (call.local, bool(call.when))))

    @property
    def due(self) -> tuple[Step, ...]:
        """The calls that are due now, of local guidance only where none is built in."""
        built_in = any(not call.local for call in self.call_now)
        return tuple(c for c in self.calls if not c.when and not (c.local and built_in))


class FactTold(Record, frozen=True, kw_only=True):
    """A fact of the case, or one that rules concluded, with who said it; `by_local` is what it
    would be with local guidance, where the built-in rules conclude another value.
    """

    left_out_when_empty: ClassVar = ("by_local",)
    id: str
    entity: str
    attribute: str
    value: str
    state: str
    said_by: str
    derivations: tuple[str, ...]
    by_local: str = ""

    @property
    def concluded(self) -> bool:
        """Whether rules and calculations gave it rather than a person."""
        return self.said_by == "rules"


class NumberInput(Record, frozen=True, kw_only=True):
    """One input of a calculation: its value in words, and whether it is a fact, a trade figure or
    fixed by the method. For pictures also its `span` in SI, None where it is not known or no
    number; whether it is `there` at all; and whether it is the weakest part.
    """

    kept_inside: ClassVar = (
        "span",
        "there",
        "weakest",
    )
    name: str
    value: str
    origin: str = field(name="from")
    of: str
    span: tuple[float, float] | None = None
    there: bool = True
    weakest: bool = False


class Span(Record, frozen=True, kw_only=True):
    """The result of a calculation with its range, in SI."""

    low: float
    high: float
    unit: str
    text: str


class Number(Record, frozen=True, kw_only=True):
    """A calculation with formula, inputs and result; `result` is None while an input is missing."""

    id: str
    title: str
    text: str
    function: str
    formula: str
    inputs: tuple[NumberInput, ...]
    result: Span | None
    named: tuple[str, ...]
    missing: str
    key: bool
    gives: str
    because: str
    sources: tuple[str, ...]
    status: str
    derivation: str

    @property
    def calculation(self) -> str:
        """The id of the calculation, without the entities it was worked for."""
        return self.id.partition(" [")[0]

    @property
    def entity(self) -> str:
        """What it is a number of."""
        return self.gives.rpartition(".")[0]

    def serves(self, anchor: str | None) -> bool:
        """Whether it is a key number that was worked out, of the anchor chosen or of no anchor."""
        return (
            self.key
            and self.result is not None
            and (not self.gives.startswith("anchor ") or self.entity == f"anchor {anchor}")
        )


class Derivation(Record, frozen=True, kw_only=True):
    """A rule or calculation applied: to which entities, on which facts, absences, calculations."""

    id: str
    rule: str | None
    bound: tuple[str, ...]
    concludes: tuple[str, ...]
    sure: bool
    facts: tuple[str, ...]
    calculations: tuple[str, ...]
    absences: tuple[str, ...]


class Departure(Record, frozen=True, kw_only=True):
    """Where local guidance says other than what is built in, and what stands; `turns` where a
    decision or a verdict is another for it.
    """

    kept_inside: ClassVar = ("turns",)
    text: str
    built_in: str
    sources: tuple[str, ...]
    local: str
    turns: bool = False


class LocalUsed(Record, frozen=True, kw_only=True):
    """The local guidance that the built-in rules were laid over; `built_in`: the advice of those
    alone, on the case as it was stated.
    """

    kept_inside: ClassVar = ("built_in",)
    title: str
    issued_by: str
    date: str
    departures: tuple[Departure, ...]
    built_in: Advice

    @property
    def turned(self) -> tuple[Departure, ...]:
        """The departures for which a decision or a verdict is another."""
        return tuple(d for d in self.departures if d.turns)


class PieceOnCard(Record, frozen=True, kw_only=True):
    """What identifies a piece of kit on its card: its mark and its days, by name, as dates of ISO
    8601; `by`: who examined it last, '' where nobody said.
    """

    entity: str
    mark: str
    type: str
    days: Mapping[str, str]
    by: str


class OnFile(Record, frozen=True, kw_only=True):
    """What a plan took from cards: what was named, what of it no longer stands and why, and the
    entry that it is as of; how it is usually done, to be confirmed once a trip; the pieces.
    """

    left_out_when_empty: ClassVar = (
        "usual",
        "pieces",
    )
    cards: tuple[str, ...]
    expired: tuple[str, ...]
    as_of: str
    usual: tuple[str, ...] = ()
    pieces: tuple[PieceOnCard, ...] = ()


class RuleBase(Record, frozen=True, kw_only=True):
    """Which rules gave the advice."""

    version: str
    sha256: str


class Advice(Record, frozen=True, kw_only=True):
    """The answer to one case."""

    left_out_when_empty: ClassVar = (
        "assumed",
        "on_file",
    )
    schema: str = SCHEMA
    rule_base: RuleBase
    checked_by: tuple[str, ...]
    case: str
    about: tuple[str, ...]
    moment: str
    local: LocalUsed | None = None
    facts: tuple[FactTold, ...]
    calculations: tuple[Number, ...]
    stops: tuple[Stop, ...]
    first: tuple[First, ...] = ()
    contradictions: tuple[Contradiction, ...] = ()
    decisions: Mapping[str, Decision]
    requirements: tuple[Requirement, ...]
    warnings: tuple[Warned, ...]
    response: Response | None
    items: tuple[KitVerdict, ...]
    hazards: tuple[Hazard, ...]
    refer: tuple[Referral, ...]
    open_questions: tuple[Question, ...]
    checks: tuple[Check, ...] = ()
    # Ids of the facts that are not known and only assumed, to look ahead.
    assumed: tuple[str, ...] = ()
    on_file: OnFile | None = None
    cautions: tuple[str, ...]
    derivations: tuple[Derivation, ...]

    @property
    def choices(self) -> dict[str, Decision]:
        """The decisions between options, without 'go'."""
        return {name: d for name, d in self.decisions.items() if name != "go"}

    @property
    def blocking(self) -> tuple[Question, ...]:
        """The open questions that could each bring a stop, or work to do before going on."""
        return tuple(q for q in self.open_questions if q.gravity in BLOCKING)

    @property
    def assumed_words(self) -> str:
        """What is only assumed, in words; '' where all that was told is known."""
        told = (f for f in self.facts if f.id in self.assumed)
        return "; ".join(f"{f.id.replace('.', ' ')} {f.value}" for f in told)

    @property
    def said(self) -> tuple[Item | Question, ...]:
        """Everything in its lists that rests on one rule or fact, gravest first."""
        return (
            *self.stops,
            *self.contradictions,
            *self.first,
            *self.requirements,
            *self.warnings,
            *self.refer,
            *self.hazards,
            *self.open_questions,
            *self.checks,
        )

    @property
    def added(self) -> int:
        """How many lines only local guidance brings."""
        lines = self.response.lines if self.response else ()
        return sum(item.local for item in (*self.said, *lines))

    def must(self, strength: str) -> tuple[Requirement, ...]:
        """The requirements of one strength."""
        return tuple(r for r in self.requirements if r.strength == strength)

    def sources(self) -> frozenset[str]:
        """Ids of all sources that anything in it rests on."""
        return frozenset(chain.from_iterable(_sources(self)))


def _sources(value: object) -> Iterator[tuple[str, ...]]:
    """The sources of a record and of all records within."""
    if isinstance(value, Mapping):
        value = tuple(value.values())
    if isinstance(value, tuple):
        for part in value:
            yield from _sources(part)
    elif isinstance(value, Record):
        for name in value.__struct_fields__:
            part = getattr(value, name)
            if name == "sources":
                yield part
            else:
                yield from _sources(part)
