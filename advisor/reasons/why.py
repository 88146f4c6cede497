"""Why: what was concluded as a tree of sentences, down to facts, absences, figures and sources."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from advisor.decide.firing import name_of
from advisor.decide.names import id_name, source_name
from advisor.faults import Fault as Mistake
from advisor.faults import Faults, Place, did_you_mean
from advisor.model.advice import Advice, Number, NumberInput
from advisor.model.base import Base
from advisor.model.rule import Rule
from advisor.reasons.find import find, known_names, said
from advisor.reasons.tree import Applied, Fact, Tree

LEAVES = ("fact", "absence", "figure", "source")
ALL_LEVELS = 99


class Reason(NamedTuple):
    """kind: 'conclusion' | 'rule' | 'calculation', or one of LEAVES; text; children (none below a
    leaf).
    """

    kind: str
    text: str
    children: tuple[Reason, ...] = ()


class Reasons:
    """Tells the tree of one advice."""

    def __init__(self, base: Base, advice: Advice) -> None:
        self.base, self.tree = base, Tree(base, advice)
        self.written: dict[str, Reason] = {}  # many conclusions rest on the same reasons

    def of(self, identity: str) -> Reason:
        """What stands under one derivation id."""
        if identity not in self.written:
            self.written[identity] = self._told(self.tree.of(identity))
        return self.written[identity]

    def _told(self, applied: Applied) -> Reason:
        facts = tuple(map(self._fact, applied.facts))
        if applied.rule:
            return self._rule(applied, applied.rule, facts)
        if applied.number:
            return self._number(applied, applied.number, facts)
        if facts:
            return Reason("calculation", f"{applied.id}: could not be worked out", facts)
        absences = "; ".join(applied.derivation.absences)
        return Reason("absence", absences or f"{applied.id}: nothing to work on")

    def _rule(self, applied: Applied, rule: Rule, facts: tuple[Reason, ...]) -> Reason:
        bound = applied.derivation.bound
        absences = (Reason("absence", text) for text in applied.derivation.absences)
        sources = self._sources(applied, f"{rule.status}; {rule.authority}")
        who = f" [{', '.join(name_of(self.base, e) for e in bound)}]" if bound else ""
        doubt = "" if applied.derivation.sure else "Perhaps, for not all is known: "
        title, because = (self._plain(text, rule, bound) for text in (rule.title, rule.because))
        text = f"{doubt}{title}{who}: {because} [{rule.id}]"
        return Reason("rule", text, (*facts, *absences, *sources))

    def _plain(self, text: str, rule: Rule, bound: tuple[str, ...]) -> str:
        """A rule's words with {a} replaced by the name; {a.height} by 'height of …', for the
        value stands below.
        """
        for (variable, _), entity in zip(rule.variables, bound):
            text = text.replace(f"{{{variable}}}", name_of(self.base, entity)).replace(
                f"{{{variable}.", f"{{{entity}."
            )
        for part in {p.partition("}")[0] for p in text.split("{")[1:]}:
            told = self.tree.fact(part).told
            text = text.replace(
                f"{{{part}}}", told.value if told else f"the {id_name(self.base, part)}"
            )
        return text

    def _number(self, applied: Applied, number: Number, facts: tuple[Reason, ...]) -> Reason:
        """A calculation with its inputs."""
        figures = (Reason("figure", self._figure(i)) for i in number.inputs if i.origin != "fact")
        text = f"{number.text}; formula {number.formula}"
        below = (*facts, *figures, *self._sources(applied, number.status))
        return Reason("calculation", text, below)

    def _sources(self, applied: Applied, standing: str) -> Iterator[Reason]:
        for source in applied.sources:
            yield Reason("source", f"{source_name(self.base, source)} ({standing})")

    def _figure(self, part: NumberInput) -> str:
        """A trade figure with its standing and sources; or a value fixed by the method."""
        text = f"{part.name}: {part.value}"
        found = (self.base.figure(name, part.value) for name in part.of.split(" or "))
        figures = [figure for figure in found if figure]
        if not figures:
            return f"{text}, {part.of or 'fixed by the method'}"
        return f"{text}, a trade figure: " + "; ".join(
            f"{f.name} ({f.status}; {', '.join(source_name(self.base, s) for s in f.sources)})"
            for f in figures
        )

    def _fact(self, fact: Fact) -> Reason:
        name, told = id_name(self.base, fact.id), fact.told
        if told is None:
            return Reason("absence", f"{name}: not known")
        if not told.concluded:
            doubt = " (doubtful)" if told.state == "doubtful" else ""
            return Reason("fact", f"{name}: {told.value}{doubt}, {said(told.said_by)}")
        if not fact.below:
            return Reason("absence", f"{name}: {told.value}, for nothing concludes it")
        below = tuple(self.of(applied.id) for applied in fact.below)
        return Reason("conclusion", f"{name}: {told.value}", below)


def why(base: Base, advice: Advice, name: str, levels: int = ALL_LEVELS) -> list[str]:
    """The reasons of whatever a name means, as indented lines; raises Faults with the nearest
    names.
    """
    parts = find(base, advice, name)
    if not parts:
        raise Faults(
            [
                Mistake(
                    Place("--why"),
                    f"nothing in this advice is called '{name}'; expected a decision, an item, a"
                    f" number, a rule id or a fact.{did_you_mean(name, known_names(advice))}",
                )
            ]
        )
    teller, lines = Reasons(base, advice), []
    before: set[str] = set()
    for part in parts:
        lines.append(part.title)
        for identity in dict.fromkeys(part.behind) if levels > 0 else ():
            lines += (
                [f"  - {teller.of(identity).text} (told above)"]
                if identity in before
                else told_tree(teller.of(identity), 1, levels - 1)
            )
            before.add(identity)
        if not part.behind:
            lines.append(f"  - {_nothing_behind(advice, name)}")
    return lines


def _nothing_behind(advice: Advice, name: str) -> str:
    if name.strip().lower() == "go":
        left = f"; left to be seen at the head: {len(advice.checks)}" if advice.checks else ""
        return f"no stop holds, and no open question could bring one by what is known{left}"
    return (
        "no rule speaks for or against it on these facts"
        if "." not in name
        else "a stated fact rests on nothing but who said it"
    )


def leaves(reason: Reason) -> Iterator[Reason]:
    """Every reason below which there is nothing more."""
    if not reason.children:
        yield reason
    for child in reason.children:
        yield from leaves(child)


def told_tree(reason: Reason, depth: int = 0, levels: int = 9) -> list[str]:
    """A tree as indented lines, `levels` deep below its first line."""
    lines = ["  " * depth + ("- " if depth else "") + reason.text]
    if levels > 0:
        for child in reason.children:
            lines += told_tree(child, depth + 1, levels - 1)
    return lines
