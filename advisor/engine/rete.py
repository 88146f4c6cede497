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

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import count
from types import MappingProxyType
from typing import Any, NamedTuple, TypeAlias

from advisor.engine.engine import Fired
from advisor.engine.session import FactRow, RuleSet
from advisor.engine.truth import judge, truth_alone
from advisor.engine.unchanged import LastWorld, looked_at
from advisor.engine.written import (
    MAX_PATTERNS,
    MAX_PATTERNS_PER_KIND,
    MAX_TESTS,
    EngineError,
    Pattern,
    Test,
    Value,
    Written,
    write,
)
from advisor.facts.vocabulary import Attribute, Vocabulary
from advisor.facts.world import World
from advisor.model.base import Stratum
from advisor.model.conditions import Compare, Condition, InValues, PointsAt, SameWord
from advisor.model.rule import Rule

Batch: TypeAlias = tuple[Written, list[str]]  # with the kinds of fact it needs
Shard: TypeAlias = tuple[RuleSet, list[str]]
Bound: TypeAlias = tuple[int, tuple[str, ...]]  # a rule, and the entities that it is about
Judged: TypeAlias = tuple[int, tuple[tuple[str, str], ...]] | None  # truth, and what it rests on
Batches: TypeAlias = Mapping[tuple[int, str], Sequence[Batch]]  # by stratum and topic


class Column(NamedTuple):
    """An attribute as the core is given it: names of the fields for its low and its high end."""

    low: str
    high: str
    is_number: bool
    values: Mapping[str, Any]


class Answered(NamedTuple):
    """The last answer of a stratum, and the topics that it was asked for."""

    topics: frozenset[str] | None
    fired: list[Fired]


NOT_ANSWERED = Answered(None, [])


class EntityRow(NamedTuple):
    """A fact for the core, and the entity it is of."""

    fact: FactRow
    entity: str


@lru_cache(maxsize=512)
def _loaded(rules: Written) -> RuleSet:
    """The same rules are loaded into the core once, whoever asks: that takes long and much memory,
    and local guidance leaves most of what it is laid over as it was.
    """
    return RuleSet(rules)


class ReteEngine:
    """`run(stratum number, world, topics)` as the compiled engine, by an independent way."""

    name = "durable-rules"

    def __init__(
        self,
        rules: Sequence[Rule],
        strata: Sequence[Stratum],
        vocabulary: Vocabulary,
        written: Batches = MappingProxyType({}),
    ) -> None:
        """written: what `write_all` gave for the same rules."""
        self.rules, self.vocabulary = rules, vocabulary
        self.codes = {a.key: f"c{n}" for n, a in enumerate(vocabulary.testable)}
        self.codes.update({name: f"k{n}" for n, name in enumerate(vocabulary.entities)})
        self.attributes = {a.key: a for a in vocabulary.testable}
        # kind of entity -> its attributes with the names of their low and high ends
        self.by_entity = {
            name: [
                (a, self.codes[a.key] + "lo", self.codes[a.key] + "hi")
                for a in vocabulary.testable
                if a.entity == name and a.type != "named"
            ]
            for name in vocabulary.entities
        }
        self.strata = [self._by_topic(indexes) for _, indexes in strata]
        self.written = written
        self.turns_on = [looked_at(rule.condition) for rule in rules]
        self.stratum_turns_on = [
            frozenset[str]().union(*(self.turns_on[n] for n in indexes)) for _, indexes in strata
        ]
        # by stratum and topic, loaded into the core when first needed
        self.loaded: dict[tuple[int, str], list[Shard]] = {}
        self.forget()

    def forget(self) -> None:
        """Remember nothing of any world, as at the start."""
        # What was judged of each stratum, and on which world.
        self.last = [LastWorld() for _ in self.strata]
        self.judged: list[dict[Bound, Judged]] = [{} for _ in self.strata]
        self.answered = [NOT_ANSWERED for _ in self.strata]
        for shards in self.loaded.values():
            for ruleset, _ in shards:
                ruleset.forget()

    def _by_topic(self, indexes: Iterable[int]) -> dict[str, list[int]]:
        found: dict[str, list[int]] = {}
        for index in indexes:
            found.setdefault(
                "" if self.rules[index].derives else self.rules[index].about, []
            ).append(index)
        return found

    def write_all(self) -> Batches:
        """The rule sets of all strata and topics, written out."""
        return {
            (number, topic): list(self._batches(indexes))
            for number, topics in enumerate(self.strata)
            for topic, indexes in topics.items()
        }

    def _shards(self, number: int, topics: Collection[str]) -> Iterator[Shard]:
        """The rule sets of one stratum for some topics, each small enough for the core."""
        for topic, indexes in sorted(self.strata[number].items()):
            if not topic or topic in topics:
                key = number, topic
                if key not in self.loaded:
                    batches = self.written.get(key) or self._batches(indexes)
                    self.loaded[key] = [(_loaded(rules), kinds) for rules, kinds in batches]
                yield from self.loaded[key]

    def _batches(self, indexes: Iterable[int]) -> Iterator[Batch]:
        batch: dict[str, list[Pattern]] = {}
        count: dict[str, int] = {}
        for index in indexes:
            patterns = self.patterns(self.rules[index])
            per: dict[str, int] = {}
            for pattern in patterns:
                per[pattern.kind] = per.get(pattern.kind, 0) + 1
            if any(count.get(k, 0) + n > MAX_PATTERNS_PER_KIND for k, n in per.items()):
                yield write(batch), sorted(count)
                batch, count = {}, {}
            batch[f"r{index}"] = patterns
            for kind, n in per.items():
                count[kind] = count.get(kind, 0) + n
        if batch:
            yield write(batch), sorted(count)

    def patterns(self, rule: Rule) -> list[Pattern]:
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
        tests: dict[str, list[Test]] = {variable: [] for variable in kinds}
        for one in constant:
            # One test fewer finds more; the tree walk decides.
            if len(tests[one.ref.entity]) < MAX_TESTS - 1:
                tests[one.ref.entity] += self._tests(one)
        found = [
            Pattern(self.codes[kind or variable], tests[variable])
            for variable, kind in kinds.items()
        ]
        for node in rule.condition.children:
            if len(found) < MAX_PATTERNS - 1:
                found += self._joins(node, where, len(found))
        return found

    def _tests(self, node: InValues | Compare) -> list[Test]:
        """Constant tests under which a condition may hold: its range must meet what is wanted."""
        low, high = self.codes[node.ref.key] + "lo", self.codes[node.ref.key] + "hi"
        if isinstance(node, InValues):
            return [
                ("lte", low, node.mask.bit_length() - 1),
                ("gte", high, (node.mask & -node.mask).bit_length() - 1),
            ]
        steps = node.steps
        by_operator: dict[str, list[Test]] = {
            ">=": [("gte", high, steps)],
            ">": [("gt", high, steps)],
            "<=": [("lte", low, steps)],
            "<": [("lt", low, steps)],
            "==": [("lte", low, steps), ("gte", high, steps)],
        }
        return by_operator.get(node.op, [])

    def _joins(self, node: Condition, where: Mapping[str, int], position: int) -> list[Pattern]:
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

    def facts(
        self, world: World, wanted: Mapping[str, Collection[str]]
    ) -> dict[str, list[EntityRow]]:
        """{kind of fact: rows} for everything there is and may be, of the wanted kinds with the
        `wanted` fields.
        """
        found: dict[str, list[tuple[dict[str, Value], str]]] = {}
        tokens = {entity: f"e{n}" for n, entity in enumerate(world.bits)}
        for name, ids in world.kinds.items():
            code = self.codes[name]
            if code in wanted:
                columns = [
                    Column(low, high, a.is_number, world.columns[a.key])
                    for a, low, high in self.by_entity[name]
                    if low in wanted[code] or high in wanted[code]
                ]
                found[code] = [(self._ends(columns, entity), entity) for entity in ids]
        for key, column in world.columns.items():
            code = self.codes[key] + "v"
            if code in wanted:
                found[code] = [
                    ({"v": one}, entity)
                    for entity, value in column.items()
                    for one in self._values(self.attributes[key], value, world, tokens)
                ]
        number = count()
        return {
            kind: [
                EntityRow((f"f{next(number)}", kind, {**fields, "e": tokens[entity]}), entity)
                for fields, entity in rows
            ]
            for kind, rows in found.items()
        }

    @staticmethod
    def _ends(columns: Sequence[Column], entity: str) -> dict[str, Value]:
        fields: dict[str, Value] = {}
        for column in columns:
            value = column.values[entity]
            fields[column.low], fields[column.high] = (
                value
                if column.is_number
                else ((value & -value).bit_length() - 1, value.bit_length() - 1)
            )
        return fields

    @staticmethod
    def _values(
        attribute: Attribute, value: int, world: World, tokens: Mapping[str, str]
    ) -> list[int] | list[str]:
        if attribute.is_choice:
            return [i for i in range(len(attribute.values)) if value >> i & 1]
        return [tokens[entity] for entity, bit in world.bits.items() if value & bit]

    def run(self, number: int, world: World, topics: Collection[str]) -> list[Fired]:
        """The fired instances of one stratum, in a fixed order."""
        if not self._forget(number, world) and self.answered[number].topics == topics:
            return self.answered[number].fired
        self.answered[number] = NOT_ANSWERED
        shards = list(self._shards(number, topics))
        wanted: dict[str, set[str]] = {}
        for ruleset, kinds in shards:
            for kind in kinds:
                wanted.setdefault(kind, set()).update(ruleset.fields.get(kind, ()))
        facts = self.facts(world, wanted)
        judged, out = self.judged[number], list[Fired]()
        for ruleset, kinds in shards:
            chosen = [row for kind in kinds for row in facts.get(kind, ())]
            entity_of = {row.fact[0]: row.entity for row in chosen}
            seen: set[Bound] = set()
            for name, ids in ruleset.recalled([row.fact for row in chosen]):
                index = int(name[1:])
                # The rule's own variables come first.
                entities = ids[: len(self.rules[index].variables)]
                bound = index, tuple([entity_of[i] for i in entities])
                if bound in seen:
                    continue
                seen.add(bound)
                if bound not in judged:
                    judged[bound] = self._judge(*bound, world)
                if found := judged[bound]:
                    out.append((*bound, *found))
        self.answered[number] = Answered(frozenset(topics), sorted(out))
        return self.answered[number].fired

    def _forget(self, number: int, world: World) -> bool:
        """Leave of what was judged before only what rests on nothing that has changed since; False
        where nothing has that any rule of the stratum looks at.
        """
        changed, judged = self.last[number].changed(world), self.judged[number]
        if changed is None:
            judged.clear()
            return True
        for bound in [b for b in judged if not self.turns_on[b[0]].isdisjoint(changed)]:
            del judged[bound]
        return not self.stratum_turns_on[number].isdisjoint(changed)

    def _judge(self, index: int, bound: tuple[str, ...], world: World) -> Judged:
        if len(set(bound)) < len(bound):
            return None
        rule = self.rules[index]
        named = rule.bind(bound)
        if not truth_alone(rule.condition, named, world):
            return None
        truth, rests_on = judge(rule.condition, named, world)
        return truth, tuple(sorted([(ref.entity, ref.key) for ref in rests_on]))


def available() -> bool:
    """Whether durable-rules can be used here."""
    from advisor.engine.session import core

    return core() is not None


__all__ = ["ReteEngine", "EngineError", "available"]
