"""Engine two: each stratum compiled to Python source, one loop nest a rule. No matching code is shared with engine one.

Truth is 0 false, 1 possible, 2 sure. A fired instance is (rule index, entity ids bound, truth, facts looked at).
"""
from __future__ import annotations

from advisor.knowledge.rule import LEAVES, references, walk


def source(rules, indexes, name: str) -> str:
    """Python source of `def name(world, topics, out)` for some rules (by index into `rules`)."""
    writer = _Writer()
    writer.line(f"def {name}(W, topics, out):")
    writer.depth = 1
    writer.line("C, S, K, B, H = W.columns, W.states, W.kinds, W.bits, W.choices")
    by_topic = {}
    for index in indexes:
        rule = rules[index]
        by_topic.setdefault("" if rule.derives else rule.about, []).append(index)
    for topic in sorted(by_topic):
        if topic:
            writer.line(f"if {topic!r} in topics:")
            writer.depth += 1
        for index in by_topic[topic]:
            writer.rule(index, rules[index])
        if topic:
            writer.depth -= 1
    return "\n".join(writer.lines) + "\n"


def _variables(node, own) -> set:
    """The variables a condition needs bound before it can be tested; counting looks at entities other than all of them."""
    inside = list(walk(node))
    if any(n[0] == "some" for n in inside):
        return own
    return {v for v, _ in references(node)} | {n[3] for n in inside if n[0] == "is"} | {n[2] for n in inside if n[0] == "chosen" and n[3]}


class _Writer:
    def __init__(self):
        self.lines, self.depth, self.count, self.names = [], 0, 0, {}

    def line(self, text):
        self.lines.append("    " * self.depth + text)

    def fresh(self, letter):
        self.count += 1
        return f"{letter}{self.count}"

    def entity(self, variable):
        """The Python expression for the entity a variable stands for."""
        return self.names.get(variable) or repr(variable)

    def rule(self, index, rule):
        """A loop for each variable; every condition stands as far out as its variables allow."""
        start, self.names = self.depth, {}
        waiting, parts, fold = list(rule.condition[1]), [], "2"
        own = {variable for variable, _ in rule.variables}
        for position in range(len(rule.variables) + 1):
            if position:
                self.loop(rule.variables, position - 1)
            bound_now = set(self.names)
            for node in [n for n in waiting if own & _variables(n, own) <= bound_now]:
                waiting.remove(node)
                fold, used = self.condition(node, fold)
                parts.append(used)
        bound = "(" + "".join(self.names[v] + "," for v, _ in rule.variables) + ")"
        self.line(f"out.append(({index}, {bound}, {fold}, tuple(sorted(set({' + '.join(parts) or '()'})))))")
        self.depth = start

    def loop(self, variables, position):
        variable, kind = variables[position]
        name = self.fresh("v")
        self.line(f"for {name} in K[{kind!r}]:")
        self.depth += 1
        for other, other_kind in variables[:position]:
            if other_kind == kind:
                self.line(f"if {name} == {self.names[other]}: continue")
        self.names[variable] = name

    def condition(self, node, fold):
        """Write one condition of a rule; what follows runs only where it may hold. Returns (truth so far, facts looked at)."""
        truth, used, _ = self.node(node)
        self.line(f"if {truth}:")
        self.depth += 1
        if fold == "2":
            return truth, used
        mine = self.fresh("t")
        self.line(f"{mine} = {truth} if {truth} < {fold} else {fold}")
        return mine, used

    def node(self, node):
        """Write a node; returns (truth name, expression of facts looked at given its truth, expression of all facts looked at)."""
        kind = node[0]
        if kind in LEAVES:
            return self.leaf(node)
        if kind == "not":
            truth, _, everything = self.node(node[1])
            mine = self.fresh("t")
            self.line(f"{mine} = 2 - {truth}")
            return mine, everything, everything
        return self.some(node) if kind == "some" else self.group(node)

    def group(self, node):
        kind, children = node
        written = [self.node(child) for child in children]
        mine = self.fresh("t")
        truths = ", ".join(t for t, _, _ in written)
        self.line(f"{mine} = {'min' if kind == 'all' else 'max'}(({truths},))" if written else f"{mine} = {2 if kind == 'all' else 0}")
        everything = "(" + (" + ".join(e for _, _, e in written) or "()") + ")"
        if kind == "all":
            return mine, "(" + (" + ".join(u for _, u, _ in written) or "()") + ")", everything
        used = " + ".join(f"({u} if {t} == {mine} else ())" for t, u, _ in written)
        return mine, f"({used or '()'})", everything

    def some(self, node):
        _, number, variable, kind, body = node
        sure, may, surely, maybe, all_of = (self.fresh(c) for c in "nnwww")
        self.line(f"{sure} = {may} = 0; {surely} = (); {maybe} = (); {all_of} = ()")
        name = self.fresh("v")
        self.line(f"for {name} in K[{kind!r}]:")
        self.depth += 1
        taken = [v for v in self.names.values()]
        if taken:
            self.line(f"if {name} in ({', '.join(taken)},): continue")
        self.names[variable] = name
        truth, used, everything = self.node(body)
        self.line(f"{all_of} += {everything}")
        self.line(f"if {truth}: {may} += 1; {maybe} += {used}")
        self.line(f"if {truth} == 2: {sure} += 1; {surely} += {used}")
        del self.names[variable]
        self.depth -= 1
        mine = self.fresh("t")
        self.line(f"{mine} = 2 if {sure} >= {number} else 1 if {may} >= {number} else 0")
        return mine, f"({surely} if {mine} == 2 else {maybe} if {mine} else {all_of})", all_of

    def leaf(self, node):
        kind, mine = node[0], self.fresh("t")
        if kind == "chosen":
            option = self.entity(node[2]) if node[3] else repr(node[2])
            self.line(f"{mine} = 2 if H.get({node[1]!r}) == {option} else 0")
            return mine, "()", "()"
        entity, key = self.entity(node[1]), node[2]
        seen = f"(({entity}, {key!r}),)"
        if kind == "state":
            self.line(f"{mine} = 2 if S.get(({entity}, {key!r}), 0) == {('unknown', 'doubtful', 'known').index(node[3])} else 0")
            return mine, seen, seen
        value = self.fresh("x")
        self.line(f"{value} = C[{key!r}][{entity}]")
        if kind in ("cmp", "same"):
            other_entity, other_key = (self.entity(node[4]), node[5]) if kind == "cmp" else (self.entity(node[3]), node[4])
            other = self.fresh("y")
            self.line(f"{other} = C[{other_key!r}][{other_entity}]")
            seen = f"(({entity}, {key!r}), ({other_entity}, {other_key!r}))"
        if kind == "in":
            self.line(f"{mine} = (1 if {value} & ~{node[3]} else 2) if {value} & {node[3]} else 0")
        elif kind == "is":
            bit = f"B[{self.entity(node[3])}]"
            self.line(f"{mine} = (1 if {value} & ~{bit} else 2) if {value} & {bit} else 0")
            if not node[4]:
                self.line(f"{mine} = 2 - {mine}")
        elif kind == "num":
            self.number(mine, f"{value}[0]", f"{value}[1]", node[3], str(node[4]), str(node[4]))
        elif kind == "cmp":
            low, high, low2, high2 = (self.fresh("z") for _ in range(4))
            self.line(f"{low} = {value}[0] * {node[7]}; {high} = {value}[1] * {node[7]}; {low2} = {other}[0] * {node[6]}; {high2} = {other}[1] * {node[6]}")
            self.number(mine, low, high, node[3], low2, high2)
        else:
            self.same(mine, value, other, node[5], node[6])
        return mine, seen, seen

    def number(self, mine, low, high, op, low2, high2):
        if op in (">=", ">"):
            self.line(f"{mine} = 2 if {low} {op} {high2} else 1 if {high} {op} {low2} else 0")
        elif op in ("<=", "<"):
            self.line(f"{mine} = 2 if {high} {op} {low2} else 1 if {low} {op} {high2} else 0")
        else:
            self.line(f"{mine} = 2 if {low} == {high} == {low2} == {high2} else 1 if {low} <= {high2} and {low2} <= {high} else 0")
            if op == "!=":
                self.line(f"{mine} = 2 - {mine}")

    def same(self, mine, value, other, pairs, want):
        shared = self.fresh("m")
        terms = " | ".join(f"({1 << second} if {value} & {1 << first} else 0)" for first, second in enumerate(pairs) if second >= 0)
        self.line(f"{shared} = ({terms}) & {other}")
        self.line(f"{mine} = 0 if not {shared} else 2 if not {value} & ({value} - 1) and not {other} & ({other} - 1) else 1")
        if not want:
            self.line(f"{mine} = 2 - {mine}")


class PlainEngine:
    """Compiled strata; `run(stratum number, world, topics)` returns the fired instances in a fixed order."""

    name = "compiled"

    def __init__(self, rules, strata, code=None):
        self.code = code or compile_strata(rules, strata)
        space = {}
        exec(self.code, space)
        self.functions = [space[f"stratum_{n}"] for n in range(len(strata))]

    def run(self, number, world, topics):
        out = []
        self.functions[number](world, topics, out)
        return out


def compile_strata(rules, strata):
    """A code object that defines stratum_0, stratum_1, …"""
    text = "\n".join(source(rules, indexes, f"stratum_{n}") for n, (_, indexes) in enumerate(strata))
    return compile(text, "<strata>", "exec")
