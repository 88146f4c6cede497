"""A scene: who there is and the few facts that matter, in a form that people can type and both
engines can be asked about.
"""

from __future__ import annotations

from msgspec import Struct, field

from advisor.audit.slice import Slice
from advisor.engine.driver import conclude
from advisor.engine.truth import truth_alone
from advisor.facts.quantity import NotAQuantity, read_quantity
from advisor.facts.times import show_time
from advisor.facts.units import UNITS, from_steps
from advisor.facts.values import show_value
from advisor.facts.world import KNOWN, STATES, UNKNOWN, World
from advisor.model.outcome import Instance

CHOICE = "choice of "


class Scene(Struct):
    """kinds: {entity kind: ids}; values: {(entity, key): (state, mask or interval)}; named:
    {(entity, key): entity, or (choice of …, ''): option}.
    """

    kinds: dict
    values: dict = field(default_factory=dict)
    named: dict = field(default_factory=dict)

    def copy(self):
        return Scene(dict(self.kinds), dict(self.values), dict(self.named))

    def world(self, space, plain=None) -> World:
        """The world of these facts; with `plain` (a compiled engine) what rules conclude is in it
        as well.
        """
        vocabulary = space.vocabulary
        world = World(
            vocabulary,
            {kind: ids for kind, ids in self.kinds.items() if vocabulary.entities[kind].many},
        )
        later = []
        for (entity, key), (state, value) in self.values.items():
            world.columns[key][entity] = value
            if state:
                world.states[entity, key] = state
            later += [(entity, key, value)] if vocabulary.attribute(key).derived else []
        for (entity, key), name in self.named.items():
            if entity.startswith(CHOICE):
                world.choices[entity[len(CHOICE) :]] = name
            else:
                world.columns[key][entity] = world.bits[name]
                world.states[entity, key] = KNOWN
        for number, (name, _) in enumerate(space.base.strata):
            if plain and name.startswith("classify"):
                conclude(
                    space.base,
                    number,
                    world,
                    [Instance(*i) for i in plain.run(number, world, frozenset())],
                )
                for entity, key, value in later:
                    world.columns[key][entity] = value
        return world

    def lines(self, space) -> list:
        """'anchor a.side = left', one line a fact; then who is there without any fact."""
        found = []
        for (entity, key), value in sorted(self.values.items()):
            attribute = space.vocabulary.attribute(key)
            note = "   (worked out)" if attribute.derived else ""
            found.append(f"{entity}.{attribute.name} = {words(attribute, value)}{note}")
        found += [
            (
                f"{entity} = {name}"
                if not key
                else f"{entity}.{key.partition('.')[2]} = {self._short(space, name)}"
            )
            for (entity, key), name in sorted(self.named.items())
        ]
        told = {entity for entity, _ in [*self.values, *self.named]} | set(self.named.values())
        return found + [
            f"{entity} is there"
            for kind in sorted(self.kinds)
            for entity in self.kinds[kind]
            if space.vocabulary.entities[kind].many and entity not in told
        ]

    @staticmethod
    def _short(space, name):
        return name

    def without(self, *cells):
        """The same scene with some facts left out."""
        new = self.copy()
        for cell in cells:
            new.values.pop(cell, None)
            new.named.pop(cell, None)
        return new


def truth_in(space, plain, scene, condition, bound) -> int:
    """The truth of a condition in a scene."""
    keys = space.keys_of(condition)
    if any(space.concluded(key) for key in keys):
        return truth_alone(condition, bound, scene.world(space, plain))
    return truth_alone(condition, bound, _slice(space, scene, keys))


def _slice(space, scene, keys):
    """As much of the world as some attributes need, which is quick to build."""
    bits = {
        entity: 1 << n
        for n, entity in enumerate(e for kind in sorted(scene.kinds) for e in scene.kinds[kind])
    }
    columns = {}
    for key in keys:
        attribute = space.vocabulary.attribute(key)
        anything = (
            sum(bits[e] for kind in attribute.of for e in scene.kinds[kind])
            if attribute.type == "named"
            else attribute.everything
        )
        columns[key] = dict.fromkeys(scene.kinds[attribute.entity], anything)
    states, choices = {}, {}
    for (entity, key), (state, value) in scene.values.items():
        if key in columns:
            columns[key][entity], states[entity, key] = value, state
    for (entity, key), name in scene.named.items():
        if entity.startswith(CHOICE):
            choices[entity[len(CHOICE) :]] = name
        elif key in columns:
            columns[key][entity], states[entity, key] = bits[name], KNOWN
    return Slice(columns, states, scene.kinds, bits, choices)


def smallest(scene, shows):
    """The scene with every fact and entity left out that `shows(scene)` does not need."""
    scene = _thinned(scene, sorted([*scene.values, *scene.named], reverse=True), shows)
    for kind, ids in list(scene.kinds.items()):
        for entity in reversed(ids):
            if (
                len(entity) > len(kind)
                and entity not in scene.named.values()
                and not any(e == entity for e, _ in [*scene.values, *scene.named])
            ):
                less = scene.copy()
                less.kinds[kind] = tuple(e for e in less.kinds[kind] if e != entity)
                if shows(less):
                    scene = less
    return scene


def _thinned(scene, cells, shows):
    """The scene without those of some facts that are not needed: all at once, or else one half
    after the other.
    """
    less = scene.without(*cells)
    if not cells or shows(less):
        return less
    if len(cells) == 1:
        return scene
    half = len(cells) // 2
    return _thinned(_thinned(scene, cells[:half], shows), cells[half:], shows)


def words(attribute, value) -> str:
    """A value as a person would type it: 'left', 'spray?', '10.1 m', 'unknown'."""
    state, inside = value
    if state == UNKNOWN:
        return STATES[UNKNOWN]
    if attribute.is_number:
        steps = inside[0] if state == KNOWN or attribute.worse != "less" else inside[1]
        return written(attribute, steps) + ("" if state == KNOWN else "?")
    if state == KNOWN:
        return show_value(attribute, inside)
    first = next(i for i in range(len(attribute.values)) if inside >> i & 1)
    return attribute.values[first] + "?"


def written(attribute, steps: int) -> str:
    """A number as it can be typed and is read back exactly."""
    if attribute.type == "time":
        return show_time(steps)
    names = [
        attribute.unit,
        *(
            n
            for n, (dimension, _) in UNITS.items()
            if dimension is UNITS[attribute.unit][0] and n in ("mm", "g", "min", "s", "N")
        ),
    ]
    for name in names:
        number = from_steps(steps, name)
        text = f"{float(number):.4f}".rstrip("0").rstrip(".")
        text = text if name in ("count", "ratio") else f"{text} {name}"
        try:
            if read_quantity(text, attribute.unit, (attribute.low, attribute.high)).low == steps:
                return text
        except NotAQuantity:
            continue
    return f"{float(from_steps(steps, attribute.unit))} {attribute.unit}"
