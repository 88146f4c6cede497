"""The vocabulary: every entity and attribute a fact can be about, each with its type, its words
and its ordering of caution.
"""

from __future__ import annotations

import re
from typing import Any, ClassVar, TypeAlias

from msgspec import Struct, field
from msgspec.structs import force_setattr

# When a fact is first known, in this order. What kit looked like when it came back (afterwards) is
# known before the next trip's evening at home.
ON_FILE, AFTERWARDS, AT_HOME, AT_THE_HEAD, EACH_PERSON = MOMENTS = (
    "on file",
    "afterwards",
    "at home",
    "at the head",
    "each person",
)
ON_THE_SPOT = (AT_THE_HEAD, EACH_PERSON)  # only seen there: at home nobody can say it

# What an attribute may be: a mask of values, a range in steps, names, a text. Which of them, the
# attribute's type says.
Value: TypeAlias = Any

# A mark at the end of a phrase says what it states: see language.index.
PHRASE_MARK = re.compile(r"\s*\((yes|no|matter|\d|or worse|alone)\)\s*\Z", re.I)


class Attribute(Struct, frozen=True):
    """One attribute of one kind of entity.

    A choice's `values` stand in order of caution, best first; `ranks` gives each its grade of
    badness
    (equal grades are equally cautious), empty where no ordering is declared. Numbers are in steps
    (see facts.units); `worse` is 'more', 'less' or ''. `otherwise` is the value index of a derived
    attribute that no rule concluded. `second` names the attribute that holds one more of the same
    values where two are true at once, and `values_of` is its way back; `gravest` are the values in
    the order in which they are seen to. `from_plan`: (key, {value there: value here}) of the fact
    that settles it while nobody has said it. `known`: one of MOMENTS, '' where the base is silent;
    `stands`: how long it holds from then on. A fact only seen on the spot may say what must be seen
    true (`see`), the values that answer that (`well`), and where the `eyes` are. `laid_down`: local
    guidance may state it.
    """

    entity: str
    name: str
    type: str
    unit: str = ""
    low: int = 0
    high: int = 0
    values: tuple[str, ...] = ()
    ranks: tuple[int, ...] = ()
    worse: str = ""
    of: tuple[str, ...] = ()
    says: dict[str, str] = field(default_factory=dict)
    asks: str = ""
    help: str = ""
    phrases: tuple[str, ...] = ()
    value_phrases: dict[str, tuple[str, ...]] = field(default_factory=dict)
    answers: dict[str, tuple[str, ...]] = field(default_factory=dict)  # value: replies that mean it
    about: tuple[str, ...] = ()  # words by which a reply to several questions speaks of this one
    change: str = ""
    serves: tuple[str, ...] = ()
    derived: bool = False
    otherwise: int = -1
    below: tuple[
        str, ...
    ] = ()  # of a worked-out number: the words for what is missing and for what is over
    second: str = ""
    values_of: str = ""
    gravest: tuple[str, ...] = ()
    from_plan: tuple[str, dict[str, str]] | None = None
    known: str = ""
    stands: str = ""
    see: str = ""
    well: Value | None = None
    eyes: str = ""
    laid_down: bool = False
    runs_on_from: str = ""  # key of the time of day after which this one comes
    settles: tuple[tuple[str, Value], ...] = ()  # key and the value it then has: see facts.settle
    asked_as: tuple[str, ...] = ()  # keys of the facts that it follows from, asked for instead
    # Worked out from the others, whatever is given for them:
    key: str = ""  # 'entity.name'
    everything: Value = None  # all its values: the mask of a choice, the range of a number

    worked_out: ClassVar = ("key", "everything")

    def __post_init__(self) -> None:
        everything = (self.low, self.high) if self.is_number else (1 << len(self.values)) - 1
        force_setattr(self, "key", f"{self.entity}.{self.name}")
        force_setattr(self, "everything", everything)

    @property
    def is_choice(self) -> bool:
        return self.type in ("choice", "yes/no")

    @property
    def is_number(self) -> bool:
        return self.type in ("number", "time")

    @property
    def on_the_spot(self) -> bool:
        """Whether it is only seen at the pitch, and nobody can say it at home."""
        return self.known in ON_THE_SPOT

    @property
    def ordered(self) -> bool:
        """Whether its values have an order of caution (or, as names and words, need none)."""
        if self.is_choice:
            return bool(self.ranks)
        return self.worse in ("more", "less") if self.is_number else True

    @property
    def sound(self) -> Value | None:
        """The answers that are well: as told (`well`), else the better answer to a yes/no of home;
        None where no answer is better.
        """
        return 1 << self._better if self.well is None and self._plain else self.well

    @property
    def claim(self) -> str:
        """What somebody says who answers it well, as a sentence with {it}; '' where there is
        none.
        """
        if self.see or not self._plain:
            return self.see
        said = self.says.get(self.values[self._better], "")
        return f"{said}." if said else ""

    @property
    def _plain(self) -> bool:
        """A yes/no that is known before the pitch, and of which one answer is the better."""
        return self.type == "yes/no" and bool(self.ranks) and not self.on_the_spot

    @property
    def _better(self) -> int:
        return self.ranks.index(min(self.ranks))

    def as_bad_as(self, index: int) -> int:
        """Mask of the values at least as bad as one value (every value if there is no ordering)."""
        if not self.ranks:
            return (1 << len(self.values)) - 1
        return sum(1 << i for i, rank in enumerate(self.ranks) if rank >= self.ranks[index])


class Entity(Struct, frozen=True):
    """A kind of thing facts are about; `many` says whether a case may name several, `say_kind`
    whether its
    name is shown with its kind ('ladder main' rather than 'main')."""

    name: str
    many: bool
    say_kind: bool
    help: str
    phrases: tuple[str, ...] = ()
    attributes: dict[str, Attribute] = field(default_factory=dict)
    told_by: str = ""  # the attribute that a bare reply to 'which one is it?' tells


class Vocabulary(Struct, frozen=True):
    """entities by name; `testable` are the attributes rules can look at;
    `attribute('pitch.depth')` finds one by its key.
    """

    entities: dict[str, Entity]
    # Worked out from these, whatever is given for them:
    testable: tuple[Attribute, ...] = ()
    by_key: dict[str, Attribute] = field(default_factory=dict)
    settling: tuple[Attribute, ...] = ()  # whose 'yes' settles others
    longest_first: tuple[str, ...] = ()  # the names of the entities

    def __post_init__(self) -> None:
        all_there_are = [a for e in self.entities.values() for a in e.attributes.values()]
        force_setattr(self, "by_key", {a.key: a for a in all_there_are})
        force_setattr(self, "testable", tuple(a for a in all_there_are if a.type != "text"))
        force_setattr(self, "settling", tuple(a for a in all_there_are if a.settles))
        force_setattr(self, "longest_first", tuple(sorted(self.entities, key=len, reverse=True)))

    def attribute(self, key: str) -> Attribute | None:
        return self.by_key.get(key)

    def key_of(self, fact: str) -> str:
        """The attribute that a fact's id means: 'anchor left bolt.kind' -> 'anchor.kind'; the id
        itself where no entity fits.
        """
        thing, _, name = fact.rpartition(".")
        found = self.split(thing)
        return f"{found[0].name}.{name}" if found else fact

    def split(self, key: str) -> tuple[Entity, str] | None:
        """'anchor left bolt' -> (entity 'anchor', 'left bolt'); 'pitch head' -> ('pitch head',
        ''); None if no entity fits.
        """
        for name in self.longest_first:
            if key == name or key.startswith(name + " "):
                return self.entities[name], key[len(name) + 1 :].strip()
        return None
