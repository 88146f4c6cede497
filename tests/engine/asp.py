"""The same rules as an answer set program: an outside oracle by the meaning of the words, not by
the engines' arithmetic.

Every value a fact may have is one atom. A simple condition is possible if some value meets it and
open if some value does not;
sure is possible and not open. Nothing here shares code with either engine; derived facts are
worked out by the program as well.
"""

from __future__ import annotations

import clingo

from advisor.model.conditions import (
    AllOf,
    AnyOf,
    Chosen,
    Compare,
    CompareRefs,
    InValues,
    Leaf,
    Not,
    PointsAt,
    SameWord,
    Some,
    State,
)

FLIP = {">=": "<", "<": ">=", "<=": ">", ">": "<=", "==": "!=", "!=": "=="}
SIGN = {"==": "=", "!=": "!="}


class Program:
    """A rule base as text for clingo.

    Entities, attributes and values are whole numbers in it; `text` is the part without facts.
    """

    def __init__(self, base):
        self.base, self.lines, self.count = base, [], 0
        words = base.vocabulary
        self.attributes = {
            a.key: n
            for n, a in enumerate(
                a
                for e in words.entities.values()
                for a in e.attributes.values()
                if a.type != "text"
            )
        }
        self.kinds = {name: n for n, name in enumerate(words.entities)}
        self.concluded = {rule.derives for rule in base.rules if rule.derives}
        self.constants, self.factors = set(), {1}
        for key in sorted(self.concluded):
            self.derived(words.attribute(key))
        for number, rule in enumerate(base.rules):
            self.rule(number, rule)
        self.text = "\n".join(self.lines)

    def derived(self, attribute):
        """The worst sure conclusion is a floor; with none sure, the value for 'nothing concluded'
        stays possible.
        """
        n, k = self.attributes[attribute.key], self.kinds[attribute.entity]
        for value, rank in enumerate(attribute.ranks):
            self.lines.append(f"rank{n}({value},{rank}).")
        self.lines.append(f"""#defined cm{n}/2. #defined cs{n}/2.
            beaten{n}(E,V) :- cm{n}(E,V), rank{n}(V,R), cs{n}(E,W), rank{n}(W,S), R < S.
            p{n}(E,V) :- cm{n}(E,V), not beaten{n}(E,V).
            settled{n}(E) :- cs{n}(E,_).
            p{n}(E,{attribute.otherwise}) :- kind({k},E), not settled{n}(E).""")

    def rule(self, number, rule):
        scope = {variable: (f"X{n}", kind) for n, (variable, kind) in enumerate(rule.variables)}
        root = self.node(rule.condition, scope)
        bound = "(" + "".join(f"{x}," for x, _ in scope.values()) + ")" if scope else "()"
        if rule.derives:
            concluded = rule.conclusion
            n, entity = self.attributes[rule.derives], self.entity(concluded.ref.entity, scope)
            for level in "ms":
                self.lines.append(
                    f"c{level}{n}({entity},{concluded.value}) :-"
                    f" {self.atom(level, root, scope)}{self.also(entity)}."
                )
        guard = "" if rule.derives else f", topic({rule.about})"
        may, sure = self.atom("m", root, scope), self.atom("s", root, scope)
        self.lines.append(
            f"fire({number},{bound},2) :- {sure}{guard}. fire({number},{bound},1) :- {may}, not"
            f" {sure}{guard}."
        )

    def also(self, entity):
        """A single thing is written as a place-holder that its name fills."""
        return "" if entity.startswith("X") else f", only({entity[4:]},{entity})"

    def entity(self, variable, scope):
        return scope[variable][0] if variable in scope else f"Only{self.kinds[variable]}"

    def domain(self, scope, *more):
        """Who the variables may stand for: things of their kind, no two the same."""
        seen = list(scope.values())
        parts = [f"kind({self.kinds[kind]},{x})" for x, kind in seen]
        parts += [f"{x} != {y}" for n, (x, _) in enumerate(seen) for y, _ in seen[:n]]
        parts += [f"only({m[4:]},{m})" for m in dict.fromkeys(more) if m.startswith("Only")]
        return ", ".join(parts) or "yes"

    @staticmethod
    def atom(level, node, scope):
        return f"{level}{node}" + (f"({','.join(x for x, _ in scope.values())})" if scope else "")

    def node(self, node, scope) -> int:
        """Write a condition; returns its number. m7 and s7 say that condition 7 is possible and
        sure.
        """
        inner = scope
        if isinstance(node, Some):
            inner = {**scope, node.variable: (f"X{len(scope)}", node.kind)}
        children = [self.node(child, inner) for child in node.children]
        self.count += 1
        mine = self.count
        for level in "ms":
            head, domain = self.atom(level, mine, scope), self.domain(scope)
            self.lines += [f"#defined {level}{mine}/{len(scope)}."]
            if isinstance(node, AllOf):
                self.lines.append(
                    f"{head} :-"
                    f" {', '.join([domain, *(self.atom(level, c, scope) for c in children)])}."
                )
            elif isinstance(node, AnyOf):
                self.lines += [
                    f"{head} :- {domain}, {self.atom(level, c, scope)}." for c in children
                ]
            elif isinstance(node, Not):
                self.lines.append(
                    f"{head} :- {domain}, not"
                    f" {self.atom('s' if level == 'm' else 'm', children[0], scope)}."
                )
            elif isinstance(node, Some):
                self.lines.append(
                    f"{head} :- {domain}, #count {{ X{len(scope)} :"
                    f" {self.atom(level, children[0], inner)} }} >= {node.number}."
                )
        if isinstance(node, Leaf):
            self.leaf(mine, node, scope)
        return mine

    def leaf(self, mine, node, scope):
        may, sure, open_ = (self.atom(level, mine, scope) for level in "mso")
        if isinstance(node, Chosen):
            option = self.entity(node.option, scope) if node.is_variable else f'"{node.option}"'
            self.lines.append(
                f'{may} :- {self.domain(scope)}, chosen("{node.decision}",{option}).'
                f" {sure} :- {may}."
            )
            return
        entity, n = self.entity(node.ref.entity, scope), self.attributes[node.ref.key]
        if isinstance(node, State):
            self.lines.append(
                f"{may} :- {self.domain(scope, entity)}, st{n}({entity},{node.word}). {sure} :-"
                f" {may}."
            )
            return
        domain, met, missed = self.forms[type(node)](self, mine, node, scope, entity)
        body = f"{domain}, p{n}({entity},V)"
        self.lines.append(f"#defined {open_.partition('(')[0]}/{len(scope)}.")
        if (
            isinstance(node, (PointsAt, SameWord)) and not node.same
        ):  # 'not the same' is the denial of 'the same', also where nothing can be named
            yes, no = (self.atom(level, mine, scope) for level in "yo")
            self.lines.append(
                f"#defined y{mine}/{len(scope)}. {yes} :- {body}, {met}. {no} :- {body}, {missed}."
            )
            self.lines.append(
                f"{sure} :- {domain}, not {yes}. {may} :- {domain}, {no}. {may} :- {domain}, not"
                f" {yes}."
            )
        else:
            self.lines.append(
                f"{may} :- {body}, {met}. {open_} :- {body}, {missed}. {sure} :- {may}, not"
                f" {open_}."
            )

    def _in(self, mine, node, scope, entity):
        self.lines.append(
            f"#defined in{mine}/1. "
            + " ".join(
                f"in{mine}({v})." for v in range(node.mask.bit_length()) if node.mask >> v & 1
            )
        )
        return self.domain(scope, entity), f"in{mine}(V)", f"not in{mine}(V)"

    def _num(self, mine, node, scope, entity):
        self.constants.add(node.steps)
        place = f'scaled(V,1,R), figure("{node.steps}",F), scaled(F,1,S)'
        return (
            self.domain(scope, entity),
            f"{place}, R {SIGN.get(node.op, node.op)} S",
            f"{place}, R {SIGN.get(FLIP[node.op], FLIP[node.op])} S",
        )

    def _cmp(self, mine, node, scope, entity):
        self.factors |= {node.times, node.per}
        other = self.entity(node.other.entity, scope)
        place = (
            f"p{self.attributes[node.other.key]}({other},W), scaled(V,{node.per},R),"
            f" scaled(W,{node.times},S)"
        )
        return (
            self.domain(scope, entity, other),
            f"{place}, R {SIGN.get(node.op, node.op)} S",
            f"{place}, R {SIGN.get(FLIP[node.op], FLIP[node.op])} S",
        )

    def _same(self, mine, node, scope, entity):
        other = self.entity(node.other.entity, scope)
        self.lines.append(
            f"#defined pair{mine}/2. "
            + " ".join(f"pair{mine}({v},{w})." for v, w in enumerate(node.pairs) if w >= 0)
        )
        place = f"p{self.attributes[node.other.key]}({other},W)"
        return (
            self.domain(scope, entity, other),
            f"{place}, pair{mine}(V,W)",
            f"{place}, not pair{mine}(V,W)",
        )

    def _is(self, mine, node, scope, entity):
        target = self.entity(node.target, scope)
        return self.domain(scope, entity, target), f"V = {target}", f"V != {target}"

    forms = {InValues: _in, Compare: _num, CompareRefs: _cmp, SameWord: _same, PointsAt: _is}


class Oracle:
    """Answers of clingo for one rule base: `fired(facts)` is a set of (rule number, entities
    bound, 1 possible or 2 sure).
    """

    def __init__(self, base):
        self.base, self.program = base, Program(base)

    def facts(self, world, topics, every_value=False) -> list:
        """What was stated in a world (and calculated), as atoms.

        every_value: number ranges value by value, not only where it matters.
        """
        number = {entity: n for n, entity in enumerate(world.bits)}
        lines = ["yes.", "#defined chosen/2. #defined topic/1. #defined kind/2."] + [
            f"topic({t})." for t in sorted(topics)
        ]
        for kind, ids in world.kinds.items():
            only = self.base.vocabulary.entities[kind].many
            lines += [f"kind({self.program.kinds[kind]},{number[i]})." for i in ids]
            lines += [] if only else [f"only({self.program.kinds[kind]},{number[kind]})."]
        figures = self.figures(world, every_value)
        place = {value: n for n, value in enumerate(figures)}
        lines += [f'figure("{c}",{place[c]}).' for c in sorted(self.program.constants)]
        products = {
            value: n
            for n, value in enumerate(
                sorted({v * f for v in figures for f in self.program.factors})
            )
        }
        lines += [
            f"scaled({place[v]},{f},{products[v * f]})."
            for v in figures
            for f in sorted(self.program.factors)
        ]
        for key, n in self.program.attributes.items():
            lines.append(f"#defined p{n}/2. #defined st{n}/2.")
            if key not in self.program.concluded:
                for entity, value in world.columns[key].items():
                    state = ("unknown", "doubtful", "known")[world.states.get((entity, key), 0)]
                    lines.append(f"st{n}({number[entity]},{state}).")
                    lines += [
                        f"p{n}({number[entity]},{v})."
                        for v in self.values(key, value, world, number, place)
                    ]
        return lines

    def figures(self, world, every_value):
        ends = [
            value
            for key, column in world.columns.items()
            if self.base.vocabulary.attribute(key).is_number
            for value in column.values()
        ]
        if every_value:
            said = self.program.constants | {end for interval in ends for end in interval}
            return list(range(min(said), max(said) + 1))
        return sorted(self.program.constants | {end for interval in ends for end in interval})

    def values(self, key, value, world, number, place):
        attribute = self.base.vocabulary.attribute(key)
        if attribute.is_number:
            return [n for figure, n in place.items() if value[0] <= figure <= value[1]]
        if attribute.is_choice:
            return [v for v in range(len(attribute.values)) if value >> v & 1]
        return [number[entity] for entity, bit in world.bits.items() if value & bit] + [
            len(number)
        ] * (value >> len(number) & 1)  # the last: something not named

    def fired(self, facts, choices, world) -> set:
        """Every (rule, bound, truth) that follows; `choices` are what the decisions came to."""
        return self.solved(self.grounded(facts, choices, world), world)

    def grounded(self, facts, choices, world) -> clingo.Control:
        """The program written out for the facts, to be solved."""
        number = {entity: n for n, entity in enumerate(world.bits)}
        made = [
            f'chosen("{d}",{number[o] if o in number else chr(34) + o + chr(34)}).'
            for d, o in choices.items()
            if o is not None
        ]
        control = clingo.Control(["--warn=none", "0"])
        control.add("base", [], "\n".join([self.program.text, *facts, *made, "#show fire/3."]))
        control.ground([("base", [])])
        return control

    @staticmethod
    def solved(control, world) -> set:
        """What follows in a program written out."""
        models, entities = [], list(world.bits)
        control.solve(on_model=lambda model: models.append(model.symbols(shown=True)))
        assert len(models) == 1, "the rules run in strata, so there is exactly one answer set"
        return {
            (
                s.arguments[0].number,
                tuple(entities[a.number] for a in s.arguments[1].arguments),
                s.arguments[2].number,
            )
            for s in models[0]
        }
