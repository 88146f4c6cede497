"""The answer on one screen as data: which lines it has, in what order, and what is news there
rather than the standing drill. Read from rules/screen.yaml and rules/common.yaml.
"""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct, field

# How common a rule's line is among sound plans, the rarest first; what no list names is the first.
BANDS = NONE, FEW, SOME, MANY, NEARLY_ALL = ("none", "few", "some", "many", "nearly all")


class Part(Struct, frozen=True):
    """A part of a row; while something in it is not known `untold` stands in its place ('': it is
    left out). It is told only where each fact of `when` has that value.
    """

    say: str
    untold: str = ""
    when: tuple[tuple[str, str], ...] = ()


class Row(Struct, frozen=True):
    """A named row of parts, told while anything in one of them is known. It is told only where the
    rules `given` all brought lines; of rows of one name the first that can be told. `kept`: it
    goes no sooner than the rig does.
    """

    name: str
    say: tuple[Part, ...]
    given: tuple[str, ...] = ()
    kept: bool = False


class Layout(Struct, frozen=True):
    """What one screen shows of a plan. `rigged`: the ways down for which a ladder is rigged;
    `in_order`: what was told and is as it should be, of plans that nothing holds back;
    `deadliest`: rules whose "do not" stands before the steps of an incident, the gravest first;
    `last_resort`: rules that give a verdict in doubt, told only where no other rule speaks of the
    finding;
    `paper_topics`, `paper_rules` and `paper_facts`: what is about records rather than about life;
    `ask_first`: facts in the order in which a colleague asks for them; `look_first`: of the checks
    those that are named on the screen, in that order, each in short words;
    `common`: how common the lines of a rule are among sound plans, by its place in BANDS.
    """

    rigged: tuple[str, ...] = ()
    rig: tuple[Row, ...] = ()
    people: tuple[Row, ...] = ()
    in_order: tuple[Row, ...] = ()
    drill: tuple[Row, ...] = ()
    times: tuple[Row, ...] = ()
    deadliest: tuple[str, ...] = ()
    last_resort: tuple[str, ...] = ()
    paper_topics: tuple[str, ...] = ()
    paper_rules: tuple[str, ...] = ()
    paper_facts: tuple[str, ...] = ()
    ask_first: tuple[str, ...] = ()
    look_first: Mapping[str, str] = field(default_factory=dict)
    caution: str = ""
    caution_in_need: str = ""
    common: Mapping[str, int] = field(default_factory=dict)

    def band(self, rule: str) -> str:
        """How common the lines of a rule are among sound plans."""
        return BANDS[self.rank(rule)]

    def rank(self, rule: str) -> int:
        """The place of its band in BANDS."""
        return self.common.get(rule, 0)
