"""Why: a derivation as a tree of sentences, from what was concluded down to facts, absences,
figures and sources.
"""

from __future__ import annotations

from typing import NamedTuple

from advisor.decide.firing import name_of
from advisor.explain.names import id_name
from advisor.model.advice import Advice, Stop
from advisor.report.working import told

LEAVES = ("fact", "absence", "figure", "source")


class Reason(NamedTuple):
    """kind: 'conclusion' | 'rule' | 'calculation', or one of LEAVES; text; children (none below a
    leaf).
    """

    kind: str
    text: str
    children: tuple = ()


class Part(NamedTuple):
    """What a name means in an advice, or one side of it: a heading and the derivations under it."""

    title: str
    identities: tuple


class Reasons:
    """Tells reasons of one advice."""

    def __init__(self, base, advice):
        self.base = base
        self.derivations = {d.id: d for d in advice.derivations}
        self.facts = {f.id: f for f in advice.facts}
        self.numbers = {c.id: c for c in advice.calculations}
        self.rules = {r.id: r for r in base.rules}
        self.written = {}  # derivation id -> its tree: many conclusions rest on the same ones

    def of(self, identity: str) -> Reason:
        """The tree under one derivation id."""
        if identity not in self.written:
            self.written[identity] = self._write(identity)
        return self.written[identity]

    def _write(self, identity) -> Reason:
        entry = self.derivations[identity]
        if entry.rule is None:
            return self._worked(identity, entry)
        rule = self.rules[entry.rule]
        children = [self._fact(f) for f in entry.facts]
        children += [Reason("absence", text) for text in entry.absences]
        children += [
            Reason("source", f"{told(self.base, s)} ({rule.status}; {rule.authority})")
            for s in rule.sources
        ]
        who = f" [{', '.join(name_of(self.base, e) for e in entry.bound)}]" if entry.bound else ""
        doubt = "" if entry.sure else "Perhaps, for not all is known: "
        return Reason(
            "rule",
            f"{doubt}{self._plain(rule.title, rule, entry)}{who}:"
            f" {self._plain(rule.because, rule, entry)} [{rule.id}]",
            tuple(children),
        )

    def _plain(self, text, rule, entry) -> str:
        """A rule's words with {a} replaced by the name; {a.height} by 'height of …', for the value
        stands below.
        """
        for (variable, _), entity in zip(rule.variables, entry.bound):
            text = text.replace(f"{{{variable}}}", name_of(self.base, entity)).replace(
                f"{{{variable}.", f"{{{entity}."
            )
        for part in {p.partition("}")[0] for p in text.split("{")[1:]}:
            fact = self.facts.get(part)
            text = text.replace(
                f"{{{part}}}", fact.value if fact else f"the {id_name(self.base, part)}"
            )
        return text

    def _worked(self, identity, entry) -> Reason:
        """A calculation with its inputs; or a conclusion that rests on nothing being there."""
        if identity not in self.numbers:
            facts = tuple(self._fact(f) for f in entry.facts)
            if facts:
                return Reason("calculation", f"{identity}: could not be worked out", facts)
            return Reason("absence", "; ".join(entry.absences) or f"{identity}: nothing to work on")
        item = self.numbers[identity]
        children = [self._fact(f) for f in entry.facts]
        children += [Reason("figure", self._figure(i)) for i in item.inputs if i.origin != "fact"]
        children += [
            Reason("source", f"{told(self.base, s)} ({item.status})") for s in item.sources
        ]
        return Reason("calculation", f"{item.text}; formula {item.formula}", tuple(children))

    def _figure(self, part) -> str:
        """A trade figure with its standing and sources; or a value fixed by the method."""
        text = f"{part.name}: {part.value}"
        figures = [
            self.base.figures[name] for name in part.of.split(" or ") if name in self.base.figures
        ]
        if not figures:
            return f"{text}, {part.of or 'fixed by the method'}"
        return f"{text}, a trade figure: " + "; ".join(
            f"{f.name} ({f.status}; {', '.join(told(self.base, s) for s in f.sources)})"
            for f in figures
        )

    def _fact(self, identity) -> Reason:
        fact, name = self.facts.get(identity), id_name(self.base, identity)
        if fact is None:
            return Reason("absence", f"{name}: not known")
        if not fact.concluded:
            return Reason(
                "fact",
                f"{name}: {fact.value}{' (doubtful)' if fact.state == 'doubtful' else ''},"
                f" said in the {fact.said_by}",
            )
        below = tuple(self.of(d) for d in fact.derivations)
        return (
            Reason("conclusion", f"{name}: {fact.value}", below)
            if below
            else Reason("absence", f"{name}: {fact.value}, for nothing concludes it")
        )


def leaves(reason: Reason):
    """Every reason below which there is nothing more."""
    if not reason.children:
        yield reason
    for child in reason.children:
        yield from leaves(child)


def find(base, advice: Advice, name: str) -> list:
    """The Parts that a name means in an advice: a decision, an item, a stop, a requirement, a
    step, a number, a rule or a fact.
    """
    wanted = name.strip().lower()
    return (
        _decisions(advice, wanted)
        + _items(advice, wanted)
        + _steps(advice, wanted)
        + _numbers(advice, wanted)
        + _facts(base, advice, wanted)
    )


def known_names(advice: Advice) -> list:
    """Names worth suggesting when one is not found."""
    return [
        *advice.decisions,
        *(s.rule for s in advice.stops),
        *(i.item for i in advice.items),
        *(r.rule for r in advice.requirements),
        *(c.title.lower() for c in advice.calculations),
        *(f.id for f in advice.facts),
    ]


def _decisions(advice, wanted) -> list:
    parts = []
    for name, d in advice.decisions.items():
        if wanted != name:
            continue
        parts.append(
            Part(
                f"{name}: {d.words()} ({d.standing})",
                tuple(dict.fromkeys(r.derivation for r in d.reasons)),
            )
        )
        parts += [
            Part(f"not {a.option}: {a.lost_because}", tuple(a.derivations)) for a in d.alternatives
        ]
    return parts


def _items(advice, wanted) -> list:
    parts = [
        Part(item.text, item.behind)
        for item in advice.said
        if wanted in _keys(item.id) | {getattr(item, "rule", "").lower()}
        or (wanted in ("stops", "stop") and isinstance(item, Stop))
    ]
    return parts + [
        Part(f"{item.item}: {item.verdict} ({item.standing})", item.behind)
        for item in advice.items
        if wanted in _keys(item.id) | {item.item.lower()}
    ]


def _keys(identity) -> set:
    """An id, and the same without the entities it was worked for."""
    return {identity.lower(), identity.partition(" [")[0].lower()}


def _steps(advice, wanted) -> list:
    response = advice.response
    lines = (*response.steps, *response.do_not, *response.call_now) if response else ()
    return [
        Part(line.text, line.behind)
        for line in lines
        if wanted in (line.id.lower(), line.rule.lower())
    ]


def _numbers(advice, wanted) -> list:
    return [
        Part(c.text, (c.derivation,))
        for c in advice.calculations
        if wanted in (c.id.lower(), c.calculation.lower(), c.title.lower())
    ]


def _facts(base, advice, wanted) -> list:
    return [
        Part(
            f"{id_name(base, f.id)}: {f.value}"
            + (f", said in the {f.said_by}" if not f.concluded else ""),
            tuple(f.derivations),
        )
        for f in advice.facts
        if wanted in (f.id.lower(), id_name(base, f.id).lower())
    ]


def told_tree(reason: Reason, depth: int = 0, levels: int = 9) -> list:
    """A tree as indented lines, `levels` deep below its first line."""
    lines = ["  " * depth + ("- " if depth else "") + reason.text]
    if levels > 0:
        for child in reason.children:
            lines += told_tree(child, depth + 1, levels - 1)
    return lines
