"""What a rule brings about, each form of effect a type of its own.

`kind` is the word a rule file has for it. A new form needs a type here, its shape in
`schema/rules.json`, its reading in `load/rules.py` and its place in the advice.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import ClassVar, Literal, TypeAlias

from msgspec import Struct
from msgspec.structs import replace

from advisor.model.conditions import Condition
from advisor.model.ref import Ref

TEMPLATE = re.compile(r"\{([^{}]*)\}")  # {a} or {a.height} in a text

Strength: TypeAlias = Literal["must", "should", "may"]
Severity: TypeAlias = Literal["danger", "caution", "note"]


class Effect:
    """Any form of effect."""

    __slots__ = ()
    kind: ClassVar[str]

    @property
    def speaks_of(self) -> tuple[str, ...]:
        """The variables (and single entities) it speaks of, in order of mention."""
        return ()

    def renamed(self, names: Mapping[str, str]) -> Effect:
        """The same effect with other names for its variables."""
        return self

    @property
    def words(self) -> Iterator[str]:
        """Every text and name in it."""
        for name in self.__struct_fields__:  # type: ignore[attr-defined]  # each form is a Struct
            value = getattr(self, name)
            if isinstance(value, Ref):
                yield from value
            elif isinstance(value, str):
                yield value

    @property
    def rules_named(self) -> dict[str, tuple[str, ...]]:
        """Where it names other rules: {word of the rule file: their ids}."""
        return {}


class Derive(Effect, Struct, frozen=True):
    """A choice has the value with this index."""

    kind: ClassVar[str] = "derive"
    ref: Ref
    value: int

    @property
    def speaks_of(self) -> tuple[str, ...]:
        return (self.ref.entity,)

    def renamed(self, names: Mapping[str, str]) -> Derive:
        return replace(self, ref=self.ref.at(names))


class OnOption(Effect, Struct, frozen=True):
    """What speaks on an option of a decision: a word, or a variable of the rule."""

    decision: str
    option: str
    is_variable: bool

    @property
    def speaks_of(self) -> tuple[str, ...]:
        return (self.option,) if self.is_variable else ()

    def renamed(self, names: Mapping[str, str]) -> OnOption:
        return replace(self, option=self.of(names)) if self.is_variable else self

    def of(self, bound: Mapping[str, str]) -> str:
        """The option it speaks on."""
        return bound.get(self.option, self.option) if self.is_variable else self.option


class RuleOut(OnOption, frozen=True):
    """An option cannot be taken."""

    kind: ClassVar[str] = "rule out"


class Weigh(OnOption, frozen=True):
    """Weighs for or against an option, at one concern."""

    strength: Strength
    concern: str


class Prefer(Weigh, frozen=True):
    """An option is the better for it."""

    kind: ClassVar[str] = "prefer"


class Disfavour(Weigh, frozen=True):
    """An option is the worse for it."""

    kind: ClassVar[str] = "disfavour"


class Said(Effect, Struct, frozen=True):
    """What tells a reader something; the text may name variables and their attributes."""

    text: str

    @property
    def speaks_of(self) -> tuple[str, ...]:
        found = [inside.partition(".")[0] for inside in TEMPLATE.findall(self.text)]
        return tuple(dict.fromkeys(found))

    def renamed(self, names: Mapping[str, str]) -> Said:
        return replace(self, text=renamed_text(self.text, names))


class Require(Said, frozen=True):
    """Something is to be done or be there; `with_verdict`: only beside these verdicts on an item
    it speaks of (so of Warn and Refer).
    """

    kind: ClassVar[str] = "require"
    strength: Strength
    with_verdict: tuple[str, ...] = ()


class Stop(Said, frozen=True):
    """Nobody goes on."""

    kind: ClassVar[str] = "stop"


class First(Said, frozen=True):
    """To be put right before anyone goes to the edge; no reason to call the trip off."""

    kind: ClassVar[str] = "first"


class Contradiction(Said, frozen=True):
    """Stated facts that cannot all be true."""

    kind: ClassVar[str] = "contradiction"
    between: tuple[Ref, ...]

    @property
    def speaks_of(self) -> tuple[str, ...]:
        said = Said.speaks_of.fget(self)  # type: ignore[attr-defined]
        return tuple(dict.fromkeys((*said, *(ref.entity for ref in self.between))))

    def renamed(self, names: Mapping[str, str]) -> Contradiction:
        return replace(
            self,
            text=renamed_text(self.text, names),
            between=tuple(ref.at(names) for ref in self.between),
        )

    @property
    def words(self) -> Iterator[str]:
        yield self.text
        for ref in self.between:
            yield from ref


class Warn(Said, frozen=True):
    """Something to watch for."""

    kind: ClassVar[str] = "warn"
    severity: Severity
    with_verdict: tuple[str, ...] = ()


class Refer(Said, frozen=True):
    """A matter (the text) for somebody else, perhaps with the decision on it."""

    kind: ClassVar[str] = "refer"
    to: str
    decision: str = ""
    with_verdict: tuple[str, ...] = ()


class Step(Said, frozen=True):
    """A step of a response, in a phase of it; it names the rules whose steps it comes after, before
    or instead of.
    """

    kind: ClassVar[str] = "step"
    phase: str = ""
    after: tuple[str, ...] = ()
    before: tuple[str, ...] = ()
    instead_of: tuple[str, ...] = ()

    @property
    def rules_named(self) -> dict[str, tuple[str, ...]]:
        return {"after": self.after, "before": self.before, "instead of": self.instead_of}


class DoNot(Said, frozen=True):
    """What must not be done in a response."""

    kind: ClassVar[str] = "do not"


class CallNow(Said, frozen=True):
    """Whom to call at once in a response."""

    kind: ClassVar[str] = "call now"


class Say(Said, frozen=True):
    """What is said to whoever is called."""

    kind: ClassVar[str] = "say"


class Control(Struct, frozen=True):
    """What is to be done against a hazard: broken by rules that hold, met by a condition on the
    facts; or asked for by rules each time, so that no fact tells it beforehand.
    """

    do: str
    broken_by: tuple[str, ...] = ()
    asked_by: tuple[str, ...] = ()
    met: Condition | None = None

    @property
    def rules(self) -> tuple[str, ...]:
        """The rules it names."""
        return (*self.broken_by, *self.asked_by)


class Hazard(Said, frozen=True):
    """What may harm whom, and what controls it."""

    kind: ClassVar[str] = "hazard"
    who: str
    controls: tuple[Control, ...]

    @property
    def rules_named(self) -> dict[str, tuple[str, ...]]:
        return {"controls": tuple(rule for control in self.controls for rule in control.rules)}


class Verdict(Effect, Struct, frozen=True):
    """What becomes of an item (a variable), or of a part of it: a word, or what a fact names."""

    kind: ClassVar[str] = "verdict"
    on: str
    part: str
    ref: Ref | None
    give: str

    @property
    def speaks_of(self) -> tuple[str, ...]:
        return (self.on, self.ref.entity) if self.ref else (self.on,)

    def renamed(self, names: Mapping[str, str]) -> Verdict:
        head, dot, rest = self.part.partition(".")
        return replace(
            self,
            on=names.get(self.on, self.on),
            part=names.get(head, head) + dot + rest,
            ref=self.ref and self.ref.at(names),
        )


class Ask(Effect, Struct, frozen=True):
    """A fact is worth asking for."""

    kind: ClassVar[str] = "ask"
    ref: Ref

    @property
    def speaks_of(self) -> tuple[str, ...]:
        return (self.ref.entity,)

    def renamed(self, names: Mapping[str, str]) -> Ask:
        return replace(self, ref=self.ref.at(names))


FORMS: tuple[type[Effect], ...] = (
    Derive,
    RuleOut,
    Prefer,
    Disfavour,
    Require,
    Stop,
    First,
    Contradiction,
    Warn,
    Refer,
    Step,
    DoNot,
    CallNow,
    Say,
    Hazard,
    Verdict,
    Ask,
)
ON_OPTIONS = (RuleOut.kind, Prefer.kind, Disfavour.kind)
# What may turn on a fact being unknown, and what on a decision.
UNKNOWN_MAY: tuple[type[Effect], ...] = (
    Stop,
    First,
    Require,
    Warn,
    Refer,
    Ask,
    Step,
    DoNot,
    CallNow,
    Say,
)
CHOICE_MAY: tuple[type[Effect], ...] = (Require, Warn, Refer, Ask)


def renamed_text(text: str, names: Mapping[str, str]) -> str:
    """A text with other names for the variables it names."""

    def other(match: re.Match[str]) -> str:
        head, dot, rest = match.group(1).partition(".")
        return "{" + names.get(head, head) + dot + rest + "}"

    return TEMPLATE.sub(other, text)
