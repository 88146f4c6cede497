"""The real rules in another rule engine, CLIPS, as far as this translation goes: each rule by
itself on the finished facts (derived ones and what the decisions came to among them).

Not translated: rules that count things ('at least two anchors of which …') or hold two choices'
words against each other. Nothing here shares code with either engine.
"""

from __future__ import annotations

import clips

from advisor.facts.world import STATES
from advisor.model.conditions import (
    AllOf,
    AnyOf,
    Chosen,
    Compare,
    CompareRefs,
    InValues,
    Not,
    OneFact,
    PointsAt,
    State,
)

FORMS = (AllOf, AnyOf, Not, InValues, Compare, State, CompareRefs, PointsAt, Chosen)
FALSE, TRUE = "(neq 1 1)", "(eq 1 1)"


class Clips:
    """A rule base in CLIPS: `left` are the rules not translated; `facts` writes a world as text,
    `fired` are the instances of such a text as {(rule, bound, truth)}.
    """

    def __init__(self, base):
        self.base, self.environment, self.takings = base, clips.Environment(), []
        self.environment.define_function(self._take, name="take")
        testable = [a for e in base.vocabulary.entities.values() for a in e.attributes.values()]
        self.places = {a.key: n for n, a in enumerate(a for a in testable if a.type != "text")}
        self.attributes = {a.key: a for a in testable}
        self.kinds = {name: n for n, name in enumerate(base.vocabulary.entities)}
        self.left = [
            n
            for n, r in enumerate(base.rules)
            if not all(type(c) in FORMS for c in r.condition.walk())
        ]
        self.looked = {
            ref.key
            for n, rule in enumerate(base.rules)
            if n not in set(self.left)
            for ref in rule.condition.references()
        }
        self.decided = sorted(
            {c.decision for r in base.rules for c in r.condition.walk() if isinstance(c, Chosen)}
        )
        self._build("(deftemplate thing (slot kind) (slot id))")
        self._build("(deftemplate topic (slot of))")
        self._build("(deftemplate chosen (slot decision) (slot option))")
        for key in sorted(self.looked):
            self._build(
                f"(deftemplate k{self.places[key]} (slot of) (slot state) (slot low) (slot high)"
                " (multislot may))"
            )
        for number, rule in enumerate(base.rules):
            if number not in set(self.left):
                self._build(_Rule(self, number, rule).text())

    def _build(self, text):
        self.environment.build(text)

    def _take(self, *taken):
        self.takings.append(taken)

    def facts(self, world, topics) -> str:
        """A finished world as facts, each in one line."""
        number = {entity: n for n, entity in enumerate(world.bits)}
        lines = [f'(topic (of "{topic}"))' for topic in sorted(topics)]
        for kind, ids in world.kinds.items():
            lines += [f"(thing (kind {self.kinds[kind]}) (id {number[i]}))" for i in ids]
        for decision in self.decided:  # one that was not taken has no option
            option = world.choices.get(decision)
            told = number.get(option, f'"{option}"') if option is not None else "none"
            lines.append(f'(chosen (decision "{decision}") (option {told}))')
        for key in sorted(self.looked):
            for entity, value in world.columns[key].items():
                state = STATES[world.states.get((entity, key), 0)]
                told = (
                    f"(low {value[0]}) (high {value[1]})"
                    if self.attributes[key].is_number
                    else f"(may {' '.join(str(v) for v in _bits(value))})"
                )
                lines.append(f"(k{self.places[key]} (of {number[entity]}) (state {state}) {told})")
        return "\n".join(lines)

    def run(self, facts: str) -> list[tuple]:
        """What fires on facts, bare: (rule, truth, entities by their numbers …)."""
        self.takings.clear()
        self.environment.reset()
        self.environment.load_facts(facts)
        self.environment.run()
        return self.takings

    def fired(self, facts: str, world) -> set:
        """What fires on facts, as {(rule, entities bound, truth)}."""
        entities = list(world.bits)
        return {
            (rule, tuple(entities[i] for i in bound), truth)
            for rule, truth, *bound in self.run(facts)
        }


def _bits(mask):
    return [bit for bit in range(mask.bit_length()) if mask >> bit & 1]


class _Rule:
    """One rule as text: patterns for what it looks at, what may hold on the left side, and on the
    right whether it surely does.
    """

    def __init__(self, whole, number, rule):
        self.whole, self.number, self.rule = whole, number, rule
        self.variables = {variable: f"?v{n}" for n, (variable, _) in enumerate(rule.variables)}
        self.refs = {ref: n for n, ref in enumerate(dict.fromkeys(rule.condition.references()))}
        self.single = {kind: f"?only{n}" for kind, n in whole.kinds.items()}
        decided = [c.decision for c in rule.condition.walk() if isinstance(c, Chosen)]
        self.decisions = {decision: f"?d{n}" for n, decision in enumerate(dict.fromkeys(decided))}

    def entity(self, name):
        return self.variables.get(name) or self.single[name]

    def text(self):
        """The whole defrule."""
        rule, whole = self.rule, self.whole
        parts = rule.condition.parts if isinstance(rule.condition, AllOf) else (rule.condition,)
        patterns = [] if rule.derives else [f'(topic (of "{rule.about}"))']
        patterns += [
            f"(thing (kind {whole.kinds[name]}) (id {self.single[name]}))"
            for name in self.singles()
        ]
        patterns += [
            f'(chosen (decision "{decision}") (option {place}))'
            for decision, place in self.decisions.items()
        ]
        patterns += self.looked_at(None, parts)
        for variable, kind in rule.variables:
            patterns.append(self.thing(variable, kind))
            patterns += self.looked_at(variable, parts)
        patterns += [self.test(part) for part in parts if not isinstance(part, OneFact)]
        told = " ".join(self.variables.values())
        return (
            f"(defrule r{self.number} {' '.join(patterns)} => (take {self.number}"
            f" (if {self.told(rule.condition, True)} then 2 else 1) {told}))"
        )

    def singles(self):
        """The things spoken of that are no variables, each the only one of its kind."""
        nodes = list(self.rule.condition.walk())
        named = {ref.entity for ref in self.refs}
        named |= {node.target for node in nodes if isinstance(node, PointsAt)}
        return sorted(named - set(self.variables))

    def looked_at(self, variable, parts):
        """What is looked at of a variable (None: of the rest), each with the tests of it alone."""
        return [
            pattern
            for ref in self.refs
            if (ref.entity if ref.entity in self.variables else None) == variable
            for pattern in (
                self.pattern(ref),
                *(
                    self.test(part)
                    for part in parts
                    if isinstance(part, OneFact) and part.ref == ref
                ),
            )
        ]

    def test(self, part):
        return f"(test {self.told(part, False)})"

    def thing(self, variable, kind):
        """Whom a variable may stand for: one of its kind, but none that another stands for."""
        place = self.variables[variable]
        before = list(self.variables.values())[: list(self.variables).index(variable)]
        others = "".join(f"&~{other}" for other in before)
        return f"(thing (kind {self.whole.kinds[kind]}) (id {place}{others}))"

    def pattern(self, ref):
        n = self.refs[ref]
        number = self.whole.attributes[ref.key].is_number
        value = f"(low ?l{n}) (high ?h{n})" if number else f"(may $?m{n})"
        return (
            f"(k{self.whole.places[ref.key]} (of {self.entity(ref.entity)}) (state ?s{n}) {value})"
        )

    def told(self, node, sure) -> str:
        """Whether a condition may hold, or surely holds, as an expression."""
        return self.forms[type(node)](self, node, sure)

    def _all(self, node, sure):
        told = [self.told(part, sure) for part in node.parts]
        return f"(and {' '.join(told)})" if len(told) > 1 else told[0] if told else TRUE

    def _any(self, node, sure):
        told = [self.told(part, sure) for part in node.parts]
        return f"(or {' '.join(told)})" if len(told) > 1 else told[0] if told else FALSE

    def _not(self, node, sure):
        return f"(not {self.told(node.part, not sure)})"

    def _within(self, ref, allowed, sure):
        place = f"$?m{self.refs[ref]}"
        if sure:
            return f"(subsetp {place} (create$ {' '.join(map(str, allowed))}))"
        tests = [f"(member$ {value} {place})" for value in allowed]
        return f"(or {' '.join(tests)})" if len(tests) > 1 else tests[0] if tests else FALSE

    def _in(self, node, sure):
        return self._within(node.ref, _bits(node.mask), sure)

    def _points(self, node, sure):
        level = sure if node.same else not sure
        told = self._within(node.ref, [self.entity(node.target)], level)
        return told if node.same else f"(not {told})"

    def _state(self, node, sure):
        return f"(eq ?s{self.refs[node.ref]} {node.word})"

    def _number(self, node, sure):
        n = self.refs[node.ref]
        return _compared(node.op, (f"?l{n}", f"?h{n}"), (node.steps, node.steps), sure)

    def _numbers(self, node, sure):
        n, m = self.refs[node.ref], self.refs[node.other]
        first = tuple(f"(* {node.per} ?{end}{n})" for end in "lh")
        second = tuple(f"(* {node.times} ?{end}{m})" for end in "lh")
        return _compared(node.op, first, second, sure)

    def _chosen(self, node, sure):
        option = self.variables[node.option] if node.is_variable else f'"{node.option}"'
        return f"(eq {self.decisions[node.decision]} {option})"

    forms = {
        AllOf: _all,
        AnyOf: _any,
        Not: _not,
        InValues: _in,
        Compare: _number,
        CompareRefs: _numbers,
        State: _state,
        PointsAt: _points,
        Chosen: _chosen,
    }


def _compared(op, first, second, sure):
    """Two ranges, (low, high) as expressions, held against each other."""
    (low, high), (low2, high2) = first, second
    if op == "!=":
        return f"(not {_compared('==', first, second, not sure)})"
    if op == "==":
        if sure:
            return f"(= {low} {high} {low2} {high2})"
        return f"(and (<= {low} {high2}) (<= {low2} {high}))"
    greater = op.startswith(">")
    if sure:
        return f"({op} {low} {high2})" if greater else f"({op} {high} {low2})"
    return f"({op} {high} {low2})" if greater else f"({op} {low} {high2})"
