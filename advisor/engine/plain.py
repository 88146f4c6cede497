"""The first engine: each stratum compiled to Python source, one loop nest a rule. No matching
code is shared with the second.

Truth is 0 false, 1 possible, 2 sure. A fired instance is (rule index, entity ids bound, truth,
facts looked at).
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Sequence
from functools import lru_cache
from types import CodeType
from typing import Any, TypeAlias

from msgspec import Struct

from advisor.engine.engine import Fired
from advisor.facts.world import STATES, World
from advisor.model.base import Stratum
from advisor.model.conditions import (
    AllOf,
    Chosen,
    Compare,
    CompareRefs,
    Condition,
    Group,
    InValues,
    Leaf,
    Not,
    PointsAt,
    SameWord,
    Some,
    State,
)
from advisor.model.rule import Rule

# Facts looked at: (entity expression, key) each where they are fixed, else a Python expression.
Looked: TypeAlias = tuple[tuple[str, str], ...] | str
Join: TypeAlias = SameWord | PointsAt


def source(rules: Sequence[Rule], indexes: Iterable[int], name: str) -> str:
    """Python source of `def name(world, topics, out)` for some rules (by index into `rules`)."""
    by_topic: dict[str, list[int]] = {}
    lines = [
        f"def {name}(W, topics, out):",
        "    C, S, K, B, H = W.columns, W.states, W.kinds, W.bits, W.choices",
    ]
    for index in indexes:
        rule = rules[index]
        by_topic.setdefault("" if rule.derives else rule.about, []).append(index)
    for topic in sorted(by_topic):
        writer = _Writer(2 if topic else 1)
        for index in by_topic[topic]:
            writer.rule(index, rules[index])
        lines += [f"    if {topic!r} in topics:"] * bool(topic) + writer.head() + writer.lines
    return "\n".join(lines) + "\n"


def _variables(node: Condition, own: set[str]) -> set[str]:
    """The variables a condition needs bound before it can be tested; counting looks at entities
    other than all of them.
    """
    inside = list(node.walk())
    if any(isinstance(n, Some) for n in inside):
        return own
    return (
        {ref.entity for ref in node.references()}
        | {n.target for n in inside if isinstance(n, PointsAt)}
        | {n.option for n in inside if isinstance(n, Chosen) and n.is_variable}
    )


def _ends(node: Condition) -> set[str]:
    """The two things that an equality joins; empty where a condition is none."""
    if isinstance(node, PointsAt) and node.same:
        return {node.ref.entity, node.target}
    if isinstance(node, SameWord) and node.same and node.pairs == tuple(range(len(node.pairs))):
        return {node.ref.entity, node.other.entity}
    return set()


class _Inner(Struct):
    """A variable that is looped over within another: the tests that look at it alone, and the
    equality that joins it to `other`, which is bound before; `name` and `by_value`: where the
    things that pass those tests are kept.
    """

    alone: Sequence[Condition]
    join: Join | None = None
    other: str = ""
    name: str = ""
    by_value: str = ""

    @classmethod
    def of(
        cls, variable: str, earlier: set[str], own: set[str], conditions: Sequence[Condition]
    ) -> _Inner:
        """Such a variable of a rule with its `own` variables, of which some are bound `earlier`."""
        gates = [n for n in conditions if isinstance(n, (InValues, Compare))]
        alone = [n for n in gates if own & _variables(n, own) == {variable}]
        for node in conditions:
            ends = _ends(node)
            if variable in ends and ends & earlier:
                assert isinstance(node, (SameWord, PointsAt))
                return cls(alone, node, *(ends - {variable}))
        return cls(alone)

    def kept(self) -> bool:
        """Whether anything is gained by it."""
        return bool(self.alone or self.join)


class _Writer:
    """The lines of one topic.

    Columns and the values of single entities are looked up once, in its head.
    """

    def __init__(self, depth: int) -> None:
        self.lines: list[str] = []
        self.start = self.depth = depth
        self.count = 0
        self.names: dict[str, str] = {}
        self.columns: dict[str, str] = {}
        self.values: dict[tuple[str, str], str] = {}

    def head(self) -> list[str]:
        """The lines that look up what the others use."""
        looked_up = [f"{name} = C[{key!r}]" for key, name in self.columns.items()] + [
            f"{name} = {column}[{entity}]" for (column, entity), name in self.values.items()
        ]
        return ["    " * self.start + line for line in looked_up]

    def value(self, entity: str, key: str) -> str:
        """The Python name of what an attribute of an entity may be."""
        column = self.columns.setdefault(key, f"c{len(self.columns)}")
        if entity[0] in "'\"":
            return self.values.setdefault((column, entity), f"u{len(self.values)}")
        value = self.fresh("x")
        self.line(f"{value} = {column}[{entity}]")
        return value

    def line(self, text: str) -> None:
        self.lines.append("    " * self.depth + text)

    def fresh(self, letter: str) -> str:
        self.count += 1
        return f"{letter}{self.count}"

    def entity(self, variable: str) -> str:
        """The Python expression for the entity a variable stands for."""
        return self.names.get(variable) or repr(variable)

    def rule(self, index: int, rule: Rule) -> None:
        """A loop for each variable; every condition stands as far out as its variables allow."""
        start, self.names = self.depth, {}
        # Cheap tests first.
        waiting = sorted(
            rule.condition.children, key=lambda n: not isinstance(n, (InValues, Compare))
        )
        parts: list[Looked] = []
        fold = "2"
        own = {variable for variable, _ in rule.variables}
        order = [variable for variable, _ in rule.variables]
        inner = [_Inner.of(order[n], {*order[:n]}, own, waiting) for n in range(1, len(order))]
        for one in filter(_Inner.kept, inner):
            one.name, one.by_value = self.fresh("l"), self.fresh("j")
            self.line(f"{one.name} = None")
        for position in range(len(rule.variables) + 1):
            kept = inner[position - 2] if position > 1 else None
            if kept and kept.kept():
                waiting = [n for n in waiting if n not in kept.alone]
                fold, seen = self.inner_loop(rule.variables, position - 1, kept, fold)
                parts += seen
            elif position:
                self.loop(rule.variables, position - 1)
            bound_now = set(self.names)
            for node in [n for n in waiting if own & _variables(n, own) <= bound_now]:
                waiting.remove(node)
                fold, used = self.condition(node, fold)
                parts.append(used)
        bound = "(" + "".join(self.names[v] + "," for v, _ in rule.variables) + ")"
        self.line(f"out.append(({index}, {bound}, {fold}, {self.in_order(parts)}))")
        self.depth = start

    @staticmethod
    def in_order(parts: Sequence[Looked]) -> str:
        """The facts looked at, each once and in order: now, where one entity's are all written
        out, else when the rule fires.
        """
        if all(isinstance(part, tuple) for part in parts):
            facts = sorted(set(sum(parts, ())), key=lambda f: (f[0], f[1]))
            text = "(" + "".join(f"({entity}, {key!r}), " for entity, key in facts) + ")"
            return text if len({entity for entity, _ in facts}) <= 1 else f"tuple(sorted({text}))"
        return f"tuple(sorted(set({' + '.join(_written(part) for part in parts)})))"

    def loop(self, variables: Sequence[tuple[str, str]], position: int) -> None:
        variable, kind = variables[position]
        name = self.fresh("v")
        self.line(f"for {name} in K[{kind!r}]:")
        self.depth += 1
        self.other_than(name, kind, variables[:position])
        self.names[variable] = name

    def inner_loop(
        self, variables: Sequence[tuple[str, str]], position: int, inner: _Inner, fold: str
    ) -> tuple[str, list[Looked]]:
        """A loop within another, over the things that pass the tests of their own. They are looked
        for once, when they are first needed, and taken by value where an equality joins them to
        what is bound. Returns (truth so far, facts looked at).
        """
        (variable, kind), depth = variables[position], self.depth
        name, mine, bound = self.fresh("v"), self.fresh("t"), dict(self.names)
        self.names[variable] = name
        self.line(f"if {inner.name} is None:")
        self.depth += 1
        self.line(f"{inner.name} = []; {inner.by_value} = {{}}")
        self.line(f"for {name} in K[{kind!r}]:")
        self.depth += 1
        truth, parts = "2", list[Looked]()
        for node in inner.alone:
            truth, used = self.condition(node, truth)
            parts.append(used)
        self.line(f"{inner.name}.append(({name}, {truth}))")
        if inner.join:
            rest, low = self.fresh("x"), self.fresh("z")
            self.line(f"{rest} = {self.joined(inner.join, variable)}")
            self.line(f"while {rest}:")
            self.depth += 1
            self.line(f"{low} = {rest} & -{rest}; {rest} ^= {low}")
            self.line(f"{inner.by_value}.setdefault({low}, []).append(({name}, {truth}))")
        self.depth, self.names = depth, bound
        found = inner.name
        if inner.join:
            value, found = self.joined(inner.join, inner.other), self.fresh("w")
            self.line(
                f"{found} = {inner.name} if {value} & ({value} - 1) else"
                f" {inner.by_value}.get({value}, ())"
            )
        self.line(f"for {name}, {mine} in {found}:")
        self.depth += 1
        self.other_than(name, kind, variables[:position])
        self.names[variable] = name
        if fold == "2":
            return mine, parts
        folded = self.fresh("t")
        self.line(f"{folded} = {mine} if {mine} < {fold} else {fold}")
        return folded, parts

    def joined(self, node: Join, variable: str) -> str:
        """The name of the values by which an equality joins a variable, one bit for each."""
        ref = next((ref for ref in node.own if ref.entity == variable), None)
        if ref:
            return self.value(self.entity(variable), ref.key)
        bit = self.fresh("x")
        self.line(f"{bit} = B[{self.entity(variable)}]")
        return bit

    def other_than(self, name: str, kind: str, earlier: Sequence[tuple[str, str]]) -> None:
        """Go on where a thing is bound already."""
        for other, other_kind in earlier:
            if other_kind == kind:
                self.line(f"if {name} == {self.names[other]}: continue")

    def condition(self, node: Condition, fold: str) -> tuple[str, Looked]:
        """Write one condition of a rule; what follows runs only where it may hold. Returns (truth
        so far, facts looked at).
        """
        if isinstance(node, (InValues, Compare)):
            truth, used = self.gate(node)
        else:
            truth, used, _ = self.node(node)
            self.line(f"if {truth}:")
            self.depth += 1
        if fold == "2":
            return truth, used
        mine = self.fresh("t")
        self.line(f"{mine} = {truth} if {truth} < {fold} else {fold}")
        return mine, used

    def gate(self, node: InValues | Compare) -> tuple[str, Looked]:
        """Write a plain test as a gate: most entities fail it, so that is asked first. Returns
        (truth name, facts looked at).
        """
        entity, key, mine = self.entity(node.ref.entity), node.ref.key, self.fresh("t")
        value = self.value(entity, key)
        if isinstance(node, InValues):
            may, sure = f"{value} & {node.mask}", f"not {value} & {~node.mask}"
        else:
            sure, may = _against(value, node)
        self.line(f"if {may}:")
        self.depth += 1
        self.line(f"{mine} = 2 if {sure} else 1")
        return mine, ((entity, key),)

    def node(self, node: Condition) -> tuple[str, Looked, Looked]:
        """Write a node; returns (truth name, facts looked at given its truth, all facts looked at).

        Facts are a tuple of (entity expression, key) where they are fixed, else a Python
        expression.
        """
        if isinstance(node, Leaf):
            return self.leaf(node)
        if isinstance(node, Not):
            truth, _, everything = self.node(node.part)
            mine = self.fresh("t")
            self.line(f"{mine} = 2 - {truth}")
            return mine, everything, everything
        if isinstance(node, Some):
            return self.some(node)
        assert isinstance(node, Group), node
        return self.group(node)

    def group(self, node: Group) -> tuple[str, Looked, Looked]:
        every = isinstance(node, AllOf)
        written = [self.node(child) for child in node.parts]
        mine = self.fresh("t")
        truths = ", ".join(t for t, _, _ in written)
        self.line(
            f"{mine} = {'min' if every else 'max'}(({truths},))"
            if written
            else f"{mine} = {2 if every else 0}"
        )
        everything = _together([e for _, _, e in written])
        if every:
            return mine, _together([u for _, u, _ in written]), everything
        used = " + ".join(f"({_written(u)} if {t} == {mine} else ())" for t, u, _ in written)
        return mine, f"({used or '()'})", everything

    def some(self, node: Some) -> tuple[str, Looked, Looked]:
        sure, may, surely, maybe, all_of = (self.fresh(c) for c in "nnwww")
        self.line(f"{sure} = {may} = 0; {surely} = (); {maybe} = (); {all_of} = ()")
        name = self.fresh("v")
        self.line(f"for {name} in K[{node.kind!r}]:")
        self.depth += 1
        taken = list(self.names.values())
        if taken:
            self.line(f"if {name} in ({', '.join(taken)},): continue")
        self.names[node.variable] = name
        truth, used, everything = self.node(node.where)
        self.line(f"{all_of} += {_written(everything)}")
        self.line(f"if {truth}: {may} += 1; {maybe} += {_written(used)}")
        self.line(f"if {truth} == 2: {sure} += 1; {surely} += {_written(used)}")
        del self.names[node.variable]
        self.depth -= 1
        mine = self.fresh("t")
        self.line(f"{mine} = 2 if {sure} >= {node.number} else 1 if {may} >= {node.number} else 0")
        return mine, f"({surely} if {mine} == 2 else {maybe} if {mine} else {all_of})", all_of

    def leaf(self, node: Leaf) -> tuple[str, Looked, Looked]:
        mine = self.fresh("t")
        if isinstance(node, Chosen):
            option = self.entity(node.option) if node.is_variable else repr(node.option)
            self.line(f"{mine} = 2 if H.get({node.decision!r}) == {option} else 0")
            return mine, (), ()
        seen = tuple((self.entity(ref.entity), ref.key) for ref in node.own)
        if isinstance(node, State):
            ((entity, key),) = seen
            word = STATES.index(node.word)
            self.line(f"{mine} = 2 if S.get(({entity}, {key!r}), 0) == {word} else 0")
            return mine, seen, seen
        value, *others = (self.value(entity, key) for entity, key in seen)
        match node:
            case CompareRefs():
                self.compare(mine, value, others[0], node)
            case SameWord():
                self.same(mine, value, others[0], node)
            case InValues():
                mask = node.mask
                self.line(f"{mine} = (1 if {value} & {~mask} else 2) if {value} & {mask} else 0")
            case PointsAt():
                bit = f"B[{self.entity(node.target)}]"
                self.line(f"{mine} = (1 if {value} & ~{bit} else 2) if {value} & {bit} else 0")
                if not node.same:
                    self.line(f"{mine} = 2 - {mine}")
            case Compare():
                self.number(mine, _against(value, node))
        return mine, seen, seen

    def number(self, mine: str, tests: tuple[str, str]) -> None:
        sure, may = tests
        self.line(f"{mine} = 2 if {sure} else 1 if {may} else 0")

    def compare(self, mine: str, value: str, other: str, node: CompareRefs) -> None:
        low, high, low2, high2 = (self.fresh("z") for _ in range(4))
        self.line(
            f"{low} = {value}[0] * {node.per}; {high} = {value}[1] * {node.per}; {low2} ="
            f" {other}[0] * {node.times}; {high2} = {other}[1] * {node.times}"
        )
        self.number(mine, _number(low, high, node.op, low2, high2))

    def same(self, mine: str, value: str, other: str, node: SameWord) -> None:
        shared = self.fresh("m")
        terms = " | ".join(
            f"({1 << second} if {value} & {1 << first} else 0)"
            for first, second in enumerate(node.pairs)
            if second >= 0
        )
        self.line(f"{shared} = ({terms}) & {other}")
        self.line(
            f"{mine} = 0 if not {shared} else 2 if not {value} & ({value} - 1) and not {other} &"
            f" ({other} - 1) else 1"
        )
        if not node.same:
            self.line(f"{mine} = 2 - {mine}")


def _against(value: str, node: Compare) -> tuple[str, str]:
    """As `_number`, for a value against a figure."""
    return _number(f"{value}[0]", f"{value}[1]", node.op, str(node.steps), str(node.steps))


def _number(low: str, high: str, op: str, low2: str, high2: str) -> tuple[str, str]:
    """(test that a comparison surely holds, test that it may hold) for two ranges."""
    if op in (">=", ">"):
        return f"{low} {op} {high2}", f"{high} {op} {low2}"
    if op in ("<=", "<"):
        return f"{high} {op} {low2}", f"{low} {op} {high2}"
    apart, one = f"{low} > {high2} or {low2} > {high}", f"{low} == {high} == {low2} == {high2}"
    return (one, f"not ({apart})") if op == "==" else (apart, f"not ({one})")


def _together(facts: Sequence[Looked]) -> Looked:
    """Facts looked at by several conditions, fixed if all are."""
    return (
        sum(facts, ())
        if all(isinstance(f, tuple) for f in facts)
        else "(" + " + ".join(map(_written, facts)) + ")"
    )


def _written(facts: Looked) -> str:
    """Facts looked at as a Python expression."""
    return (
        "(" + "".join(f"({entity}, {key!r}), " for entity, key in facts) + ")"
        if isinstance(facts, tuple)
        else facts
    )


Code: TypeAlias = tuple[CodeType, ...]
Function: TypeAlias = Callable[[World, Collection[str], list[Fired]], None]
NAME = "stratum"  # of the function that a code object defines


class PlainEngine:
    """Compiled strata; `run(stratum number, world, topics)` returns the fired instances in a fixed
    order.

    under: the engine of the rules that stand first among these; what it compiled is taken from it.
    """

    name = "compiled"

    def __init__(
        self,
        rules: Sequence[Rule],
        strata: Sequence[Stratum],
        code: Code | None = None,
        under: PlainEngine | None = None,
    ) -> None:
        self.first = len(rules)
        if under is not None:
            self.functions = [_over(under, rules, indexes) for _, indexes in strata]
        else:
            code = code or compile_strata(rules, strata)
            self.functions = [(_function(part),) for part in code]
        self.known = dict(zip((indexes for _, indexes in strata), self.functions))

    def run(self, number: int, world: World, topics: Collection[str]) -> list[Fired]:
        out: list[Fired] = []
        for function in self.functions[number]:
            function(world, topics, out)
        return out


def _over(
    under: PlainEngine, rules: Sequence[Rule], indexes: tuple[int, ...]
) -> tuple[Function, ...]:
    """The functions of a stratum: of what stands below, then of what is laid over it."""
    below = tuple(index for index in indexes if index < under.first)
    over = indexes[len(below) :]
    found = under.known.get(below) or (_function(_compiled(source(rules, below, NAME))),)
    return (*found, _function(_compiled(source(rules, over, NAME)))) if over else found


def _function(code: CodeType) -> Function:
    space: dict[str, Any] = {}
    exec(code, space)
    found: Function = space[NAME]
    return found


def compile_strata(rules: Sequence[Rule], strata: Sequence[Stratum]) -> Code:
    """A code object for each stratum, which defines its function."""
    return tuple(_compiled(source(rules, indexes, NAME)) for _, indexes in strata)


@lru_cache(maxsize=64)
def _compiled(text: str) -> CodeType:
    return compile(text, "<stratum>", "exec")
