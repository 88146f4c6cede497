"""A situation in which a rule fires and the nearest one in which it does not: found by search,
confirmed by the engines.
"""

from __future__ import annotations

from itertools import combinations, islice
from random import Random
from typing import NamedTuple

from advisor.audit.bench import Bench
from advisor.audit.goals import FALSE, SURE, Goal, fires
from advisor.audit.scene import CHOICE, Scene, smallest, words
from advisor.browse.part import Part
from advisor.browse.worked import Worked
from advisor.facts.values import read_fact
from advisor.facts.world import UNKNOWN
from advisor.faults import Place
from advisor.load.case import Case, nameable
from advisor.model.conditions import Chosen, looks_at_choice
from advisor.model.effects import OnOption, Prefer

TRIES = 400  # draws of the facts behind a worked-out number


class Example(NamedTuple):
    """Scenes, or None where the search found none."""

    fires: object
    near: object


def merged(scene, more):
    """A scene with the facts of another added where they do not clash."""
    new = scene.copy()
    for kind, ids in more.kinds.items():
        new.kinds[kind] = tuple(dict.fromkeys((*new.kinds[kind], *ids)))
    new.values = {**more.values, **new.values}
    new.named = {
        **{cell: n for cell, n in more.named.items() if not cell[0].startswith(CHOICE)},
        **new.named,
    }
    return new


class Examples:
    """Finds examples for the rules of an advisor's base."""

    def __init__(self, advisor):
        self.advisor, self.bench = advisor, Bench(base=advisor.base)
        self.space, self.worked = self.bench.space, Worked(advisor)
        self._part, self._facts = (None, None), {}

    def of(self, rule) -> Example:
        """An example whose two situations both engines agree on, found by the compiled engine
        alone.
        """
        scene = next((s for s in self._candidates(rule) if s and self.truth(rule, s) == 2), None)
        if scene is None:
            return Example(None, None)
        scene = smallest(scene, lambda s: self.truth(rule, s) == 2)
        near = self._near(rule, scene)
        self.confirm(rule, scene, near)
        return Example(scene, near)

    def confirm(self, rule, scene, near):
        """Ask both engines; a difference raises Disagreement."""
        for one in (scene, near) if near else (scene,):
            self.truth(rule, one, both=True)

    def case(self, rule, scene) -> Case:
        """The scene as a case, each fact read from the very words it is shown in."""
        case = Case(f"Example for {rule.id}", topics=(rule.about,))
        for kind, ids in scene.kinds.items():
            if ids:
                case.names[kind] = set(ids)
        for (entity, key), value in scene.values.items():
            attribute = self.space.vocabulary.attribute(key)
            if value[0] != UNKNOWN and not attribute.derived and attribute.type != "named":
                if (entity, key, value) not in self._facts:
                    self._facts[entity, key, value] = self._read(
                        case, entity, attribute, words(attribute, value)
                    )
                case.facts[entity, key] = self._facts[entity, key, value]
        for (entity, key), name in scene.named.items():
            if key:
                case.facts[entity, key] = self._read(
                    case, entity, self.space.vocabulary.attribute(key), name
                )
        case.facts = {cell: fact for cell, fact in case.facts.items() if fact}
        return case

    def _read(self, case, entity, attribute, raw):
        """The fact that these words state, or None."""
        return read_fact(
            attribute,
            entity,
            raw,
            nameable(self.space.base, case.names),
            "example",
            Place("example"),
        )[0]

    def part(self, rule) -> Part:
        """What the rule rests on; the last one asked for is kept."""
        if self._part[0] is not rule:
            self._part = rule, Part(self.space.base, rule)
        return self._part[1]

    def truth(self, rule, scene, both=False) -> int:
        """The truth with which a rule fires for its own entities in a scene (0: it does not), by
        one engine or both.
        """
        bound = tuple(self.bench.bound(rule).values())
        if not set(bound) <= {e for ids in scene.kinds.values() for e in ids}:
            return 0
        part = self.part(rule)
        return part.truth(
            self.advisor.world(self.case(rule, scene)), bound, part.both if both else [part.plain]
        )

    def _candidates(self, rule):
        """Scenes worth trying, the simplest first."""
        scene = self.bench.firing(rule) or None
        worked = [cell for cell in scene.values if cell[1] in self.space.worked] if scene else []
        if scene and not worked:
            yield self._without_choice(scene)
        yield from self.worked.scenes(rule, self.bench.bound(rule))
        if looks_at_choice(rule.condition):
            yield from self._chosen(rule)
        if worked:
            yield from self._sampled(rule, scene, worked)

    def _chosen(self, rule):
        """Scenes in which what the rule wants chosen is also spoken for, or its rivals are spoken
        against: by one rule, then by two.
        """
        first = self._without_choice(self.bench.firing(rule))
        helping = [s for s in self._speaking(rule, True) if s]
        yield from (merged(first, one) for one in helping)
        for one, other in islice(combinations(helping, 2), TRIES):
            yield merged(merged(first, one), other)

    def _speaking(self, rule, helpful):
        """A scene for each rule that speaks for what is wanted chosen or against its rivals (or,
        not helpful, the other way round).
        """
        bound = self.bench.bound(rule)
        wanted = [(n.decision, n.option) for n in rule.condition.walk() if isinstance(n, Chosen)]
        for other in self.space.base.rules:
            for effect in other.gives(OnOption):
                if any(
                    d == effect.decision
                    and (isinstance(effect, Prefer) == (effect.is_variable or o == effect.option))
                    == helpful
                    for d, o in wanted
                ):
                    own = {
                        effect.option: bound[o]
                        for _, o in wanted
                        if effect.is_variable and o in bound
                    }
                    yield self.bench.scene([fires(other, own, SURE)], bound.values())

    @staticmethod
    def _without_choice(scene):
        if not scene:
            return None
        new = scene.copy()
        new.named = {
            cell: name for cell, name in scene.named.items() if not cell[0].startswith(CHOICE)
        }
        return new

    def _sampled(self, rule, scene, worked):
        """Scenes with the facts behind worked-out numbers drawn at random (always the
        same draws).
        """
        draw = Random(rule.id)
        cells = sorted({cell for entity, key in worked for cell in self._inputs(entity, key, ())})
        stripped = scene.copy()
        stripped.values = {cell: v for cell, v in scene.values.items() if cell not in worked}
        for entity, _ in [*cells]:
            kind = self.space.vocabulary.split(entity)[0].name
            if entity not in stripped.kinds[kind]:
                stripped.kinds[kind] += (entity,)
        for _ in range(TRIES):
            new = stripped.copy()
            for cell in cells:
                if cell not in stripped.values:
                    new.values[cell] = self._drawn(draw, cell[1])
            yield new

    def _drawn(self, draw, key):
        """A value between the ends or at a class, small ones as often as large."""
        attribute, known = self.space.vocabulary.attribute(key), self.space.known(key)
        if attribute.is_choice or attribute.type == "time" or draw.random() < 0.5:
            return draw.choice(known)
        steps = attribute.low + int(
            (attribute.high - attribute.low) * draw.random() ** draw.choice((1, 2, 4))
        )
        return known[0][0], (steps, steps)

    def _inputs(self, entity, key, seen):
        """Stated facts behind a worked-out one."""
        if key in seen:
            return
        attribute = self.space.vocabulary.attribute(key)
        if not attribute.derived:
            if attribute.type not in ("text", "named"):
                yield entity, key
            return
        for calculation in self.space.base.calculations:
            for inner in calculation.keys if key in calculation.outputs else ():
                kind = inner.partition(".")[0]
                many = self.space.vocabulary.entities[kind].many
                yield from self._inputs(
                    (entity if entity.startswith(kind + " ") else f"{kind} 1") if many else kind,
                    inner,
                    (*seen, key),
                )

    def _near(self, rule, scene):
        """The nearest scene in which the rule does not fire: one fact changed, else one name, else
        several facts.
        """
        changes = []
        for cell, value in scene.values.items():
            known = list(self.space.known(cell[1])) if not self.space.is_name(cell[1]) else []
            place = known.index(value) if value in known else 0
            changes += [
                (abs(n - place), cell, other) for n, other in enumerate(known) if other != value
            ]
        for _, cell, other in sorted(changes):
            new = scene.copy()
            new.values[cell] = other
            if self.truth(rule, new) == 0:
                return new
        return (
            self._renamed(rule, scene)
            or self._spoken_against(rule, scene)
            or self._otherwise(rule)
            or self._unnamed(rule, scene)
            or self._drawn_off(rule)
            or next((s for s in self.worked.others(rule) if self.truth(rule, s) == 0), None)
        )

    def _drawn_off(self, rule):
        """With other facts behind a worked-out number."""
        scene = self.bench.firing(rule)
        worked = [cell for cell in scene.values if cell[1] in self.space.worked] if scene else []
        return (
            next((s for s in self._sampled(rule, scene, worked) if self.truth(rule, s) == 0), None)
            if worked
            else None
        )

    def _spoken_against(self, rule, scene):
        """With facts added that speak against what the rule wants chosen."""
        against = self._speaking(rule, False) if looks_at_choice(rule.condition) else ()
        return next(
            (s for s in (merged(scene, one) for one in against if one) if self.truth(rule, s) == 0),
            None,
        )

    def _unnamed(self, rule, scene):
        """Without the entity the rule is about: a rule on any ladder does not fire where no ladder
        is named.
        """
        gone = set(self.bench.bound(rule).values())
        if not gone:
            return None
        new = Scene(
            {kind: tuple(e for e in ids if e not in gone) for kind, ids in scene.kinds.items()}
        )
        new.values = {cell: v for cell, v in scene.values.items() if cell[0] not in gone}
        new.named = {
            cell: n for cell, n in scene.named.items() if cell[0] not in gone and n not in gone
        }
        return new

    def _renamed(self, rule, scene):
        for cell, name in scene.named.items():
            attribute = self.space.vocabulary.attribute(cell[1])
            for kind in attribute.of if attribute else ():
                new = scene.copy()
                other = f"{kind} other" if self.space.vocabulary.entities[kind].many else kind
                new.kinds[kind] = tuple(dict.fromkeys((*new.kinds[kind], other)))
                new.named[cell] = other
                if other != name and self.truth(rule, new) == 0:
                    return new
        return None

    def _otherwise(self, rule):
        bound = self.bench.bound(rule)
        scene = self._without_choice(
            self.bench.scene([Goal(rule.condition, bound, FALSE, {})], bound.values())
        )
        return scene if scene and self.truth(rule, scene) == 0 else None
