"""Random vocabularies, rule bases and worlds, all from one seed, small enough that rules often
fire.

Invented data only: the words mean nothing; they are chosen so that choices share some of their
words, single things and
decisions share a name, and entity ids hold quotes, dots and accents.
"""

from __future__ import annotations

from fractions import Fraction
from random import Random
from typing import NamedTuple

from advisor.facts.values import Fact
from advisor.facts.vocabulary import Attribute, Entity, Vocabulary
from advisor.facts.world import DOUBTFUL, KNOWN, World
from advisor.faults import Place
from advisor.model.conditions import (
    AllOf,
    AnyOf,
    Chosen,
    Compare,
    CompareRefs,
    InValues,
    Not,
    PointsAt,
    SameWord,
    Some,
    State,
)
from advisor.model.effects import Derive, Require
from advisor.model.ref import Ref
from advisor.model.rule import Rule
from advisor.model.strata import strata

MANY, SINGLE = ("anchor", "ladder"), ("pitch", "pitch head")
TOPICS = ("plan", "incident", "kit")
IDS = ("left bolt", "flåke", 'it\'s "2"', "a.b", "id")
WORDS = ("left", "middle", "right", "behind", "low")
# The first decision bears the name of a thing a case may have none of: the engines must not mix the
# two up.
DECISIONS = {"anchor": ("hitch", "cord"), "hang from": "anchor", "tie with": ("hitch", "device")}
OPS = (">=", "<=", ">", "<", "==", "!=")
HERE = Place("generated", 1, 1)


class Universe(NamedTuple):
    """All of a rule base that the driver looks at."""

    vocabulary: Vocabulary
    rules: tuple
    strata: tuple
    calculations: tuple = ()

    @property
    def calculation_order(self):
        """No calculations in any stratum."""
        return ((),) * len(self.strata)


def vocabulary(rng: Random) -> Vocabulary:
    """Two things a case may name several of and two it has one of, each with every type of
    attribute and derived ones.
    """
    entities = {}
    for name in MANY + SINGLE:
        attributes = [_choice(rng, name, f"c{n}", WORDS, rng.random() < 0.6) for n in range(2)]
        attributes += [
            _choice(rng, name, "moves", ("yes", "no"), rng.random() < 0.6),
            _number(rng, name, "depth"),
            _number(rng, name, "age"),
        ]
        attributes += [
            Attribute(
                name,
                "item",
                "named",
                of=rng.choice([("anchor",), ("ladder",), MANY, ("anchor", "pitch head")]),
            ),
            Attribute(name, "note", "text"),
        ]
        attributes += [
            _choice(rng, name, f"d{n}", WORDS, True, derived=True) for n in range(rng.randint(0, 2))
        ]
        entities[name] = Entity(
            name=name,
            many=name in MANY,
            help="",
            phrases=(),
            attributes={a.name: a for a in attributes},
            say_kind=True,
        )
    return Vocabulary(entities)


def _choice(rng, entity, name, words, ordered, derived=False):
    values = words if len(words) == 2 else tuple(rng.sample(words, rng.randint(1, 4)))
    grade, ranks = 0, []
    for number in range(len(values)):  # grades rise along the values, some of them equal
        grade += 1 if number and rng.random() < 0.7 else 0
        ranks.append(grade)
    return Attribute(
        entity,
        name,
        "yes/no" if words[0] == "yes" else "choice",
        values=values,
        ranks=tuple(ranks) if ordered else (),
        derived=derived,
        otherwise=rng.randrange(len(values)) if derived else -1,
    )


def _number(rng, entity, name):
    return Attribute(
        entity,
        name,
        "number",
        unit="count",
        low=rng.randint(-2, 0),
        high=rng.randint(2, 5),
        worse=rng.choice(["more", "less", ""]),
    )


class RuleMaker:
    """Makes rules over one vocabulary; `order` gives derived keys their turn, so that there is
    never a circle.
    """

    def __init__(self, rng: Random, vocabulary: Vocabulary):
        self.rng, self.vocabulary = rng, vocabulary
        self.order = [
            a.key for e in vocabulary.entities.values() for a in e.attributes.values() if a.derived
        ]
        rng.shuffle(self.order)

    def rule(self, number: int) -> Rule:
        """One rule: it derives a fact, or requires something (and may then look at decisions and
        at what is known).
        """
        rng = self.rng
        variables = tuple(
            (letter, rng.choice(MANY)) for letter in "xyz"[: rng.choice((0, 1, 1, 1, 2, 2, 3))]
        )
        scope, effects = dict(variables), (Require("Look again.", "should"),)
        targets = [
            (v, key)
            for v, kind in [*variables, *((s, s) for s in SINGLE)]
            for key in self.order
            if key.startswith(kind + ".")
        ]
        self.readable, self.free = set(self.order), True
        if targets and rng.random() < 0.4:
            var, key = rng.choice(targets)
            self.readable, self.free = set(self.order[: self.order.index(key)]), False
            value = rng.randrange(len(self.vocabulary.attribute(key).values))
            effects = (Derive(Ref(var, key), value),)
        condition = AllOf(
            tuple(
                self.node(scope, rng.choice((0, 0, 0, 1, 2)))
                for _ in range(rng.choice((1, 1, 2, 2, 3, 4)))
            )
        )
        return Rule(
            id=f"r{number}",
            title="",
            topic="",
            about=rng.choice(TOPICS),
            variables=variables,
            condition=condition,
            effects=effects,
            because="",
            sources=(),
            status="",
            authority="",
            when="",
            place=HERE,
        )

    def node(self, scope, depth):
        """A condition with at most `depth` combiners above each other."""
        if not depth:
            return self.leaf(scope)
        kind = self.rng.choice(("all", "any", "any", "not", "some", "some"))
        if kind == "not":
            return Not(self.node(scope, depth - 1))
        if kind == "some":
            letter, of = "uvw"[len(scope) % 3] + str(len(scope)), self.rng.choice(MANY)
            children = tuple(
                self.node({**scope, letter: of}, depth - 1)
                for _ in range(self.rng.choice((0, 1, 1, 1, 2)))
            )
            return Some(self.rng.choice((1, 1, 1, 2, 3)), letter, of, AllOf(children))
        return {"all": AllOf, "any": AnyOf}[kind](
            tuple(self.node(scope, depth - 1) for _ in range(self.rng.choice((1, 2, 2, 3))))
        )

    def leaf(self, scope):
        roll = self.rng.random()
        if self.free and roll < 0.06:
            return self.chosen(scope)
        variable, attribute = self.reference(scope, lambda a: True)
        if self.free and roll < 0.14 and not attribute.derived:
            word = self.rng.choice(("known", "unknown", "doubtful"))
            return State(Ref(variable, attribute.key), word)
        if attribute.type == "named":
            return self.points_at(scope, variable, attribute)
        return (
            self.about_number(scope, variable, attribute)
            if attribute.is_number
            else self.about_choice(scope, variable, attribute)
        )

    def reference(self, scope, suits):
        """A random (variable, attribute) that a condition here may look at; variables are drawn
        more often than single things.
        """
        kinds = [*scope.items()] * 2 + [(s, s) for s in SINGLE]
        found = [
            (v, a)
            for v, kind in kinds
            for a in self.vocabulary.entities[kind].attributes.values()
            if a.type != "text" and (not a.derived or a.key in self.readable) and suits(a)
        ]
        derived = [pair for pair in found if pair[1].derived]
        return self.rng.choice(derived if derived and self.rng.random() < 0.35 else found)

    def chosen(self, scope):
        decision = self.rng.choice(list(DECISIONS))
        anchors = [v for v, kind in scope.items() if kind == "anchor"]
        if decision == "hang from" and anchors:
            return Chosen(decision, self.rng.choice(anchors), True)
        return (
            Chosen("tie with", self.rng.choice(DECISIONS["tie with"]), False)
            if decision == "hang from"
            else Chosen(decision, self.rng.choice(DECISIONS[decision]), False)
        )

    def points_at(self, scope, variable, attribute):
        targets = [
            v for v, kind in [*scope.items(), *((s, s) for s in SINGLE)] if kind in attribute.of
        ]
        if not targets:
            return Not(Not(Compare(Ref(variable, f"{attribute.entity}.depth"), ">=", 1)))
        target = self.rng.choice(targets)
        return PointsAt(Ref(variable, attribute.key), target, self.rng.random() < 0.75)

    def about_number(self, scope, variable, attribute):
        rng, op = self.rng, self.rng.choice(OPS)
        ref = Ref(variable, attribute.key)
        if rng.random() < 0.7:
            return Compare(ref, op, rng.randint(attribute.low, attribute.high))
        other, second = self.reference(scope, lambda a: a.is_number)
        factor = (
            Fraction(1)
            if op in ("==", "!=")
            else rng.choice((Fraction(1), Fraction(3, 2), Fraction(2, 3), Fraction(2)))
        )
        return CompareRefs(ref, op, Ref(other, second.key), factor.numerator, factor.denominator)

    def about_choice(self, scope, variable, attribute):
        ref = Ref(variable, attribute.key)
        if self.rng.random() < 0.7:
            least = 0 if self.rng.random() < 0.1 else 1
            return InValues(ref, self.rng.randint(least, attribute.everything))
        other, second = self.reference(
            scope, lambda a: a.is_choice and set(a.values) & set(attribute.values)
        )
        pairs = tuple(
            second.values.index(v) if v in second.values else -1 for v in attribute.values
        )
        return SameWord(ref, Ref(other, second.key), pairs, self.rng.random() < 0.75)


def universe(seed: int, size: int = 7) -> Universe:
    """A whole random rule base."""
    rng = Random(seed)
    words = vocabulary(rng)
    maker = RuleMaker(rng, words)
    rules = tuple(maker.rule(n) for n in range(rng.randint(size // 3, size)))
    return Universe(words, rules, ordered(rules))


def ordered(rules) -> tuple:
    """Rules in running order, as a loaded base holds them."""
    return strata(rules)


def world(
    rng: Random, words: Vocabulary, numbers=None, crowd=(0, 1, 2, 2, 3), stated=0.72
) -> World:
    """A random world: some things, some facts known, some doubtful, some given as a range, the
    rest unknown.

    numbers: key -> figures worth trying (a rule base's own thresholds); without them any figure
    in range.
    """
    names = {
        e.name: {f"{e.name} {i}" for i in rng.sample(IDS, rng.choice(crowd))}
        for e in words.entities.values()
        if e.many
    }
    found = World(words, names)
    for entity in words.entities.values():
        for attribute in entity.attributes.values():
            for one in (
                found.kinds[entity.name]
                if not attribute.derived and attribute.type != "text"
                else ()
            ):
                value = (
                    _value(rng, attribute, found, numbers or {}) if rng.random() < stated else None
                )
                if value:
                    found.state(Fact(one, attribute.key, value[0], value[1], "", "", HERE))
    return found


def _value(rng, attribute, found, numbers):
    """(state, value) for one stated fact, or None where there is nothing to say."""
    doubtful = rng.random() < 0.3
    state = DOUBTFUL if doubtful else KNOWN
    if attribute.type == "named":
        ids = [i for kind in attribute.of for i in found.kinds.get(kind, ())]
        return (
            (state, tuple(sorted(rng.sample(ids, min(len(ids), 2 if doubtful else 1)))))
            if ids
            else None
        )
    if attribute.is_choice:
        said = rng.randrange(len(attribute.values))
        mask = (
            1 << said
            if not doubtful
            else (
                attribute.as_bad_as(said)
                if rng.random() < 0.5
                else 1 << said | 1 << rng.randrange(len(attribute.values))
            )
        )
        return state, mask
    near = [n + d for n in numbers.get(attribute.key, ()) for d in (-1, 0, 1)] or [
        rng.randint(attribute.low, attribute.high)
    ]
    low, high = sorted(
        min(
            max(rng.choice(near + [rng.randint(attribute.low, attribute.high)]), attribute.low),
            attribute.high,
        )
        for _ in range(2)
    )
    if doubtful:
        return state, {"more": (low, attribute.high), "less": (attribute.low, high)}.get(
            attribute.worse, (attribute.low, attribute.high)
        )
    return state, (low, high) if rng.random() < 0.5 else (low, low)


def choices(rng: Random, found: World) -> dict:
    """What each decision came to: an option, or None when nothing was left or several
    were equal.
    """
    return {
        "anchor": rng.choice((*DECISIONS["anchor"], None)),
        "tie with": rng.choice((*DECISIONS["tie with"], None)),
        "hang from": rng.choice((*found.kinds["anchor"], None)),
    }


def topics(rng: Random) -> frozenset:
    """What a case is about."""
    return frozenset(rng.sample(TOPICS, rng.choice((1, 2, 3, 3))))
