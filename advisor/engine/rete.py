"""The second engine: durable-rules finds the instances that may hold; a tree walk then tells
possible from sure.

Each entity is one fact that carries, for every attribute, the low and high end of what it may be
(choices by their place in
the order of caution), so kind tests and constant tests find where each simple condition may hold;
attributes that are joined
are also given value by value, so that equality joins find the pairs that may be the same.
Comparisons between facts, negation,
counting and alternatives are tested by the tree walk, over finished strata.
"""

from __future__ import annotations

from itertools import count

from advisor.engine.session import (
    MAX_PATTERNS,
    MAX_PATTERNS_PER_KIND,
    MAX_TESTS,
    EngineError,
    Pattern,
    RuleSet,
)
from advisor.engine.truth import judge
from advisor.model.conditions import Compare, InValues, PointsAt, SameWord


class ReteEngine:
    """`run(stratum number, world, topics)` as the compiled engine, by an independent way."""

    name = "durable-rules"

    def __init__(self, rules, strata, vocabulary):
        self.rules, self.vocabulary = rules, vocabulary
        self.codes = {a.key: f"c{n}" for n, a in enumerate(vocabulary.testable)}
        self.codes.update({name: f"k{n}" for n, name in enumerate(vocabulary.entities)})
        self.attributes = {a.key: a for a in vocabulary.testable}
        self.by_entity = {
            name: [a for a in vocabulary.testable if a.entity == name and a.type != "named"]
            for name in vocabulary.entities
        }
        self.strata = [self._by_topic(indexes) for _, indexes in strata]
        # (stratum, topic) -> [(rule set, kinds of fact it needs)], loaded into the core when first
        # needed
        self.loaded = {}

    def _by_topic(self, indexes):
        found = {}
        for index in indexes:
            found.setdefault(
                "" if self.rules[index].derives else self.rules[index].about, []
            ).append(index)
        return found

    def _shards(self, number, topics):
        """The rule sets of one stratum for some topics, each small enough for the core."""
        for topic, indexes in sorted(self.strata[number].items()):
            if not topic or topic in topics:
                if (number, topic) not in self.loaded:
                    self.loaded[number, topic] = list(self._load(indexes))
                yield from self.loaded[number, topic]

    def _load(self, indexes):
        batch, count = {}, {}
        for index in indexes:
            patterns, per = self.patterns(self.rules[index]), {}
            for pattern in patterns:
                per[pattern.kind] = per.get(pattern.kind, 0) + 1
            if any(count.get(k, 0) + n > MAX_PATTERNS_PER_KIND for k, n in per.items()):
                yield RuleSet(batch), sorted(count)
                batch, count = {}, {}
            batch[f"r{index}"] = patterns
            for kind, n in per.items():
                count[kind] = count.get(kind, 0) + n
        if batch:
            yield RuleSet(batch), sorted(count)

    def patterns(self, rule):
        """One pattern for each entity a rule looks at, with its constant tests; then the equality
        joins.
        """
        kinds = dict(rule.variables)
        constant = [n for n in rule.condition.children if isinstance(n, (InValues, Compare))]
        kinds.update((n.ref.entity, n.ref.entity) for n in constant if n.ref.entity not in kinds)
        # A rule that looks at nothing the core can test still needs a fact to match: that of any
        # single entity.
        kinds = kinds or {next(n for n, e in self.vocabulary.entities.items() if not e.many): ""}
        where = {variable: position for position, variable in enumerate(kinds)}
        tests = {variable: [] for variable in kinds}
        for node in constant:
            # One test fewer finds more; the tree walk decides.
            if len(tests[node.ref.entity]) < MAX_TESTS - 1:
                tests[node.ref.entity] += self._tests(node)
        found = [
            Pattern(self.codes[kind or variable], tests[variable])
            for variable, kind in kinds.items()
        ]
        for node in rule.condition.children:
            if len(found) < MAX_PATTERNS - 1:
                found += self._joins(node, where, len(found))
        return found

    def _tests(self, node):
        """Constant tests under which a condition may hold: its range must meet what is wanted."""
        low, high = self.codes[node.ref.key] + "lo", self.codes[node.ref.key] + "hi"
        if isinstance(node, InValues):
            return [
                ("lte", low, node.mask.bit_length() - 1),
                ("gte", high, (node.mask & -node.mask).bit_length() - 1),
            ]
        steps = node.steps
        return {
            ">=": [("gte", high, steps)],
            ">": [("gt", high, steps)],
            "<=": [("lte", low, steps)],
            "<": [("lt", low, steps)],
            "==": [("lte", low, steps), ("gte", high, steps)],
        }.get(node.op, [])

    def _joins(self, node, where, position):
        """Patterns over single values for the conditions that are equality joins."""
        if (
            isinstance(node, PointsAt)
            and node.same
            and node.ref.entity in where
            and node.target in where
        ):
            return [
                Pattern(
                    self.codes[node.ref.key] + "v",
                    (),
                    [("e", where[node.ref.entity], "e"), ("v", where[node.target], "e")],
                )
            ]
        if isinstance(node, SameWord) and node.same and node.pairs == tuple(range(len(node.pairs))):
            first, second = (
                [("e", where[ref.entity], "e")] if ref.entity in where else [] for ref in node.own
            )
            return [
                Pattern(self.codes[node.ref.key] + "v", (), first),
                Pattern(self.codes[node.other.key] + "v", (), second + [("v", position, "v")]),
            ]
        return []

    def facts(self, world, kinds):
        """{kind of fact: [(id, kind, fields, entity)]} for everything there is and may be, of the
        wanted kinds.
        """
        found, tokens = {}, {entity: f"e{n}" for n, entity in enumerate(world.bits)}
        for name, ids in world.kinds.items():
            code = self.codes[name]
            if code in kinds:
                columns = [
                    (
                        self.codes[a.key] + "lo",
                        self.codes[a.key] + "hi",
                        a.is_number,
                        world.columns[a.key],
                    )
                    for a in self.by_entity[name]
                ]
                found[code] = [(self._ends(columns, entity), entity) for entity in ids]
        for key, column in world.columns.items():
            code = self.codes[key] + "v"
            if code in kinds:
                found[code] = [
                    ({"v": one}, entity)
                    for entity, value in column.items()
                    for one in self._values(self.attributes[key], value, world, tokens)
                ]
        number = count()
        return {
            kind: [
                (f"f{next(number)}", kind, {**fields, "e": tokens[entity]}, entity)
                for fields, entity in rows
            ]
            for kind, rows in found.items()
        }

    @staticmethod
    def _ends(columns, entity):
        fields = {}
        for low, high, is_number, column in columns:
            value = column[entity]
            fields[low], fields[high] = (
                value if is_number else ((value & -value).bit_length() - 1, value.bit_length() - 1)
            )
        return fields

    @staticmethod
    def _values(attribute, value, world, tokens):
        if attribute.is_choice:
            return [i for i in range(len(attribute.values)) if value >> i & 1]
        return [tokens[entity] for entity, bit in world.bits.items() if value & bit]

    def run(self, number, world, topics):
        """The fired instances of one stratum, in a fixed order."""
        shards = list(self._shards(number, topics))
        facts, out = self.facts(world, {kind for _, kinds in shards for kind in kinds}), []
        for ruleset, kinds in shards:
            chosen = [row for kind in kinds for row in facts.get(kind, ())]
            entity_of = {row[0]: row[3] for row in chosen}
            seen = set()
            for name, ids in ruleset.run([row[:3] for row in chosen]):
                rule = self.rules[int(name[1:])]
                bound = tuple(
                    entity_of[i] for i in ids[: len(rule.variables)]
                )  # the rule's own variables come first
                if (name, bound) not in seen:
                    seen.add((name, bound))
                    self._take(int(name[1:]), rule, bound, world, out)
        return sorted(out)

    def _take(self, index, rule, bound, world, out):
        if len(set(bound)) < len(bound):
            return
        truth, looked_at = judge(rule.condition, rule.bind(bound), world)
        if truth:
            out.append((index, bound, truth, tuple(sorted(map(tuple, looked_at)))))


def available() -> bool:
    """Whether durable-rules can be used here."""
    from advisor.engine.session import core

    return core() is not None


__all__ = ["ReteEngine", "EngineError", "available"]
